package review

import (
	"bytes"
	"context"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"

	"cagenut/examples"
	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares got with the named file, or writes it under -update.
func golden(t *testing.T, name, got string) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v (run: go test ./render/review -update)", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/review -update", name, diff)
	}
}

func load(t testing.TB, files map[string]string) *estate.Estate {
	t.Helper()
	e, diags, err := lang.Load(context.Background(), source.Memory("memory", files), lang.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Errorf("%s:%d: %s", d.File, d.Start, d.Summary)
	}
	return e
}

// between makes the page of a change, with findings of its own, so that the
// page does not depend on what rules there are.
func between(a, b *estate.Estate) *Page {
	c := change.Between(a, b)
	p := &Page{
		Old: Side{Name: "main", Racks: len(a.Racks), Mounts: 28}, New: Side{Name: "proposal", Commit: "30b8cacda2a2c9a1", Racks: len(b.Racks), Mounts: 31},
		Change: c, Deltas: c.Deltas(), Rules: 40,
		Lint: &lint.Comparison{Result: &lint.Result{}},
		Place: func(r estate.Range, old bool) Place {
			return Place{File: r.File, Line: 1 + int(r.Start)/40, Link: "https://git.example/" + r.File}
		},
	}
	return p
}

func ferry(t testing.TB) *Page {
	t.Helper()
	commits, err := examples.FerryHistory()
	if err != nil {
		t.Fatal(err)
	}
	tips := map[string]map[string]string{}
	for _, c := range commits {
		if tips[c.Branch] == nil {
			tips[c.Branch] = map[string]string{}
			maps.Copy(tips[c.Branch], tips[c.From])
		}
		for _, f := range c.Files {
			tips[c.Branch][f.Name] = string(f.Data)
		}
	}
	p := between(load(t, tips["main"]), load(t, tips["proposal"]))
	b := p.Change.New
	at := func(rack, mount string) estate.Range { return b.Rack(rack).Mount(mount).Source.At() }
	p.Lint = &lint.Comparison{
		Result: &lint.Result{
			Findings: []lint.Finding{
				{Rule: "air/opposed", Level: lint.Warning, At: at("hq-a", "ticket-3"), Message: "ticket-3 blows where store-1 takes in", Rack: "hq-a"},
				{
					Rule: "fit/rail-span", Level: lint.Error, At: at("hq-a", "store-2"), Rack: "hq-a",
					Message: "the rails of store-2 reach 610 to 720 mm; the posts of cab-42 are 740 mm apart",
					Related: []lint.Related{{At: b.Frames[0].Source.At(), Message: "cab-42 is declared here"}},
				},
			},
			Unchecked: []lint.Unchecked{
				{Rule: "fit/too-wide", Thing: "rack.hq-a.manager-1", Rack: "hq-a", Because: "the body of equipment.cord-manager is missing"},
				{Rule: "fit/unsupported", Thing: "rack.hq-a.manager-1", Rack: "hq-a", Because: "the body of equipment.cord-manager is missing"},
				{Rule: "load/floor", Thing: "rack.s1", Rack: "s1", Because: "the floor of room.radio is unknown"},
			},
		},
		Cured: []lint.Finding{{Rule: "power/single-corded", Level: lint.Note, At: at("hq-a", "firewall-1"), Message: "firewall-1 has one cord"}},
		Old:   5,
	}
	p.Collisions = []Collision{{Branch: "mended", What: []string{"puts store-9 at U18-19 of rack hq-a, where this change puts store-2"}}}
	p.Compared = []string{"audit", "mended"}
	p.Unread = []Unread{{Branch: "old", Why: "its text has mistakes"}}
	p.Plan = &Plan{
		Facts:    []string{"1 window: tue-night on 12 January 2027, 22:00 to 00:49", "3 moves, none parked; 188 min"},
		Findings: []lint.Finding{{Rule: "plan/too-few-people", Level: lint.Warning, At: at("hq-a", "store-2"), Message: "store-2 takes 3 people, tue-night has 2"}},
		RunSheet: "# Run sheet\n\n| no. | do |\n|---|---|\n| 1 | Fit the rails. |\n\n```text\n# no heading\n```\n",
	}
	return p
}

func print(t testing.TB, p *Page, size int) string {
	t.Helper()
	var b bytes.Buffer
	if err := Markdown(&b, p, size); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestMarkdown(t *testing.T) { golden(t, "ferry.md", print(t, ferry(t), 0)) }

func TestMarkdownOfNothing(t *testing.T) {
	p := ferry(t)
	same := between(p.Change.Old, p.Change.Old)
	golden(t, "nothing.md", print(t, same, 0))
}

// TestMarkdownIsRead has the page read by a parser of its own (CommonMark with
// GitHub's tables): the parts must be what they are meant to be.
func TestMarkdownIsRead(t *testing.T) {
	page := []byte(print(t, ferry(t), 0))
	doc := goldmark.New(goldmark.WithExtensions(extension.GFM)).Parser().Parse(text.NewReader(page))
	n := map[ast.NodeKind]int{}
	var headings, links []string
	_ = ast.Walk(doc, func(node ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		n[node.Kind()]++
		switch x := node.(type) {
		case *ast.Heading:
			headings = append(headings, string(x.Lines().Value(page)))
		case *ast.Link:
			links = append(links, string(x.Destination))
		}
		return ast.WalkContinue, nil
	})
	if n[east.KindTable] != 2 || n[ast.KindFencedCodeBlock] != 3 || n[east.KindTaskCheckBox] != len(asked) {
		t.Errorf("%d tables, %d code blocks, %d boxes; want 2, 3 and %d", n[east.KindTable], n[ast.KindFencedCodeBlock], n[east.KindTaskCheckBox], len(asked))
	}
	want := []string{
		"Racks: 1 rack: 3 in; also 1 blank, 1 other declaration", "What it brings", "What it does to the racks",
		"Other branches that want the same", "What it cures", "Unit by unit", "The work", "Not checked, for lack of a figure", "Run sheet",
	}
	if diff := cmp.Diff(want, headings); diff != "" {
		t.Errorf("headings (-want +got):\n%s", diff)
	}
	if len(links) != 5 {
		t.Errorf("links %q, want one to each finding and its second place", links)
	}
}

// hostile makes a page in which every name that a user may choose holds marks,
// tags and mentions.
func hostile() *Page {
	const evil = "</details><script>x</script> ``` @everyone #1 [a](http://evil.example) | **b** ![c](d) \x1b[31m"
	a := &estate.Estate{Lengths: "mm"}
	b := &estate.Estate{Lengths: "mm"}
	rack := &estate.Rack{Name: evil}
	rack.Mounts = []*estate.Mount{{Name: evil, Rack: rack, Serial: evil, Equipment: &estate.Equipment{Name: evil}}}
	b.Racks = []*estate.Rack{rack}
	b.Equipment = []*estate.Equipment{rack.Mounts[0].Equipment}
	b.Rulings.Waivers = []*estate.Waiver{{Rule: evil, On: evil, Reason: evil, By: evil}}
	p := between(a, b)
	p.Old.Name, p.New.Name = evil, evil
	p.Place = func(estate.Range, bool) Place { return Place{File: evil, Line: 1} }
	p.Lint.Findings = []lint.Finding{{Rule: "x/y", Level: lint.Error, At: estate.Range{File: evil}, Message: evil}}
	p.Lint.Cured = p.Lint.Findings
	p.Lint.Unchecked = []lint.Unchecked{{Rule: "x/y", Rack: evil, Because: evil}}
	p.Collisions = []Collision{{Branch: evil, What: []string{evil}}}
	p.Unread = []Unread{{Branch: evil, Why: evil}}
	p.NoRunSheet = evil
	return p
}

// TestHostileNames puts marks, tags and mentions into every name that a user
// may choose, and asks that none of them is read as such.
func TestHostileNames(t *testing.T) {
	p := hostile()
	page := print(t, p, 0)
	if strings.Contains(page, "\x1b") {
		t.Error("a control character is on the page")
	}
	doc := goldmark.New(goldmark.WithExtensions(extension.GFM)).Parser().Parse(text.NewReader([]byte(page)))
	_ = ast.Walk(doc, func(node ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch x := node.(type) {
		case *ast.Link:
			t.Errorf("a link to %s", x.Destination)
		case *ast.Image:
			t.Errorf("an image of %s", x.Destination)
		case *ast.RawHTML:
			t.Errorf("a tag: %s", x.Segments.Value([]byte(page)))
		case *ast.HTMLBlock:
			if s := string(x.Lines().Value([]byte(page))); strings.Contains(s, "script") && !strings.Contains(s, "&lt;script") {
				t.Errorf("a tag: %s", s)
			}
		case *ast.Text:
			s := string(x.Value([]byte(page)))
			if parent := node.Parent(); parent.Kind() != ast.KindCodeSpan && (strings.Contains(s, "@everyone") || strings.Contains(s, "#1 ")) {
				t.Errorf("a mention or a reference: %q", s)
			}
		}
		return ast.WalkContinue, nil
	})
}

// TestMarkdownFits makes a change of many racks, and asks that the page keeps
// within its size and names what it leaves out.
func TestMarkdownFits(t *testing.T) {
	p := ferry(t)
	for range 400 {
		p.Lint.Findings = append(p.Lint.Findings, p.Lint.Findings[0])
	}
	whole := len([]rune(print(t, p, 1<<20)))
	before := whole + 1
	for _, size := range []int{whole, whole - 1, 9000, 6000, 4500} {
		page := print(t, p, size)
		n := len([]rune(page))
		if n > size {
			t.Errorf("size %d: the page has %d characters", size, n)
		}
		if n > before {
			t.Errorf("size %d: %d characters, more than with a larger size", size, n)
		}
		before = n
		if left := strings.Contains(page, "Left out, since a comment may have"); left != (size < whole) {
			t.Errorf("size %d of %d: says what it leaves out: %v", size, whole, left)
		}
		if !strings.Contains(page, "Brings 1 error") || !strings.Contains(page, caution) {
			t.Errorf("size %d: verdict or caution is missing", size)
		}
	}
}
