package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// noGap reports equipment cooled by convection with a neighbour on the same
// posts closer than it asks. Only equipment that asks for room is looked at.
var noGap = &lint.Rule{
	ID:      "air/no-gap",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "something is too close to equipment cooled by convection",
	Why: `What has no fan is cooled by the air that rises past it: an amplifier with fins on
its lid, a tuner, a supply. Something screwed down on those fins is a lid on a
pot. It shows in summer, when the amplifier mutes itself in the middle of the evening.`,
	Source: "the maker's sheet (gap_above and gap_below); one open or vented unit is common practice",
	Omits:  "what hangs on the opposite posts; how warm the neighbour is; the closed top of a frame. Equipment whose kind is \"vent\" counts as open.",
	Rack:   checkNoGap,
	Bad:    gapExample(11),
	Good:   gapExample(12),
}

func gapExample(at int) string {
	return fmt.Sprintf(`
frame "av" {
  system = "19in"
  units  = 24
}
equipment "amplifier" {
  height    = "2U"
  air       = "none"
  gap_above = "44.45 mm" # 1U
}
equipment "receiver" { height = "1U" }
rack "stage" {
  frame = frame.av
  mount "amplifier-1" {
    at        = 9
    equipment = equipment.amplifier
  }
  mount "receiver-1" {
    at        = %d
    equipment = equipment.receiver
  }
}
`, at)
}

// gaps gives what a mount asks for above and below as it hangs: upside down
// they change places.
func gaps(m *estate.Mount) (above, below estate.Figure[quantity.Length], attrAbove, attrBelow string) {
	q := m.Equipment
	if m.Inverted {
		return q.GapBelow, q.GapAbove, "gap_below", "gap_above"
	}
	return q.GapAbove, q.GapBelow, "gap_above", "gap_below"
}

func checkNoGap(p *lint.Pass, rack *estate.Rack) {
	asks := false
	for _, q := range inPlace(rack) {
		asks = asks || q.GapAbove.State != estate.IsMissing || q.GapBelow.State != estate.IsMissing
	}
	if !asks {
		return
	}
	extents(p, rack)
	placed := rack.Placed()
	for i, m := range placed {
		above, below, attrAbove, attrBelow := gaps(m.Mount)
		for _, side := range []struct {
			word, attr string
			ask        estate.Figure[quantity.Length]
		}{{"above", attrAbove, above}, {"below", attrBelow, below}} {
			if side.ask.State == estate.IsUnknown {
				p.MountUnchecked(m.Mount, "%s", lacks(side.attr, ofEquipment(m.Equipment), side.ask.State))
			}
			ask, ok := side.ask.Get()
			if !ok {
				continue
			}
			near, room := nearest(placed, i, side.word == "above")
			if near == nil || room+estate.Touch >= ask {
				continue
			}
			f := lint.AtMount(m.Mount, "at")
			f.Message = fmt.Sprintf("%s has %s %s it, up to %s; it is cooled by convection and asks for %s",
				m.Name, p.Length(room), side.word, near.Name, told(p, side.ask))
			f.Others = []string{near.Ref()}
			f.Related = []lint.Related{
				{At: m.Equipment.Source.Attr(side.attr), Message: "the room that it needs is declared here"},
				{At: near.Source.Attr("at"), Message: near.Name + " is mounted here"},
			}
			p.Report(f)
		}
	}
}

// nearest gives the mount next above or below the i-th, on the same posts and
// across some of its width, and the room between. Two that overlap are another
// rule's business.
func nearest(placed []estate.Placed, i int, above bool) (*estate.Mount, quantity.Length) {
	var near *estate.Mount
	var least quantity.Length
	for j := range placed {
		m, o := &placed[i], &placed[j]
		if j == i || o.Equipment.Kind == "vent" || o.Posts() != m.Posts() || !o.Slot.Overlaps(m.Slot) || o.Meets(m.Extent) {
			continue
		}
		room := o.Bottom - m.Top
		if !above {
			room = m.Bottom - o.Top
		}
		if room < -estate.Touch || near != nil && room >= least {
			continue
		}
		near, least = o.Mount, max(room, 0)
	}
	return near, least
}
