package lang

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// layOut sets stacks up as mounts, gives racks their copies of layouts, fills
// in what is usual, and reports mounts that then lack something.
func (r *reader) layOut(e *estate.Estate, parts []*part) {
	stacks := map[any][]*stack{}
	broken := map[string]bool{}
	byPath := map[string]*part{}
	for _, p := range parts {
		byPath[p.path] = p
		broken[p.path] = p.broken
		for _, s := range p.stacks {
			stacks[s.parent] = append(stacks[s.parent], s)
		}
		p.stacks = nil
	}
	for _, o := range e.Layouts {
		for _, m := range o.Mounts {
			r.complete(byPath, m)
		}
	}
	if tooManyCopies(e, byPath, stacks) {
		return
	}
	for _, rack := range e.Racks {
		if own := stacks[rack]; own != nil {
			for _, s := range own {
				rack.Mounts = append(rack.Mounts, s.setUp(rack)...)
			}
			slices.SortStableFunc(rack.Mounts, func(a, b *estate.Mount) int {
				return int(a.Source.Block.Start) - int(b.Source.Block.Start)
			})
		}
		if rack.Layout != nil {
			takeOver(rack, stacks[rack.Layout])
		}
		for _, m := range rack.Mounts {
			if m.Source.File == rack.Source.File {
				r.complete(byPath, m)
			}
			settle(m)
		}
	}
}

// maxCopies bounds how many mounts stacks and layouts make: a file of a few
// lines could else take all memory.
const maxCopies = 2_000_000

// tooManyCopies reports where stacks and layouts go beyond that; none are set
// up then.
func tooManyCopies(e *estate.Estate, parts map[string]*part, stacks map[any][]*stack) bool {
	made := 0
	for _, rack := range e.Racks {
		if made += copies(rack, stacks); made <= maxCopies {
			continue
		}
		if p := parts[rack.Source.File]; p != nil {
			p.diags = append(p.diags, Diagnostic{
				Range: rack.Source.At(), Severity: Error,
				Summary: fmt.Sprintf("with this rack, stacks and layouts make more than %d mounts; none are made", maxCopies),
			})
		}
		return true
	}
	return false
}

// copies gives how many mounts stacks and a layout will make in a rack.
func copies(rack *estate.Rack, stacks map[any][]*stack) int {
	n := 0
	for _, s := range stacks[rack] {
		n += s.count
	}
	if rack.Layout != nil {
		n += len(rack.Layout.Mounts) + len(rack.Layout.Blanks) + len(rack.Layout.Reserves)
		for _, s := range stacks[rack.Layout] {
			n += s.count
		}
	}
	return n
}

// complete reports what a mount lacks when nothing more will be added to it.
func (r *reader) complete(parts map[string]*part, m *estate.Mount) {
	p := parts[m.Source.File]
	if p == nil || p.broken {
		return
	}
	belowFirst(p, m)
	lines, kind := mountLines, "mount"
	if m.ZeroU != nil {
		lines, kind = zeroULines, "zero_u"
	}
	for _, name := range [...]string{"at", "equipment"} {
		if m.Source.Has(name) || name == "at" && (m.ZeroU != nil || m.Source.Has("from") || m.At != 0 || m.Raised.Known()) || name == "equipment" && m.Equipment != nil {
			continue
		}
		for i := range lines {
			if a := &lines[i]; a.name == name {
				p.diags = append(p.diags, Diagnostic{
					Range: m.Source.At(), Severity: Error,
					Summary: fmt.Sprintf("%s %q lacks %s; write %s = %s", kind, clip(m.Name), a.name, a.name, a.example),
					Detail:  a.doc,
				})
			}
		}
	}
}

// belowFirst reports a mount at unit 0 of a frame that counts from 1, which is
// a slip of people who count from 0. In the model 0 stands for no place.
func belowFirst(p *part, m *estate.Mount) {
	name := "at"
	if !m.Source.Has(name) {
		if name = "from"; !strings.HasSuffix(m.Name, "-1") {
			return // only the first member of a stack stands where it says
		}
	}
	if m.ZeroU != nil || m.At != 0 || m.Through != 0 || m.Raised.State != estate.IsMissing || !m.Source.Has(name) ||
		m.Rack == nil || m.Rack.Frame == nil || m.Rack.Frame.First < 1 {
		return
	}
	at := m.Source.Attr(name)
	for _, d := range p.diags {
		if d.File == at.File && d.Start >= at.Start && d.End <= at.End {
			return // what is written there is wrong in another way
		}
	}
	f := m.Rack.Frame
	p.diags = append(p.diags, Diagnostic{
		Range: at, Severity: Error,
		Summary: fmt.Sprintf("%s = 0 is no unit of frame %q, whose first unit is %d; write %s = %d or higher", name, clip(f.Name), f.First, name, f.First),
	})
}

// settle fills in what is usual.
func settle(m *estate.Mount) {
	if m.ZeroU != nil {
		if m.ZeroU.Plane == estate.NoFace {
			m.ZeroU.Plane = estate.RearFace
		}
		return
	}
	if m.Face == estate.NoFace {
		m.Face = estate.FrontFace
	}
}

// setUp gives the mounts of a stack in a rack, lowest first.
func (s *stack) setUp(rack *estate.Rack) []*estate.Mount {
	height := s.height(rack.Frame)
	mounts := make([]estate.Mount, s.count)
	out := make([]*estate.Mount, s.count)
	for i := range mounts {
		m := &mounts[i]
		*m = s.mount
		m.Rack = rack
		m.Name = fmt.Sprintf("%s-%d", s.mount.Name, i+1)
		step := estate.UnitNumber(i) * height
		if rack.Frame != nil && rack.Frame.Counted == estate.CountedDown {
			step = -step
		}
		m.At = s.mount.At + step
		out[i] = m
	}
	return out
}

// height gives how many units apart the members of a stack stand: the height
// of one, rounded up to whole units where it is given as a length or in
// modules of another size. What cannot be known counts as one unit.
func (s *stack) height(f *estate.Frame) estate.UnitNumber {
	q := s.mount.Equipment
	if q == nil || q.Height.State != estate.IsGiven {
		return estate.OneUnit
	}
	if f == nil || f.System == nil {
		if q.Height.Count > 0 {
			return q.Height.Count
		}
		return estate.OneUnit
	}
	if q.Height.Count > 0 && q.Height.Length*quantity.Length(estate.OneUnit) == quantity.Length(q.Height.Count)*f.System.Pitch {
		return q.Height.Count
	}
	panel := q.Height.Length
	if q.Height.Count > 0 && q.System != nil {
		panel = q.System.PanelOf(panel)
	}
	return estate.Units(f.System.Modules(panel))
}

// takeOver gives a rack its own copies of what its layout holds. A mount of the
// rack with the label of one of the layout's alters that one.
func takeOver(rack *estate.Rack, stacks []*stack) {
	var shared []*estate.Mount
	for _, m := range rack.Layout.Mounts {
		c := *m
		c.Rack = rack
		if m.ZeroU != nil {
			place := *m.ZeroU
			c.ZeroU = &place
		}
		shared = append(shared, &c)
	}
	for _, s := range stacks {
		shared = append(shared, s.setUp(rack)...)
	}
	own := rack.Mounts
	rack.Mounts = make([]*estate.Mount, 0, len(shared)+len(own))
	altered := map[*estate.Mount]bool{}
	named := map[string][]*estate.Mount{} // own mounts that alter none yet
	for _, o := range own {
		named[o.Name] = append(named[o.Name], o)
	}
	for _, base := range shared {
		m := base
		alike := named[base.Name]
		for i, o := range alike {
			if (o.ZeroU == nil) == (base.ZeroU == nil) {
				inherit(o, base)
				altered[o] = true
				m = o
				named[base.Name] = slices.Delete(alike, i, i+1)
				break
			}
		}
		rack.Mounts = append(rack.Mounts, m)
	}
	for _, o := range own {
		if !altered[o] {
			rack.Mounts = append(rack.Mounts, o)
		}
	}
	for _, b := range rack.Layout.Blanks {
		c := *b
		c.Rack = rack
		rack.Blanks = append(rack.Blanks, &c)
	}
	for _, v := range rack.Layout.Reserves {
		c := *v
		c.Rack = rack
		rack.Reserves = append(rack.Reserves, &c)
	}
}

// inherit takes over from base what m does not say itself.
func inherit(m, base *estate.Mount) {
	lines := mountLines
	if m.ZeroU != nil {
		lines = zeroULines
	}
	for i := range lines {
		if a := &lines[i]; !m.Source.Has(a.name) {
			a.copy(m, base)
		}
	}
}
