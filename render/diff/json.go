package diff

import (
	"io"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/render/document"
)

// Format is the version of the JSON form. It is raised when a field goes or
// changes its meaning; a field that is added does not raise it, so a reader
// must skip fields that it does not know.
const Format = 1

// A Document is the JSON form of a change. Lists are never null, and are sorted
// as the text is; values are written as in the text.
type Document struct {
	Format   int              `json:"format"`
	Of       string           `json:"of"` // "diff"
	Summary  string           `json:"summary"`
	Racks    []DocumentRack   `json:"racks"`
	Mounts   []DocumentMount  `json:"mounts"`
	Blanks   []DocumentPart   `json:"blanks"`
	Reserves []DocumentPart   `json:"reserves"`
	Things   []DocumentThing  `json:"things"`
	Totals   []DocumentTotals `json:"totals"`
}

// A DocumentAlteration is one attribute whose value differs; "" is not stated.
type DocumentAlteration struct {
	Attr string `json:"attribute"`
	Old  string `json:"old"`
	New  string `json:"new"`
}

// A DocumentRack is a rack that comes, goes, is renamed or stands otherwise.
type DocumentRack struct {
	Change      string               `json:"change"`
	Old         string               `json:"old,omitempty"`
	New         string               `json:"new,omitempty"`
	Alterations []DocumentAlteration `json:"alterations,omitempty"`
}

// A DocumentMount is what happens to one mount: Change is "added", "removed",
// "moved" or "altered".
type DocumentMount struct {
	Change      string               `json:"change"`
	Mark        string               `json:"mark"`
	Old         *DocumentPlace       `json:"old,omitempty"`
	New         *DocumentPlace       `json:"new,omitempty"`
	MatchedBy   string               `json:"matched_by,omitempty"`
	Replaced    bool                 `json:"replaced,omitempty"`
	RecordOnly  bool                 `json:"record_only,omitempty"`
	Alterations []DocumentAlteration `json:"alterations,omitempty"`
}

// A DocumentPlace is a mount with its place; bottom and top are millimetres above
// the lower edge of the lowest unit, where they are known.
type DocumentPlace struct {
	Rack      string   `json:"rack"`
	Label     string   `json:"label"`
	Equipment string   `json:"equipment,omitempty"`
	Units     string   `json:"units"`
	Face      string   `json:"face"`
	Slot      string   `json:"slot,omitempty"`
	Bottom    *float64 `json:"bottom_mm,omitempty"`
	Top       *float64 `json:"top_mm,omitempty"`
	Serial    string   `json:"serial,omitempty"`
}

// A DocumentPart is a blank or a reserve.
type DocumentPart struct {
	Change      string               `json:"change"`
	Mark        string               `json:"mark"`
	Rack        string               `json:"rack"`
	Name        string               `json:"name,omitempty"`
	Old         string               `json:"old,omitempty"`
	New         string               `json:"new,omitempty"`
	Alterations []DocumentAlteration `json:"alterations,omitempty"`
}

// A DocumentThing is a declaration that stands in no rack.
type DocumentThing struct {
	Change      string               `json:"change"`
	Thing       string               `json:"thing"`
	Alterations []DocumentAlteration `json:"alterations,omitempty"`
	Felt        []string             `json:"felt_by,omitempty"`
}

// DocumentTotals are the figures of one rack.
type DocumentTotals struct {
	Rack    string          `json:"rack"`
	Figures []DocumentTotal `json:"figures"`
}

// A DocumentTotal is one figure before and after, as the text prints it.
type DocumentTotal struct {
	What        string `json:"what"`
	Before      string `json:"before,omitempty"`
	After       string `json:"after,omitempty"`
	Limit       string `json:"limit,omitempty"`
	LimitBefore string `json:"limit_before,omitempty"` // where the change moves it
	Over        bool   `json:"over_limit,omitempty"`
}

// JSON writes a change for programs. Lists are never null.
func JSON(w io.Writer, c *change.Change) error {
	out := Document{
		Format: Format, Of: "diff", Summary: Summary(c),
		Racks: []DocumentRack{}, Mounts: []DocumentMount{}, Blanks: []DocumentPart{}, Reserves: []DocumentPart{},
		Things: []DocumentThing{}, Totals: []DocumentTotals{},
	}
	for i := range c.Racks {
		r := &c.Racks[i]
		out.Racks = append(out.Racks, DocumentRack{r.Kind.String(), rackName(r.Old), rackName(r.New), documentAlterations(r.Alterations)})
	}
	for i := range c.Mounts {
		m := &c.Mounts[i]
		out.Mounts = append(out.Mounts, DocumentMount{
			Change: m.Kind.String(), Mark: marks[m.Kind].Sign, Old: documentPlace(m.Old), New: documentPlace(m.New),
			MatchedBy: m.Match.String(), Replaced: m.Replaced(), RecordOnly: m.RecordOnly(), Alterations: documentAlterations(m.Alterations),
		})
	}
	for i := range c.Blanks {
		b := &c.Blanks[i]
		out.Blanks = append(out.Blanks, DocumentPart{Change: b.Kind.String(), Mark: marks[b.Kind].Sign, Rack: rackName(b.Blank().Rack), Old: blankPlace(b.Old), New: blankPlace(b.New)})
	}
	for i := range c.Reserves {
		r := &c.Reserves[i]
		out.Reserves = append(out.Reserves, DocumentPart{
			Change: r.Kind.String(), Mark: marks[r.Kind].Sign, Rack: rackName(r.Reserve().Rack), Name: r.Reserve().Name,
			Old: reservePlace(r.Old), New: reservePlace(r.New), Alterations: documentAlterations(r.Alterations),
		})
	}
	for i := range c.Things {
		t := &c.Things[i]
		out.Things = append(out.Things, DocumentThing{t.Kind.String(), t.Ref(), documentAlterations(t.Alterations), t.Felt})
	}
	for _, d := range c.Deltas() {
		t := DocumentTotals{Rack: d.Rack().Name}
		for _, f := range Totals(d, c.New.Lengths == "in") {
			t.Figures = append(t.Figures, DocumentTotal{What: f.What, Before: f.Before, After: f.After, Limit: f.Limit, LimitBefore: f.Was, Over: f.Over})
		}
		out.Totals = append(out.Totals, t)
	}
	return document.JSON(w, out)
}

func documentAlterations(all []change.Alteration) []DocumentAlteration {
	var out []DocumentAlteration
	for _, a := range all {
		out = append(out, DocumentAlteration(a))
	}
	return out
}

func documentPlace(m *estate.Mount) *DocumentPlace {
	if m == nil {
		return nil
	}
	p := &DocumentPlace{Rack: rackName(m.Rack), Label: m.Name, Units: at(m), Face: m.Posts().String(), Serial: m.Serial}
	if m.Equipment != nil {
		p.Equipment = m.Equipment.Name
	}
	if !m.Slot.Whole() {
		p.Slot = m.Slot.String()
	}
	if e, ok := m.Extent(); ok {
		bottom, top := e.Bottom.Millimetres(), e.Top.Millimetres()
		p.Bottom, p.Top = &bottom, &top
	}
	return p
}

func rackName(r *estate.Rack) string {
	if r == nil {
		return ""
	}
	return r.Name
}
