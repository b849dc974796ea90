package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// upsRuntime reports a UPS that does not last as long as its site asks at the
// most that it comes to carry, by its maker's curve. It looks only where a site
// asks for a runtime.
var upsRuntime = &lint.Rule{
	ID:      "power/ups-runtime",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a UPS does not last as long as its site asks at the load of a failure",
	Why: `The brochure gives the runtime at half load, and half load is what each of two UPS
carries day by day. On the night that matters one of them is gone, or the other
supply is: the load is the whole of it, and the minutes are a third.
Batteries age: test them under load, and plan for what is left at the end of
their life. A UPS is live with the mains off.`,
	Source: "the maker's curve of runtimes; between two of its points 1/runtime is taken to grow in proportion to the load, which is exact where a battery gives " +
		"the same energy at any load and short of the truth by Peukert's law (1897)",
	Omits: "the curve beyond its ends, which is not drawn on: there the rule is judged only as far as the end itself decides; " +
		"ageing, cold, and batteries not yet charged again",
	Decides: electrician,
	Estate:  checkUPSRuntime,
	Bad:     runtimeExample("15 min"),
	Good:    runtimeExample("10 min"),
}

func runtimeExample(asked string) string {
	return `
site "quay" {
  continuous = 1.0
  runtime    = "` + asked + `"
}
room "hq" { site = site.quay }
frame "cab" {
  system = "19in"
  units  = 42
}
source "mains" { kind = "utility" }
source "ups-1" {
  kind    = "ups"
  from    = [source.mains]
  rated   = { active = "2700 W", apparent = "3000 VA" }
  runtime = [
    { load = "600 W", lasts = "38 min" },
    { load = "1200 W", lasts = "16 min" },
    { load = "2700 W", lasts = "5 min" },
  ]
}
feed "a" {
  room    = room.hq
  source  = "ups-1"
  voltage = "230 V"
  rated   = "16 A"
}
feed "b" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}
equipment "server" {
  height = "2U"
  draw   = "700 W"
  inlets = { type = "c14", count = 2, needs = 1 }
}
rack "r1" {
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 2
    equipment = equipment.server
    feeds     = [feed.a, feed.b]
  }
}
`
}

// A backing is a UPS that must last, with the states in which it carries most.
type backing struct {
	carrier *estate.Carrier
	ref     string
	owner   string // of the curve
	at      lint.Finding
	name    estate.Range
	curve   estate.Figure[[]physics.RuntimePoint]
	least   estate.Worst // by what is known for certain
	most    estate.Worst // with all that may be active taken as active
}

func checkUPSRuntime(p *lint.Pass) {
	if !anySiteAsks(p.Estate) {
		return
	}
	for _, c := range p.Supply().Carriers() {
		u, ok := backingOf(c)
		if !ok {
			continue
		}
		asked, site := c.Asked()
		if site == nil {
			continue
		}
		if !u.curve.Known() {
			p.NotChecked(lint.Unchecked{At: u.name, Thing: u.ref, Rack: u.at.Rack, Because: lacks("runtime", u.owner, u.curve.State)})
			continue
		}
		u.least, u.most = c.Worst(u.curve.Value)
		judgeRuntime(p, u, asked, site)
	}
}

func judgeRuntime(p *lint.Pass, u backing, asked quantity.Duration, site *estate.Site) {
	if u.most.Load == 0 && u.carrier.Because() == "" {
		return
	}
	lasts, reach := physics.Runtime(u.curve.Value, u.least.Load)
	short := reach == physics.Heavier && lasts <= asked || reach == physics.Within && lasts < asked
	if short {
		f := u.at
		load := u.least.LoadText(u.curve.Value)
		whole := u.carrier.Because() == "" && u.least.Load == u.most.Load
		until := lasts.String()
		margin := quantity.Number((asked-lasts).Minutes(), 1) + " min short"
		if reach == physics.Heavier {
			until = "less than " + until
			whole = true // it is less in any case
			margin = "at least " + margin
			if asked == lasts {
				margin = "short"
			}
		}
		if !whole {
			load, until = "at least "+load, "at most "+until
		}
		f.Message = fmt.Sprintf("%s%s carries %s and lasts %s (%s%s); site.%s asks for %s: %s",
			withLost(&f, u.least.State), u.ref, load, until, physics.CurvePlace(u.curve.Value, u.least.Load), basis(u.curve), site.Name, asked, margin)
		f.Related = append(f.Related, lint.Related{At: site.Source.Attr("runtime"), Message: "the runtime is asked for here"})
		p.Report(f)
		return
	}
	why := u.carrier.Because()
	if lasts, reach := physics.Runtime(u.curve.Value, u.most.Load); why == "" {
		switch {
		case reach == physics.Lighter && lasts < asked, reach == physics.Heavier:
			why = fmt.Sprintf("it carries %s, which is %s, and a curve is not drawn on", u.most.LoadText(u.curve.Value), physics.CurvePlace(u.curve.Value, u.most.Load))
		case reach == physics.Within && lasts < asked:
			why = u.carrier.Watts
		}
	}
	if why != "" {
		p.NotChecked(lint.Unchecked{At: u.name, Thing: u.ref, Rack: u.at.Rack, Because: why})
	}
}

// backingOf gives the UPS that a carrier is. A source that a mount gives is
// judged by the mount's own curve where it has none itself.
func backingOf(c *estate.Carrier) (backing, bool) {
	switch {
	case c.UPS != nil && c.UPS.Equipment != nil && (c.UPS.Equipment.Backs() || c.UPS.Equipment.Kind == "ups"):
		u := backing{carrier: c, ref: c.UPS.Ref(), owner: ofEquipment(c.UPS.Equipment), at: lint.AtMount(c.UPS, "equipment"), name: c.UPS.Source.At(), curve: c.UPS.Equipment.Runtime}
		return u, u.curve.State != estate.IsMissing || len(c.Behind) > 0
	case c.Source != nil:
		s := c.Source
		if s.Runtime.State == estate.IsMissing && (s.Kind != estate.UPS || s.Mount != nil && s.Mount.Equipment != nil && s.Mount.Equipment.Backs()) {
			return backing{}, false
		}
		return backing{carrier: c, ref: s.Ref(), owner: s.Ref(), at: lint.Finding{At: s.Source.Attr("runtime"), Thing: s.Ref()}, name: s.Source.At(), curve: s.Runtime}, true
	}
	return backing{}, false
}

func anySiteAsks(e *estate.Estate) bool {
	for _, s := range e.Sites {
		if s.Runtime.State != estate.IsMissing {
			return true
		}
	}
	return false
}
