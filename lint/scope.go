package lint

import (
	"cagenut/lang/estate"
)

// place is where a thing is and what it is, in the words of scopes.
type place struct {
	site, room, row, rack, frame, equipment, kind string
}

// placeOf gives the place of a [estate.Mount], [estate.Rack], [estate.Row],
// [estate.Room], [estate.Site], [estate.Feed], [estate.Frame] or
// [estate.Equipment]; that of anything else is empty.
func placeOf(thing any) place {
	var p place
	switch t := thing.(type) {
	case *estate.Mount:
		if t.Rack != nil {
			p = placeOf(t.Rack)
		}
		if t.Equipment != nil {
			p.equipment, p.kind = t.Equipment.Name, t.Equipment.Kind
		}
	case *estate.Rack:
		if t.Row != nil {
			p = placeOf(t.Row)
		}
		p.rack = t.Name
		if t.Frame != nil {
			p.frame, p.kind = t.Frame.Name, t.Frame.Kind.String()
		}
	case *estate.Row:
		if t.Room != nil {
			p = placeOf(t.Room)
		}
		p.row = t.Name
	case *estate.Room:
		if t.Site != nil {
			p = placeOf(t.Site)
		}
		p.room = t.Name
	case *estate.Site:
		p.site = t.Name
	case *estate.Feed:
		if t.Room != nil {
			p = placeOf(t.Room)
		}
	case *estate.Frame:
		p.frame, p.kind = t.Name, t.Kind.String()
	case *estate.Equipment:
		p.equipment, p.kind = t.Name, t.Kind
	}
	return p
}

// narrowness orders scopes: of two adjustments that cover a thing the narrower
// one has the last word.
var narrowness = map[string]int{"site": 1, "room": 2, "row": 3, "kind": 4, "frame": 5, "equipment": 6, "rack": 7}

// within gives how narrow the narrowest of the scopes is that a place lies in,
// 0 where there are no scopes, and false where it lies in none.
func (p *place) within(scopes []estate.Scope) (int, bool) {
	if len(scopes) == 0 {
		return 0, true
	}
	narrowest, covered := 0, false
	for i := range scopes {
		var name string
		switch scopes[i].Kind {
		case "site":
			name = p.site
		case "room":
			name = p.room
		case "row":
			name = p.row
		case "rack":
			name = p.rack
		case "frame":
			name = p.frame
		case "equipment":
			name = p.equipment
		case "kind":
			name = p.kind
		}
		if name != "" && name == scopes[i].Name {
			covered = true
			narrowest = max(narrowest, narrowness[scopes[i].Kind])
		}
	}
	return narrowest, covered
}

// Covers reports whether a thing lies in one of the scopes, as everything does
// where there are none. Things are those that [LimitFor] takes.
func Covers(scopes []estate.Scope, thing any) bool {
	if len(scopes) == 0 {
		return true
	}
	p := placeOf(thing)
	_, ok := p.within(scopes)
	return ok
}
