package explain_test

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/lint/policy"
	"cagenut/lint/rules"
	"cagenut/render/explain"
)

var update = flag.Bool("update", false, "write what is printed as what is wanted")

func golden(t *testing.T, name, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v (run: go generate ./render/explain)", err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s has drifted from the code (-want +got):\n%s\nrun: go generate ./render/explain", name, diff)
	}
}

// The references in the repository say what the code says of itself.
func TestReferences(t *testing.T) {
	golden(t, "../../lint/RULES.md", explain.Rules(rules.All()))
	golden(t, "../../lang/LANGUAGE.md", explain.Language())
}

func TestEveryRuleAndNameIsThere(t *testing.T) {
	text := explain.Rules(rules.All())
	for _, r := range rules.All() {
		if !strings.Contains(text, "\n## "+r.ID+"\n") {
			t.Errorf("no chapter on %s", r.ID)
		}
	}
	language := explain.Language()
	for _, b := range lang.Schema() {
		if !strings.Contains(language, "\n### "+b.Name) {
			t.Errorf("no chapter on block %s", b.Name)
		}
		for _, a := range b.Attributes {
			if !strings.Contains(language, "| `"+a.Name+"` |") {
				t.Errorf("%s: no line on %s", b.Name, a.Name)
			}
		}
	}
	for _, f := range policy.Functions() {
		if !strings.Contains(language, "| `"+f.Usage+"` |") {
			t.Errorf("no line on %s", f.Usage)
		}
	}
}

const site = `estate "e" {
  rules = "2026.1"
}
room "hq" {
}
adjust "load/heavy-high" {
  limit  = "18 kg"
  reason = "no lift in the building"
}
adjust "load/heavy-high" {
  level  = "error"
  within = [room.hq, kind.ups]
  reason = "low ceiling"
}
waive "load/heavy-high" {
  on     = rack.a.store-1
  until  = "2027-01-31"
  reason = "until the lift comes"
  by     = "facilities"
}
policy "owned" {
  each    = rack
  where   = rack.name != "spare"
  require = rack.owner != ""
  say     = "${rack.name} is nobody's"
  level   = "error"
  reason  = "somebody answers the telephone"
  source  = "house rule 12"
}
trial "owned" {
  estate = ""
  finds  = []
}
rack "a" {
  frame = frame.cab
}
frame "cab" {
  system = "19in"
  units  = 42
}
`

func TestPages(t *testing.T) {
	files := map[string]string{"estate.hcl": site}
	e, diags, err := lang.Load(context.Background(), source.Memory("test", files), lang.Options{})
	if err != nil {
		t.Fatal(err, diags)
	}
	own, mistakes := policy.Rules(e, estate.NewDate(2026, time.November, 25))
	if len(own) != 1 {
		t.Fatal(mistakes)
	}
	look := explain.Look{Width: 80, Where: func(r estate.Range) string {
		return fmt.Sprintf("%s:%d", r.File, 1+strings.Count(site[:r.Start], "\n"))
	}}
	byName := lint.Names(append(rules.All(), own...))
	for _, id := range []string{"load/heavy-high", "record/unknown-name", "policy/owned"} {
		var b bytes.Buffer
		if err := explain.Page(&b, byName[id], e, "", look); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(b.String(), "\n") {
			if len(line) > 80 && !strings.HasPrefix(line, "  ") { // examples are not broken
				t.Errorf("%s: line longer than 80 cells: %s", id, line)
			}
		}
		golden(t, "testdata/"+strings.ReplaceAll(id, "/", "-")+".txt", b.String())
	}
	newer := &lint.Rule{ID: "test/newer", Since: "2031.2", Level: lint.Note, Summary: "comes later"}
	var b bytes.Buffer
	if err := explain.List(&b, []*lint.Rule{byName["load/heavy-high"], byName["record/no-owner"], newer, own[0]}, e, "", look); err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/list.txt", b.String())
}
