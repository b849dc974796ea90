package estate

// A Bar is a bonding bar: what the bonding conductors of racks end on.
type Bar struct {
	Name   string
	Room   *Room
	Source Source
}

// A Bond is what the bonding conductor of a rack goes to: a bar, or another
// rack. Both are nil where what is named does not exist.
type Bond struct {
	Bar   *Bar
	Rack  *Rack
	State State
}

// Ref names what the conductor goes to as the language does, "unknown" where
// that is said, or nothing.
func (b Bond) Ref() string {
	switch {
	case b.Bar != nil:
		return "bar." + b.Bar.Name
	case b.Rack != nil:
		return b.Rack.Ref()
	case b.State == IsUnknown:
		return "unknown"
	}
	return ""
}

// BondPath gives the racks that a rack's bond passes, itself first, and how
// the path ends: at a bar, or at a rack without a bond, or in a circle, where the
// last rack is one that stands in the path before.
func (r *Rack) BondPath() (path []*Rack, bar *Bar, circle bool) {
	seen := map[string]bool{} // by name: a plan has copies of racks
	for at := r; ; at = at.Bond.Rack {
		path = append(path, at)
		switch {
		case seen[at.Name]:
			return path, nil, true
		case at.Bond.Bar != nil:
			return path, at.Bond.Bar, false
		case at.Bond.Rack == nil:
			return path, nil, false
		}
		seen[at.Name] = true
	}
}
