package history

import (
	"io"
	"time"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/history"
	"cagenut/lang/source"
	"cagenut/render/document"
)

// Format is the version of the JSON forms. It is raised when a field goes or
// changes its meaning; a field that is added does not raise it.
const Format = 1

type jsonCommit struct {
	Hash    string `json:"hash"`
	Author  string `json:"author"`
	When    string `json:"when"` // RFC 3339
	Subject string `json:"subject"`
}

func commitOf(c *source.Commit) *jsonCommit {
	if c == nil {
		return nil
	}
	return &jsonCommit{c.Hash.String(), c.Author, c.When.Format(time.RFC3339), c.Subject}
}

type jsonEvent struct {
	Commit  *jsonCommit `json:"commit"`
	Rack    string      `json:"rack"`
	Changes []jsonItem  `json:"changes"`
	Broken  []string    `json:"broken"`            // files that could not be read whole at the commit
	Earlier int         `json:"earlier,omitempty"` // 1 for the rack that had the name before, 2 for the one before that
}

// A jsonItem is one mount, blank, reserve or rack that the commit changed.
type jsonItem struct {
	Kind        string              `json:"kind"` // "mount", "blank", "reserve" or "rack"
	Change      string              `json:"change"`
	Old         string              `json:"old,omitempty"` // as the language refers to it
	New         string              `json:"new,omitempty"`
	OldUnits    string              `json:"old_units,omitempty"`
	NewUnits    string              `json:"new_units,omitempty"`
	Alterations []change.Alteration `json:"alterations,omitempty"`
}

// EventsJSON writes events for programs. Lists are never null.
func EventsJSON(w io.Writer, events []history.Event) error {
	out := struct {
		Format int         `json:"format"`
		Of     string      `json:"of"`
		Events []jsonEvent `json:"events"`
	}{Format, "history", []jsonEvent{}}
	earlier := 0
	for i := range events {
		e := &events[i]
		if e.Gap != nil && (i == 0 || events[i-1].Gap != e.Gap) {
			earlier++
		}
		je := jsonEvent{Earlier: earlier, Commit: commitOf(e.Commit), Changes: []jsonItem{}, Broken: append([]string{}, e.Broken...)}
		for _, r := range []*estate.Rack{e.Old, e.New} {
			if r != nil {
				je.Rack = r.Name
			}
		}
		for _, c := range e.Change.Racks {
			it := jsonItem{Kind: "rack", Change: c.Kind.String(), Alterations: c.Alterations}
			if c.Old != nil {
				it.Old = c.Old.Ref()
			}
			if c.New != nil {
				it.New = c.New.Ref()
			}
			je.Changes = append(je.Changes, it)
		}
		for _, c := range e.Change.Mounts {
			it := jsonItem{Kind: "mount", Change: c.Kind.String(), Alterations: c.Alterations}
			if c.Old != nil {
				it.Old, it.OldUnits = c.Old.Ref(), c.Old.Label()
			}
			if c.New != nil {
				it.New, it.NewUnits = c.New.Ref(), c.New.Label()
			}
			je.Changes = append(je.Changes, it)
		}
		for _, c := range e.Change.Blanks {
			it := jsonItem{Kind: "blank", Change: c.Kind.String()}
			if c.Old != nil {
				it.Old, it.OldUnits = c.Old.Rack.Ref(), unitsOf(c.Old.Rack, c.Old.Units)
			}
			if c.New != nil {
				it.New, it.NewUnits = c.New.Rack.Ref(), unitsOf(c.New.Rack, c.New.Units)
			}
			je.Changes = append(je.Changes, it)
		}
		for _, c := range e.Change.Reserves {
			it := jsonItem{Kind: "reserve", Change: c.Kind.String(), Alterations: c.Alterations}
			if c.Old != nil {
				it.Old, it.OldUnits = c.Old.Rack.Ref()+"."+c.Old.Name, unitsOf(c.Old.Rack, c.Old.Units)
			}
			if c.New != nil {
				it.New, it.NewUnits = c.New.Rack.Ref()+"."+c.New.Name, unitsOf(c.New.Rack, c.New.Units)
			}
			je.Changes = append(je.Changes, it)
		}
		out.Events = append(out.Events, je)
	}
	return document.JSON(w, out)
}

func unitsOf(r *estate.Rack, u estate.UnitRange) string {
	if r.Frame == nil {
		return u.From.String() + "-" + u.To.String()
	}
	return r.Frame.Label(r.Frame.Extent(u))
}

// UnitsJSON writes the units of a rack for programs, in the order of counting.
func UnitsJSON(w io.Writer, rack string, units []history.UnitState) error {
	type unit struct {
		Unit   string      `json:"unit"`
		Holds  []string    `json:"holds"`
		Change string      `json:"change,omitempty"`
		Commit *jsonCommit `json:"commit,omitempty"`
	}
	out := struct {
		Format int    `json:"format"`
		Of     string `json:"of"`
		Rack   string `json:"rack"`
		Units  []unit `json:"units"`
	}{Format, "history by unit", rack, []unit{}}
	for _, u := range units {
		out.Units = append(out.Units, unit{u.Unit.String(), append([]string{}, u.Holds...), u.What.String(), commitOf(u.Commit)})
	}
	return document.JSON(w, out)
}
