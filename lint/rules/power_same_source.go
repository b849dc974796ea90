package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// sameSource reports equipment that could lose an inlet and run on, whose
// inlets all hang on one feed or on feeds of one source. Equipment that needs
// all its inlets is no better off with two sources and is left alone.
var sameSource = &lint.Rule{
	ID:      "power/same-source",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "all inlets of redundant equipment hang on one source",
	Why: `Two cords are not redundancy until both have been followed upstream to
different sources. Both in one strip is the commonest mistake in a rack, and it
is found when the strip dies.`,
	Source: "ANSI/TIA-942 (redundant paths); common practice",
	Omits:  "what is upstream of a feed's source",
	Rack:   checkSameSource,
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
		if m.Equipment == nil || len(m.Feeds) < 2 {
			continue
		}
		if inlets, needs := m.Equipment.InletCount(); inlets > 0 && needs >= inlets {
			continue
		}
		feeds := distinct(m.Feeds)
		f := lint.AtMount(m, "feeds")
		if len(feeds) == 1 {
			f.Message = fmt.Sprintf("all %d inlets of %s hang on %s", len(m.Feeds), m.Name, feeds[0].Ref())
			f.Others = []string{feeds[0].Ref()}
			p.Report(f)
			continue
		}
		same, missing := oneOrigin(feeds)
		switch {
		case same:
			names := make([]string, len(feeds))
			for i, feed := range feeds {
				names[i] = feed.Ref()
				f.Related = append(f.Related, lint.Related{At: feed.Source.Attr("source"), Message: fmt.Sprintf("%s comes from %s", feed.Ref(), feed.Origin)})
			}
			f.Message = fmt.Sprintf("all inlets of %s hang on source %s: %s", m.Name, feeds[0].Origin, list(names))
			f.Others = append(names, "source "+feeds[0].Origin)
			p.Report(f)
		case missing != nil:
			p.MountUnchecked(m, "the source of %s is missing", missing.Ref())
		}
	}
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

// oneOrigin reports whether all feeds come from one source. Where two that
// are known differ nothing is missing; otherwise a feed without a source is
// given.
func oneOrigin(feeds []*estate.Feed) (same bool, missing *estate.Feed) {
	first := ""
	for _, f := range feeds {
		switch {
		case f.Origin == "":
			if missing == nil {
				missing = f
			}
		case first == "":
			first = f.Origin
		case f.Origin != first:
			return false, nil
		}
	}
	return missing == nil, missing
}
