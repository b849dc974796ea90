package lang

import (
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
)

var feedBlock = top("feed", "a supply that reaches racks",
	func(e *estate.Estate) *[]*estate.Feed { return &e.Feeds },
	func(f *estate.Feed) (*string, *estate.Source) { return &f.Name, &f.Source },
	ref("room", "room", "room.hq", "the room in which it ends", func(f *estate.Feed) **estate.Room { return &f.Room }),
	freeText("source", `"ups-1"`, "what it comes from; feeds with the same source are not independent", func(f *estate.Feed) *string { return &f.Origin }),
	figure("voltage", `"230 V"`, "its voltage: to the neutral with one phase, between lines with three", func(f *estate.Feed) figureOfVoltage { return &f.Voltage }),
	whole("phases", "1", "how many phases it has; 0 for direct current", 0, 3, func(f *estate.Feed) *int { return &f.Phases }).otherwise("1"),
	figure("rated", `"16 A"`, "the rating of its overcurrent protection", func(f *estate.Feed) figureOfCurrent { return &f.Rated }),
	ref("breaker", "breaker", "breaker.p1-3", "the breaker that it hangs on", func(f *estate.Feed) **estate.Breaker { return &f.Breaker }),
	figure("residual", `"30 mA"`, "the rated residual operating current of its residual current device, where it has one of its own", func(f *estate.Feed) figureOfCurrent { return &f.Residual }),
	word("earth", `"reinforced"`, "its protective conductor: reinforced where it is made for lasting protective conductor current, by whoever is licensed to say so", estate.Earths, func(f *estate.Feed) *estate.Earth { return &f.Earth }),
	oneOf("lines", `"2-n"`, "the lines of three phases that it hangs between, where it has one phase", bankLines[1:], func(f *estate.Feed) *string { return &f.Lines }),
	freeText("outlet", `"c19"`, "the coupler that it ends in at the rack", func(f *estate.Feed) *string { return &f.Outlet }),
).with(`feed "a" {
  room    = room.hq
  source  = "ups-1"
  voltage = "230 V"
  phases  = 1
  rated   = "16 A"
}`, func(_ *reader, owner any, _ *hclsyntax.Block) {
	if f := owner.(*estate.Feed); !f.Source.Has("phases") {
		f.Phases = 1
	}
})

var rackBlock = top("rack", "a frame standing at a place in a row, with what is in it",
	func(e *estate.Estate) *[]*estate.Rack { return &e.Racks },
	func(o *estate.Rack) (*string, *estate.Source) { return &o.Name, &o.Source },
	ref("row", "row", "row.hq-1", "the row in which it stands", func(o *estate.Rack) **estate.Row { return &o.Row }),
	whole("place", "1", "its place in the row, from 1", 1, 9999, func(o *estate.Rack) *int { return &o.Place }),
	ref("frame", "frame", "frame.cab-42", "the kind of frame that it is", func(o *estate.Rack) **estate.Frame { return &o.Frame }).required(),
	refs("feeds", "feed", "[feed.a, feed.b]", "the feeds that reach it", func(o *estate.Rack) *[]*estate.Feed { return &o.Feeds }),
	ref("layout", "layout", "layout.access", "a layout whose mounts, blanks and reserves it takes over", func(o *estate.Rack) **estate.Layout { return &o.Layout }),
	freeText("owner", `"network"`, "who answers for it", func(o *estate.Rack) *string { return &o.Owner }),
	date("seen", `"2026-09-14"`, "the day on which somebody last compared it with the record", func(o *estate.Rack) *estate.Date { return &o.Seen }),
	figure("inlet", `"26 C"`, "the temperature of the air at its fronts, where it is not the room's supply air", func(o *estate.Rack) figureOfTemperature { return &o.Inlet }),
	freeTexts("seals", `["FS-12"]`, "the fire seals that its cables pass, by the number on them", func(o *estate.Rack) *[]string { return &o.Seals }),
	bondAttr,
	figure("fixings", `"120 kg"`, "what the fixings of a wall frame bear in that wall, by whoever has proven them", func(o *estate.Rack) figureOfMass { return &o.Fixings }),
	word("comes", `"loaded"`, "whether it is brought in empty, or with all that is mounted in it", estate.Arrivals, func(o *estate.Rack) *estate.Arrival { return &o.Comes }).otherwise(`"loaded" of a case, else "empty"`),
).with(`rack "hq-a" {
  row   = row.hq-1
  place = 1
  frame = frame.cab-42
  feeds = [feed.a, feed.b]

  mount "core-1" {
    at        = 38
    equipment = equipment.core-switch
  }
}`, nil,
	mountBlock(func(r *reader, parent any) any {
		m, rack := r.newMount(), parent.(*estate.Rack)
		m.Rack = rack
		rack.Mounts = append(rack.Mounts, m)
		return m
	}),
	blankBlock(func(_ *reader, parent any) any {
		b, rack := &estate.Blank{}, parent.(*estate.Rack)
		b.Rack = rack
		rack.Blanks = append(rack.Blanks, b)
		return b
	}),
	reserveBlock(func(_ *reader, parent any) any {
		v, rack := &estate.Reserve{}, parent.(*estate.Rack)
		v.Rack = rack
		rack.Reserves = append(rack.Reserves, v)
		return v
	}),
	zeroUBlock(func(r *reader, parent any) any {
		m, rack := r.newMount(), parent.(*estate.Rack)
		m.Rack, m.ZeroU = rack, &estate.ZeroUPlace{}
		rack.Mounts = append(rack.Mounts, m)
		return m
	}),
	stackBlock(),
)

var layoutBlock = top("layout", "mounts, blanks and reserves that several racks share",
	func(e *estate.Estate) *[]*estate.Layout { return &e.Layouts },
	func(o *estate.Layout) (*string, *estate.Source) { return &o.Name, &o.Source },
).with(`layout "access" {
  mount "sw-1" {
    at        = 40
    equipment = equipment.access-switch
  }
}`, nil,
	mountBlock(func(r *reader, parent any) any {
		m, layout := r.newMount(), parent.(*estate.Layout)
		layout.Mounts = append(layout.Mounts, m)
		return m
	}),
	blankBlock(in(func(o *estate.Layout) *[]*estate.Blank { return &o.Blanks })),
	reserveBlock(in(func(o *estate.Layout) *[]*estate.Reserve { return &o.Reserves })),
	zeroUBlock(func(r *reader, parent any) any {
		m, layout := r.newMount(), parent.(*estate.Layout)
		m.ZeroU = &estate.ZeroUPlace{}
		layout.Mounts = append(layout.Mounts, m)
		return m
	}),
	stackBlock(),
)

type open = func(*reader, any) any

func mountHead(owner any) (*string, *estate.Source) {
	m := owner.(*estate.Mount)
	return &m.Name, &m.Source
}

// mountAttrs are the attributes of a mount apart from its place; of gives the
// mount that an owner holds.
func mountAttrs[T any](of func(*T) *estate.Mount) []attr {
	return []attr{
		ref("equipment", "equipment", "equipment.core-switch", "the catalogue entry that it is one of", func(t *T) **estate.Equipment { return &of(t).Equipment }),
		refs("feeds", "feed", "[feed.a, feed.b]", "the feeds it is connected to, one for each inlet", func(t *T) *[]*estate.Feed { return &of(t).Feeds }),
		freeText("owner", `"network"`, "who answers for it", func(t *T) *string { return &of(t).Owner }),
		freeText("service", `"booking"`, "what depends on it", func(t *T) *string { return &of(t).Service }),
		freeText("marking", `"HQ-A-U38"`, "what is written on it, where that is not its name", func(t *T) *string { return &of(t).Marking }),
		date("until", `"2027-06-30"`, "the day by which it is to be gone: the end of a loan, a planned removal", func(t *T) *estate.Date { return &of(t).Until }),
		date("seen", `"2026-09-14"`, "the day on which somebody last saw it in its place", func(t *T) *estate.Date { return &of(t).Seen }),
		word("criticality", `"important"`, "how much hangs on it", estate.Criticalities, func(t *T) *estate.Criticality { return &of(t).Criticality }),
		freeTexts("seals", `["FS-12"]`, "the fire seals that its own cables pass, by the number on them", func(t *T) *[]string { return &of(t).Seals }),
		field("to, outlet, length, needed, plug, socket, locking and fuse, or a list of such", "cords", `{ to = "strip-a", outlet = 3, length = "1.5 m" }`, "its supply cords, one for each inlet: to a strip of the same rack, or \"rack.hq-b.strip-a\"; needed is the length that the way takes, where somebody has measured it; locking says whether both ends are held against being pulled out", func(t *T) *[]estate.Cord { return &of(t).Cords }, readCords),
		figure("slack", `"1.4 m"`, "the slack of the fixed cables that end at it: how far they let it move", func(t *T) figureOfLength { return &of(t).Slack }),
	}
}

func sameMount(m *estate.Mount) *estate.Mount { return m }

// A mountPlace is where an at puts a mount.
type mountPlace struct {
	at, through estate.UnitNumber
	raised      estate.Figure[quantityLength]
}

var mountLines = append([]attr{
	atAttr,
	word("face", `"front"`, "the posts it hangs on", estate.Faces, func(m *estate.Mount) *estate.Face { return &m.Face }).otherwise(`"front"`),
	field("part of a unit", "slot", `"left"`, "the part of the width it takes: whole, left, right, or 1/3 to 3/3 and so on, from the left as seen from the front", func(m *estate.Mount) *estate.Slot { return &m.Slot }, readSlot).otherwise(`"whole"`),
	ref("adapter", "equipment", "equipment.flange-25", "the catalogue entry of what holds it on posts of another system", func(m *estate.Mount) **estate.Equipment { return &m.Adapter }),
	yesNo("inverted", "true", "whether it hangs upside down", func(m *estate.Mount) *bool { return &m.Inverted }),
	freeText("serial", `"BW-4471"`, "its serial number", func(m *estate.Mount) *string { return &m.Serial }),
	freeText("asset", `"A-0912"`, "its number in the register of assets", func(m *estate.Mount) *string { return &m.Asset }),
}, mountAttrs(sameMount)...)

// mountBlock makes the block of a mount, in a rack or in a layout. Whether it
// has all it needs is known only when layouts are laid out.
func mountBlock(open open) *block {
	return (&block{
		name: "mount", label: "NAME",
		doc:   "one piece of equipment at a place in a rack",
		attrs: mountLines, open: open, head: mountHead,
	}).with(`mount "core-1" {
  at        = 38
  equipment = equipment.core-switch
  face      = "front"
  feeds     = [feed.a, feed.b]
  serial    = "BW-4471"
  owner     = "network"
}`, nil)
}

var zeroULines = append([]attr{
	word("side", `"left"`, "the side it hangs on, as seen from the front", estate.Sides, func(m *estate.Mount) *estate.Side { return &m.ZeroU.Side }),
	word("plane", `"rear"`, "whether it hangs at the front or the rear posts", estate.Faces, func(m *estate.Mount) *estate.Face { return &m.ZeroU.Plane }).otherwise(`"rear"`),
	figure("from", `"120 mm"`, "its lower end above the lower edge of the lowest unit", func(m *estate.Mount) figureOfLength { return &m.ZeroU.From }).signed(),
	word("facing", `"door"`, "where its outlets and breakers look: out to the door, inward across the rack, or to the side panel", estate.StripFacings, func(m *estate.Mount) *estate.StripFacing { return &m.ZeroU.Facing }),
	figure("length", `"1750 mm"`, "how long it is", func(m *estate.Mount) figureOfLength { return &m.ZeroU.Length }),
	yesNo("inverted", "true", "whether it hangs the other way up: its upper end below", func(m *estate.Mount) *bool { return &m.Inverted }),
	freeText("serial", `"BW-4471"`, "its serial number", func(m *estate.Mount) *string { return &m.Serial }),
	freeText("asset", `"A-0912"`, "its number in the register of assets", func(m *estate.Mount) *string { return &m.Asset }),
}, mountAttrs(sameMount)...)

func zeroUBlock(open open) *block {
	return (&block{
		name: "zero_u", label: "NAME",
		doc:   "a piece of equipment that hangs beside the posts and takes no units",
		attrs: zeroULines, open: open, head: mountHead,
	}).with(`zero_u "strip-a" {
  equipment = equipment.strip-16
  side      = "left"
  plane     = "rear"
  from      = "120 mm"
}`, nil)
}

func blankBlock(open open) *block {
	return (&block{
		name: "blank",
		doc:  "a panel that closes open units",
		open: open,
		head: func(owner any) (*string, *estate.Source) { return nil, &owner.(*estate.Blank).Source },
		attrs: []attr{
			units("at", `"39-42"`, "the units that it closes", func(b *estate.Blank) *estate.UnitRange { return &b.Units }).required(),
			word("face", `"front"`, "the posts it hangs on", estate.Faces, func(b *estate.Blank) *estate.Face { return &b.Face }).otherwise(`"front"`),
		},
	}).with(`blank { at = "39-42" }`, func(_ *reader, owner any, _ *hclsyntax.Block) {
		if b := owner.(*estate.Blank); b.Face == estate.NoFace {
			b.Face = estate.FrontFace
		}
	})
}

func reserveBlock(open open) *block {
	return (&block{
		name: "reserve", label: "NAME",
		doc:  "units that are held for later",
		open: open,
		head: func(owner any) (*string, *estate.Source) {
			v := owner.(*estate.Reserve)
			return &v.Name, &v.Source
		},
		attrs: []attr{
			units("at", `"18-23"`, "the units that are held", func(v *estate.Reserve) *estate.UnitRange { return &v.Units }).required(),
			word("face", `"front"`, "the posts that are held", estate.Faces, func(v *estate.Reserve) *estate.Face { return &v.Face }).otherwise("both"),
			date("until", `"2027-06-30"`, "the last day on which they are held", func(v *estate.Reserve) *estate.Date { return &v.Until }),
			freeText("reason", `"second storage shelf"`, "what they are held for", func(v *estate.Reserve) *string { return &v.Reason }),
			freeText("by", `"storage"`, "who holds them", func(v *estate.Reserve) *string { return &v.By }),
		},
	}).with(`reserve "growth" {
  at     = "18-23"
  until  = "2027-06-30"
  reason = "second storage shelf"
}`, nil)
}

// A stack is some like mounts above one another, until they are set up.
type stack struct {
	mount  estate.Mount // what each of them has
	count  int
	parent any // *estate.Rack or *estate.Layout
}

// maxStack bounds how many mounts a stack may have.
const maxStack = 200

func stackBlock() *block {
	return (&block{
		name: "stack", label: "NAME",
		doc: "some like mounts above one another, named NAME-1, NAME-2 and so on upward",
		open: func(r *reader, parent any) any {
			s := &stack{parent: parent}
			r.part.stacks = append(r.part.stacks, s)
			return s
		},
		head: func(owner any) (*string, *estate.Source) {
			s := owner.(*stack)
			return &s.mount.Name, &s.mount.Source
		},
		attrs: append([]attr{
			field("unit", "from", "2", "the smallest unit number that the lowest of them takes", func(s *stack) *estate.UnitNumber { return &s.mount.At }, (*reader).unit).required(),
			whole("count", "8", "how many they are", 1, maxStack, func(s *stack) *int { return &s.count }).required(),
			word("face", `"front"`, "the posts they hang on", estate.Faces, func(s *stack) *estate.Face { return &s.mount.Face }).otherwise(`"front"`),
			field("part of a unit", "slot", `"left"`, "the part of the width they take", func(s *stack) *estate.Slot { return &s.mount.Slot }, readSlot).otherwise(`"whole"`),
		}, requireEquipment(mountAttrs(func(s *stack) *estate.Mount { return &s.mount }))...),
	}).with(`stack "node" {
  from      = 2
  count     = 8
  equipment = equipment.node
  feeds     = [feed.a, feed.b]
}`, nil)
}

func requireEquipment(attrs []attr) []attr {
	for i := range attrs {
		if attrs[i].name == "equipment" {
			attrs[i].must = true
		}
	}
	return attrs
}

var groupBlock = top("group", "a redundancy group: mounts of which some must stay up",
	func(e *estate.Estate) *[]*estate.Group { return &e.Groups },
	func(g *estate.Group) (*string, *estate.Source) { return &g.Name, &g.Source },
	refs("of", "mount", "[rack.hq-a.core-1, rack.hq-b.core-2]", "its members", func(g *estate.Group) *[]*estate.Mount { return &g.Of }).required(),
	whole("up", "1", "how many of them must stay up", 1, 9999, func(g *estate.Group) *int { return &g.Up }).otherwise("1"),
	someOf("apart", `"rack"`, "what its members must not share; where that is not said, a strip or a feed that they share is an error and a rack a warning", []string{"rack", "row", "room", "strip", "feed", "breaker", "source"}, func(g *estate.Group) *[]string { return &g.Apart }),
).with(`group "core" {
  of    = [rack.hq-a.core-1, rack.hq-b.core-2]
  up    = 1
  apart = "rack"
}`, func(_ *reader, owner any, _ *hclsyntax.Block) {
	if g := owner.(*estate.Group); !g.Source.Has("up") {
		g.Up = 1
	}
})

// labelRange is the place of a block's name.
func labelRange(b *hclsyntax.Block) hcl.Range {
	if len(b.LabelRanges) > 0 {
		return b.LabelRanges[0]
	}
	return b.TypeRange
}
