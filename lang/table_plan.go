package lang

import (
	"slices"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// The blocks that say when and how changes are made.

var weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

var windowBlock = top("window", "a time in which steps of a change may be done, week by week",
	func(e *estate.Estate) *[]*estate.Window { return &e.Windows },
	func(w *estate.Window) (*string, *estate.Source) { return &w.Name, &w.Source },
	ref("site", "site", "site.quay", "the site it is for; every site where there is none", func(w *estate.Window) **estate.Site { return &w.Site }),
	someOf("days", `["tue"]`, "the days on which it opens", weekdays, func(w *estate.Window) *[]string { return &w.Days }).required(),
	clock("opens", `"22:00"`, "when it opens, by the clock of the site", func(w *estate.Window) *estate.Clock { return &w.Opens }).required(),
	clock("closes", `"02:00"`, "when it closes; at or before opens means the next day", func(w *estate.Window) *estate.Clock { return &w.Closes }).required(),
	plain("margin", `"30 min"`, "the time to be kept free at its end", func(w *estate.Window) *quantity.Duration { return &w.Margin }),
	whole("people", "2", "how many people are there", 1, 999, func(w *estate.Window) *int { return &w.People }),
	yesNo("lift", "true", "whether a lifting device is there; so it is where anything is said of it", func(w *estate.Window) *bool { return &w.Lift }).otherwise("false"),
	figure("lift_rated", `"150 kg"`, "the mass that the lift carries, at the reach that is used", func(w *estate.Window) figureOfMass { return &w.LiftRated }),
	figure("lift_height", `"1700 mm"`, "how high above the floor the lift's platform rises", func(w *estate.Window) figureOfLength { return &w.LiftHeight }),
	figure("lift_reach", `"350 mm"`, "how far forward of its own feet the lift holds a load", func(w *estate.Window) figureOfLength { return &w.LiftReach }),
	figure("lift_mass", `"95 kg"`, "the lift's own mass, for the floor before a rack", func(w *estate.Window) figureOfMass { return &w.LiftMass }),
	someOf("competences", `["electrician"]`, "what those who are there may do beyond the crew's own: \"electrician\" for fixed wiring, strips, UPS and batteries, \"fire-stopper\" for fire seals; \"none\" where nobody may; not judged where no window of the site says it", estate.Competences, func(w *estate.Window) *[]string { return &w.Competences }),
).with(`window "tue-night" {
  site   = site.quay
  days   = ["tue"]
  opens  = "22:00"
  closes = "02:00"
  margin = "30 min"
  people = 2
  lift   = true

  competences = ["electrician"]
}`, func(r *reader, owner any, b *hclsyntax.Block) {
	w, a := owner.(*estate.Window), b.Body.Attributes["competences"]
	for _, name := range []string{"lift_rated", "lift_height", "lift_reach", "lift_mass"} {
		switch said := b.Body.Attributes[name]; {
		case said == nil:
		case b.Body.Attributes["lift"] != nil && !w.Lift:
			r.report(said.Expr.Range(), "", "%s: lift says that there is none; write lift = true, or leave %s out", name, name)
		default:
			w.Lift = true
		}
	}
	switch {
	case a == nil:
	case len(w.Competences) == 0 && isEmptyList(a.Expr):
		r.report(a.Expr.Range(), "", "competences: an empty list says nothing; write \"none\" where nobody is there who may do more than the crew")
	case len(w.Competences) > 1 && slices.Contains(w.Competences, estate.NoCompetence):
		r.report(a.Expr.Range(), "", "competences: \"none\" stands alone; leave it out where somebody is there")
	}
})

func isEmptyList(x hclsyntax.Expression) bool {
	list, ok := x.(*hclsyntax.TupleConsExpr)
	return ok && len(list.Exprs) == 0
}

var freezeBlock = top("freeze", "a run of days in which nothing is changed",
	func(e *estate.Estate) *[]*estate.Freeze { return &e.Freezes },
	func(f *estate.Freeze) (*string, *estate.Source) { return &f.Name, &f.Source },
	ref("site", "site", "site.quay", "the site it is for; every site where there is none", func(f *estate.Freeze) **estate.Site { return &f.Site }),
	date("from", `"2027-06-15"`, "the first day", func(f *estate.Freeze) *estate.Date { return &f.From }).required(),
	date("to", `"2027-09-05"`, "the last day", func(f *estate.Freeze) *estate.Date { return &f.To }).required(),
	freeText("reason", `"passenger season"`, "why", func(f *estate.Freeze) *string { return &f.Reason }),
).with(`freeze "summer" {
  site   = site.quay
  from   = "2027-06-15"
  to     = "2027-09-05"
  reason = "passenger season"
}`, func(r *reader, owner any, b *hclsyntax.Block) {
	if f := owner.(*estate.Freeze); f.From != 0 && f.To != 0 && f.To < f.From {
		r.report(b.Body.Attributes["to"].Expr.Range(), "", "to: %s is before from, %s; the first day comes first", f.To, f.From)
	}
})

var paceBlock = (&block{
	name: "pace", doc: "how long tasks take, by the name of the task",
	open: in(func(e *estate.Estate) *[]*estate.Pace { return &e.Paces }),
	head: func(owner any) (*string, *estate.Source) { return nil, &owner.(*estate.Pace).Source },
	attrs: []attr{
		share("contingency", "0.25", "the share that is added to every sum", 0, 10, func(p *estate.Pace) *estate.Figure[float64] { return &p.Contingency }),
	},
	other: func(r *reader, owner any, a *hclsyntax.Attribute) {
		d, ok := readQuantity[quantity.Duration](r, a.Expr)
		if !ok {
			return
		}
		p := owner.(*estate.Pace)
		if p.Minutes == nil {
			p.Minutes = map[string]quantity.Duration{}
		}
		p.Minutes[r.attrName] = d
	},
	otherDoc: &AttributeDoc{Name: "TASK", Kind: "span of time", Doc: "how long one task of that name takes", Example: `"12 min"`},
}).with(`pace {
  fit_slides  = "12 min"
  contingency = 0.25
}`, nil)

var benchBlock = top("bench", "a place where something may be parked during a change",
	func(e *estate.Estate) *[]*estate.Bench { return &e.Benches },
	func(b *estate.Bench) (*string, *estate.Source) { return &b.Name, &b.Source },
	ref("room", "room", "room.hq", "the room in which it is", func(b *estate.Bench) **estate.Room { return &b.Room }),
	whole("units", "8", "how many units of equipment it has room for", 1, 999, func(b *estate.Bench) *int { return &b.Units }).required(),
	figure("rated", `"120 kg"`, "the mass that it may carry", func(b *estate.Bench) figureOfMass { return &b.Rated }),
	yesNo("powered", "false", "whether equipment can run there", func(b *estate.Bench) *bool { return &b.Powered }).otherwise("false"),
).with(`bench "b1" {
  room    = room.hq
  units   = 8
  rated   = "120 kg"
  powered = false
}`, nil)
