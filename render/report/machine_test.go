package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/joshdk/go-junit"
	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"cagenut/lint"
	"cagenut/testdata/outside"
)

// hostile is a page whose names hold all that a format may stumble over.
func hostile(t testing.TB) *Page {
	page := sample(t)
	page.Path = func(file string) string { return "räcks 100%/a:b,c/" + file }
	page.Result.Findings[0].Message = "<b>&\"'%\r\n::error::x,y\x00\x1b[31m %0A"
	page.Result.Findings[0].Thing = "rack.<&,:>%"
	page.Result.Findings = append(page.Result.Findings, page.Result.Findings[1], lint.Finding{
		Rule: "policy/heavy-low", Level: lint.Warning, Message: "nowhere in particular",
	})
	page.Result.Findings[1].Fixes[0].Edits = []lint.Edit{{At: at(t, "hq/hq-a.hcl", "equipment.server", 1), New: "equipment.other"}}
	return page
}

func printed(t testing.TB, print func(io.Writer, *Page) error, p *Page) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := print(&out, p); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// unlooked is the form of GitHub with no look asked for.
func unlooked(w io.Writer, p *Page) error { return GitHub(w, p, Look{}) }

func TestMachineGoldens(t *testing.T) {
	for name, print := range map[string]func(io.Writer, *Page) error{
		"lint.sarif": SARIF, "lint_junit.xml": JUnit, "lint_github.txt": unlooked, "lint_gitlab.json": GitLab,
	} {
		golden(t, name, printed(t, print, sample(t)))
	}
}

// validate checks a document against a schema file.
func validate(t testing.TB, schema string, doc []byte) {
	t.Helper()
	compiled, err := jsonschema.NewCompiler().Compile(filepath.Join("testdata", schema))
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(value); err != nil {
		t.Errorf("%s: %v", schema, err)
	}
}

// The schema is that of OASIS for SARIF 2.1.0, errata 01.
func TestSARIFAgainstTheSchema(t *testing.T) {
	for _, page := range []*Page{sample(t), hostile(t), clean()} {
		out := printed(t, SARIF, page)
		validate(t, "sarif-schema-2.1.0.json", out)

		report, err := sarif.FromBytes(out)
		if err != nil {
			t.Fatal(err)
		}
		run := report.Runs[0]
		if want := len(page.Result.Findings) + len(page.Mistakes); len(run.Results) != want {
			t.Errorf("%d results, want %d", len(run.Results), want)
		}
		prints := map[string]bool{}
		for _, r := range run.Results {
			id := r.PartialFingerprints["cagenut/v1"]
			if id == "" || prints[id] {
				t.Errorf("fingerprint %q of %s is empty or stands twice", id, *r.RuleID)
			}
			prints[id] = true
			if got := *run.Tool.Driver.Rules[r.RuleIndex].ID; got != *r.RuleID {
				t.Errorf("rule index of %s is that of %s", *r.RuleID, got)
			}
			if uri := *r.Locations[0].PhysicalLocation.ArtifactLocation.URI; strings.HasPrefix(uri, "/") || strings.ContainsAny(uri, " ä") {
				t.Errorf("%q is no relative URI", uri)
			}
		}
	}
}

func TestSARIFSuppressesWhatIsWaived(t *testing.T) {
	report, err := sarif.FromBytes(printed(t, SARIF, sample(t)))
	if err != nil {
		t.Fatal(err)
	}
	var waived []string
	for _, r := range report.Runs[0].Results {
		for _, s := range r.Suppressions {
			waived = append(waived, fmt.Sprintf("%s: %s, %s, %s", *r.RuleID, *s.Kind, *s.Status, *s.Justification))
		}
	}
	want := []string{"fit/too-deep: inSource, accepted, door off until the new frame arrives (facilities), until 2027-01-31"}
	if diff := cmp.Diff(want, waived); diff != "" {
		t.Errorf("suppressions (-want +got):\n%s", diff)
	}
}

// A fingerprint outlives what moves the line, and differs between two findings
// of one line.
func TestFingerprintsOutliveLines(t *testing.T) {
	before := sample(t)
	after := sample(t)
	for i := range after.Result.Findings {
		after.Result.Findings[i].At.Start += 7
		after.Result.Findings[i].At.End += 7
	}
	keys := func(p *Page) (all []string) {
		for _, f := range p.Document().Findings {
			all = append(all, f.Key)
		}
		slices.Sort(all)
		return all
	}
	if diff := cmp.Diff(keys(before), keys(after)); diff != "" {
		t.Errorf("keys change with the place:\n%s", diff)
	}
}

func TestJUnitWithAReader(t *testing.T) {
	for name, page := range map[string]*Page{"sample": sample(t), "hostile": hostile(t), "clean": clean()} {
		suites, err := junit.Ingest(printed(t, JUnit, page))
		if err != nil {
			t.Fatal(err)
		}
		var got junit.Totals
		names := map[string]bool{}
		for _, s := range suites {
			got.Tests += s.Totals.Tests
			got.Failed += s.Totals.Failed
			got.Skipped += s.Totals.Skipped
			for _, c := range s.Tests {
				if names[c.Classname+" "+c.Name] {
					t.Errorf("%s: %s stands twice in %s", name, c.Name, c.Classname)
				}
				names[c.Classname+" "+c.Name] = true
			}
		}
		c := page.Counts()
		if got.Failed != c.Errors || got.Skipped != c.Waived+c.Unchecked {
			t.Errorf("%s: reader counts %d failed, %d skipped; want %d, %d", name, got.Failed, got.Skipped, c.Errors, c.Waived+c.Unchecked)
		}
	}
}

func TestJUnitFailsFromTheLevelAskedFor(t *testing.T) {
	page := sample(t)
	page.FailOn = lint.Note
	suites, err := junit.Ingest(printed(t, JUnit, page))
	if err != nil {
		t.Fatal(err)
	}
	failed := 0
	for _, s := range suites {
		failed += s.Totals.Failed
	}
	if c := page.Counts(); failed != c.Errors+c.Warnings+c.Notes {
		t.Errorf("%d failed, want every finding: %+v", failed, c)
	}
}

// The schema holds what GitLab's documentation demands of a report.
func TestGitLabAgainstTheSchema(t *testing.T) {
	for _, page := range []*Page{sample(t), hostile(t), clean()} {
		out := printed(t, GitLab, page)
		validate(t, "gitlab-schema.json", out)
		var issues []gitlabIssue
		if err := json.Unmarshal(out, &issues); err != nil {
			t.Fatal(err)
		}
		c := page.Counts()
		if len(issues) != c.Errors+c.Warnings+c.Notes {
			t.Errorf("%d issues, want %+v", len(issues), c)
		}
		seen := map[string]bool{}
		for _, i := range issues {
			if seen[i.Fingerprint] {
				t.Errorf("fingerprint %s stands twice", i.Fingerprint)
			}
			seen[i.Fingerprint] = true
		}
	}
}

// GitHub's own package for actions writes the same commands.
func TestGitHubAgainstItsPackage(t *testing.T) {
	outside.NeedNode(t, "@actions/core")
	node := outside.Need(t, "node")
	page := hostile(t)
	var ours []string
	for _, line := range strings.Split(string(printed(t, unlooked, page)), "\n") {
		if strings.HasPrefix(line, "::") {
			ours = append(ours, line)
		}
	}
	all := page.entries(false)
	slices.SortStableFunc(all, func(a, b entry) int { return int(b.Level) - int(a.Level) })
	var calls []map[string]any
	for _, e := range all {
		title := e.Rule
		if e.Thing != "" {
			title += " on " + e.Thing
		}
		props := map[string]any{"title": title}
		if d := page.places().of(e.At); d != nil {
			props["file"], props["startLine"], props["endLine"] = d.File, d.Line, d.EndLine
			props["startColumn"], props["endColumn"] = d.Column, d.EndColumn
		}
		message := e.Message
		if e.Detail != "" {
			message += "\n" + e.Detail
		}
		calls = append(calls, map[string]any{"level": githubCommand(e.Level), "message": message, "props": props})
	}
	in, err := json.Marshal(calls)
	if err != nil {
		t.Fatal(err)
	}
	script := `const core = require("@actions/core");
for (const c of JSON.parse(require("fs").readFileSync(0))) core[c.level](c.message, c.props);`
	cmd := exec.Command(node, "-e", script)
	cmd.Env = append(os.Environ(), "GITHUB_ACTIONS=true")
	cmd.Stdin = bytes.NewReader(in)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v", err)
	}
	theirs := strings.Split(strings.TrimSpace(string(out)), "\n")
	if diff := cmp.Diff(sorted(theirs), sorted(ours)); diff != "" {
		t.Errorf("commands (-theirs +ours):\n%s", diff)
	}
}

// sorted brings the properties of each command into one order: it carries no
// meaning.
func sorted(lines []string) (all []string) {
	for _, line := range lines {
		head, message, _ := strings.Cut(strings.TrimPrefix(line, "::"), "::")
		command, props, _ := strings.Cut(head, " ")
		list := strings.Split(props, ",")
		slices.Sort(list)
		all = append(all, command+" "+strings.Join(list, ",")+" "+message)
	}
	return all
}

func TestGitHubShowsTheWorstTen(t *testing.T) {
	page := clean()
	for i := range 14 {
		page.Result.Findings = append(page.Result.Findings,
			lint.Finding{Rule: "space/open-unit", Level: lint.Note, Thing: fmt.Sprint("note ", i)},
			lint.Finding{Rule: "space/overlap", Level: lint.Error, Thing: fmt.Sprint("error ", i)})
	}
	page.Result.Findings = append(page.Result.Findings, lint.Finding{Rule: "load/cantilever", Level: lint.Warning, Message: "one"})
	lines := strings.Split(strings.TrimSpace(string(printed(t, unlooked, page))), "\n")
	got := map[string]int{}
	order := ""
	for _, line := range lines {
		if command, _, ok := strings.Cut(strings.TrimPrefix(line, "::"), " "); ok && strings.HasPrefix(line, "::") {
			got[command]++
			if !strings.HasSuffix(order, command) {
				order += " " + command
			}
		}
	}
	if diff := cmp.Diff(map[string]int{"error": 10, "warning": 1, "notice": 10}, got); diff != "" || order != " error warning notice" {
		t.Errorf("commands %s in order%s", diff, order)
	}
	if want := "annotated: 10 of 14 errors, 1 of 1 warning, 10 of 14 notes; all are in the text above"; lines[len(lines)-1] != want {
		t.Errorf("last line %q, want %q", lines[len(lines)-1], want)
	}
}
