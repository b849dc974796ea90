package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

var sequenceBlock = top("sequence", "the order in which things are switched on, by a sequencer or by hand",
	func(e *estate.Estate) *[]*estate.Sequence { return &e.Sequences },
	func(s *estate.Sequence) (*string, *estate.Source) { return &s.Name, &s.Source },
	word("off", `"reversed"`, "the order in which they are switched off: reversed, the same, or all at once", estate.OffOrders, func(s *estate.Sequence) *estate.OffOrder { return &s.Off }).otherwise(`"reversed"`),
).with(`sequence "rack" {
  step "sources" {
    on = [rack.hq-a.core-1]
  }
  step "amplifiers" {
    on    = [rack.hq-b.core-2]
    delay = "5 s"
  }
}`, func(r *reader, owner any, b *hclsyntax.Block) {
	if s := owner.(*estate.Sequence); len(s.Steps) == 0 && !r.part.broken {
		r.report(labelRange(b), "", "%s has no step; write step \"NAME\" { on = [rack.RACK.MOUNT] } for what is switched at one moment", title("sequence", s.Name))
	}
}, sequenceStepBlock)

var sequenceStepBlock = (&block{
	name: "step", label: "NAME",
	doc:  "what a sequence switches at one moment; steps are taken in the order written",
	open: in(func(s *estate.Sequence) *[]*estate.SequenceStep { return &s.Steps }),
	head: func(owner any) (*string, *estate.Source) {
		s := owner.(*estate.SequenceStep)
		return &s.Name, &s.Source
	},
	attrs: []attr{
		refs("on", "mount", "[rack.hq-a.core-1, rack.hq-b.core-2]", "what is switched", func(s *estate.SequenceStep) *[]*estate.Mount { return &s.On }).required(),
		figure("delay", `"5 s"`, "the time after the step before it; of the first step, after power is there", func(s *estate.SequenceStep) *estate.Figure[quantity.Duration] { return &s.Delay }),
	},
}).with(`step "amplifiers" {
  on    = [rack.hq-b.core-2]
  delay = "5 s"
}`, nil)
