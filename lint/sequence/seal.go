package sequence

import (
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// sealsOf gives the fire seals that the cables of a mount pass: those of its
// row, of its rack, and its own.
func sealsOf(m *estate.Mount) []string {
	if m == nil {
		return nil
	}
	var out []string
	add := func(seals []string) {
		for _, s := range seals {
			if !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	if m.Rack != nil {
		if m.Rack.Row != nil {
			add(m.Rack.Row.Seals)
		}
		add(m.Rack.Seals)
	}
	add(m.Seals)
	return out
}

// sealsAt gives the fire seals that a step runs cords through, or takes cords
// out of. A thing that changes its units only keeps its cords.
func sealsAt(s *Step) []string {
	j := s.Job
	if j == nil || s.At.Rack == "" {
		return nil
	}
	switch j.Kind {
	case Fit, TakeOut, Transfer, Refeed:
	default:
		if !j.Fed {
			return nil
		}
	}
	// Supply cords that stay in the rack pass no seal; a thing that is only fed
	// otherwise keeps its data cords.
	switch s.Task {
	case CordsOff, CordsOut:
		if j.Old == nil || j.Kind == Refeed && inOwnRack(j.Old) {
			return nil
		}
		return sealsOf(j.Old)
	case PowerOn:
		if inOwnRack(j.New) && (j.Old == nil || j.Kind != Refeed || inOwnRack(j.Old)) {
			return nil
		}
		return sealsOf(j.New)
	case DataOn:
		return sealsOf(j.New)
	}
	return nil
}

// sealSteps gives the steps that open a fire seal and re-make it.
func sealSteps(seal string, c *clockwork) (open, remake Step) {
	open = Step{
		Task: OpenSeal, Minutes: c.of(OpenSeal), People: 1,
		Do:     "Open fire seal " + seal + ".",
		Expect: "the building's permission is there; label read; the listed system and who re-makes it are at hand",
		Undo:   "re-make fire seal " + seal + " with the listed system, label and photograph it", UndoMinutes: c.of(RemakeSeal),
		Cautions: []string{cautionSeal},
	}
	remake = Step{
		Task: RemakeSeal, Minutes: c.of(RemakeSeal), People: 1, Competence: estate.FireStopper,
		Do:     "Re-make fire seal " + seal + " with the listed system, label it, and photograph it.",
		Expect: "closed on both sides, fill within its rating; label with day and name; photograph shows the label",
		Undo:   "open fire seal " + seal + " again", UndoMinutes: c.of(OpenSeal),
		Cautions: []string{cautionSeal},
	}
	return open, remake
}

// upTo says where a cord that is laid out by day ends.
func upTo(seals []string) string {
	if len(seals) == 0 {
		return ""
	}
	return " before fire seal " + strings.Join(seals, " and ") + ", which stays closed until the window"
}
