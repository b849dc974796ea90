package rules

import (
	"fmt"

	"cagenut/lang/coupler"
	"cagenut/lang/estate"
	"cagenut/lint"
)

// plug reports a cord whose end does not go into the outlet or onto the inlet
// that it runs between, and a strip whose inlet does not suit its feed's
// outlet. Couplers that are no open standard's are not checked.
var plug = &lint.Rule{
	ID:      "power/plug",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a plug does not fit",
	Why: `Cabinet and strip come from the landlord, cords are ordered by somebody else, and
on the night the box is full of the wrong ones. A C13 does not go onto a C16
inlet, although they look alike.`,
	Source:  "IEC 60320, IEC 60309, NEMA WD 6",
	Decides: electrician,
	Estate:  checkPlug,
	Bad:     plugExample("c14", "c13", 7),
	Good:    plugExample("c20", "c13", 7),
}

func plugExample(plug, socket string, outlet int) string {
	return exampleStrip + fmt.Sprintf(`
rack "r1" {
  frame = frame.cab
  zero_u "strip-a" {
    equipment = equipment.strip-8
    side      = "left"
    from      = "50 mm"
    feeds     = [feed.a]
  }
  mount "server-1" {
    at        = 1
    equipment = equipment.server
    cords     = { to = "strip-a", outlet = %d, plug = %q, socket = %q }
  }
}
`, outlet, plug, socket)
}

func checkPlug(p *lint.Pass) {
	eachCord(p.Estate, func(m *estate.Mount, i int, c *estate.Cord, strip *estate.Mount) {
		if strip == nil || strip.Equipment == nil || m.Equipment == nil {
			return
		}
		if c.Plug == "" && c.Socket == "" {
			p.MountUnchecked(m, "the ends of cord %d of %s are missing", i+1, m.Name)
			return
		}
		types := inletTypes(m.Equipment)
		switch set := strip.Equipment.Outlet(c.Outlet); {
		case set == nil || set.Type == "":
		case c.Plug == "":
			p.MountUnchecked(m, "the plug of cord %d of %s is missing", i+1, m.Name)
		default:
			judgePlug(p, m, fmt.Sprintf("cord %d of %s ends in %s, and outlet %d of %s is %s", i+1, m.Name, c.Plug, c.Outlet, strip.Ref(), set.Type),
				set.Type, c.Plug, strip.Equipment.Source.Attr("outlets"), fmt.Sprintf("cord %d plug", i+1))
		}
		switch {
		case i >= len(types) || types[i] == "":
		case c.Socket == "":
			p.MountUnchecked(m, "the socket of cord %d of %s is missing", i+1, m.Name)
		default:
			judgePlug(p, m, fmt.Sprintf("cord %d of %s ends in %s, and its inlet is %s", i+1, m.Name, c.Socket, types[i]),
				c.Socket, types[i], m.Equipment.Source.Attr("inlets"), fmt.Sprintf("cord %d socket", i+1))
		}
	})
	for _, rack := range p.Estate.Racks {
		for _, m := range rack.Mounts {
			if m.Equipment == nil || len(m.Cords) > 0 {
				continue
			}
			for i, feed := range m.Feeds {
				if feed == nil || feed.Outlet == "" {
					continue
				}
				if types := inletTypes(m.Equipment); i < len(types) {
					judgePlug(p, m, fmt.Sprintf("inlet %d of %s is %s, and %s ends in %s", i+1, m.Name, types[i], feed.Ref(), feed.Outlet),
						feed.Outlet, types[i], feed.Source.Attr("outlet"), fmt.Sprintf("inlet %d", i+1))
				}
			}
		}
	}
}

func judgePlug(p *lint.Pass, m *estate.Mount, says, female, male string, at estate.Range, which string) {
	ok, known := coupler.Mates(female, male)
	if ok {
		return
	}
	if !known {
		odd := female
		if coupler.Known(female) {
			odd = male
		}
		p.MountUnchecked(m, "%q is no coupler of an open standard that is known here", odd)
		return
	}
	f := lint.AtMount(m, "feeds")
	if m.Source.Has("cords") {
		f = atCords(m)
	}
	f.Others = []string{which}
	f.Message = says
	if partner := coupler.Partner(female); partner != "" {
		f.Message += fmt.Sprintf("; %s takes %s", female, partner)
	}
	f.Related = []lint.Related{{At: at, Message: "the other half is declared here"}}
	p.Report(f)
}
