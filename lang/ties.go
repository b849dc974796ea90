package lang

import (
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// What racks share ties them: what is found about one may depend on another
// that stands in its row, hangs on its feed or is at the other end of a cord.
// Ties are names as references are written.

// tieless lists the kinds that any number of racks refer to and that no rack
// adds anything to: they tie nothing.
var tieless = []string{"frame", "equipment", "site", "bar", "route"}

// tiesOfRacks gives what the racks of a part are tied to, each once.
func tiesOfRacks(p *part) []string {
	var ties []string
	add := func(name string) {
		if !slices.Contains(ties, name) {
			ties = append(ties, name)
		}
	}
	for i := range p.links {
		l := p.links[i].list
		if slices.Contains(tieless, l.kind) {
			continue
		}
		for _, name := range l.names {
			add(rackPart(name))
		}
	}
	for _, r := range p.estate.Racks {
		for _, m := range r.Mounts {
			eachTieOfCords(m, add)
		}
	}
	for _, s := range p.stacks {
		eachTieOfCords(&s.mount, add)
	}
	return ties
}

// eachTieOfCords calls do with the racks that the cords of a mount lead to.
func eachTieOfCords(m *estate.Mount, do func(name string)) {
	for i := range m.Cords {
		if strings.HasPrefix(m.Cords[i].To, "rack.") {
			do(rackPart(m.Cords[i].To))
		}
	}
}

// rackPart gives the rack in the name of a mount, such as rack.hq-a of
// rack.hq-a.core-1, and other names as they are.
func rackPart(name string) string {
	rest, ok := strings.CutPrefix(name, "rack.")
	if !ok {
		return name
	}
	rack, _, _ := strings.Cut(rest, ".")
	return name[:len("rack.")+len(rack)]
}
