package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// heat reports a room whose racks give off more than its cooling takes away.
var heat = &lint.Rule{
	ID:      "air/heat",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a room's racks give off more heat than its cooling takes away",
	Why: `The cooling was sized once, for what stood there then. Two racks later the room
is three degrees warmer, and nobody connects the two until the first hot day.`,
	Source:  "all electric power ends as heat (physics); which draw counts is the site's choice",
	Omits:   "people, lighting, walls and the losses of supplies outside the racks; where in the room it is warm",
	Decides: "whoever answers for the room's cooling",
	Estate:  checkHeat,
	Bad:     heatExample("1 kW"),
	Good:    heatExample("2 kW"),
}

func heatExample(limit string) string {
	return fmt.Sprintf(`
room "hq" { heat_limit = %q }
row "r" { room = room.hq }
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  draw   = { typical = "310 W", maximum = "450 W" }
}
rack "r1" {
  row   = row.r
  frame = frame.cab
  stack "server" {
    from      = 1
    count     = 4
    equipment = equipment.server
  }
}
`, limit)
}

func checkHeat(p *lint.Pass) {
	type sum struct {
		known quantity.Power
		lacks []estate.Lack
		racks []*estate.Rack
	}
	sums := map[*estate.Room]*sum{}
	for _, rack := range p.Estate.Racks {
		room := rack.Room()
		if room == nil {
			continue
		}
		s := sums[room]
		if s == nil {
			s = &sum{}
			sums[room] = s
		}
		h := rack.Heat()
		s.known += h.Known
		s.lacks = append(s.lacks, h.Lacks...)
		s.racks = append(s.racks, rack)
	}
	for _, room := range p.Estate.Rooms {
		s := sums[room]
		if s == nil || s.known == 0 && len(s.lacks) == 0 {
			continue
		}
		unchecked := func(because string) {
			p.NotChecked(lint.Unchecked{At: room.Source.At(), Thing: "room." + room.Name, Because: because})
		}
		limit, ok := room.HeatLimit.Get()
		if !ok {
			unchecked(lacks("heat_limit", "room."+room.Name, room.HeatLimit.State))
			continue
		}
		if s.known <= limit {
			if len(s.lacks) > 0 {
				unchecked((&estate.Sum[quantity.Power]{Lacks: s.lacks}).Because())
			}
			continue
		}
		found := lint.Finding{At: room.Source.Attr("heat_limit"), Thing: "room." + room.Name}
		found.Message = fmt.Sprintf("%s in room.%s give off %s%s; its cooling takes away %s",
			quantity.Count(len(s.racks), "rack"), room.Name, s.known, atLeast(len(s.lacks) == 0), limit)
		if len(s.racks) == 1 {
			found.Rack = s.racks[0].Name
			found.Message = fmt.Sprintf("the rack in room.%s gives off %s%s; its cooling takes away %s",
				room.Name, s.known, atLeast(len(s.lacks) == 0), limit)
		}
		found.Related = warmest(s.racks, 3)
		p.Report(found)
	}
}

// warmest points at the n racks that give off most heat.
func warmest(racks []*estate.Rack, n int) []lint.Related {
	var top []*estate.Rack
	for _, r := range racks {
		at := len(top)
		for at > 0 && top[at-1].Heat().Known < r.Heat().Known {
			at--
		}
		if at < n {
			top = append(top[:at], append([]*estate.Rack{r}, top[at:]...)...)
			top = top[:min(n, len(top))]
		}
	}
	var out []lint.Related
	for _, r := range top {
		out = append(out, lint.Related{At: r.Source.At(), Message: fmt.Sprintf("%s gives off %s", r.Name, r.Heat().Known)})
	}
	return out
}
