package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// A Tip is how near a free-standing rack comes to tipping in a step.
type Tip struct {
	Name string        // what is pulled out, or mounted high
	Rack string        // name
	Mass quantity.Mass // of that thing
	// Factor is how many times the rest of the rack holds what is drawn out on
	// its slides; 0 where nothing is drawn out before the feet.
	Factor float64
	Rest   quantity.Mass // of the rack without it
	// Angle is how far the rack may lean before it goes over, with the thing in
	// its place; 0 where Factor says more.
	Angle quantity.Angle
}

// String says it in one sentence, for beside the step.
func (t *Tip) String() string {
	if t.Factor > 0 {
		return fmt.Sprintf("Pulled out, it is held %s times by the rest of %s (%s).", quantity.Number(t.Factor, 2), t.Rack, t.Rest)
	}
	return fmt.Sprintf("With it there %s goes over when it leans by %s deg; IEC 62368-1 asks for %s.", t.Rack, degrees(t.Angle), degrees(physics.TestTilt))
}

func degrees(a quantity.Angle) string { return quantity.Number(quantity.In(a, quantity.Degree), 1) }

// worse reports whether one state is nearer to tipping than another. What is
// pulled out comes before what merely stands high.
func (t *Tip) worse(o *Tip) bool {
	switch {
	case (t.Factor > 0) != (o.Factor > 0):
		return t.Factor > 0
	case t.Factor > 0:
		return t.Factor < o.Factor
	}
	return t.Angle < o.Angle
}

// tips fills in how near racks come to tipping: where a thing on slides comes
// out or goes in, with the masses that are there in that moment; and where a
// heavy one goes to a place above the middle of its rack. Whichever rack cannot
// be reckoned is named once, with its steps.
func (p *Plan) tips() {
	unknown := map[string]*lint.Unchecked{}
	steps := map[string][]string{}
	var order []string
	for i := range p.Steps {
		s := &p.Steps[i]
		at := s.Number // what comes in has come
		switch s.Task {
		case Withdraw, WithdrawBig:
			at-- // what goes out is still there
		case Insert, InsertTall, InsertBig:
		default:
			continue
		}
		rack := rackIn(p.Racks(at), s.At.Rack)
		if s.Job == nil || rack == nil || rack.Frame == nil {
			continue
		}
		k := slices.IndexFunc(rack.Mounts, func(m *estate.Mount) bool {
			return m.Posts().String() == s.At.Face && m.Label() == s.At.Units && isOf(s.Job, m)
		})
		if free, _ := rack.Frame.StandsFree(); !free || k < 0 {
			continue
		}
		tip, why := tipOf(rack, rack.Mounts[k], s)
		if why != "" {
			if unknown[rack.Name] == nil {
				order = append(order, rack.Name)
				unknown[rack.Name] = &lint.Unchecked{Rule: "load/tip-over", At: rack.Source.At(), Thing: rack.Ref(), Rack: rack.Name, Because: why}
			}
			steps[rack.Name] = append(steps[rack.Name], fmt.Sprint(s.Number))
			continue
		}
		if s.Tip = tip; tip != nil {
			s.Cautions = append(s.Cautions, cautionTip)
		}
	}
	for _, name := range order {
		u := unknown[name]
		at := "step " + steps[name][0]
		if len(steps[name]) > 1 {
			at = "steps " + listOf(steps[name])
		}
		u.Because = fmt.Sprintf("how near %s comes to tipping at %s is not reckoned: %s", name, at, u.Because)
		p.Unchecked = append(p.Unchecked, *u)
	}
}

func isOf(j *Job, m *estate.Mount) bool {
	return j.Old != nil && j.Old.Name == m.Name || j.New != nil && j.New.Name == m.Name
}

func rackIn(racks []*estate.Rack, name string) *estate.Rack {
	for _, r := range racks {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// tipOf reckons how near a rack comes to tipping with a thing of it pulled out,
// or standing high in it; nil where it is neither, and why where that is not
// known.
func tipOf(rack *estate.Rack, m *estate.Mount, s *Step) (*Tip, string) {
	heavy := s.Lift || s.People > 1
	if !m.Slides() && !heavy {
		return nil, ""
	}
	b, why := rack.Balance()
	var feet physics.Feet
	if why == "" {
		feet, why = rack.Frame.Feet()
	}
	if why != "" {
		return nil, why
	}
	i := slices.Index(b.Mounts, m)
	if i < 0 {
		return nil, ""
	}
	t := &Tip{Name: m.Name, Rack: rack.Name, Mass: massOf(m)}
	if m.Slides() {
		out, why := b.PullOut(i, feet)
		if why != "" {
			return nil, why
		}
		if out.Factor > 0 {
			t.Factor, t.Rest = out.Factor, out.Rest
			return t, ""
		}
	}
	if coming := strings.HasPrefix(string(s.Task), string(Insert)); !heavy || !coming || b.Bodies[i+1].At.Up <= b.Centre.Up {
		return nil, ""
	}
	t.Angle = physics.TiltsOf(b.Centre, feet).Least()
	return t, ""
}

// LeastStable gives for each rack the step in which it comes nearest to
// tipping, in order of the steps.
func (p *Plan) LeastStable() []*Step {
	worst := map[string]*Step{}
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Tip == nil {
			continue
		}
		if w := worst[s.Tip.Rack]; w == nil || s.Tip.worse(w.Tip) {
			worst[s.Tip.Rack] = s
		}
	}
	var out []*Step
	for i := range p.Steps {
		if s := &p.Steps[i]; s.Tip != nil && worst[s.Tip.Rack] == s {
			out = append(out, s)
		}
	}
	return out
}
