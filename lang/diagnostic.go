package lang

import (
	"cmp"
	"fmt"
	"slices"

	"cagenut/lang/estate"
)

// A Diagnostic is something wrong with the text of an estate.
type Diagnostic struct {
	estate.Range          // the smallest text that must be looked at
	Severity     Severity // never zero
	Summary      string   // what is wrong and what to write, on one line, without a full stop
	Detail       string   // more, where one line is not enough
	Related      []Related
}

// Related is a second place that a diagnostic is about.
type Related struct {
	At      estate.Range
	Message string
}

// Severity says how bad a diagnostic is.
type Severity uint8

// The severities.
const (
	noSeverity Severity = iota
	Error               // something could not be read
	Warning             // it was read, but hardly means what it says
)

// String names the severity.
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return fmt.Sprintf("Severity(%d)", uint8(s))
}

// sortDiagnostics orders by file, place and text, and leaves out repetitions.
// The parser of HCL returns some of its diagnostics in the order of a map.
func sortDiagnostics(all []Diagnostic) []Diagnostic {
	slices.SortStableFunc(all, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Start, b.Start),
			cmp.Compare(a.End, b.End),
			cmp.Compare(a.Summary, b.Summary),
		)
	})
	return slices.CompactFunc(all, func(a, b Diagnostic) bool {
		return a.Range == b.Range && a.Summary == b.Summary
	})
}
