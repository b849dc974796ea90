package main

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lint/rules"
	"cagenut/testdata/outside"
)

// A carrying is an estate in a repository, linted after each change of a file
// with what earlier runs kept and without.
type carrying struct {
	t        *testing.T
	dir      string
	files    map[string]string
	args     []string // of lint
	carried  int      // how many results were carried over
	compared int
}

func newCarrying(t *testing.T) *carrying {
	git := outside.Need(t, "git")
	c := &carrying{t: t, dir: t.TempDir(), files: map[string]string{}}
	outside.Run(t, "", git, "init", "-q", c.dir)
	return c
}

// write replaces all files of the estate; a text of "" is no file.
func (c *carrying) write(files map[string]string) {
	for path := range c.files {
		if files[path] == "" {
			if err := os.Remove(filepath.Join(c.dir, path)); err != nil {
				c.t.Fatal(err)
			}
			delete(c.files, path)
		}
	}
	for path, text := range files {
		if text == "" || c.files[path] == text {
			continue
		}
		if err := os.WriteFile(filepath.Join(c.dir, path), []byte(text), 0o666); err != nil {
			c.t.Fatal(err)
		}
		c.files[path] = text
	}
}

// compare lints in both ways.
func (c *carrying) compare(what string) {
	c.t.Helper()
	lintWith := func(args ...string) (string, string) {
		p, stdout, stderr := session(c.dir)
		status := run(context.Background(), p, slices.Concat([]string{"lint", "--format", "json"}, c.args, args))
		return fmt.Sprintf("%s\nstatus %d", stdout, status), stderr.String()
	}
	got, said := lintWith("--verbose")
	want, _ := lintWith("--no-store")
	c.compared++
	if strings.Contains(said, "judged again") {
		c.carried++
	}
	if got == want {
		return
	}
	var all strings.Builder
	for _, path := range slices.Sorted(maps.Keys(c.files)) {
		fmt.Fprintf(&all, "-- %s --\n%s", path, c.files[path])
	}
	c.t.Errorf("%s: judged whole (-) and carried over (+)\n%s\nthe estate\n%s\n%s", what, cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")), all.String(), said)
}

// files splits an estate into a file for each of its racks and one for the
// rest, every label with an ending of its own.
func filesOf(t *testing.T, text, ending string) map[string]string {
	f, diags := hclsyntax.ParseConfig([]byte(text), "x.hcl", hcl.InitialPos)
	if diags.HasErrors() {
		return nil // an example of a mistake in the text itself
	}
	mark := func(s string) string { return s }
	var pairs []string
	for _, b := range f.Body.(*hclsyntax.Body).Blocks {
		if len(b.Labels) == 1 && !strings.Contains(b.Labels[0], "/") {
			pairs = append(pairs, b.Type+"."+b.Labels[0], b.Type+" \""+b.Labels[0]+"\"")
		}
	}
	if ending != "" {
		mark = func(s string) string {
			for i := 0; i < len(pairs); i += 2 {
				s = regexp.MustCompile(`\b`+regexp.QuoteMeta(pairs[i])+`\b`).ReplaceAllString(s, pairs[i]+ending)
				s = strings.ReplaceAll(s, pairs[i+1], strings.TrimSuffix(pairs[i+1], `"`)+ending+`"`)
			}
			return s
		}
	}
	files := map[string]string{}
	for _, b := range f.Body.(*hclsyntax.Body).Blocks {
		block := mark(text[b.Range().Start.Byte:b.CloseBraceRange.End.Byte]) + "\n"
		switch b.Type {
		case "rack":
			files["rack-"+b.Labels[0]+ending+".hcl"] += block
		case "estate", "given":
			return nil
		default:
			files["common"+ending+".hcl"] += block
		}
	}
	return files
}

var (
	firstMount = regexp.MustCompile(`(?s)\n  (mount|stack|zero_u) "[^"]*" \{.*?\n  \}`)
	firstAt    = regexp.MustCompile(`at( *)= (\d+)`)
	firstName  = regexp.MustCompile(`rack "([^"]*)"`)
)

// edits are what may be done to the file of a rack.
var edits = []struct {
	name string
	of   func(text string) string
}{
	{"shifted", func(s string) string { return "# shifted\n" + s }},
	{"without a mount", func(s string) string {
		if at := firstMount.FindStringIndex(s); at != nil {
			return s[:at[0]] + s[at[1]:]
		}
		return s
	}},
	{"moved", func(s string) string {
		if at := firstAt.FindStringSubmatchIndex(s); at != nil {
			return s[:at[4]] + "7" + s[at[5]:]
		}
		return s
	}},
	{"gone", func(string) string { return "" }},
	{"twice", func(s string) string { return s + firstName.ReplaceAllString(s, `rack "$1-again"`) }},
}

// What is carried over from one run to the next is what judging all would find,
// for every rule: its two examples side by side, with each rack changed in turn.
func TestCarriedResultsOfEveryRule(t *testing.T) {
	c := newCarrying(t)
	for i, rule := range rules.All() {
		if rule.Change || testing.Short() && i%10 > 0 {
			continue
		}
		start := map[string]string{"estate.hcl": "estate \"both\" {\n  language = 1\n}\n"}
		for ending, text := range map[string]string{"": rule.Bad, "-good": rule.Good} {
			for path, s := range filesOf(t, text, ending) {
				start[path] = s
			}
		}
		for _, path := range slices.Sorted(maps.Keys(start)) {
			if !strings.HasPrefix(path, "rack-") {
				continue
			}
			c.write(start)
			c.compare(rule.ID + " at first")
			for _, edit := range edits {
				now := maps.Clone(start)
				now[path] = edit.of(now[path])
				c.write(now)
				c.compare(rule.ID + ", " + path + " " + edit.name)
			}
		}
	}
	t.Logf("%d of %d results were carried over", c.carried, c.compared)
	if 2*c.carried < c.compared {
		t.Errorf("only %d of %d results were carried over", c.carried, c.compared)
	}
}

// The same on estates that are made up, in which racks share rooms, rows, feeds,
// sources, strips, layouts, groups, numbers and policies.
func TestCarriedResultsOfAnyEstate(t *testing.T) {
	c := newCarrying(t)
	seeds := uint64(40)
	if testing.Short() {
		seeds = 4
	}
	for seed := range seeds {
		m := &madeUp{rand.New(rand.NewPCG(seed, 7))}
		c.write(m.estate())
		c.compare(fmt.Sprintf("seed %d", seed))
		for step := range 6 {
			i := m.IntN(9)
			now := maps.Clone(c.files)
			path := fmt.Sprintf("r%d.hcl", i)
			if now[path] = m.rack(i); m.IntN(6) == 0 {
				now[path] = ""
			}
			c.write(now)
			c.compare(fmt.Sprintf("seed %d, step %d", seed, step))
		}
	}
	t.Logf("%d of %d results were carried over", c.carried, c.compared)
	if 4*c.carried < c.compared {
		t.Errorf("only %d of %d results were carried over", c.carried, c.compared)
	}
}

// And where what a branch brings is asked for, both sides are.
func TestCarriedResultsOfABranch(t *testing.T) {
	c := newCarrying(t)
	seeds := uint64(12)
	if testing.Short() {
		seeds = 3
	}
	for seed := range seeds {
		m := &madeUp{rand.New(rand.NewPCG(seed, 11))}
		files := m.estate()
		c.write(files)
		git := outside.Need(t, "git")
		outside.Run(t, "", git, "-C", c.dir, "add", "-A")
		outside.Run(t, "", git, "-C", c.dir, "-c", "user.name=Rack Planner", "-c", "user.email=planner@brackwater.example", "commit", "-q", "-m", "base")
		c.args = []string{"--base", "HEAD"}
		for step := range 4 {
			now := maps.Clone(c.files)
			i := m.IntN(9)
			path := fmt.Sprintf("r%d.hcl", i)
			switch now[path] = m.rack(i); m.IntN(6) {
			case 0:
				now[path] = ""
			case 1: // the same rack by another name
				now[path] = firstName.ReplaceAllString(files["r1.hcl"], `rack "$1-renamed"`)
				now["r1.hcl"] = ""
			}
			c.write(now)
			c.compare(fmt.Sprintf("seed %d, step %d", seed, step))
		}
	}
	t.Logf("%d of %d results were carried over", c.carried, c.compared)
	if 3*c.carried < c.compared {
		t.Errorf("only %d of %d results were carried over", c.carried, c.compared)
	}
}

// madeUp makes up texts of an estate.
type madeUp struct{ *rand.Rand }

func (m *madeUp) one(of ...string) string { return of[m.IntN(len(of))] }

// estate gives the files of one.
func (m *madeUp) estate() map[string]string {
	files := map[string]string{"estate.hcl": "estate \"any\" {\n  language = 1\n}\n", "common.hcl": m.common()}
	for i := range 8 {
		files[fmt.Sprintf("r%d.hcl", i)] = m.rack(i)
	}
	return files
}

func (m *madeUp) common() string {
	s := `site "quay" { continuous = 0.8 }
room "a" {
  site       = site.quay
  heat_limit = "1 kW"
  tile_load  = "2 kN"
  point_load = "1 kN"
}
room "b" {
  site       = site.quay
  heat_limit = "2 kW"
}
row "a1" { room = room.a }
row "a2" {
  room   = room.a
  across = row.a1
}
row "b1" { room = room.b }
frame "cab" {
  system    = "19in"
  kind      = "` + m.one("cabinet", "four-post") + `"
  units     = 12
  counted   = "up"
  width     = "600 mm"
  depth     = "1000 mm"
  post_span = "740 mm"
  mass      = "80 kg"
  rated     = "300 kg"
}
equipment "server" {
  height = "2U"
  mass   = "20 kg"
  depth  = "600 mm"
  body   = "440 mm"
  air    = "left-to-right"
  draw   = { typical = "300 W", maximum = "500 W" }
  inlets = { type = "c14", count = 2, needs = 1 }
}
equipment "lamp" {
  height = "1U"
  draw   = "60 W"
  inlets = { type = "c14", count = 1 }
}
equipment "strip" {
  kind    = "strip"
  height  = "1U"
  outlets = [{ type = "c13", count = 4 }]
}
source "ups" {
  kind  = "ups"
  rated = "2 kW"
}
source "grid" { kind = "utility" }
breaker "p1" {
  source = source.ups
  rated  = "10 A"
}
`
	for i, from := range []string{`breaker = breaker.p1`, `source = "grid"`, `source = "ups"`, `source = "hall"`} {
		s += fmt.Sprintf("feed \"f%d\" {\n  room    = room.%s\n  %s\n  voltage = \"230 V\"\n  rated   = \"%s\"\n}\n", i, m.one("a", "b"), from, m.one("4 A", "6 A", "16 A"))
	}
	s += "layout \"both\" {\n  mount \"l1\" {\n    at        = 11\n    equipment = equipment.lamp\n    feeds     = [feed.f3]\n  }\n}\n"
	if m.IntN(2) == 0 {
		s += fmt.Sprintf("group \"pair\" {\n  of    = [rack.r%d.m0, rack.r%d.m0]\n  up    = 1\n  apart = \"%s\"\n}\n", m.IntN(4), 4+m.IntN(4), m.one("rack", "room", "feed", "source"))
	}
	if m.IntN(2) == 0 {
		s += fmt.Sprintf("waive \"record/no-owner\" {\n  on     = rack.r%d.m0\n  until  = \"2027-03-31\"\n  reason = \"it is being asked for\"\n}\n", m.IntN(8))
	}
	if m.IntN(2) == 0 {
		s += fmt.Sprintf("adjust \"air/heat\" {\n  level  = \"error\"\n  within = [room.%s]\n  reason = \"no window\"\n}\n", m.one("a", "b"))
	}
	switch m.IntN(6) {
	case 0:
		s += "policy \"few\" {\n  each    = row\n  require = count(row.racks) < 3\n}\n"
	case 1:
		s += "policy \"all\" {\n  each    = estate\n  require = count(estate.racks) < 8\n}\n"
	case 2:
		s += "policy \"near\" {\n  each    = mount\n  where   = mount.equipment.name == \"server\"\n  require = count(mount.rack.row.racks) < 3\n}\n"
	case 3:
		s += "policy \"led\" {\n  each    = group\n  require = count([for x in group.members : x if x.rack.name == \"r1\"]) == 0\n}\n"
	}
	return s
}

func (m *madeUp) rack(i int) string {
	row := m.one("a1", "a1", "a2", "b1", "b1", "")
	s := fmt.Sprintf("rack \"r%d\" {\n", i)
	if m.IntN(12) == 0 {
		s = "# a remark\n" + s
	}
	if row != "" {
		s += fmt.Sprintf("  row   = row.%s\n  place = %d\n", row, m.IntN(4)+1)
	}
	s += "  frame = frame.cab\n"
	if m.IntN(4) == 0 {
		s += "  layout = layout.both\n"
	}
	strip := m.IntN(2) == 0
	if strip {
		s += fmt.Sprintf("  mount \"strip\" {\n    at        = 1\n    equipment = equipment.strip\n    feeds     = [feed.f%d]\n  }\n", m.IntN(4))
	}
	for n := range m.IntN(3) + 2 {
		s += fmt.Sprintf("  mount \"m%d\" {\n    at        = %d\n    equipment = equipment.%s\n", n, 2+2*n+m.IntN(2), m.one("server", "server", "lamp"))
		switch m.IntN(4) {
		case 0:
			s += fmt.Sprintf("    cords     = { to = \"rack.r%d.strip\", outlet = %d }\n", m.IntN(8), m.IntN(5)+1)
		case 1:
			s += fmt.Sprintf("    cords     = { to = \"strip\", outlet = %d }\n", m.IntN(4)+1)
		default:
			s += fmt.Sprintf("    feeds     = [feed.f%d, feed.f%d]\n", m.IntN(4), m.IntN(4))
		}
		if m.IntN(3) == 0 {
			s += "    owner     = \"desk\"\n"
		}
		if m.IntN(3) == 0 {
			s += fmt.Sprintf("    serial    = \"BW-%d\"\n", m.IntN(3000))
		}
		s += "  }\n"
	}
	return s + "}\n"
}
