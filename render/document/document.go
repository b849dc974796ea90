// Package document writes the JSON forms: all of them alike, so that a reader
// of one can read the next. What is in a document is the business of the
// package that knows it; render/FORMATS.md lists them.
package document

import (
	"encoding/json"
	"io"
)

// JSON writes a document, indented, with "<" and ">" as they are.
func JSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
