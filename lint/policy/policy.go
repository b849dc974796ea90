package policy

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lint"
)

// Rules compiles the policies of an estate. Each becomes a rule named
// policy/NAME that runs like any other. What is wrong with a policy is given
// with its place; a policy that cannot be judged becomes no rule.
func Rules(e *estate.Estate, today estate.Date) ([]*lint.Rule, []lang.Diagnostic) {
	if len(e.Rulings.Policies) == 0 {
		return nil, nil
	}
	model := NewModel(e, today)
	var rules []*lint.Rule
	var diags []lang.Diagnostic
	for _, p := range e.Rulings.Policies {
		rule, mistakes := compilePolicy(model, p)
		for _, m := range mistakes {
			d := lang.Diagnostic{Range: m.At, Severity: lang.Error, Summary: m.Message}
			if m.Mild {
				d.Severity = lang.Warning
			}
			diags = append(diags, d)
		}
		if rule != nil {
			rules = append(rules, rule)
		}
	}
	slices.SortStableFunc(diags, func(a, b lang.Diagnostic) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Summary, b.Summary))
	})
	return rules, diags
}

// judge is a compiled policy.
type judge struct {
	policy  *estate.Policy
	where   *Program // nil: judged on all
	require *Program
	say     *Program // nil: said in the policy's own words
}

// state holds the environments of one goroutine.
type state struct{ where, require, say *Env }

func (j *judge) state() *state {
	s := &state{require: j.require.Env()}
	if j.where != nil {
		s.where = j.where.Env()
	}
	if j.say != nil {
		s.say = j.say.Env()
	}
	return s
}

func compilePolicy(model *Model, p *estate.Policy) (*lint.Rule, []Mistake) {
	rule, _, mistakes := compileJudge(model, p)
	return rule, mistakes
}

func compileJudge(model *Model, p *estate.Policy) (*lint.Rule, *judge, []Mistake) {
	scope := model.Scope(p.Each)
	if scope == nil {
		if p.Each == "" {
			return nil, nil, nil // refused by the reader
		}
		return nil, nil, []Mistake{{At: p.Source.Attr("each"), Message: fmt.Sprintf("nothing is judged on %q%s", p.Each, nearest(p.Each, Judged()))}}
	}
	j := &judge{policy: p}
	var all []Mistake
	compile := func(x estate.Expr, want Kind) *Program {
		if x.Text == "" {
			return nil
		}
		program, mistakes := Compile(x, scope, want)
		all = append(all, mistakes...)
		return program
	}
	j.where = compile(p.Where, BoolKind)
	j.require = compile(p.Require, BoolKind)
	j.say = compile(p.Say, TextKind)
	if j.require == nil || (j.where == nil && p.Where.Text != "") || (j.say == nil && p.Say.Text != "") {
		return nil, nil, all
	}
	rule := &lint.Rule{
		ID: "policy/" + p.Name, Level: lint.Warning, Policy: p,
		Summary: cmp.Or(p.Reason, "a policy of the site"),
		Why:     p.Reason, Source: cmp.Or(p.Cites, "policy of the site"),
	}
	if p.Level != "" {
		if l, err := lint.ParseLevel(p.Level); err == nil {
			rule.Level = l
		}
	}
	j.run(rule)
	return rule, j, all
}

// run sets the check of the rule. A policy on mounts or racks that reads
// nothing outside a rack is judged rack by rack, as built-in rules are.
func (j *judge) run(rule *lint.Rule) {
	outside := false
	for _, x := range []*Program{j.where, j.require, j.say} {
		if x != nil {
			outside = outside || x.beyond
			if x.estate {
				rule.Reach = lint.Anywhere
			}
		}
	}
	switch j.policy.Each {
	case "mount":
		each := func(pass *lint.Pass, s *state, r *estate.Rack) {
			for _, m := range r.Mounts {
				if lint.Covers(j.policy.Within, m) {
					j.mount(pass, s, m)
				}
			}
		}
		j.racks(rule, outside, each)
	case "rack":
		j.racks(rule, outside, func(pass *lint.Pass, s *state, r *estate.Rack) {
			if lint.Covers(j.policy.Within, r) {
				j.one(pass, s, r, subject{at: r.Source.At(), ref: r.Ref(), rack: r.Name})
			}
		})
	case "step":
		rule.Change = true // judged with a plan: see Steps
	case "finding":
		rule.After = func(pass *lint.Pass, res *lint.Result) {
			s := j.state()
			for i := range res.Findings {
				f := &res.Findings[i]
				if strings.HasPrefix(f.Rule, "policy/") {
					continue
				}
				j.one(pass, s, &found{f}, subject{at: f.At, ref: f.Thing, rack: f.Rack, others: []string{f.Rule}})
			}
		}
	default:
		rule.Estate = func(pass *lint.Pass) { j.others(pass, j.state()) }
	}
}

func (j *judge) racks(rule *lint.Rule, outside bool, each func(*lint.Pass, *state, *estate.Rack)) {
	if outside {
		rule.Estate = func(pass *lint.Pass) {
			s := j.state()
			for _, r := range pass.Estate.Racks {
				each(pass, s, r)
			}
		}
		return
	}
	rule.Rack = func(pass *lint.Pass, r *estate.Rack) { each(pass, j.state(), r) }
}

// subject is what a policy is judged on, as a finding names it.
type subject struct {
	at     estate.Range
	ref    string
	rack   string
	others []string
}

// others judges what is neither mount nor rack.
func (j *judge) others(pass *lint.Pass, s *state) {
	e := pass.Estate
	named := func(src *estate.Source, ref string) subject { return subject{at: src.At(), ref: ref} }
	switch j.policy.Each {
	case "estate":
		j.one(pass, s, e, named(&e.Source, "estate."+e.Name))
	case "room":
		for _, t := range e.Rooms {
			if lint.Covers(j.policy.Within, t) {
				j.one(pass, s, t, named(&t.Source, roomRef(t)))
			}
		}
	case "row":
		for _, t := range e.Rows {
			if lint.Covers(j.policy.Within, t) {
				j.one(pass, s, t, named(&t.Source, rowRef(t)))
			}
		}
	case "frame":
		for _, t := range e.Frames {
			if lint.Covers(j.policy.Within, t) {
				j.one(pass, s, t, named(&t.Source, frameRef(t)))
			}
		}
	case "equipment":
		for _, t := range e.Equipment {
			if lint.Covers(j.policy.Within, t) {
				j.one(pass, s, t, named(&t.Source, equipmentRef(t)))
			}
		}
	case "feed":
		for _, t := range e.Feeds {
			if lint.Covers(j.policy.Within, t) {
				j.one(pass, s, t, named(&t.Source, t.Ref()))
			}
		}
	case "group":
		for _, t := range e.Groups {
			j.one(pass, s, t, named(&t.Source, "group."+t.Name))
		}
	}
}

// mount judges one mount. It is kept apart so that nothing is made up for the
// many mounts on which the policy holds.
func (j *judge) mount(pass *lint.Pass, s *state, m *estate.Mount) {
	holds, u := j.holds(s, m)
	if holds && u == nil {
		return
	}
	j.report(pass, s, m, subject{at: m.Source.At(), ref: m.Ref(), rack: m.Rack.Name}, u)
}

func (j *judge) one(pass *lint.Pass, s *state, root any, t subject) {
	holds, u := j.holds(s, root)
	if holds && u == nil {
		return
	}
	j.report(pass, s, root, t, u)
}

// holds judges one thing. What the policy does not apply to holds.
func (j *judge) holds(s *state, root any) (bool, *Unknown) {
	if j.where != nil {
		applies, u := j.where.Bool(s.where, root)
		if u != nil {
			return false, u
		}
		if !applies {
			return true, nil
		}
	}
	return j.require.Bool(s.require, root)
}

func (j *judge) report(pass *lint.Pass, s *state, root any, t subject, u *Unknown) {
	if u != nil {
		pass.NotChecked(lint.Unchecked{At: t.at, Thing: t.ref, Rack: t.rack, Because: u.Because})
		return
	}
	f := lint.Finding{At: t.at, Thing: t.ref, Rack: t.rack, Others: t.others}
	f.Related = []lint.Related{{At: j.policy.Require.At, Message: "policy " + j.policy.Name + " requires this"}}
	switch {
	case j.say == nil:
		f.Message = fmt.Sprintf("%s does not meet policy %s", t.ref, j.policy.Name)
		if j.policy.Reason != "" {
			f.Message += ": " + j.policy.Reason
		}
	default:
		said, u := j.say.Text(s.say, root)
		if u != nil {
			said = fmt.Sprintf("%s does not meet policy %s (its message cannot be made, as %s)", t.ref, j.policy.Name, u.Because)
		}
		f.Message = strings.Join(strings.Fields(said), " ")
	}
	pass.Report(f)
}
