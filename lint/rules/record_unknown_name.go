package rules

import (
	"fmt"
	"strings"

	"cagenut/lint"
)

// unknownName reports every reference whose target is declared nowhere, at the
// reference. It is the only rule that does so: the others are silent about
// what cannot be resolved, so that one typing mistake gives one finding.
//
// Where a file could not be read whole, it may have declared what is missing;
// a name that is near to a known one is reported even so.
var unknownName = &lint.Rule{
	ID:      "record/unknown-name",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a name that is declared nowhere",
	Why: `Whatever hangs on the name cannot be judged: a rack without a frame has no depth, a
mount without equipment no mass. A typing mistake then silences every other rule.`,
	Source: "common practice",
	Omits:  "While a file cannot be read whole, only names that are near to a known one are reported.",
	Bad: `frame "cab-42" {
  system = "19in"
  units  = 42
}
rack "a" {
  frame = frame.cab-24
}
`,
	Good: `frame "cab-42" {
  system = "19in"
  units  = 42
}
rack "a" {
  frame = frame.cab-42
}
`,
	Reach: lint.Alike,
	Estate: func(pass *lint.Pass) {
		for _, u := range pass.Estate.Unresolved {
			f := lint.Finding{At: u.At, Thing: u.From, Others: []string{u.Name}, Rack: rackOf(u.From)}
			if f.Thing == "" {
				f.Thing = u.Name
			}
			if u.Near == "" && len(pass.Estate.Broken) > 0 {
				pass.NotChecked(lint.Unchecked{At: u.At, Thing: f.Thing, Rack: f.Rack,
					Because: fmt.Sprintf("%s may be declared in %s, which could not be read whole", u.Name, estateFiles(pass.Estate.Broken))})
				continue
			}
			f.Message = u.Name + " is declared nowhere"
			if u.Near != "" {
				f.Message += "; perhaps " + u.Near + " is meant"
				f.Fixes = []lint.Fix{{Title: "Write " + u.Near, Edits: []lint.Edit{{At: u.At, New: u.Near}}}}
			}
			pass.Report(f)
		}
	},
}

// rackOf gives the rack in a name such as rack.hq-a.core-1, or "".
func rackOf(thing string) string {
	rest, ok := strings.CutPrefix(thing, "rack.")
	if !ok {
		return ""
	}
	name, _, _ := strings.Cut(rest, ".")
	return name
}

// estateFiles names the files in a sentence, the first two of many.
func estateFiles(paths []string) string {
	if len(paths) <= 2 {
		return strings.Join(paths, " or ")
	}
	return fmt.Sprintf("%s, %s or one of %d other files", paths[0], paths[1], len(paths)-2)
}
