package parts

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"cagenut/lang/parts"
	"cagenut/render/document"
)

// Format is the version of the JSON form. It is raised when a field goes or
// changes its meaning; a reader must skip fields that it does not know.
const Format = 1

// A Document is the JSON form of a list, or of what a change needs. Lists are
// never null.
type Document struct {
	Format  int            `json:"format"` // [Format]
	Of      string         `json:"of"`     // "parts"
	Racks   []string       `json:"racks"`  // the racks counted
	Parts   []DocumentPart `json:"parts"`
	Assumed []string       `json:"assumed"`
	Missing []string       `json:"not_counted"`
	Moments []string       `json:"usual_moments"`
}

// A DocumentPart is some like pieces. Of a change, Before is what was there;
// ToGet and SetFree are 0 in a list.
type DocumentPart struct {
	Kind    string   `json:"kind"`
	Name    string   `json:"name"`
	Count   int      `json:"count"`
	Before  int      `json:"before"`
	ToGet   int      `json:"to_get"`
	SetFree int      `json:"set_free"`
	For     []string `json:"for"`
}

// Listed makes the document of a list.
func Listed(l *parts.List, racks []string) *Document {
	d := newDocument(l, racks)
	for _, p := range l.Parts {
		d.Parts = append(d.Parts, DocumentPart{Kind: p.Kind.String(), Name: p.Name, Count: p.Count, For: p.For})
	}
	return d
}

// Changed makes the document of what a change needs: the parts whose number
// differs.
func Changed(before, after *parts.List, racks []string) *Document {
	d := newDocument(after, racks)
	for _, p := range parts.Compare(before, after) {
		d.Parts = append(d.Parts, DocumentPart{
			Kind: p.Kind.String(), Name: p.Name, Count: p.After, Before: p.Before,
			ToGet: p.ToGet(), SetFree: p.SetFree(), For: list(p.For),
		})
	}
	return d
}

func newDocument(l *parts.List, racks []string) *Document {
	return &Document{
		Format: Format, Of: "parts", Parts: []DocumentPart{},
		Racks: list(racks), Assumed: list(l.Assumed), Missing: list(l.Missing), Moments: list(l.Moments),
	}
}

func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// JSON prints the document.
func (d *Document) JSON(w io.Writer) error {
	return document.JSON(w, d)
}

// CSV prints the document's parts as RFC 4180 says, with a heading. What was
// assumed is not in it: a spreadsheet would take it for parts.
func (d *Document) CSV(w io.Writer) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	rows := [][]string{{"kind", "name", "count", "before", "to_get", "set_free", "for"}}
	for _, p := range d.Parts {
		rows = append(rows, []string{p.Kind, harmless(p.Name), strconv.Itoa(p.Count), strconv.Itoa(p.Before), strconv.Itoa(p.ToGet), strconv.Itoa(p.SetFree), strings.Join(p.For, " ")})
	}
	return c.WriteAll(rows)
}

// harmless keeps a spreadsheet from taking a text for a formula.
func harmless(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
