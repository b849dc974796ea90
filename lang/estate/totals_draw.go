package estate

import (
	"fmt"
	"strings"

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
	return p, b, ""
}

// Apparent gives the apparent power of a power that the mount takes from a
// feed: more by its power factor where that is declared, else the same. Direct
// current knows no such factor.
func (m *Mount) Apparent(p quantity.Power, f *Feed) quantity.Power {
	if m.Equipment == nil || f.Direct() {
		return p
	}
	factor, ok := m.Equipment.Factor.Get()
	if !ok || factor <= 0 {
		return p
	}
	return quantity.Of(p.Watts()/factor, quantity.Watt)
}

// VoltAmperes names an apparent power where it differs from the power that it
// belongs to: "3558 VA"; else "".
func VoltAmperes(power, apparent quantity.Power) string {
	if power == apparent {
		return ""
	}
	return strings.TrimSuffix(apparent.String(), "W") + "VA"
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
