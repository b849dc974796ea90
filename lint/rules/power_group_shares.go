package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// groupShares reports a group whose members share something that they must not,
// so that losing it leaves fewer of them up than the group needs. Members may
// share as long as enough of them are left.
var groupShares = &lint.Rule{
	ID:      "power/group-shares",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "losing one thing takes down too many members of a group",
	Why: `A pair is bought so that one half can fail. Both firewalls on one strip, both
core switches in one frame: the drawing shows two boxes and the service has
one life. Members are counted as down when the shared thing is gone: a member
with an inlet on another feed stays up.`,
	Source: "common practice",
	Omits: "what is shared outside the racks, such as ducts and uplinks; members next to one another. " +
		"Of a group that does not say what its members must not share (apart), strip and feed are an error, and the rack is a warning",
	Decides: electrician,
	Estate:  checkGroupShares,
	Bad: `
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "firewall" {
  height = "1U"
  inlets = { type = "c14", count = 1, needs = 1 }
}
feed "a" { source = "ups" }
feed "b" { source = "mains" }
rack "r1" {
  frame = frame.cab
  mount "firewall-1" {
    at        = 40
    equipment = equipment.firewall
    feeds     = [feed.a]
  }
  mount "firewall-2" {
    at        = 41
    equipment = equipment.firewall
    feeds     = [feed.a]
  }
}
group "firewalls" {
  of    = [rack.r1.firewall-1, rack.r1.firewall-2]
  up    = 1
  apart = "feed"
}
`,
	Good: `
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "firewall" {
  height = "1U"
  inlets = { type = "c14", count = 1, needs = 1 }
}
feed "a" { source = "ups" }
feed "b" { source = "mains" }
rack "r1" {
  frame = frame.cab
  mount "firewall-1" {
    at        = 40
    equipment = equipment.firewall
    feeds     = [feed.a]
  }
  mount "firewall-2" {
    at        = 41
    equipment = equipment.firewall
    feeds     = [feed.b]
  }
}
group "firewalls" {
  of    = [rack.r1.firewall-1, rack.r1.firewall-2]
  up    = 1
  apart = "feed"
}
`,
}

// A shared thing is what members of a group have in common, and which of them
// go down with it.
type sharedThing struct {
	name string // "rack.hq-a", "source ups"
	down []*estate.Mount
}

// apartUnlessSaid is what members of a group must not share where the group does
// not say: a rack is often shared with open eyes, so that it only warns.
var apartUnlessSaid = []string{"strip", "feed", "rack"}

func checkGroupShares(p *lint.Pass) {
	for _, g := range p.Estate.Groups {
		if len(g.Of) < 2 {
			continue
		}
		levels, said := g.Apart, true
		if len(levels) == 0 {
			levels, said = apartUnlessSaid, false
		}
		var told [][]*estate.Mount
		for _, level := range levels {
			things, why := sharedBy(p, g, level)
			for _, s := range things {
				left := len(g.Of) - len(s.down)
				if len(s.down) < 2 || left >= g.Up {
					continue
				}
				f := groupFinding(g, s, left)
				if !said {
					if slices.ContainsFunc(told, func(t []*estate.Mount) bool { return slices.Equal(t, s.down) }) {
						continue
					}
					told = append(told, s.down)
					f.Message += "; where they may share it, declare what they must not: apart = [...]"
					if level == "rack" {
						f.Level = lint.Warning
					}
				}
				p.Report(f)
			}
			if why != "" && said {
				p.NotChecked(lint.Unchecked{At: g.Source.At(), Thing: "group." + g.Name, Because: why})
			}
		}
	}
}

func groupFinding(g *estate.Group, s sharedThing, left int) lint.Finding {
	var names, racks []string
	var related []lint.Related
	for _, m := range s.down {
		names = append(names, m.Ref())
		racks = append(racks, m.Rack.Name)
		related = append(related, lint.Related{At: m.Source.At(), Message: fmt.Sprintf("%s goes down with %s", m.Name, s.name)})
	}
	rack := ""
	if len(slices.Compact(slices.Sorted(slices.Values(racks)))) == 1 {
		rack = racks[0]
	}
	return lint.Finding{
		At: g.Source.At(), Thing: "group." + g.Name, Others: append(names, s.name), Rack: rack, Related: related,
		Message: fmt.Sprintf("%s share %s: with it lost, group %s has %d of %d members up and needs %d", list(names), s.name, g.Name, left, len(g.Of), g.Up),
	}
}

// sharedBy gives the things of one level that members share, by name, and why
// the level cannot be judged on all members, or "".
func sharedBy(p *lint.Pass, g *estate.Group, level string) ([]sharedThing, string) {
	why := ""
	down := map[string][]*estate.Mount{}
	add := func(name string, m *estate.Mount) {
		if !slices.Contains(down[name], m) {
			down[name] = append(down[name], m)
		}
	}
	for _, m := range g.Of {
		if m == nil || m.Rack == nil {
			continue
		}
		switch level {
		case "rack":
			add(m.Rack.Ref(), m)
		case "row":
			if m.Rack.Row == nil {
				why = m.Rack.Ref() + " stands in no declared row"
				continue
			}
			add("row."+m.Rack.Row.Name, m)
		case "room":
			room := m.Rack.Room()
			if room == nil {
				why = m.Rack.Ref() + " stands in no declared room"
				continue
			}
			add("room."+room.Name, m)
		case "feed":
			for _, f := range distinct(m.Feeds) {
				if !p.Estate.UpIn(m, &estate.Outage{Feeds: []*estate.Feed{f}}) {
					add(f.Ref(), m)
				}
			}
		case "source", "breaker":
			for _, f := range distinct(m.Feeds) {
				ups := p.Estate.Upstream(f)
				if len(ups) == 0 && level == "source" {
					why = "the source of " + f.Ref() + " is missing"
				}
				for _, u := range ups {
					if strings.HasPrefix(u.Ref, "breaker.") != (level == "breaker") {
						continue
					}
					var lost []*estate.Feed
					for _, g := range distinct(m.Feeds) {
						if p.Estate.DiesWith(g, u.Ref, false) {
							lost = append(lost, g)
						}
					}
					if !p.Estate.UpIn(m, &estate.Outage{Feeds: lost}) {
						add(u.Ref, m)
					}
				}
			}
		case "strip":
			for i := range m.Cords {
				strip := p.Estate.StripOf(m, &m.Cords[i])
				if strip != nil && !p.Estate.UpIn(m, &estate.Outage{Mounts: []*estate.Mount{strip}}) {
					add(strip.Ref(), m)
				}
			}
			if len(m.Cords) == 0 && len(m.Feeds) > 0 {
				why = "the cords of " + m.Ref() + " are missing"
			}
		}
	}
	var out []sharedThing
	for name, mounts := range down {
		out = append(out, sharedThing{name, mounts})
	}
	slices.SortFunc(out, func(a, b sharedThing) int { return cmp.Compare(a.name, b.name) })
	return out, why
}
