package change

import (
	"strings"

	"cagenut/lang/estate"
)

// A CordChange is a cord that hands have to do with: another one, one that goes
// elsewhere, one that comes or one that goes.
type CordChange struct {
	Inlet    int          // from 0
	Old, New *estate.Cord // nil where it comes or goes
}

// Other reports whether the cord itself is another one, as far as what is
// declared of it differs: its length, its ends, whether they lock.
func (c *CordChange) Other() bool {
	if c.Old == nil || c.New == nil {
		return c.New != nil
	}
	a, b := c.Old, c.New
	return differ(a.Length, b.Length) || differ(a.Locking, b.Locking) || otherText(a.Plug, b.Plug) || otherText(a.Socket, b.Socket)
}

// Cords gives the cords of a mount that hands have to do with, in the order of
// its inlets. What is said for the first time is no work: a record that told
// only feeds and now tells cords, or a length that was not declared before.
func (c *MountChange) Cords() []CordChange {
	if c.Old == nil || c.New == nil || len(c.Old.Cords) == 0 || len(c.New.Cords) == 0 {
		return nil
	}
	var out []CordChange
	for i := range max(len(c.Old.Cords), len(c.New.Cords)) {
		is := CordChange{Inlet: i}
		if i < len(c.Old.Cords) {
			is.Old = &c.Old.Cords[i]
		}
		if i < len(c.New.Cords) {
			is.New = &c.New.Cords[i]
		}
		if is.Old == nil || is.New == nil || is.Other() ||
			c.goesTo(c.Old, is.Old) != c.goesTo(c.New, is.New) || is.Old.Outlet != is.New.Outlet && is.Old.Outlet != 0 && is.New.Outlet != 0 {
			out = append(out, is)
		}
	}
	return out
}

// calledOtherwise gives the racks, and the things with outlets, that have got
// another name: their cords go where they went.
func calledOtherwise(mounts []MountChange, racks map[string]string) map[string]string {
	out := map[string]string{}
	for old, now := range racks {
		out["rack."+old] = "rack." + now
	}
	for i := range mounts {
		m := &mounts[i]
		if m.Old != nil && m.New != nil && m.Old.Ref() != m.New.Ref() && m.New.Equipment != nil && m.New.Equipment.OutletCount() > 0 {
			out[m.Old.Ref()] = m.New.Ref()
		}
	}
	return out
}

// goesTo names the strip that a cord of a mount goes to, in full and as it is
// called after the change.
func (c *MountChange) goesTo(m *estate.Mount, cord *estate.Cord) string {
	to := cord.To
	if !strings.HasPrefix(to, "rack.") && m.Rack != nil {
		to = m.Rack.Ref() + "." + to
	}
	if m != c.Old {
		return to
	}
	if now, ok := c.called[to]; ok {
		return now
	}
	if dot := strings.LastIndexByte(to, '.'); dot >= 0 {
		if now, ok := c.called[to[:dot]]; ok {
			return now + to[dot:]
		}
	}
	return to
}

func differ[T comparable](a, b estate.Figure[T]) bool {
	return a.Known() && b.Known() && a.Value != b.Value
}

func otherText(a, b string) bool { return a != "" && b != "" && !strings.EqualFold(a, b) }
