package review

import (
	"fmt"

	"cagenut/lang/change"
	"cagenut/lang/estate"
)

// Clash says in a sentence what another branch wants that the change wants as
// well.
func Clash(c change.Clash) string {
	switch c.Kind {
	case change.SameUnits:
		return fmt.Sprintf("%s at %s of rack %s, where this change %s", puts(c.Theirs), units(c), c.Rack, puts(c.Mine))
	case change.SameMount:
		return fmt.Sprintf("%s %s, which this change %s", does(c.Theirs), name(c.Mine), does(c.Mine))
	case change.SameSerial:
		m := c.Mine.(*change.MountChange)
		return fmt.Sprintf("has serial number %s as %s, which is %s in this change", m.New.Serial, name(c.Theirs), name(c.Mine))
	case change.SameRack:
		if r, ok := c.Mine.(*change.RackChange); ok {
			return fmt.Sprintf("%s %s, in a rack that this change %s", does(c.Theirs), name(c.Theirs), does(r))
		}
		return fmt.Sprintf("%s rack %s, in which this change %s %s", does(c.Theirs), c.Rack, does(c.Mine), name(c.Mine))
	}
	return "wants the same"
}

func units(c change.Clash) string {
	for _, x := range []any{c.Mine, c.Theirs} {
		var r *estate.Rack
		switch x := x.(type) {
		case *change.MountChange:
			r = x.New.Rack
		case *change.ReserveChange:
			r = x.New.Rack
		}
		if r != nil && r.Frame != nil {
			return r.Frame.Label(c.Units)
		}
	}
	return "units that are not known"
}

func puts(x any) string {
	switch x := x.(type) {
	case *change.MountChange:
		return "puts " + x.New.Name
	case *change.ReserveChange:
		return "holds " + x.New.Name
	}
	return "changes"
}

func name(x any) string {
	switch x := x.(type) {
	case *change.MountChange:
		return x.Mount().Ref()
	case *change.ReserveChange:
		return "reserve " + x.Reserve().Name
	case *change.RackChange:
		return x.Rack().Ref()
	}
	return ""
}

func does(x any) string {
	kind := change.NoKind
	switch x := x.(type) {
	case *change.MountChange:
		kind = x.Kind
	case *change.ReserveChange:
		kind = x.Kind
	case *change.RackChange:
		if x.Renamed() {
			return "renames"
		}
		kind = x.Kind
	}
	switch kind {
	case change.Added:
		return "brings"
	case change.Removed:
		return "takes out"
	case change.Moved:
		return "moves"
	}
	return "alters"
}
