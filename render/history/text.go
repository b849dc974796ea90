// Package history prints what happened to a rack commit by commit: as a list
// of events, and unit by unit.
//
// text.go prints for people, json.go for programs.
package history

import (
	"fmt"
	"strings"
	"time"

	"cagenut/lang/change"
	"cagenut/lang/history"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/render/diff"
	"cagenut/render/style"
)

// Options say how a history is printed.
type Options struct {
	ASCII  bool
	Width  int  // cells; 0 for 80
	Inches bool // lengths in inches

	name int // least width of the first column of a table
}

// Events prints events as they are given: for each the commit, and what it did
// with what is followed.
func Events(events []history.Event, o Options) []style.Line {
	var lines []style.Line
	width := o.Width
	if width == 0 {
		width = 80
	}
	for i := range events {
		e := &events[i]
		if i > 0 {
			lines = append(lines, nil)
		}
		if e.Gap != nil && (i == 0 || events[i-1].Gap != e.Gap) {
			lines = append(lines, gap(e.Gap), nil)
		}
		lines = append(lines, head(e.Commit, width, o.ASCII))
		rack := e.New
		if rack == nil {
			rack = e.Old
		}
		if rack != nil {
			lines = append(lines, diff.List(e.Change, change.Delta{Old: e.Old, New: e.New}, diff.Options{ASCII: o.ASCII, Width: width, Inches: o.Inches, Bare: true})...)
		}
		for _, file := range e.Broken {
			lines = append(lines, style.Line{{Role: style.Unsure, Text: "  ? " + style.Name(file) + " could not be read whole at this commit; something may be missing"}})
		}
		if e.Boundary {
			lines = append(lines, style.Line{{Role: style.Unsure, Text: "  ? this shallow clone ends here; the change may be older"}})
		}
	}
	return lines
}

// gap tells how long there was no rack of a name.
func gap(g *history.Gap) style.Line {
	const day = 24 * time.Hour
	from, to := g.Removed.When, g.Added.When
	line := style.Line{{Role: style.Heading, Text: "an earlier rack of this name"}}
	text := fmt.Sprintf("; there was none from %s to %s", from.Format("2006-01-02"), to.Format("2006-01-02"))
	if days := int(to.Sub(from) / day); days > 0 {
		text += " (" + quantity.Count(days, "day") + ")"
	}
	line.Add(style.Plain, text)
	return line
}

// head names a commit on one line.
func head(c *source.Commit, width int, ascii bool) style.Line {
	line := style.Line{{Role: style.Place, Text: c.When.Format("2006-01-02 15:04")}}
	line.Add(style.Aside, "  "+c.Hash.Short()+"  ")
	line.Add(style.Plain, style.Name(c.Author)+"  ")
	line.Add(style.Strong, style.Cut(style.Name(c.Subject), max(width-line.Width(), 10), ascii))
	return line
}

// verbs say what a commit did with a unit.
var verbs = map[change.Kind]struct {
	sign string
	role style.Role
}{
	change.Added: {"+", style.In}, change.Removed: {"-", style.Out},
	change.Moved: {">", style.Moved}, change.Altered: {"*", style.Altered},
}

// Units prints a rack unit by unit, the highest at the top as it stands, with
// the commit that last changed each. Highest is false where units are counted
// downward, and the list is in the order that it needs already.
func Units(units []history.UnitState, countedUp bool, o Options) []style.Line {
	width := o.Width
	if width == 0 {
		width = 80
	}
	holds := 8
	for _, u := range units {
		holds = max(holds, style.Width(strings.Join(u.Holds, ", ")))
	}
	holds = min(holds, 26)
	var lines []style.Line
	for i := range units {
		u := &units[i]
		if countedUp {
			u = &units[len(units)-1-i]
		}
		line := style.Line{{Role: style.Aside, Text: fmt.Sprintf("%4s  ", u.Unit)}}
		what := "open"
		if len(u.Holds) > 0 {
			what = strings.Join(u.Holds, ", ")
		}
		line.Add(style.Plain, style.Left(style.Name(what), holds, o.ASCII)+"  ")
		if u.Commit == nil {
			line.Add(style.Aside, "never used")
		} else {
			v := verbs[u.What]
			line.Add(v.role, v.sign)
			line.Add(style.Place, " "+u.Commit.When.Format("2006-01-02"))
			line.Add(style.Aside, "  "+u.Commit.Hash.Short()+"  ")
			line.Add(style.Plain, style.Cut(style.Name(u.Commit.Subject), max(width-line.Width(), 10), o.ASCII))
		}
		lines = append(lines, line)
	}
	return lines
}
