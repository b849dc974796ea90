package estate

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/quantity"
)

// A CordHabit is how a site runs supply cords: what a cord needs beyond the
// way between its ends.
type CordHabit struct {
	// Side is the way from a connector between the posts to the side of the rack,
	// where cords run up and down.
	Side quantity.Length
	// Loop is the slack that is left at each end.
	Loop quantity.Length
	// PullOut says that what hangs on slides comes out with its cords on.
	PullOut bool
}

// UsualCordHabit is the usual one (common practice: 150 to 350 mm from a
// connector to the side, 100 to 150 mm of loop at each end).
var UsualCordHabit = CordHabit{Side: 250 * quantity.Millimetre, Loop: 100 * quantity.Millimetre}

// stockedCords are the lengths that cords are kept in (common practice).
var stockedCords = []quantity.Length{
	500 * quantity.Millimetre, 1000 * quantity.Millimetre, 1500 * quantity.Millimetre, 2000 * quantity.Millimetre, 3000 * quantity.Millimetre,
}

// StockedCord gives the shortest cord of those usually kept that is at least so
// long, and whether there is one.
func StockedCord(least quantity.Length) (quantity.Length, bool) {
	i, _ := slices.BinarySearch(stockedCords, least)
	if i == len(stockedCords) {
		return 0, false
	}
	return stockedCords[i], true
}

// A CordWay is the way of a cord through one rack, from an inlet along the
// rack's side to an outlet.
type CordWay struct {
	// Apart is how far apart the ends are in height at least. It follows from
	// the declared places alone: no habit is in it.
	Apart quantity.Length
	// From and To are the length that a cord needs: one figure, or a range where
	// it is not declared where the outlet is along its strip.
	From, To quantity.Length
	// Measured says that somebody has measured it: From and To are the cord's
	// attribute "needed".
	Measured bool
	// Vague says what is missing where From and To differ.
	Vague string

	// What an estimate is made of; Rise is that of From. Heights are in whole
	// millimetres: an estimate is no better, and Apart is rounded down.
	Rise, Run, Side, Loops, PullOut quantity.Length
}

// CordWay gives the way of a cord of the mount to a strip in its rack; strip is
// nil for any other. It says why that is not known, or ""; where it is not,
// Apart still holds as far as heights are declared.
//
// Inlets are taken to be in the middle of the equipment's height, at the end of
// its body that is away from its mounting face, and so are the outlets of a UPS
// or a transfer switch; those of a strip between the posts are in the middle of
// its height, at the posts that it hangs on.
func (m *Mount) CordWay(c *Cord, strip *Mount, habit CordHabit) (CordWay, string) {
	w, why := m.cordWay(c, strip, habit)
	if needed, ok := c.Needed.Get(); ok {
		return CordWay{Apart: w.Apart, From: needed, To: needed, Measured: true}, ""
	}
	return w, why
}

func (m *Mount) cordWay(c *Cord, strip *Mount, habit CordHabit) (w CordWay, why string) {
	switch {
	case strip == nil && strings.HasPrefix(c.To, "rack."):
		return w, fmt.Sprintf("the way to %s in another rack is not reckoned; measure it and write needed", c.To)
	case strip == nil:
		return w, fmt.Sprintf("there is no strip %s in its rack", c.To)
	case strip.Rack != m.Rack:
		return w, fmt.Sprintf("the way to %s in another rack is not reckoned; measure it and write needed", strip.Ref())
	}
	body, ok := m.Extent()
	if !ok {
		return w, "where " + m.Name + " is in its rack is not known"
	}
	outlet, vague, ok := strip.outletAt(c.Outlet)
	if !ok {
		return w, "where " + strip.Name + " is in its rack is not known"
	}
	somewhere := outlet
	if strip.ZeroU == nil {
		somewhere, _ = strip.Extent() // wherever on its face
	}
	w.Apart = apart(body, somewhere) / quantity.Millimetre * quantity.Millimetre
	inlet := body
	if m.ZeroU == nil {
		middle := (body.Bottom + body.Top) / 2
		inlet = Extent{middle, middle}
	} else {
		vague = "at which end of " + m.Name + " its inlet is"
	}
	from, why := m.inletDepth()
	if why != "" {
		return w, why
	}
	to, why := strip.outletDepth()
	if why != "" {
		return w, why
	}
	w.Run = quantity.Abs(from - to)
	w.Side = habit.Side * quantity.Length(m.sides()+strip.sides())
	if m.ZeroU != nil && strip.ZeroU != nil && m.ZeroU.Side != strip.ZeroU.Side {
		w.Side = 2 * habit.Side
	}
	w.Loops = 2 * habit.Loop
	if habit.PullOut && m.Equipment != nil && m.Equipment.Mounting == Slides {
		out, ok := m.Equipment.Extension.Get()
		if !ok {
			return w, m.Equipment.lacks("extension", m.Equipment.Extension.State)
		}
		w.PullOut = out
	}
	w.Rise = upToMillimetre(apart(inlet, outlet))
	w.From = w.Rise + w.Run + w.Side + w.Loops + w.PullOut
	w.To = w.From - w.Rise + upToMillimetre(max(inlet.Top-outlet.Bottom, outlet.Top-inlet.Bottom))
	if w.From < w.To {
		w.Vague = vague
	}
	return w, ""
}

// Parts says what an estimate is made of: "711 mm in height, 280 mm in depth,
// 250 mm to the side and 200 mm of loops".
func (w *CordWay) Parts(length func(quantity.Length) string) string {
	var out []string
	for _, p := range []struct {
		length quantity.Length
		what   string
	}{{w.Rise, " in height"}, {w.Run, " in depth"}, {w.Side, " to the side"}, {w.Loops, " of loops"}, {w.PullOut, " to be pulled out"}} {
		if p.length > 0 {
			out = append(out, length(p.length)+p.what)
		}
	}
	if len(out) < 2 {
		return strings.Join(out, "")
	}
	return sentence(out)
}

// apart gives how far apart two extents are at least, 0 where they meet.
func apart(a, b Extent) quantity.Length {
	return max(0, a.Bottom-b.Top, b.Bottom-a.Top)
}

// upToMillimetre rounds a length up to whole millimetres.
func upToMillimetre(l quantity.Length) quantity.Length {
	return (l + quantity.Millimetre - 1) / quantity.Millimetre * quantity.Millimetre
}

// sides gives how many ways to the rack's side a connector of the mount takes.
func (m *Mount) sides() int {
	if m.ZeroU != nil {
		return 0
	}
	return 1
}

// outletAt gives the height at which an outlet of a strip is: a point, or all
// of the strip where that is not declared, and then what is missing.
func (m *Mount) outletAt(number int) (at Extent, vague string, ok bool) {
	e, ok := m.Extent()
	if !ok {
		return e, "", false
	}
	if m.ZeroU == nil {
		middle := (e.Bottom + e.Top) / 2
		return Extent{middle, middle}, "", true
	}
	if number == 0 {
		return e, "which outlet of " + m.Name + " it goes to", true
	}
	up, ok := m.Equipment.outletOffset(number)
	if !ok || up > e.Height() {
		return e, fmt.Sprintf("where outlet %d is along %s", number, m.Name), true
	}
	if m.Inverted {
		return Extent{e.Top - up, e.Top - up}, "", true
	}
	return Extent{e.Bottom + up, e.Bottom + up}, "", true
}

// outletOffset gives how far an outlet is above the strip's lower end, where
// that is declared.
func (q *Equipment) outletOffset(number int) (quantity.Length, bool) {
	if q == nil {
		return 0, false
	}
	for i := range q.Outlets {
		set := &q.Outlets[i]
		if number > set.Count {
			number -= set.Count
			continue
		}
		first, ok1 := set.From.Get()
		pitch, ok2 := set.Pitch.Get()
		return first + quantity.Length(number-1)*pitch, ok1 && (ok2 || number == 1)
	}
	return 0, false
}

// inletDepth gives how far behind the front face of the front posts the inlets
// of the mount are, and why that is not known, or "".
func (m *Mount) inletDepth() (quantity.Length, string) {
	if m.ZeroU != nil {
		return m.postDepth()
	}
	d, why := m.Depths()
	if why != "" {
		return 0, why
	}
	if m.Posts() == RearFace {
		return d.Body.From, ""
	}
	return d.Body.To, ""
}

// outletDepth gives how far behind the front face of the front posts the outlets
// of the mount are, and why that is not known, or "".
func (m *Mount) outletDepth() (quantity.Length, string) {
	if m.Equipment == nil || m.Equipment.Kind == "strip" {
		return m.postDepth()
	}
	return m.inletDepth()
}

// postDepth gives how far behind the front face of the front posts those are
// that the mount hangs on or beside, and why that is not known, or "".
func (m *Mount) postDepth() (quantity.Length, string) {
	front := m.Posts() == FrontFace
	if m.ZeroU != nil {
		front = m.ZeroU.Plane == FrontFace
	}
	if front {
		return 0, ""
	}
	f := m.Rack.Frame
	span, ok := f.PostSpan.Get()
	if !ok {
		return 0, fmt.Sprintf("the post span of frame.%s is %s", f.Name, f.PostSpan.State)
	}
	return span, ""
}

// Goes names where a cord runs to: "outlet 3 of strip-a".
func (c *Cord) Goes() string {
	if c.Outlet == 0 {
		return c.To
	}
	return fmt.Sprintf("outlet %d of %s", c.Outlet, c.To)
}

// Short says by how much a cord of declared length is too short for its way, or
// "" where it is not; sure where that follows from declared figures alone and
// not from a habit. Where a missing figure decides whether it is, vague says
// which.
func (w *CordWay) Short(c *Cord, print func(quantity.Length) string) (says string, sure bool, vague string) {
	has, ok := c.Length.Get()
	if !ok {
		return "", false, ""
	}
	switch {
	case w.Measured && has < w.From:
		return fmt.Sprintf("is %s long, and %s are needed as measured%s: %s short%s",
			print(has), print(w.From), onDay(c.Needed.On), print(w.From-has), w.would(print)), true, ""
	case w.Measured && has < w.Apart:
		return fmt.Sprintf("is %s long, and its ends are at least %s apart in height, more than the %s that were measured: %s short",
			print(has), print(w.Apart), print(w.From), print(w.Apart-has)), true, ""
	case has < w.Apart:
		return fmt.Sprintf("is %s long, and its ends are at least %s apart in height: %s short%s",
			print(has), print(w.Apart), print(w.Apart-has), w.would(print)), true, ""
	case w.Measured || w.To == 0:
		return "", false, ""
	case has < w.From:
		return fmt.Sprintf("is %s long, and some %s are needed (%s): %s short%s",
			print(has), print(w.From), w.Parts(print), print(w.From-has), w.would(print)), false, ""
	case has < w.To:
		return "", false, fmt.Sprintf("%s is not declared, and by that it needs from %s to %s and has %s", w.Vague, print(w.From), print(w.To), print(has))
	}
	return "", false, ""
}

func onDay(d Date) string {
	if d == 0 {
		return ""
	}
	return " on " + d.String()
}

// would names the cord of those usually kept that would do.
func (w *CordWay) would(print func(quantity.Length) string) string {
	if l, ok := StockedCord(max(w.To, w.Apart)); ok && w.To > 0 {
		return "; one of " + print(l) + " would do"
	}
	return ""
}
