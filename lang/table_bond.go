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
		kind := "bar"
		if name, _ := dotted(x); strings.HasPrefix(name, "rack.") {
			kind = "rack"
		}
		r.refer(owner, kind, x, false)
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
