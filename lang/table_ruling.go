package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"cagenut/lang/estate"
	"cagenut/lang/near"
)

// The blocks that say what the site thinks of rules.

var (
	levels   = []string{"error", "warning", "note"}
	andOff   = []string{"error", "warning", "note", "off"}
	judgedOn = []string{"mount", "rack", "row", "room", "frame", "equipment", "feed", "group", "estate", "finding", "step"}
)

var policyBlock = func() *block {
	b := top("policy", "a rule of the site: what must hold for each thing of a kind",
		func(e *estate.Estate) *[]*estate.Policy { return &e.Rulings.Policies },
		func(p *estate.Policy) (*string, *estate.Source) { return &p.Name, &p.Source },
		bareWord("each", "mount", "what it is judged on", judgedOn, func(p *estate.Policy) *string { return &p.Each }).required(),
		expression("where", "mount.mass > kg(25)", "which of them it is judged on", func(p *estate.Policy) *estate.Expr { return &p.Where }).otherwise("all"),
		expression("require", "mount.top <= 24", "what must hold", func(p *estate.Policy) *estate.Expr { return &p.Require }).required(),
		expression("say", `"${mount.name} reaches U${mount.top}"`, "the message where it does not hold", func(p *estate.Policy) *estate.Expr { return &p.Say }),
		oneOf("level", `"error"`, "how bad it is", levels, func(p *estate.Policy) *string { return &p.Level }).otherwise(`"warning"`),
		freeText("reason", `"two people lift to the waist here"`, "why the site wants it", func(p *estate.Policy) *string { return &p.Reason }),
		freeText("source", `"house rule 12"`, "the paper in which it stands", func(p *estate.Policy) *string { return &p.Cites }),
		scopes("within", "[room.hq]", "what it is confined to", func(p *estate.Policy) *[]estate.Scope { return &p.Within }).otherwise("the estate"),
	)
	return b.with(`policy "heavy-low" {
  each    = mount
  where   = mount.mass > kg(25)
  require = mount.top <= 24
  say     = "${mount.name} weighs ${mount.mass} kg and reaches U${mount.top}"
  level   = "error"
  reason  = "two people lift to the waist here, no further"
}`, nil)
}()

var adjustBlock = func() *block {
	b := top("adjust", "a change of a built-in rule's limits or level",
		func(e *estate.Estate) *[]*estate.Adjustment { return &e.Rulings.Adjustments },
		func(a *estate.Adjustment) (*string, *estate.Source) { return &a.Rule, &a.Source },
		oneOf("level", `"warning"`, "how bad a finding of the rule is here", andOff, func(a *estate.Adjustment) *string { return &a.Level }),
		scopes("within", "[room.hq]", "what it is confined to; of two that cover a thing the narrower has the last word (rack, equipment, frame, kind, row, room, site), of two alike the later", func(a *estate.Adjustment) *[]estate.Scope { return &a.Within }).otherwise("the estate"),
		freeText("reason", `"low ceiling, no lift"`, "why", func(a *estate.Adjustment) *string { return &a.Reason }),
	)
	b.label, b.rule, b.all = "RULE", true, nil
	b.other = readLimit
	b.otherDoc = &AttributeDoc{Name: "limit", Kind: "any value", Doc: "the rule's limit; a rule with several limits names each", Example: `"20 kg"`}
	return b.with(`adjust "load/heavy-high" {
  limit  = "20 kg"
  level  = "warning"
  within = [room.hq]
  reason = "low ceiling, no lift"
}`, nil)
}()

// adjustNames are the names that an attribute of adjust was perhaps meant for.
var adjustNames = []string{"level", "within", "reason"}

// readLimit keeps a limit as it is written. Which limits a rule has is known
// to the rules, not here.
func readLimit(r *reader, owner any, a *hclsyntax.Attribute) {
	if n := near.Name(r.attrName, adjustNames); n != "" {
		r.report(a.NameRange, "", "adjust has no attribute %s; perhaps %s is meant", clip(r.attrName), n)
		return
	}
	v, ok := literal(a.Expr)
	if !ok || v.IsNull() {
		r.bad(a.Expr, "takes a number or a text such as \"20 kg\", not %s", describe(a.Expr))
		return
	}
	l := estate.LimitText{Name: r.attrName, At: r.at(a.Expr.Range())}
	switch v.Type() {
	case cty.String:
		l.Text = v.AsString()
	case cty.Number:
		l.Text = written(v.AsBigFloat())
	case cty.Bool:
		l.Text = "false"
		if v.True() {
			l.Text = "true"
		}
	}
	adjustment := owner.(*estate.Adjustment)
	adjustment.Limits = append(adjustment.Limits, l)
}

var waiveBlock = func() *block {
	b := top("waive", "the acceptance of what a rule finds on one thing, with a reason and an end",
		func(e *estate.Estate) *[]*estate.Waiver { return &e.Rulings.Waivers },
		func(w *estate.Waiver) (*string, *estate.Source) { return &w.Rule, &w.Source },
		onAttr,
		date("until", `"2027-01-31"`, "the last day on which it holds", func(w *estate.Waiver) *estate.Date { return &w.Until }).required(),
		freeText("reason", `"door off until the new frame arrives"`, "why it is accepted", func(w *estate.Waiver) *string { return &w.Reason }).required(),
		freeText("by", `"facilities"`, "who accepts it", func(w *estate.Waiver) *string { return &w.By }),
	)
	b.label, b.rule, b.all = "RULE", true, nil
	return b.with(`waive "fit/too-deep" {
  on     = rack.hq-a.store-1
  until  = "2027-01-31"
  reason = "door off until the new frame arrives"
  by     = "facilities"
}`, nil)
}()

var trialBlock = top("trial", "a small estate on which a policy is tried, and what the policy must find there",
	func(e *estate.Estate) *[]*estate.Trial { return &e.Rulings.Trials },
	func(t *estate.Trial) (*string, *estate.Source) { return &t.Policy, &t.Source },
	freeText("estate", `"rack \"a\" { ... }"`, "the estate, in this language, best written as <<-END ... END", func(t *estate.Trial) *string { return &t.Text }).required(),
	freeTexts("finds", `["rack.a.store-1"]`, "the things that the policy finds fault with; [] for none", func(t *estate.Trial) *[]string { return &t.Finds }).required(),
	freeTexts("unsure", `["rack.a.store-2"]`, "the things that it cannot judge", func(t *estate.Trial) *[]string { return &t.Unsure }).otherwise("none"),
	date("on", `"2027-01-31"`, "the day on which the estate is judged", func(t *estate.Trial) *estate.Date { return &t.On }).otherwise("the day of the run"),
).with(`trial "heavy-low" {
  estate = <<-END
    frame "cab" {
      system  = "19in"
      units   = 42
      counted = "up"
    }
    equipment "store" {
      height = "2U"
      mass   = "34 kg"
    }
    rack "a" {
      frame = frame.cab
      mount "store-1" {
        at        = 30
        equipment = equipment.store
      }
    }
  END
  finds  = ["rack.a.store-1"]
}`, nil)

var onAttr = attr{
	name: "on", kind: "name of a thing", example: "rack.hq-a.store-1", must: true, bare: true,
	doc: "the thing that it is accepted on",
	read: func(r *reader, owner any, x hclsyntax.Expression) {
		if name, ok := r.target(x); ok {
			w := owner.(*estate.Waiver)
			w.On, w.OnAt = name, r.at(x.Range())
		}
	},
}
