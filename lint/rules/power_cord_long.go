package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// cordLong reports a cord that is much longer than its way, and in a room that
// is run as an information technology equipment room one that is longer than
// the code's figure, wherever it runs to.
var cordLong = &lint.Rule{
	ID:      "power/cord-long",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "a supply cord is much longer than its way",
	Why: `What is left over hangs in coils behind the equipment: it hides labels, stands in
the air and is pinched by the door. In a room that is run after NFPA 70, article
645, a cord longer than the code's figure is a warning; that figure is from memory,
unverified, and the code that is in force decides.`,
	Source:  "common practice; NFPA 70, 645.5(B), 4.5 m (15 ft): from memory, unverified",
	Omits:   "cords to other racks, unless needed is written; how a cord is coiled",
	Decides: electrician,
	Limits: append([]lint.Limit{
		{Name: "spare", Default: 1000 * quantity.Millimetre, Doc: "how much longer than its way a cord may be (common practice)"},
		{Name: "it_room", Default: 4500 * quantity.Millimetre, Doc: "the longest cord in a room with it_room = true (NFPA 70, 645.5(B): from memory, unverified)"},
	}, cordLimits...),
	Rack: checkCordLong,
	Bad:  cordRoom("") + fmt.Sprintf(cordRack, `{ to = "strip-a", outlet = 14, length = "3 m" }`),
	Good: cordRoom("") + fmt.Sprintf(cordRack, `{ to = "strip-a", outlet = 14, length = "2 m" }`),
}

func checkCordLong(p *lint.Pass, rack *estate.Rack) {
	room := rack.Room()
	eachLaidCord(p, rack, func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount) {
		has := c.Length.Value
		f := atCord(m, i, c.Length)
		if most := lint.LimitFor[quantity.Length](p, "it_room", m); room != nil && room.ITRoom && has > most {
			f.Level = lint.Warning
			f.Message = fmt.Sprintf("cord %d of %s is %s long; in room.%s, run after NFPA 70, article 645, %s is the most (from memory, unverified): %s over",
				i+1, m.Name, p.Length(has), room.Name, p.Length(most), p.Length(has-most))
			f.Related = []lint.Related{{At: room.Source.Attr("it_room"), Message: "the room is declared so here"}}
			p.Report(f)
			return // one cord, one finding
		}
		spare := lint.LimitFor[quantity.Length](p, "spare", m)
		way, why := m.CordWay(c, strip, cordHabit(p, m))
		switch {
		case why != "":
			p.MountUnchecked(m, "the way of cord %d of %s is not known: %s", i+1, m.Name, why)
		case has > way.To+spare:
			f.Message = fmt.Sprintf("cord %d of %s, to %s, is %s long, and %s: %s more, and %s may be left over",
				i+1, m.Name, c.Goes(), p.Length(has), needs(p, &way), p.Length(has-way.To), p.Length(spare))
			p.Report(f)
		case has > way.From+spare:
			p.MountUnchecked(m, "whether cord %d of %s is too long is not known: %s is not declared, and by that it needs from %s to %s and has %s",
				i+1, m.Name, way.Vague, p.Length(way.From), p.Length(way.To), p.Length(has))
		}
	})
}

// needs says what a cord's way takes: as measured, or by an estimate.
func needs(p *lint.Pass, w *estate.CordWay) string {
	switch {
	case w.Measured:
		return p.Length(w.To) + " are needed as measured"
	case w.From < w.To:
		return fmt.Sprintf("%s are needed at most (%s is not declared)", p.Length(w.To), w.Vague)
	}
	return fmt.Sprintf("some %s are needed (%s)", p.Length(w.To), w.Parts(p.Length))
}
