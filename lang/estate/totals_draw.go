package estate

import (
	"fmt"
	"strings"

	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// DrawBasis says which of a draw's figures a load is reckoned on.
type DrawBasis uint8

// The bases of a load.
const (
	NoDrawBasis DrawBasis = iota
	OnTypical
	OnMaximum
	OnNameplate
)

var drawBases = [...]string{"", "typical", "maximum", "nameplate"}

// String names the basis as the language writes it.
func (b DrawBasis) String() string { return drawBases[b] }

// figure gives the figure of that basis.
func (d *Draw) figure(b DrawBasis) *Figure[quantity.Power] {
	switch b {
	case OnTypical:
		return &d.Typical
	case OnNameplate:
		return &d.Nameplate
	}
	return &d.Maximum
}

// A DrawSet is a set of the figures of a draw.
type DrawSet uint8

// Of gives the set of one figure.
func (b DrawBasis) Of() DrawSet { return 1 << b >> 1 }

// Has reports whether the figure is in the set.
func (s DrawSet) Has(b DrawBasis) bool { return s&b.Of() != 0 }

// String names the figures: "maximum, nameplate".
func (s DrawSet) String() string {
	var out []string
	for b := OnTypical; b <= OnNameplate; b++ {
		if s.Has(b) {
			out = append(out, b.String())
		}
	}
	return strings.Join(out, ", ")
}

// first gives the first known figure in the order of bases.
func (d *Draw) first(order []DrawBasis) (quantity.Power, DrawBasis, bool) {
	for _, b := range order {
		if p, ok := d.figure(b).Get(); ok {
			return p, b, true
		}
	}
	return 0, NoDrawBasis, false
}

// Declared reports whether anything is said about the draw, if only that it is
// unknown.
func (d *Draw) Declared() bool {
	return d.Typical.State != IsMissing || d.Maximum.State != IsMissing || d.Nameplate.State != IsMissing
}

// The orders in which figures of a draw are used, by what a site chooses. A
// feed must carry the most that may be drawn, so a typical figure counts only
// where the site says so; heat is what is given off hour by hour.
var (
	ofMaximum   = []DrawBasis{OnMaximum, OnNameplate}
	ofNameplate = []DrawBasis{OnNameplate, OnMaximum}
	ofTypical   = []DrawBasis{OnTypical, OnMaximum, OnNameplate}
)

// loadOrder gives the order for loads of feeds at a site, which may be nil.
func loadOrder(site *Site) []DrawBasis {
	if site != nil {
		switch site.Load {
		case "nameplate":
			return ofNameplate
		case "typical":
			return ofTypical
		}
	}
	return ofMaximum
}

// heatOrder gives the order for heat at a site, which may be nil.
func heatOrder(site *Site) []DrawBasis {
	if site != nil && site.Heat == "maximum" {
		return ofMaximum
	}
	return ofTypical
}

// Passive reports whether the equipment takes no power as far as it is
// declared: no draw is written, and it has either no inlets or outlets to hand
// on what comes in.
func (q *Equipment) Passive() bool {
	return (len(q.Inlets) == 0 || len(q.Outlets) > 0) && !q.Draw.Declared()
}

// Load gives what the mount takes from its feeds, on the basis that the site
// chooses (nil: maximum, else nameplate), or why that is not known.
func (m *Mount) Load(site *Site) (quantity.Power, DrawBasis, string) {
	return m.draw(loadOrder(site))
}

// Heat gives what the mount gives off as heat, on the basis that the site
// chooses (nil: typical, else maximum, else nameplate), or why that is not
// known. All that equipment takes ends as heat beside it.
func (m *Mount) Heat(site *Site) (quantity.Power, DrawBasis, string) {
	return m.draw(heatOrder(site))
}

func (m *Mount) draw(order []DrawBasis) (quantity.Power, DrawBasis, string) {
	q := m.Equipment
	if q == nil {
		return 0, NoDrawBasis, "its equipment is not known"
	}
	if q.Passive() {
		return 0, NoDrawBasis, ""
	}
	p, b, ok := q.Draw.first(order)
	if !ok {
		state := q.Draw.figure(order[0]).State
		return 0, NoDrawBasis, fmt.Sprintf("the %s draw of equipment.%s is %s", order[0], q.Name, state)
	}
	if factor, ok := q.Factor.Get(); ok && q.Draw.Apparent.Has(b) {
		p = quantity.Of(p.Watts()*factor, quantity.Watt)
	}
	return p, b, ""
}

// A Taking is a power that a mount takes from a feed, in its parts.
type Taking struct {
	Vector physics.Vector[quantity.Power]
	// Loose says why watts and volt-amperes are not known apart, and
	// Unfactored why the apparent power, which makes the current, may be more
	// than what stands in Vector; each is "" where nothing is to be said.
	Loose, Unfactored string
}

// Takes gives the parts of a power that [Mount.Load] gave, or of a share of it,
// as the mount takes it from a feed.
//
// A power factor turns watts into volt-amperes, or volt-amperes into watts. One
// that is not written counts as 1 for a draw in watts, and as not known for one
// in volt-amperes; one that is written as unknown is not known. Direct current
// has none.
func (m *Mount) Takes(p quantity.Power, basis DrawBasis, f *Feed) Taking {
	t := Taking{Vector: physics.Vector[quantity.Power]{Active: p}}
	q := m.Equipment
	if q == nil || p == 0 || f.Direct() {
		return t
	}
	if factor, ok := q.Factor.Get(); ok {
		t.Vector = physics.Factored(p, factor)
		return t
	}
	switch {
	case q.Draw.Apparent.Has(basis):
		t.Vector = physics.Vector[quantity.Power]{Loose: p}
		t.Loose = q.lacks("power factor", q.Factor.State)
	case q.Factor.State == IsUnknown:
		t.Unfactored = q.lacks("power factor", q.Factor.State)
	}
	return t
}

// VoltAmperes names an apparent power where it differs from the power that it
// belongs to: "3558 VA"; else "".
func VoltAmperes(power, apparent quantity.Power) string {
	if power == apparent {
		return ""
	}
	return InVoltAmperes(apparent)
}

// InVoltAmperes writes an apparent power: "3558 VA".
func InVoltAmperes(apparent quantity.Power) string {
	return strings.TrimSuffix(apparent.String(), "W") + "VA"
}

// ActiveText writes the active part of a power: in VA where nothing more is
// known, as the most that it can be where some of it is not.
func ActiveText(v physics.Vector[quantity.Power]) string {
	switch {
	case v.Loose == 0:
		return v.Active.String()
	case v.Active == 0:
		return InVoltAmperes(v.Loose)
	}
	return "up to " + v.Most().String()
}

// InletCount gives how many inlets the equipment has, and how many of them must
// be live for it to run: at least one where it has any.
func (q *Equipment) InletCount() (count, needs int) {
	for _, in := range q.Inlets {
		count += in.Count
		needs += in.Needs
	}
	if count > 0 {
		needs = max(needs, 1)
	}
	return count, needs
}
