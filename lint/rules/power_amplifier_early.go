package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// amplifierEarly reports amplifiers that a sequence switches on before, or off
// after, anything else, or too soon after it; and amplifiers beside sequenced
// things that no sequence switches. Mounts whose equipment is of kind
// "amplifier" are amplifiers.
var amplifierEarly = &lint.Rule{
	ID:      "power/amplifier-early",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "an amplifier comes on before, or goes off after, something else",
	Why: `Whatever starts or stops in front of an amplifier that is on comes out of the
loudspeakers, as loud as they go. It breaks drivers, and ears that happen to be
before them. Amplifiers are on last and off first.`,
	Source:  "common practice of audio and video racks",
	Omits:   "what signal goes to which amplifier; muting; amplifiers in racks of which nothing is in a sequence; what a run sheet does (plan/service-order)",
	Decides: "who answers for the sound system; nobody stands before a loudspeaker while it is switched",
	Limits: []lint.Limit{
		{Name: "delay", Default: quantity.Second, Doc: "least time between an amplifier's step and the one before (common practice: seconds, for what is before it to settle)"},
	},
	Estate: checkAmplifierEarly,
	Bad:    sequenceExample("amp-1", "desk-1"),
	Good:   sequenceExample("desk-1", "amp-1"),
}

func sequenceExample(first, last string) string {
	return fmt.Sprintf(`
frame "case" {
  system = "19in"
  units  = 16
}
equipment "amplifier" {
  kind   = "amplifier"
  height = "2U"
}
equipment "desk" {
  kind   = "mixer"
  height = "6U"
}
rack "k1" {
  frame = frame.case
  mount "amp-1" {
    at        = 1
    equipment = equipment.amplifier
  }
  mount "desk-1" {
    at        = 8
    equipment = equipment.desk
  }
}
sequence "stage" {
  step "first" { on = [rack.k1.%s] }
  step "last" {
    on    = [rack.k1.%s]
    delay = "5 s"
  }
}
`, first, last)
}

func isAmplifier(m *estate.Mount) bool {
	return m.Equipment != nil && m.Equipment.Kind == "amplifier"
}

func checkAmplifierEarly(p *lint.Pass) {
	switched := map[string]bool{} // by name: a plan has copies of mounts
	racks := map[string]*estate.Sequence{}
	for _, s := range p.Estate.Sequences {
		for _, step := range s.Steps {
			for _, m := range step.On {
				switched[m.Ref()] = true
				if m.Rack != nil && racks[m.Rack.Name] == nil {
					racks[m.Rack.Name] = s
				}
				if m.Equipment != nil && m.Equipment.Kind == "" {
					p.MountUnchecked(m, "the kind of %s is missing, so that it may be an amplifier", ofEquipment(m.Equipment))
				}
			}
		}
		judgeOn(p, s)
		judgeOff(p, s)
	}
	for _, r := range p.Estate.Racks {
		s := racks[r.Name]
		if s == nil {
			continue
		}
		for _, m := range r.Mounts {
			if !isAmplifier(m) || switched[m.Ref()] {
				continue
			}
			f := lint.AtMount(m, "")
			f.Message = fmt.Sprintf("%s is an amplifier in no sequence, and sequence.%s switches others of %s: it is on as soon as its feed is", m.Name, s.Name, r.Ref())
			f.Others = []string{"sequence." + s.Name}
			f.Related = []lint.Related{{At: s.Source.At(), Message: "the sequence is declared here"}}
			p.Report(f)
		}
	}
}

// atStep begins a finding on a step of a sequence.
func atStep(s *estate.Sequence, step *estate.SequenceStep, attr string) lint.Finding {
	return lint.Finding{At: step.Source.Attr(attr), Thing: "sequence." + s.Name, Others: []string{"step " + step.Name + " " + attr}}
}

// judgeOn looks for what comes on with or after amplifiers, and for amplifiers
// that follow too soon.
func judgeOn(p *lint.Pass, s *estate.Sequence) {
	least := lint.LimitFor[quantity.Duration](p, "delay", nil)
	for i, step := range s.Steps {
		amps, others := sorted(step.On)
		if len(amps) == 0 {
			continue
		}
		if len(others) > 0 {
			f := atStep(s, step, "on")
			f.Message = fmt.Sprintf("step %s of sequence.%s switches %s on together with %s; amplifiers come on last", step.Name, s.Name, amplifiers(amps), some(others))
			p.Report(f)
		}
		for _, later := range s.Steps[i+1:] {
			if _, others := sorted(later.On); len(others) > 0 {
				f := atStep(s, step, "on")
				f.Message = fmt.Sprintf("step %s of sequence.%s switches %s on, and %s comes on later, at step %s; amplifiers come on last", step.Name, s.Name, amplifiers(amps), some(others), later.Name)
				f.Others = append(f.Others, "step "+later.Name)
				f.Related = []lint.Related{{At: later.Source.At(), Message: "step " + later.Name + " is declared here"}}
				p.Report(f)
				break
			}
		}
		if i == 0 {
			continue
		}
		delay, ok := step.Delay.Get()
		switch {
		case !ok:
			p.NotChecked(lint.Unchecked{At: step.Source.At(), Thing: "sequence." + s.Name, Because: lacks("delay", fmt.Sprintf("step %s of sequence.%s", step.Name, s.Name), step.Delay.State)})
		case delay < least:
			f := atStep(s, step, "delay")
			f.Message = fmt.Sprintf("step %s of sequence.%s switches %s on %s after step %s; %s is the least", step.Name, s.Name, amplifiers(amps), delay, s.Steps[i-1].Name, least)
			p.Report(f)
		}
	}
}

// judgeOff looks for sequences that switch amplifiers off last, or with
// everything else.
func judgeOff(p *lint.Pass, s *estate.Sequence) {
	how := ""
	switch s.Off {
	case estate.OffSame:
		how = "in the order in which it switches on"
	case estate.OffAtOnce:
		how = "all at once"
	case estate.NoOffOrder, estate.OffReversed:
		return
	}
	var amps, others []*estate.Mount
	for _, step := range s.Steps {
		a, o := sorted(step.On)
		amps, others = append(amps, a...), append(others, o...)
	}
	if len(amps) == 0 || len(others) == 0 {
		return
	}
	p.Report(lint.Finding{
		At: s.Source.Attr("off"), Thing: "sequence." + s.Name, Others: []string{"off"},
		Message: fmt.Sprintf("sequence.%s switches off %s; amplifiers go off first, %s before %s", s.Name, how, some(amps), some(others)),
	})
}

// sorted splits mounts into amplifiers and others. What declares no kind is
// neither: it is not checked.
func sorted(mounts []*estate.Mount) (amps, others []*estate.Mount) {
	for _, m := range mounts {
		switch {
		case isAmplifier(m):
			amps = append(amps, m)
		case m.Equipment != nil && m.Equipment.Kind != "":
			others = append(others, m)
		}
	}
	return amps, others
}

func amplifiers(amps []*estate.Mount) string {
	if len(amps) == 1 {
		return "amplifier " + amps[0].Name
	}
	return "amplifiers " + some(amps)
}

// some names mounts, the first of them where they are many.
func some(mounts []*estate.Mount) string {
	var names []string
	for _, m := range mounts[:min(len(mounts), 4)] {
		names = append(names, m.Name)
	}
	if n := len(mounts) - len(names); n > 0 {
		names = append(names, fmt.Sprintf("%d more", n))
	}
	return list(names)
}
