package rules

import (
	"fmt"
	"math"
	"slices"

	"cagenut/lang/coupler"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// voltage reports a mount on a feed whose voltage its inlets do not take, or of
// the wrong polarity. On three phases a mount whose bank is not said may be
// between lines or to the neutral; it is reported only if it takes neither.
var voltage = &lint.Rule{
	ID:      "power/voltage",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a feed's voltage is not one that the equipment takes",
	Why: `Equipment for 200 V and more stays dark at 120 V, equipment for 120 V burns at
230 V, and a direct current input with the wrong pole earthed puts its supply
on its case. Plugs do not prevent it: the couplers of IEC 60320 are one shape
for every voltage.`,
	Source:  "the equipment maker's sheet; IEC 60320 couplers are not keyed by voltage",
	Omits:   "frequency; tolerances of the supply",
	Decides: electrician,
	Estate:  checkVoltage,
	Bad:     voltageExample("120 V"),
	Good:    voltageExample("230 V"),
}

func voltageExample(v string) string {
	return fmt.Sprintf(`
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "chassis" {
  height  = "6U"
  voltage = { from = "200 V", to = "240 V" }
  inlets  = { type = "c20", count = 1, needs = 1 }
}
feed "a" {
  voltage = %q
  rated   = "20 A"
}
rack "r1" {
  frame = frame.cab
  mount "chassis-1" {
    at        = 1
    equipment = equipment.chassis
    feeds     = [feed.a]
  }
}
`, v)
}

func checkVoltage(p *lint.Pass) {
	for _, q := range p.Estate.Equipment {
		// Once for each kind of thing, used or not: it is one line in the catalogue.
		if !q.Voltage.Known() && len(q.Inlets) > 0 && len(p.Estate.Feeds) > 0 {
			p.NotChecked(lint.Unchecked{At: q.Source.At(), Thing: ofEquipment(q), Because: lacks("voltage", ofEquipment(q), q.Voltage.State)})
		}
	}
	for _, rack := range p.Estate.Racks {
		for _, m := range rack.Mounts {
			q := m.Equipment
			if q == nil || len(m.Feeds) == 0 {
				continue
			}
			takes, ok := q.Voltage.Get()
			if !ok {
				continue
			}
			if len(m.Cords) == 0 {
				for i, f := range m.Feeds {
					if f != nil && !slices.Contains(m.Feeds[:i], f) {
						judgeVoltage(p, m, estate.LiveInlet{Feed: f}, takes)
					}
				}
				continue
			}
			var seen []*estate.Feed
			for _, in := range p.Estate.Live(m, nil) {
				if !slices.Contains(seen, in.Feed) {
					seen = append(seen, in.Feed)
					judgeVoltage(p, m, in, takes)
				}
			}
		}
	}
}

func judgeVoltage(p *lint.Pass, m *estate.Mount, in estate.LiveInlet, takes estate.VoltageRange) {
	v, ok := in.Feed.Voltage.Get()
	if !ok {
		p.MountUnchecked(m, "%s", lacks("voltage", in.Feed.Ref(), in.Feed.Voltage.State))
		return
	}
	if in.Feed.Phases != 3 && suits(v, takes) {
		if in.Feed.Direct() {
			alternatingInlet(p, m, in.Feed)
		}
		return
	}
	voltages := []quantity.Voltage{v}
	if in.Feed.Phases == 3 {
		voltages = append(voltages, quantity.Of(v.Volts()/math.Sqrt(3), quantity.Volt))
		if in.Bank != nil && in.Bank.Lines != "" {
			v, _ = in.Feed.BankVoltage(in.Bank)
			voltages = []quantity.Voltage{v}
		}
	}
	for _, v := range voltages {
		if suits(v, takes) {
			return
		}
	}
	found := lint.AtMount(m, "feeds")
	found.Others = []string{in.Feed.Ref()}
	found.Message = fmt.Sprintf("%s takes %s to %s and %s gives %s", m.Name, takes.From, takes.To, in.Feed.Ref(), voltages[0])
	switch {
	case v < 0 != (takes.To < 0):
		found.Message += ": the other pole is earthed, or it is another kind of supply"
	case len(voltages) == 2:
		found.Message += fmt.Sprintf(" between lines and %s to the neutral", voltages[1])
	}
	found.Related = []lint.Related{
		{At: m.Equipment.Source.Attr("voltage"), Message: "what it takes is declared here"},
		{At: in.Feed.Source.Attr("voltage"), Message: "the feed's voltage is declared here"},
	}
	p.Report(found)
}

// alternatingInlet reports a direct current feed at an inlet of a standard for
// alternating current, whatever the voltage.
func alternatingInlet(p *lint.Pass, m *estate.Mount, feed *estate.Feed) {
	for _, kind := range inletTypes(m.Equipment) {
		if !coupler.Known(kind) {
			continue
		}
		found := lint.AtMount(m, "feeds")
		found.Level = lint.Warning
		found.Others = []string{feed.Ref()}
		found.Message = fmt.Sprintf("%s gives direct current, and the inlet of %s, %s, is of a standard for alternating current (from memory, unverified)", feed.Ref(), m.Name, kind)
		found.Related = []lint.Related{{At: m.Equipment.Source.Attr("inlets"), Message: "its inlets are declared here"}}
		p.Report(found)
		return
	}
}

// suits reports whether a voltage lies in a range of the same polarity. The
// millivolts of a voltage divided by the root of three do not count.
func suits(v quantity.Voltage, r estate.VoltageRange) bool {
	if v < 0 != (r.To < 0) {
		return false
	}
	v, from, to := max(v, -v), max(r.From, -r.From), max(r.To, -r.To)
	const touch = 500 * quantity.Millivolt
	return v >= from-touch && v <= to+touch
}
