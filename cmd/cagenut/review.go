package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/lint/sequence"
	"cagenut/render/review"
	"cagenut/render/runsheet"
)

const reviewLong = `Print one page about a change, for whoever must decide on it: what it brings and
cures, what it does to each rack, unit by unit and before and after, what could
not be checked, which other branches want the same, and the run sheet.

A...B compares B with where it left A; A..B and A B compare the two. Lines are
linked to where a template says:

  --links 'https://git.example/racks/blob/{commit}/{path}#L{line}'

In GitHub and GitLab pipelines the template comes from the environment.`

type reviewOptions struct {
	format string
	links  string
	size   int
	failOn string
	alone  bool
}

var reviewFormats = []string{"markdown", "html"}

func reviewCommand(p *program) *cobra.Command {
	var o reviewOptions
	cmd := &cobra.Command{
		Use:   "review A...B",
		Short: "print one page about a change, for its reviewer",
		Long:  reviewLong,
		Example: `  cagenut review main...proposal
  cagenut review origin/main...HEAD --fail-on error`,
		Args: atMost(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runReview(cmd.Context(), p, o, args)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&o.format, "format", "markdown", "`FORMAT` of the page: "+strings.Join(reviewFormats, ", "))
	flags.StringVar(&o.links, "links", "", "`TEMPLATE` of links to lines, with {commit}, {path} and {line}")
	flags.IntVar(&o.size, "size", review.CommentSize, "`CHARACTERS` that a Markdown page may have")
	flags.StringVar(&o.failOn, "fail-on", "", "`LEVEL` of what is brought from which the exit status is 1: error, warning or note (default: status 0)")
	flags.BoolVar(&o.alone, "no-branches", false, "do not look for other branches that want the same")
	return cmd
}

func runReview(ctx context.Context, p *program, o reviewOptions, args []string) error {
	if !slices.Contains(reviewFormats, o.format) {
		return usagef("--format %q: write one of %s", o.format, strings.Join(reviewFormats, ", "))
	}
	failOn := lint.NoLevel
	if o.failOn != "" {
		l, err := lint.ParseLevel(o.failOn)
		if err != nil || l == lint.Off {
			return usagef("--fail-on %q: write error, warning or note", o.failOn)
		}
		failOn = l
	}
	page, err := p.review(ctx, o, args)
	if err != nil {
		return err
	}
	if o.format == "html" {
		err = review.HTML(p.stdout, page)
	} else {
		err = review.Markdown(p.stdout, page, o.size)
	}
	if err != nil {
		return err
	}
	worst := lint.NoLevel
	for i := range page.Lint.Findings {
		worst = max(worst, page.Lint.Findings[i].Level)
	}
	if len(page.Mistakes) > 0 {
		worst = lint.Error
	}
	if failOn != lint.NoLevel && worst >= failOn {
		return errReported
	}
	return nil
}

// review reads both sides and judges what lies between them.
func (p *program) review(ctx context.Context, o reviewOptions, args []string) (*review.Page, error) {
	if p.at != "" {
		return nil, usagef("--at names one commit; write the two to compare as A...B")
	}
	if len(args) == 0 {
		return nil, usagef("review needs the two states to compare, such as main...HEAD; see: cagenut review --help")
	}
	place, err := p.locate()
	if err != nil {
		return nil, err
	}
	old, neu, err := place.Pair(ctx, args...)
	if err != nil {
		return nil, err
	}
	before, err := p.readTree(ctx, place, old)
	if err != nil {
		return nil, err
	}
	after, err := p.readTree(ctx, place, neu)
	if err != nil {
		return nil, err
	}
	was, _, err := p.judge(ctx, before, "")
	if err != nil {
		return nil, err
	}
	is, book, err := p.judge(ctx, after, "")
	if err != nil {
		return nil, err
	}
	c := change.Between(before.estate, after.estate)
	page := &review.Page{
		Old: side(before), New: side(after), Change: c, Deltas: c.Deltas(),
		Lint: lint.New(is, was, renames(c)), Rules: len(book), ASCII: p.plain() && o.format == "markdown",
		Place: linker(p, o.links, before, after),
	}
	for _, m := range after.mistakes {
		if m.Severity == lang.Error && !slices.ContainsFunc(before.mistakes, func(b lang.Diagnostic) bool { return b.File == m.File && b.Summary == m.Summary }) {
			page.Mistakes = append(page.Mistakes, review.Mistake{At: m.Range, Message: m.Summary})
		}
	}
	if err := p.planFor(ctx, page, before, after, o.format == "html"); err != nil {
		return nil, err
	}
	if !o.alone {
		if err := p.collisions(ctx, page, before, after); err != nil {
			return nil, err
		}
	}
	return page, nil
}

// planFor plans the work, and says on the page what comes of it, or why there
// is no plan.
func (p *program) planFor(ctx context.Context, page *review.Page, before, after *reading, html bool) error {
	for _, r := range []*reading{before, after} {
		if err := r.whole(); err != nil {
			page.NoRunSheet = "the text of " + r.tree.Name() + " has mistakes"
			return nil
		}
	}
	if page.Change.Empty() {
		return nil
	}
	// Record and reason are named when the window is planned, not when it is
	// reviewed.
	plan, err := p.plan(ctx, before.place, before.tree, page.Change, windowOptions{record: "named with the window", reason: "named with the window"})
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		page.NoRunSheet = err.Error()
		return nil
	}
	if len(plan.Jobs) == 0 {
		page.NoRunSheet = "nothing is to be done at the rack"
		return nil
	}
	page.Plan = &review.Plan{Facts: planFacts(plan), Findings: onlyOnPlan(plan.Findings, page.Lint.Findings)}
	look := runsheet.Options{ASCII: page.ASCII, Inches: page.Change.New.Lengths == "in", Bare: true}
	if html {
		page.Plan.Sheet, err = runsheet.Part(plan, look)
		return err
	}
	var sheet strings.Builder
	if err := runsheet.Markdown(&sheet, plan, look); err != nil {
		return err
	}
	page.Plan.RunSheet = sheet.String()
	return nil
}

// onlyOnPlan leaves out what a page says already of the layout: a cord that does
// not reach where the change puts its ends is too short in the layout as well.
func onlyOnPlan(plan, layout []lint.Finding) []lint.Finding {
	return slices.DeleteFunc(slices.Clone(plan), func(f lint.Finding) bool {
		return f.Rule == "plan/cord-short" && slices.ContainsFunc(layout, func(l lint.Finding) bool {
			return l.Rule == "power/cord-short" && l.Thing == f.Thing && slices.Equal(l.Others, f.Others)
		})
	})
}

// planFacts says in a few sentences what the work takes.
func planFacts(plan *sequence.Plan) []string {
	var facts []string
	for _, n := range plan.Windows {
		fact := fmt.Sprintf("window %d: %s, %s to %s (%s); needs %s of %s", n.Number, n.Window.Name,
			n.Opens.Format("Mon 2 January 2006 ")+n.Clock(n.Opens), n.Clock(n.Closes), n.Zone, n.Needs, n.Usable)
		if !n.LatestBack.IsZero() {
			fact += "; latest moment to turn back " + n.Clock(n.LatestBack)
		}
		facts = append(facts, fact)
	}
	if n := len(plan.Left); n > 0 {
		facts = append(facts, quantity.Count(n, "run of steps")+" fit into no window")
	}
	work := fmt.Sprintf("%s in %s, %s with %s %% added", plan.Minutes(), quantity.Count(len(plan.Steps), "step"), plan.WithContingency(plan.Minutes()),
		quantity.Number(100*plan.Contingency, 0))
	people, lift := 0, false
	for i := range plan.Steps {
		people, lift = max(people, plan.Steps[i].People), lift || plan.Steps[i].Lift
	}
	if people > 1 {
		work += fmt.Sprintf("; %d people", people)
	}
	if lift {
		work += "; a lift"
	}
	facts = append(facts, work)
	if n := len(plan.Parked); n > 0 {
		facts = append(facts, quantity.Count(n, "thing")+" parked on the way")
	}
	if n := len(plan.Refused); n > 0 {
		facts = append(facts, quantity.Count(n, "thing")+" cannot be done as it is asked for; the run sheet says what would make it possible")
	}
	for _, l := range plan.Losses() {
		facts = append(facts, fmt.Sprintf("%s: %s", l.What, l.Minutes))
	}
	return facts
}

func side(r *reading) review.Side {
	s := review.Side{Name: r.tree.Name(), Racks: len(r.estate.Racks)}
	if c := source.CommitOf(r.tree); c != nil {
		s.Commit = c.Hash.String()
	}
	for _, rack := range r.estate.Racks {
		s.Mounts += len(rack.Mounts)
	}
	return s
}
