package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// sameSource reports equipment that could lose an inlet and run on, whose
// inlets are all lost together with one feed, breaker or source (an error), or
// meet further upstream behind stored energy (a warning; one utility for both is
// usual and quiet). Equipment that needs all its inlets is no better off with
// two sources and is left alone; transfer switches have a rule of their own.
var sameSource = &lint.Rule{
	ID:      "power/same-source",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "all inlets of redundant equipment hang on one source",
	Why: `Two cords are not redundancy until both have been followed upstream to
different sources. Both in one strip is the commonest mistake in a rack, and it
is found when the strip dies.`,
	Source: "ANSI/TIA-942 (redundant paths); common practice",
	Omits: "sources that are named and not declared: what feeds them is not known; one utility behind two stores of energy, " +
		"which is usual. Where anything else lies behind both, the finding is a warning",
	Decides: electrician,
	Rack:    checkSameSource,
	Bad: `
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  inlets = { type = "c14", count = 2, needs = 1 }
}
feed "a" { source = "ups" }
feed "c" { source = "ups" }
rack "r1" {
  frame = frame.cab
  mount "server-1" {
    at        = 1
    equipment = equipment.server
    feeds     = [feed.a, feed.c]
  }
}
`,
	Good: `
frame "cab" {
  system = "19in"
  units  = 42
}
equipment "server" {
  height = "2U"
  inlets = { type = "c14", count = 2, needs = 1 }
}
feed "a" { source = "ups" }
feed "b" { source = "mains" }
rack "r1" {
  frame = frame.cab
  mount "server-1" {
    at        = 1
    equipment = equipment.server
    feeds     = [feed.a, feed.b]
  }
}
`,
}

func checkSameSource(p *lint.Pass, rack *estate.Rack) {
	for _, m := range rack.Mounts {
		if m.Equipment == nil || m.Equipment.Transfers() || len(m.Feeds) < 2 {
			continue
		}
		if simplyApart(p.Estate, m.Feeds) {
			continue
		}
		if inlets, needs := m.Equipment.InletCount(); inlets > 0 && needs >= inlets {
			continue
		}
		judgeSameSource(p, m)
	}
}

// simplyApart reports whether two feeds come from sources that are only named,
// and named differently: what is so of nearly every mount needs no walk.
func simplyApart(e *estate.Estate, feeds []*estate.Feed) bool {
	if len(e.PowerSources) > 0 {
		return false
	}
	for _, f := range feeds {
		if f == nil || f.Breaker != nil || f.Origin == "" {
			return false
		}
	}
	for _, f := range feeds[1:] {
		if f.Origin != feeds[0].Origin {
			return true
		}
	}
	return false
}

// judgeSameSource reports a mount whose feeds are lost together.
func judgeSameSource(p *lint.Pass, m *estate.Mount) {
	feeds := distinct(m.Feeds)
	f := lint.AtMount(m, "feeds")
	if !m.Source.Has("feeds") {
		f = lint.AtMount(m, "cords")
	}
	if len(feeds) == 1 {
		f.Message = fmt.Sprintf("all %d inlets of %s hang on %s", len(m.Feeds), m.Name, feeds[0].Ref())
		if strip := oneStrip(p.Estate, m); strip != nil {
			f.Message = fmt.Sprintf("all %d inlets of %s hang on %s, and with it on %s", len(m.Feeds), m.Name, strip.Name, feeds[0].Ref())
		}
		f.Others = []string{feeds[0].Ref()}
		p.Report(f)
		return
	}
	names := make([]string, len(feeds))
	for i, feed := range feeds {
		names[i] = feed.Ref()
	}
	if u, ok := meetUpstream(p.Estate, feeds, false); ok {
		f.Message = fmt.Sprintf("all inlets of %s hang on %s: %s", m.Name, u.Ref, list(names))
		f.Others = append(names, u.Ref)
		for _, feed := range feeds {
			f.Related = append(f.Related, lint.Related{At: hangsOn(feed), Message: fmt.Sprintf("%s hangs on %s", feed.Ref(), u.Ref)})
		}
		p.Report(f)
		return
	}
	for _, feed := range feeds {
		if feed.Origin == "" && feed.Breaker == nil {
			if !apart(p.Estate, feeds) {
				p.MountUnchecked(m, "the source of %s is missing", feed.Ref())
			}
			return
		}
	}
	if u, ok := meetUpstream(p.Estate, feeds, true); ok && u.Kind != estate.Utility {
		f.Level = lint.Warning
		f.Message = fmt.Sprintf("the inlets of %s meet upstream at %s, and only stored energy lies between: %s", m.Name, u.Ref, list(names))
		f.Others = append(names, u.Ref)
		f.Related = []lint.Related{{At: u.At, Message: u.Ref + " is declared here"}}
		p.Report(f)
	}
}

// oneStrip gives the mount that all cords of m run to, or nil.
func oneStrip(e *estate.Estate, m *estate.Mount) *estate.Mount {
	var strip *estate.Mount
	for i := range m.Cords {
		to := e.StripOf(m, &m.Cords[i])
		if to == nil || i > 0 && to != strip {
			return nil
		}
		strip = to
	}
	return strip
}

// meetUpstream gives the nearest thing with which all feeds are lost.
func meetUpstream(e *estate.Estate, feeds []*estate.Feed, longRun bool) (estate.Upstream, bool) {
	for _, u := range e.Upstream(feeds[0]) {
		all := true
		for _, f := range feeds {
			all = all && e.DiesWith(f, u.Ref, longRun)
		}
		if all {
			return u, true
		}
	}
	return estate.Upstream{}, false
}

// apart reports whether two of the feeds are known to hang on different things.
func apart(e *estate.Estate, feeds []*estate.Feed) bool {
	var known []*estate.Feed
	for _, f := range feeds {
		if f.Origin != "" || f.Breaker != nil {
			known = append(known, f)
		}
	}
	if len(known) < 2 {
		return false
	}
	_, together := meetUpstream(e, known, false)
	return !together
}

// hangsOn gives the place where it is said what a feed hangs on.
func hangsOn(f *estate.Feed) estate.Range {
	if f.Breaker != nil {
		return f.Source.Attr("breaker")
	}
	return f.Source.Attr("source")
}

// distinct gives each feed once, in the order named.
func distinct(feeds []*estate.Feed) []*estate.Feed {
	var out []*estate.Feed
	for _, f := range feeds {
		known := f == nil
		for _, o := range out {
			known = known || o == f
		}
		if !known {
			out = append(out, f)
		}
	}
	return out
}
