package review

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/render/style"
)

// A Page is what is known of a change.
type Page struct {
	Old, New Side
	Change   *change.Change
	Deltas   []change.Delta
	Lint     *lint.Comparison // of the new side, against the old one
	Rules    int              // how many rules were judged
	ASCII    bool             // the page holds no character beyond ASCII, names aside
	Mistakes []Mistake        // in the text of the new side

	// Place says where a range is, on the new side or the old one.
	Place func(r estate.Range, old bool) Place

	Collisions []Collision
	Compared   []string // branches that were looked at for collisions
	Unread     []Unread // branches that could not be
	Older      int      // branches that were not looked at, since there are so many

	Plan       *Plan  // nil where there is none
	NoRunSheet string // why there is none
}

// A Plan is the night in which the change is carried out.
type Plan struct {
	Facts    []string       // windows, minutes, people, what is missing meanwhile: one sentence each
	Findings []lint.Finding // of the rules on plans, and on the states between
	RunSheet string         // whole, as Markdown, for a page of that
	Sheet    template.HTML  // whole, for a page of HTML
}

// A Side is one of the two states that are compared.
type Side struct {
	Name   string // as the user wrote it
	Commit string // its hash; "" for a folder
	Racks  int
	Mounts int
}

// String names the side with its commit.
func (s Side) String() string {
	if s.Commit == "" || strings.HasPrefix(s.Commit, s.Name) {
		return s.Name
	}
	return s.Name + " (" + s.Commit[:min(8, len(s.Commit))] + ")"
}

// A Place is a line of a file, with a link to it where one can be made.
type Place struct {
	File string // from the top of the repository
	Line int
	Link string
}

// String names the place.
func (p Place) String() string { return fmt.Sprintf("%s:%d", p.File, p.Line) }

// A Mistake is something wrong in the text of the estate.
type Mistake struct {
	At      estate.Range
	Message string
}

// A Collision is another branch that wants what this change wants.
type Collision struct {
	Branch string
	What   []string // sentences, lower case: "puts store-9 into U18-19 of hq-a, where this change puts store-2"
}

// An Unread branch could not be compared.
type Unread struct{ Branch, Why string }

// counts are findings by level.
type counts struct{ errors, warnings, notes int }

func count(all []lint.Finding) counts {
	var c counts
	for i := range all {
		switch all[i].Level {
		case lint.Error:
			c.errors++
		case lint.Warning:
			c.warnings++
		case lint.Note:
			c.notes++
		}
	}
	return c
}

func (c counts) String() string {
	var parts []string
	for _, p := range []struct {
		n         int
		one, many string
	}{{c.errors, "error", "errors"}, {c.warnings, "warning", "warnings"}, {c.notes, "note", "notes"}} {
		switch {
		case p.n == 1:
			parts = append(parts, "1 "+p.one)
		case p.n > 1:
			parts = append(parts, fmt.Sprintf("%d %s", p.n, p.many))
		}
	}
	if len(parts) == 0 {
		return "no finding"
	}
	return strings.Join(parts, ", ")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Verdict says in one line what was found. It counts; it never says that a
// change is good.
func (p *Page) Verdict() string {
	s := "Brings " + count(p.Lint.Findings).String()
	if n := len(p.Mistakes); n > 0 {
		s += " and " + plural(n, "mistake in the text", "mistakes in the text")
	}
	if len(p.Lint.Cured) > 0 {
		s += "; cures " + count(p.Lint.Cured).String()
	} else {
		s += "; cures none"
	}
	if p.Lint.Old > 0 {
		s += fmt.Sprintf("; %s before", plural(p.Lint.Old, "finding was there", "findings were there"))
	}
	if n := len(p.Lint.Unchecked); n > 0 {
		s += "; " + plural(n, "check lacked a figure", "checks lacked a figure")
	}
	if p.Plan != nil && len(p.Plan.Findings) > 0 {
		s += "; the plan has " + count(p.Plan.Findings).String()
	}
	if n := len(p.Collisions); n > 0 {
		s += "; " + plural(n, "other branch wants", "other branches want") + " the same"
	}
	return s + "."
}

// sorted gives findings worst first.
func sorted(all []lint.Finding) []lint.Finding {
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(a, b lint.Finding) int { return int(b.Level) - int(a.Level) })
	return out
}

// A reason is why some checks could not be made.
type reason struct {
	because string
	rules   []string
	things  []string
}

// open gives what could not be checked in the racks that the change touches, by
// reason, and how many checks are open elsewhere.
func (p *Page) open() (here []reason, elsewhere int) {
	touched := map[string]bool{}
	for _, d := range p.Deltas {
		if d.New != nil {
			touched[d.New.Name] = true
		}
	}
	at := map[string]int{}
	for _, u := range p.Lint.Unchecked {
		if !touched[u.Rack] {
			elsewhere++
			continue
		}
		i, ok := at[u.Because]
		if !ok {
			i = len(here)
			at[u.Because] = i
			here = append(here, reason{because: u.Because})
		}
		if !slices.Contains(here[i].rules, u.Rule) {
			here[i].rules = append(here[i].rules, u.Rule)
		}
		if !slices.Contains(here[i].things, u.Thing) {
			here[i].things = append(here[i].things, u.Thing)
		}
	}
	return here, elsewhere
}

// A ruling is a policy, an adjustment or a waiver that the change touches.
type ruling struct {
	kind change.Kind
	ref  string
	says []string // what it says, or what differs
}

// rulings gives what the change does to what the site says about rules.
func (p *Page) rulings() []ruling {
	var out []ruling
	for i := range p.Change.Things {
		t := &p.Change.Things[i]
		r := ruling{kind: t.Kind, ref: t.Ref()}
		thing := t.New
		if thing == nil {
			thing = t.Old
		}
		say := func(what, text string) {
			if text != "" && t.Kind != change.Altered {
				r.says = append(r.says, what+" "+text)
			}
		}
		switch x := thing.(type) {
		case *estate.Waiver:
			say("until", x.Until.String())
			say("by", x.By)
			say("because:", x.Reason)
		case *estate.Adjustment:
			for _, l := range x.Limits {
				say(l.Name, l.Text)
			}
			say("level", x.Level)
			say("because:", x.Reason)
		case *estate.Policy:
			say("level", x.Level)
			say("requires", x.Require.Text)
			say("because:", x.Reason)
		default:
			continue
		}
		for _, a := range t.Alterations {
			r.says = append(r.says, a.Attr+": "+orNone(a.Old)+p.plain(" → ")+orNone(a.New))
		}
		out = append(out, r)
	}
	return out
}

// plain gives a text of the program in the letters that the page may have.
func (p *Page) plain(s string) string {
	if p.ASCII {
		return style.ASCII(s)
	}
	return s
}

func orNone(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

// read says what was read.
func (p *Page) read() string {
	s := fmt.Sprintf("Read %s (%s, %s) and %s (%s, %s)", p.Old, plural(p.Old.Racks, "rack", "racks"), plural(p.Old.Mounts, "mount", "mounts"),
		p.New, plural(p.New.Racks, "rack", "racks"), plural(p.New.Mounts, "mount", "mounts"))
	if n := len(p.Compared); n > 0 {
		s += ", and " + plural(n, "other branch", "other branches") + " for what else is wanted"
	}
	if p.Older > 0 {
		s += "; " + plural(p.Older, "older branch was", "older branches were") + " not looked at"
	}
	s += "."
	for _, u := range p.Unread {
		s += fmt.Sprintf(" Branch %s could not be compared: %s.", u.Branch, u.Why)
	}
	return style.Name(s)
}

// asked is what the reader of a page must settle without the tool.
var asked = []string{
	"Is what the old side declares what is really there? When was it last confirmed at the rack?",
	"Are the figures that decide a tight fit measured, on this frame?",
	"Follow both cords two levels up: where do they meet?",
	"What happens in the middle of the work: is a pair down together, is a front left open, is there a way back?",
	"What has become impossible: held units taken, the largest gap gone, the last outlet used?",
	"Who else must know, and which label has become wrong?",
}

// caution is what every page must say.
const caution = "Planning aid: it checks what is declared and certifies nothing. Electrical work, structure and floor loading, " +
	"anchoring, fire stopping and lifting are governed by local law, codes and the makers' instructions, and are for competent or " +
	"licensed people. Verify at the rack. If in doubt, stop."
