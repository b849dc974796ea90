package runsheet_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"cagenut/examples"
	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/lint/rules"
	"cagenut/lint/sequence"
	"cagenut/render/runsheet"
	"cagenut/testdata/outside"
)

var update = flag.Bool("update", false, "rewrite golden files")

// golden compares got with the named file, or writes it under -update.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(name, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v (run: go test ./render/runsheet -update)", err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/runsheet -update", name, diff)
	}
}

// ferry gives the ferry line's estate as it is on a branch.
func ferry(t testing.TB, branch string) *estate.Estate {
	t.Helper()
	commits, err := examples.FerryHistory()
	if err != nil {
		t.Fatal(err)
	}
	tips := map[string]map[string]string{"main": {}}
	for _, c := range commits {
		if tips[c.Branch] == nil {
			tips[c.Branch] = map[string]string{}
			for name, text := range tips[c.From] {
				tips[c.Branch][name] = text
			}
		}
		for _, f := range c.Files {
			tips[c.Branch][f.Name] = string(f.Data)
		}
	}
	e, diags, err := lang.Load(context.Background(), source.Memory(branch, tips[branch]), lang.Options{})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	return e
}

func plan(t testing.TB, from, to string) *sequence.Plan {
	t.Helper()
	p, err := sequence.Make(context.Background(), change.Between(ferry(t, from), ferry(t, to)), sequence.Options{
		Rules: rules.All(), Today: estate.NewDate(2026, 11, 25), From: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var look = runsheet.Options{Before: "main", After: "mended", Record: "CR-17"}

func TestMarkdown(t *testing.T) {
	for _, branch := range []string{"mended", "ship-swap"} {
		var b bytes.Buffer
		if err := runsheet.Markdown(&b, plan(t, "main", branch), look); err != nil {
			t.Fatal(err)
		}
		golden(t, branch+".md", b.Bytes())
	}
	ascii := look
	ascii.ASCII = true
	var b bytes.Buffer
	if err := runsheet.Markdown(&b, plan(t, "main", "ship-swap"), ascii); err != nil {
		t.Fatal(err)
	}
	for _, r := range b.String() {
		if r > 126 {
			t.Fatalf("%q in an ASCII sheet", r)
		}
	}
}

// Every step that needs a caution points to one, and all of them are printed;
// nothing is called safe or compliant.
func TestCautionsArePrinted(t *testing.T) {
	p := plan(t, "main", "ship-swap")
	var md, html bytes.Buffer
	if err := runsheet.Markdown(&md, p, look); err != nil {
		t.Fatal(err)
	}
	if err := runsheet.HTML(&html, p, look); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{md.String(), html.String()} {
		if !strings.Contains(text, "Planning aid. It checks declared data only and certifies nothing.") {
			t.Error("the planning aid line is missing")
		}
		if m := regexp.MustCompile(`(?i)\b(is|are) safe\b|\bcompliant\b|\bOK to\b`).FindString(text); m != "" {
			t.Errorf("the sheet says %q", m)
		}
	}
	for i := range p.Steps {
		for _, c := range p.Steps[i].Cautions {
			if !strings.Contains(md.String(), c) {
				t.Errorf("caution of step %d is not printed: %s", i+1, c)
			}
		}
	}
}

func TestJSON(t *testing.T) {
	var b, again bytes.Buffer
	p := plan(t, "main", "mended")
	if err := runsheet.JSON(&b, p, look); err != nil {
		t.Fatal(err)
	}
	if err := runsheet.JSON(&again, plan(t, "main", "mended"), look); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Error("the same change gives other bytes")
	}
	var d runsheet.Document
	r := json.NewDecoder(&b)
	r.DisallowUnknownFields()
	if err := r.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if d.Format != 1 || d.Of != "window" || len(d.Steps) != len(p.Steps) || len(d.Windows) != len(p.Windows) {
		t.Errorf("format %d of %q with %d steps and %d windows", d.Format, d.Of, len(d.Steps), len(d.Windows))
	}
	for i, s := range d.Steps {
		if s.Number != i+1 || s.Do == "" || s.Start == "" || s.After == nil {
			t.Errorf("step %d: %+v", i+1, s)
		}
	}
	if strings.Contains(again.String(), "null") {
		t.Error("a list is null")
	}
}

func TestCSV(t *testing.T) {
	var b bytes.Buffer
	p := plan(t, "main", "mended")
	if err := runsheet.CSV(&b, p, look); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != len(p.Steps)+1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		for _, c := range row {
			if c != "" && strings.ContainsRune("=+@", rune(c[0])) {
				t.Errorf("a spreadsheet would reckon %q", c)
			}
		}
	}
}

// An event as an independent reader sees it.
type event struct {
	UID, Start, End, Stamp, Summary, Location, Description string
}

const pythonReader = `
import sys, json, icalendar
out = []
for e in icalendar.Calendar.from_ical(sys.stdin.buffer.read()).walk("VEVENT"):
    z = lambda n: e.decoded(n).strftime("%Y-%m-%dT%H:%M:%SZ")
    out.append({"UID": str(e["UID"]), "Start": z("DTSTART"), "End": z("DTEND"), "Stamp": z("DTSTAMP"),
        "Summary": str(e["SUMMARY"]), "Location": str(e["LOCATION"]), "Description": str(e["DESCRIPTION"])})
print(json.dumps(out))
`

const nodeReader = `
const ical = require("ical.js");
const c = new ical.Component(ical.parse(require("fs").readFileSync(0, "utf8")));
console.log(JSON.stringify(c.getAllSubcomponents("vevent").map(v => {
  const e = new ical.Event(v);
  return {UID: e.uid, Start: e.startDate.toString(), End: e.endDate.toString(), Stamp: v.getFirstPropertyValue("dtstamp").toString(),
    Summary: e.summary, Location: e.location, Description: e.description};
})));
`

// The calendar is read back by two libraries that did not write it.
func TestCalendarIsReadBack(t *testing.T) {
	p := plan(t, "main", "mended")
	stamp := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	var b bytes.Buffer
	if err := runsheet.Calendar(&b, p, look, stamp); err != nil {
		t.Fatal(err)
	}
	golden(t, "mended.ics", b.Bytes())
	for _, line := range strings.SplitAfter(b.String(), "\n") {
		if len(line) > 77 || line != "" && !strings.HasSuffix(line, "\r\n") {
			t.Errorf("RFC 5545 section 3.1 wants lines of 75 octets ended by CRLF: %q", line)
		}
	}
	if len(p.Windows) < 2 {
		t.Fatalf("%d windows", len(p.Windows))
	}
	readers := map[string]func(t *testing.T) string{
		"python3-icalendar": func(t *testing.T) string {
			python := "/usr/bin/python3" // the one that Debian's packages are for
			if err := exec.Command(python, "-c", "import icalendar").Run(); err != nil {
				outside.Missing(t, "python3-icalendar")
			}
			return outside.Run(t, b.String(), python, "-c", pythonReader)
		},
		"ical.js": func(t *testing.T) string {
			outside.NeedNode(t, "ical.js")
			return outside.Run(t, b.String(), outside.Need(t, "node"), "-e", nodeReader)
		},
	}
	for name, read := range readers {
		t.Run(name, func(t *testing.T) {
			var got []event
			if err := json.Unmarshal([]byte(read(t)), &got); err != nil {
				t.Fatal(err)
			}
			if len(got) != len(p.Windows) {
				t.Fatalf("%d events, want %d", len(got), len(p.Windows))
			}
			seen := map[string]bool{}
			for i, n := range p.Windows {
				e := got[i]
				if e.Start != n.Opens.UTC().Format(time.RFC3339) || e.End != n.Closes.UTC().Format(time.RFC3339) || e.Stamp != stamp.Format(time.RFC3339) {
					t.Errorf("event %d from %s to %s, stamped %s", i+1, e.Start, e.End, e.Stamp)
				}
				if seen[e.UID] || e.UID == "" {
					t.Errorf("UID %q", e.UID)
				}
				seen[e.UID] = true
				if !strings.Contains(e.Summary, "Change window") || e.Location != "hq quay" || !strings.Contains(e.Description, "CR-17") || !strings.Contains(e.Description, "If in doubt, stop.") {
					t.Errorf("event %d: %q, %q, %q", i+1, e.Summary, e.Location, e.Description)
				}
			}
		})
	}
}

// A browser prints the page on A4, with every step on it.
func TestHTMLPrintsOnA4(t *testing.T) {
	p := plan(t, "main", "mended")
	var b bytes.Buffer
	if err := runsheet.HTML(&b, p, look); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<script") || strings.Contains(b.String(), "http") {
		t.Error("the page runs or loads something")
	}
	chromium, pdftotext, pdfinfo := outside.Need(t, "chromium"), outside.Need(t, "pdftotext"), outside.Need(t, "pdfinfo")
	dir := t.TempDir()
	page, pdf := filepath.Join(dir, "sheet.html"), filepath.Join(dir, "sheet.pdf")
	if err := os.WriteFile(page, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	print := exec.CommandContext(ctx, chromium, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--print-to-pdf="+pdf, "file://"+page)
	if out, err := print.CombinedOutput(); err != nil {
		t.Fatalf("chromium: %v\n%s", err, out)
	}
	info := outside.Run(t, "", pdfinfo, pdf)
	if !regexp.MustCompile(`Page size:\s+841\.\d+ x 59[45]\.\d+ pts \(A4\)|Page size:\s+84[12](\.\d+)? x 59[456](\.\d+)? pts`).MatchString(info) {
		t.Errorf("the page is not A4:\n%s", info)
	}
	text := strings.Join(strings.Fields(outside.Run(t, "", pdftotext, "-layout", pdf, "-")), " ")
	for _, want := range []string{"Planning aid.", "Hold point H1", "Back page", "Stop rules"} {
		if !strings.Contains(text, want) {
			t.Errorf("the print lacks %q", want)
		}
	}
	for _, j := range p.Jobs {
		if j.Mount() != nil && !strings.Contains(text, j.Name) {
			t.Errorf("the print lacks %s", j.Name)
		}
	}
}

// Where a site asks for notice, the front page says by when.
func TestNoticeIsOnTheFrontPage(t *testing.T) {
	for _, notice := range []int{0, 6} {
		after := ferry(t, "mended")
		for _, site := range after.Sites {
			site.Notice = notice
		}
		p, err := sequence.Make(context.Background(), change.Between(ferry(t, "main"), after), sequence.Options{From: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := runsheet.Markdown(&b, p, runsheet.Options{Bare: true}); err != nil {
			t.Fatal(err)
		}
		says := ""
		if notice > 0 {
			n := p.Windows[0]
			says = fmt.Sprintf("told by %s (6 days before window 1)", n.Opens.AddDate(0, 0, -6).Format("2006-01-02"))
		}
		if got := strings.Contains(b.String(), "told by "); got != (notice > 0) || !strings.Contains(b.String(), says) {
			t.Errorf("notice of %d days: want %q in\n%s", notice, says, b.String())
		}
	}
}
