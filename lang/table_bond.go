package lang

import (
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
)

var barBlock = top("bar", "a bonding bar, on which the bonding conductors of racks end",
	func(e *estate.Estate) *[]*estate.Bar { return &e.Bars },
	func(b *estate.Bar) (*string, *estate.Source) { return &b.Name, &b.Source },
	ref("room", "room", "room.hq", "the room in which it is", func(b *estate.Bar) **estate.Room { return &b.Room }),
).with(`bar "hq" {
  room = room.hq
}`, nil)

// bondAttr refers to a thing of either of two kinds, or is unknown.
var bondAttr = attr{
	name: "bond", kind: "bar, rack or unknown", refers: "bar", example: "bar.hq",
	doc: "what its own bonding conductor goes to: a bonding bar, or rack.hq-b where it goes to another rack",
	read: func(r *reader, owner any, x hclsyntax.Expression) {
		bond := &owner.(*estate.Rack).Bond
		if isUnknown(x) {
			bond.State = estate.IsUnknown
			return
		}
		bond.State = estate.IsGiven
		name, bare := dotted(x)
		kind, _, more := strings.Cut(name, ".")
		switch {
		case isList(x):
			r.bad(x, "takes one bar or rack, not a list: the conductor that is the rack's own goes to one thing")
		case bare && more && kind != "bar" && kind != "rack":
			r.bad(x, "takes a bar or a rack, written bar.NAME or rack.NAME; %s is neither", clip(name))
		case kind == "rack":
			r.refer(owner, "rack", x, false)
		default:
			r.refer(owner, "bar", x, false)
		}
	},
	copy: func(to, from any) { to.(*estate.Rack).Bond = from.(*estate.Rack).Bond },
	link: func(owner any, l *refList) {
		bond := &owner.(*estate.Rack).Bond
		switch t := l.things[0].(type) {
		case *estate.Bar:
			bond.Bar = t
		case *estate.Rack:
			bond.Rack = t
		}
	},
}
