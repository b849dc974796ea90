package lint

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

// A Pass is what a rule's check is given: the estate, and where its results
// go. A check reports through it and keeps nothing else.
type Pass struct {
	Estate *estate.Estate
	Today  estate.Date

	rule    *Rule
	rulings *rulings
	out     *Result
	supply  func() *estate.Supply
}

// Supply gives who draws on which feed in the whole estate. It is worked out
// once for all rules of a run, and is for checks of the estate as a whole: they
// run one after the other.
func (p *Pass) Supply() *estate.Supply { return p.supply() }

// Report records a finding. Rule is filled in; Level is the rule's where the
// finding states none, and the site's adjustments have the last word.
func (p *Pass) Report(f Finding) {
	f.Rule = p.rule.ID
	if f.Level == NoLevel {
		f.Level = p.rule.LevelIn(p.rulings.set)
	}
	f.Level = p.rulings.level(p.rule, &f)
	if f.Level == Off {
		return
	}
	p.out.Findings = append(p.out.Findings, f)
}

// NotChecked records that the rule could not be judged.
func (p *Pass) NotChecked(u Unchecked) {
	u.Rule = p.rule.ID
	p.out.Unchecked = append(p.out.Unchecked, u)
}

// MountUnchecked records that the rule could not be judged on a mount.
func (p *Pass) MountUnchecked(m *estate.Mount, format string, args ...any) {
	p.NotChecked(Unchecked{At: m.Source.At(), Thing: m.Ref(), Rack: rackName(m.Rack), Because: fmt.Sprintf(format, args...)})
}

// RackUnchecked records that the rule could not be judged on a rack.
func (p *Pass) RackUnchecked(r *estate.Rack, format string, args ...any) {
	p.NotChecked(Unchecked{At: r.Source.At(), Thing: r.Ref(), Rack: r.Name, Because: fmt.Sprintf(format, args...)})
}

// AtMount begins a finding on a mount, at the named attribute ("" for its
// name): set Message and what else it needs.
func AtMount(m *estate.Mount, attr string) Finding {
	return Finding{At: m.Source.Attr(attr), Thing: m.Ref(), Rack: rackName(m.Rack)}
}

// AtRack begins a finding on a rack, at the named attribute.
func AtRack(r *estate.Rack, attr string) Finding {
	return Finding{At: r.Source.Attr(attr), Thing: r.Ref(), Rack: r.Name}
}

func rackName(r *estate.Rack) string {
	if r == nil {
		return ""
	}
	return r.Name
}

// Length prints a length the way the estate wants lengths printed.
func (p *Pass) Length(l quantity.Length) string {
	if p.Estate.Lengths == "in" {
		return l.Inched()
	}
	return quantity.Number(l.Millimetres(), 1) + " mm"
}

// LimitFor gives the value of a limit of the pass's rule for a thing: an
// [estate.Rack], [estate.Mount], [estate.Room], [estate.Row], [estate.Feed] or
// nil for the estate. T must be the type of the limit's default.
func LimitFor[T any](p *Pass, name string, thing any) T {
	return p.rulings.limit(p.rule, name, thing).(T)
}
