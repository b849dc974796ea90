package diff

import (
	"encoding/json"
	"io"

	"cagenut/lang/change"
	"cagenut/lang/estate"
)

// Format is the version of the JSON form. It is raised when a field goes or
// changes its meaning; a field that is added does not raise it, so a reader
// must skip fields that it does not know.
const Format = 1

type jsonChange struct {
	Format   int          `json:"format"`
	Of       string       `json:"of"` // "diff"
	Summary  string       `json:"summary"`
	Racks    []jsonRack   `json:"racks"`
	Mounts   []jsonMount  `json:"mounts"`
	Blanks   []jsonPart   `json:"blanks"`
	Reserves []jsonPart   `json:"reserves"`
	Things   []jsonThing  `json:"things"`
	Totals   []jsonTotals `json:"totals"`
}

type jsonAlteration struct {
	Attr string `json:"attribute"`
	Old  string `json:"old"`
	New  string `json:"new"`
}

type jsonRack struct {
	Change      string           `json:"change"`
	Old         string           `json:"old,omitempty"`
	New         string           `json:"new,omitempty"`
	Alterations []jsonAlteration `json:"alterations,omitempty"`
}

type jsonMount struct {
	Change      string           `json:"change"`
	Mark        string           `json:"mark"`
	Old         *jsonPlace       `json:"old,omitempty"`
	New         *jsonPlace       `json:"new,omitempty"`
	MatchedBy   string           `json:"matched_by,omitempty"`
	Replaced    bool             `json:"replaced,omitempty"`
	RecordOnly  bool             `json:"record_only,omitempty"`
	Alterations []jsonAlteration `json:"alterations,omitempty"`
}

// A jsonPlace is a mount with its place; bottom and top are millimetres above
// the lower edge of the lowest unit, where they are known.
type jsonPlace struct {
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

type jsonPart struct {
	Change      string           `json:"change"`
	Mark        string           `json:"mark"`
	Rack        string           `json:"rack"`
	Name        string           `json:"name,omitempty"`
	Old         string           `json:"old,omitempty"`
	New         string           `json:"new,omitempty"`
	Alterations []jsonAlteration `json:"alterations,omitempty"`
}

type jsonThing struct {
	Change      string           `json:"change"`
	Thing       string           `json:"thing"`
	Alterations []jsonAlteration `json:"alterations,omitempty"`
	Felt        []string         `json:"felt_by,omitempty"`
}

type jsonTotals struct {
	Rack    string      `json:"rack"`
	Figures []jsonTotal `json:"figures"`
}

type jsonTotal struct {
	What   string `json:"what"`
	Before string `json:"before,omitempty"`
	After  string `json:"after,omitempty"`
	Limit  string `json:"limit,omitempty"`
	Over   bool   `json:"over_limit,omitempty"`
}

// JSON writes a change for programs. Lists are never null.
func JSON(w io.Writer, c *change.Change) error {
	out := jsonChange{
		Format: Format, Of: "diff", Summary: Summary(c),
		Racks: []jsonRack{}, Mounts: []jsonMount{}, Blanks: []jsonPart{}, Reserves: []jsonPart{},
		Things: []jsonThing{}, Totals: []jsonTotals{},
	}
	for i := range c.Racks {
		r := &c.Racks[i]
		out.Racks = append(out.Racks, jsonRack{r.Kind.String(), rackName(r.Old), rackName(r.New), jsonAlterations(r.Alterations)})
	}
	for i := range c.Mounts {
		m := &c.Mounts[i]
		out.Mounts = append(out.Mounts, jsonMount{
			Change: m.Kind.String(), Mark: marks[m.Kind].Sign, Old: jsonPlaceOf(m.Old), New: jsonPlaceOf(m.New),
			MatchedBy: m.Match.String(), Replaced: m.Replaced(), RecordOnly: m.RecordOnly(), Alterations: jsonAlterations(m.Alterations),
		})
	}
	for i := range c.Blanks {
		b := &c.Blanks[i]
		out.Blanks = append(out.Blanks, jsonPart{Change: b.Kind.String(), Mark: marks[b.Kind].Sign, Rack: rackName(b.Blank().Rack), Old: blankPlace(b.Old), New: blankPlace(b.New)})
	}
	for i := range c.Reserves {
		r := &c.Reserves[i]
		out.Reserves = append(out.Reserves, jsonPart{
			Change: r.Kind.String(), Mark: marks[r.Kind].Sign, Rack: rackName(r.Reserve().Rack), Name: r.Reserve().Name,
			Old: reservePlace(r.Old), New: reservePlace(r.New), Alterations: jsonAlterations(r.Alterations),
		})
	}
	for i := range c.Things {
		t := &c.Things[i]
		out.Things = append(out.Things, jsonThing{t.Kind.String(), t.Ref(), jsonAlterations(t.Alterations), t.Felt})
	}
	for _, d := range c.Deltas() {
		t := jsonTotals{Rack: d.Rack().Name}
		for _, f := range Totals(d) {
			t.Figures = append(t.Figures, jsonTotal(f))
		}
		out.Totals = append(out.Totals, t)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

func jsonAlterations(all []change.Alteration) []jsonAlteration {
	var out []jsonAlteration
	for _, a := range all {
		out = append(out, jsonAlteration(a))
	}
	return out
}

func jsonPlaceOf(m *estate.Mount) *jsonPlace {
	if m == nil {
		return nil
	}
	p := &jsonPlace{Rack: rackName(m.Rack), Label: m.Name, Units: at(m), Face: m.Posts().String(), Serial: m.Serial}
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
