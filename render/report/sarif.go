package report

import (
	"fmt"
	"io"
	"net/url"
	"slices"
	"strings"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// sarifSchema is where OASIS keeps the schema of SARIF 2.1.0, errata 01.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// root is where a result that points nowhere is shown: platforms want a place
// of each.
func (p *Page) root() string {
	if p.Root == "" {
		return p.path("estate.hcl")
	}
	return p.path(p.Root)
}

// SARIF prints the page in the Static Analysis Results Interchange Format
// 2.1.0 of OASIS: paths relative to the repository's root, fingerprints that
// outlive a change of lines, waived findings with their suppression. What was
// not checked is a notification of the run, one for each reason: as results
// they would drown the findings on platforms that show every result.
func SARIF(w io.Writer, p *Page) error {
	s := &sarifWriter{places: p.places(), rules: map[string]int{}}
	run := sarif.NewRun()
	driver := sarif.NewToolComponent().WithName("cagenut")
	if p.Version != "" {
		driver.WithVersion(p.Version)
	}
	run.Tool = sarif.NewTool().WithDriver(driver)
	run.WithColumnKind("unicodeCodePoints")
	s.run, s.driver = run, driver

	rules := slices.Clone(p.Rules)
	slices.SortFunc(rules, func(a, b *lint.Rule) int { return strings.Compare(a.ID, b.ID) })
	for _, r := range rules {
		s.rule(r)
	}
	for _, e := range p.entries(true) {
		run.AddResult(s.result(&e))
	}
	invocation := sarif.NewInvocation().WithExecutionSuccessful(len(p.Broken) == 0)
	for _, r := range Reasons(p.Result.Unchecked) {
		invocation.AddToolExecutionNotification(s.notification(&r))
	}
	run.AddInvocation(invocation)

	report := sarif.NewReport()
	report.Schema = sarifSchema
	report.AddRun(run)
	return report.PrettyWrite(w)
}

type sarifWriter struct {
	*places
	run    *sarif.Run
	driver *sarif.ToolComponent
	rules  map[string]int // index by identifier
}

// rule describes a rule to the platform.
func (s *sarifWriter) rule(r *lint.Rule) {
	d := sarif.NewReportingDescriptor().WithID(r.ID)
	d.WithShortDescription(sarif.NewMultiformatMessageString().WithText(r.Summary))
	d.WithHelp(sarif.NewMultiformatMessageString().WithText(help(r, false)).WithMarkdown(help(r, true)))
	level := "warning"
	if r.Level != lint.NoLevel && r.Level != lint.Off {
		level = r.Level.String()
	}
	d.WithDefaultConfiguration(sarif.NewReportingConfiguration().WithEnabled(r.Level != lint.Off).WithLevel(level))
	group, _, _ := strings.Cut(r.ID, "/")
	d.WithProperties(sarif.NewPropertyBag().AddTag(group))
	d.DeprecatedIds = r.Aliases
	s.rules[r.ID] = len(s.driver.Rules)
	s.driver.AddRule(d)
}

// help explains a rule in a few paragraphs.
func help(r *lint.Rule, markdown bool) string {
	bold := func(s string) string {
		if markdown {
			return "**" + s + "**"
		}
		return s
	}
	parts := []string{r.Summary + ".", r.Why}
	if r.Omits != "" {
		parts = append(parts, bold("Not covered:")+" "+r.Omits)
	}
	if r.Decides != "" {
		parts = append(parts, bold("This only screens.")+" Who decides: "+r.Decides+".")
	}
	if r.Source != "" {
		parts = append(parts, bold("Source:")+" "+r.Source)
	}
	if markdown && r.Bad != "" && r.Good != "" {
		parts = append(parts, bold("Found in"), "```hcl\n"+strings.TrimSpace(r.Bad)+"\n```", bold("Mended"), "```hcl\n"+strings.TrimSpace(r.Good)+"\n```")
	}
	parts = slices.DeleteFunc(parts, func(s string) bool { return strings.TrimSpace(s) == "" })
	return strings.Join(parts, "\n\n")
}

func (s *sarifWriter) result(e *entry) *sarif.Result {
	index, ok := s.rules[e.Rule]
	if !ok { // a policy of the site, or the language itself
		index = len(s.driver.Rules)
		s.rules[e.Rule] = index
		d := sarif.NewReportingDescriptor().WithID(e.Rule)
		if e.Mistake {
			d.WithShortDescription(sarif.NewMultiformatMessageString().WithText("text of the estate that cannot be read"))
		}
		s.driver.AddRule(d)
	}
	message := e.Message
	if e.Detail != "" {
		message += "\n" + e.Detail
	}
	r := sarif.NewRuleResult(e.Rule).
		WithRuleIndex(index).
		WithLevel(e.Level.String()).
		WithMessage(sarif.NewTextMessage(message))
	// The second is the name that code scanning platforms match by: without
	// it they match by the text of the line, and a finding that moves is new.
	r.WithPartialFingerprints(map[string]string{"cagenut/v1": e.Key, "primaryLocationLineHash": e.Key})
	at := s.location(e.At)
	if e.Thing != "" {
		at.AddLogicalLocation(sarif.NewLogicalLocation().WithFullyQualifiedName(e.Thing).WithKind("resource"))
	}
	r.AddLocation(at)
	for i, rel := range e.Related {
		r.AddRelatedLocation(s.location(rel.At).WithID(i + 1).WithMessage(sarif.NewTextMessage(rel.Message)))
	}
	for _, f := range e.Fixes {
		if len(f.Edits) > 0 {
			r.Fixes = append(r.Fixes, s.fix(f))
		}
	}
	if waiver := e.Waiver; waiver != nil {
		why := waiver.Reason
		if waiver.By != "" {
			why += " (" + waiver.By + ")"
		}
		if waiver.Until != 0 {
			why += ", until " + waiver.Until.String()
		}
		sup := sarif.NewSuppression().WithKind("inSource").WithStatus("accepted").WithJustification(why)
		if at := waiver.Source.At(); at.File != "" {
			sup.WithLocation(s.location(at))
		}
		r.AddSuppression(sup)
	}
	return r
}

// location gives a place; one that points nowhere is the head of the estate.
func (s *sarifWriter) location(at estate.Range) *sarif.Location {
	d := s.of(at)
	if d == nil {
		d = &DocumentPlace{File: s.page.root(), Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
	}
	return sarif.NewLocationWithPhysicalLocation(sarif.NewPhysicalLocation().
		WithArtifactLocation(artifact(d.File)).
		WithRegion(region(d)))
}

// artifact names a file by a relative URI reference.
func artifact(path string) *sarif.ArtifactLocation {
	return sarif.NewSimpleArtifactLocation((&url.URL{Path: path}).String())
}

func region(d *DocumentPlace) *sarif.Region {
	return sarif.NewRegion().WithStartLine(d.Line).WithStartColumn(d.Column).WithEndLine(d.EndLine).WithEndColumn(d.EndColumn)
}

func (s *sarifWriter) fix(f lint.Fix) *sarif.Fix {
	fix := sarif.NewFix().WithDescription(sarif.NewTextMessage(f.Title))
	for _, e := range f.Edits {
		d := s.of(e.At)
		if d == nil {
			continue
		}
		fix.AddArtifactChange(sarif.NewArtifactChange().
			WithArtifactLocation(artifact(d.File)).
			AddReplacement(sarif.NewReplacement().
				WithDeletedRegion(region(d)).
				WithInsertedContent(sarif.NewArtifactContent().WithText(e.New))))
	}
	return fix
}

// notification says what one reason kept from being judged.
func (s *sarifWriter) notification(r *Reason) *sarif.Notification {
	var kept []string
	for _, rule := range r.Rules {
		line := rule.Rule
		if len(rule.Things) > 0 {
			line += " on " + some(rule.Things, 10)
		}
		kept = append(kept, line)
	}
	n := sarif.NewNotification().WithLevel("note").
		WithMessage(sarif.NewTextMessage(fmt.Sprintf("not checked: %s: %s", r.Because, strings.Join(kept, "; "))))
	if !r.First.At.IsZero() {
		n.AddLocation(s.location(r.First.At))
	}
	return n
}
