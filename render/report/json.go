package report

import (
	"io"

	"cagenut/lang/estate"
	"cagenut/render/document"
)

// Format is the version of the JSON form. It is raised when a field goes or
// changes its meaning; a field that is added does not raise it, so a reader
// must skip fields that it does not know.
const Format = 1

// A Document is the JSON form of a [Page]. Lists are never null, and are
// sorted as the text is.
type Document struct {
	Format    int             `json:"format"` // [Format]
	Of        string          `json:"of"`     // "lint"
	Version   string          `json:"version,omitempty"`
	Counts    Counts          `json:"counts"`
	Base      *DocumentBase   `json:"base,omitempty"` // set where only new findings are listed
	Findings  []DocumentEntry `json:"findings"`       // waived ones included
	Unchecked []DocumentOpen  `json:"not_checked"`
	Broken    []string        `json:"broken"` // files that could not be read whole
}

// A DocumentBase is what was compared with.
type DocumentBase struct {
	Name  string `json:"name"`
	Cured int    `json:"cured"`
	Old   int    `json:"old"`
}

// A DocumentEntry is a finding, or a mistake in the text of the estate, whose
// rule is "language".
type DocumentEntry struct {
	Rule    string            `json:"rule"`
	Level   string            `json:"level"` // "error", "warning" or "note"
	Message string            `json:"message"`
	Detail  string            `json:"detail,omitempty"`
	Thing   string            `json:"thing,omitempty"`  // as the language refers to it
	Others  []string          `json:"others,omitempty"` // further things it is about
	Rack    string            `json:"rack,omitempty"`
	At      *DocumentPlace    `json:"at,omitempty"`
	Related []DocumentRelated `json:"related,omitempty"`
	Fixes   []DocumentFix     `json:"fixes,omitempty"`
	Waiver  *DocumentWaiver   `json:"waiver,omitempty"`
	Key     string            `json:"key"` // the same in every commit that has the finding
}

// A DocumentPlace is a run of text. Lines and columns count from 1, columns in
// characters; Start and End are bytes from 0; the end is not included.
type DocumentPlace struct {
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"end_line"`
	EndColumn int    `json:"end_column"`
	Start     int    `json:"start"`
	End       int    `json:"end"`
}

// A DocumentRelated is a second place.
type DocumentRelated struct {
	At      *DocumentPlace `json:"at,omitempty"`
	Message string         `json:"message"`
}

// A DocumentFix is a change of text that would mend a finding.
type DocumentFix struct {
	Title string         `json:"title"`
	Sure  bool           `json:"sure"` // it changes nothing else
	Edits []DocumentEdit `json:"edits"`
}

// A DocumentEdit replaces a run of text.
type DocumentEdit struct {
	At  *DocumentPlace `json:"at"`
	New string         `json:"new"`
}

// A DocumentWaiver is what accepts a finding.
type DocumentWaiver struct {
	Until  string `json:"until,omitempty"` // the last day, as in "2027-01-31"
	Reason string `json:"reason"`
	By     string `json:"by,omitempty"`
}

// A DocumentOpen is a rule that could not be judged on one thing.
type DocumentOpen struct {
	Rule    string         `json:"rule"`
	Thing   string         `json:"thing,omitempty"`
	Rack    string         `json:"rack,omitempty"`
	Because string         `json:"because"`
	At      *DocumentPlace `json:"at,omitempty"`
}

// JSON prints the page as a [Document].
func JSON(w io.Writer, p *Page) error {
	return document.JSON(w, p.Document())
}

// Document gives the JSON form of the page.
func (p *Page) Document() *Document {
	places := p.places()
	d := &Document{
		Format: Format, Of: "lint", Version: p.Version, Counts: p.Counts(),
		Findings: []DocumentEntry{}, Unchecked: []DocumentOpen{}, Broken: []string{},
	}
	if b := p.Base; b != nil {
		d.Base = &DocumentBase{b.Name, b.Cured, b.Old}
	}
	for _, f := range p.Broken {
		d.Broken = append(d.Broken, p.path(f))
	}
	for _, e := range p.entries(true) {
		d.Findings = append(d.Findings, places.entry(&e))
	}
	for _, u := range p.Result.Unchecked {
		d.Unchecked = append(d.Unchecked, DocumentOpen{u.Rule, u.Thing, u.Rack, u.Because, places.of(u.At)})
	}
	return d
}

func (p *places) entry(e *entry) DocumentEntry {
	d := DocumentEntry{
		Rule: e.Rule, Level: e.Level.String(), Message: e.Message, Detail: e.Detail,
		Thing: e.Thing, Others: e.Others, Rack: e.Rack, At: p.of(e.At), Key: e.Key,
	}
	for _, r := range e.Related {
		d.Related = append(d.Related, DocumentRelated{p.of(r.At), r.Message})
	}
	for _, f := range e.Fixes {
		fix := DocumentFix{Title: f.Title, Sure: f.Sure, Edits: []DocumentEdit{}}
		for _, x := range f.Edits {
			fix.Edits = append(fix.Edits, DocumentEdit{p.of(x.At), x.New})
		}
		d.Fixes = append(d.Fixes, fix)
	}
	if w := e.Waiver; w != nil {
		d.Waiver = &DocumentWaiver{w.Until.String(), w.Reason, w.By}
	}
	return d
}

// places resolves spans to lines and columns, asking for each text once.
type places struct {
	page *Page
	look printer
}

func (p *Page) places() *places { return &places{page: p, look: printer{page: p}} }

// of gives the place of a range, or nil where it points nowhere.
func (p *places) of(at estate.Range) *DocumentPlace {
	if at.IsZero() {
		return nil
	}
	t := p.look.text(at.File)
	start, end := t.Position(int(at.Start)), t.Position(int(max(at.End, at.Start)))
	return &DocumentPlace{
		File: p.page.path(at.File),
		Line: start.Line, Column: start.Column, EndLine: end.Line, EndColumn: end.Column,
		Start: int(at.Start), End: int(max(at.End, at.Start)),
	}
}
