package sequence

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
)

// PlanningAid is what every plan says first. It may be shortened, never left
// out.
const PlanningAid = "Planning aid. It checks declared data only and certifies nothing. Electrical work, structural and floor loading, " +
	"anchoring and seismic bracing, fire stopping, lifting and work at height are governed by local law, codes, the site's rules and the " +
	"equipment makers' instructions, and are for competent or licensed people. Verify at the rack. If in doubt, stop."

// StopRules are the rules by which anybody stops the work.
var StopRules = []string{
	"On any unplanned alarm or loss of service stop all work, secure what is out of its place, tell the named desk, and write it down.",
	"Touch no fuse or breaker without direction.",
	"No step outside this sheet: a change of it needs the same approval as the sheet.",
	"One thing pulled out at a time. Anybody may say stop.",
	"After four hours take the planned break, or stop.",
}

func moreThanOneSupply(m *estate.Mount, n int) string {
	return fmt.Sprintf("%s has %d supply cords. Removing one does not make it dead: prove it dead before touching; strips, UPS and capacitors stay live.", m.Name, n)
}

const (
	cautionFixedWiring = "Fixed wiring, breakers and terminals only by the licensed or authorised person; isolate and lock out by the site's procedure. A declared name may be wrong: trace and prove."
	cautionBattery     = "Live with the mains off; heavy; high fault current. Remove packs only if the maker allows; insulated tools, no rings."
	cautionLifting     = "The mass is declared, not weighed. Use the site's handling assessment; lift in place before the latches are released; clear aisle; nobody beneath; do not lift by front handles."
	cautionPullOut     = "Stabiliser down or anchors proven; one thing at a time; cords free; a spotter with free hands."
	cautionTip         = "Tip-over: a rack stands least firmly halfway through a plan. The figure is of declared masses and of the state at this step. Remove from the top, fill from the bottom; stabiliser down or anchors proven before anything comes out; nobody leans on it."
	cautionEarth       = "Do not remove a bond while supplies are connected; refit it before power."
	cautionFibre       = "Treat open fibre as live; cap it."
	cautionFixedCable  = "Fixed cables: go only as far as their slack allows, and free them before the panel moves."
	cautionUnread      = "The lengths of its supply cords are not declared: hold each against its way before the thing is put there."
	cautionReach       = "Cords are not reckoned with: check that each reaches before the thing is put there."
	cautionCord        = "Follow each cord by hand from end to end before it is cut loose or drawn: what hangs beside it runs."
	cautionMeter       = "Margins use declared power: read the meters of both feeds before and after."
	cautionDoor        = "Do not open a shielded or contained door without the consent of whoever works by it: transmitters and receivers beside it may have to be isolated first. It stands open no longer than the work behind it."
	cautionSeal        = "A re-opened fire seal must be re-made with the listed system by somebody competent, labelled and photographed before the room is left. Temporary openings need the building's permission. Hot work and dust: tell the fire panel."
	cautionRack        = "Rolling rating, not the rating at rest; floor protection; push at the middle height; stop if it leans. Anchors and floor are for the site's engineer."
	cautionData        = "Data-bearing parts: sanitise or destroy with a certificate."
)

// direct is what must be heeded before a cord of direct current is taken off:
// nothing where none of the feeds is declared to be one.
func direct(feeds []*estate.Feed) []string {
	if !slices.ContainsFunc(feeds, func(f *estate.Feed) bool { return f != nil && f.Direct() }) {
		return nil
	}
	text := "Direct current: draw its fuse before the cord is touched, and warn whoever watches that fuse's alarm beforehand."
	if len(feeds) > 1 {
		text += " Never both fuses of one thing at a time."
	}
	return []string{text}
}

// batteryCaution is what must be heeded at cells of the kind in question.
func batteryCaution(q *estate.Equipment) string {
	switch {
	case q.Battery.Vented():
		return cautionBattery + " Vented cells give off hydrogen while they are charged, and spill: keep flames away, keep them upright, have water for the eyes at hand."
	case q.Battery.Lead():
		return cautionBattery + " Sealed lead cells let gas out when they are overcharged; keep the air moving."
	case q.Battery == estate.Lithium:
		return cautionBattery + " Transport rules for lithium types; one that was dropped, pierced or wet is not fitted, and its fire feeds itself."
	}
	return cautionBattery
}

// behind warns of what hangs behind a UPS: the record does not say which feeds
// it gives.
func behind(m *estate.Mount) string {
	if len(m.Rack.Feeds) == 0 {
		return fmt.Sprintf("What hangs behind %s goes down with it: trace that first.", m.Name)
	}
	return fmt.Sprintf("What hangs behind %s goes down with it: trace first whether that is feed %s.", m.Name, feedNames(m.Rack.Feeds))
}
