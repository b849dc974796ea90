package report

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Counts are the figures of the last line of a report. Waived findings are in
// none of the first three.
type Counts struct {
	Errors    int `json:"errors"`
	Warnings  int `json:"warnings"`
	Notes     int `json:"notes"`
	Waived    int `json:"waived"`
	Unchecked int `json:"not_checked"`
	Racks     int `json:"racks"`
	Mounts    int `json:"mounts"`
}

// Counts adds up the page.
func (p *Page) Counts() Counts {
	c := Counts{Unchecked: len(p.Result.Unchecked), Racks: p.Result.Racks, Mounts: p.Result.Mounts}
	for i := range p.Result.Findings {
		if f := &p.Result.Findings[i]; f.Waiver != nil {
			c.Waived++
		} else {
			c.add(f.Level)
		}
	}
	for _, m := range p.Mistakes {
		c.add(level(m.Severity))
	}
	return c
}

func (c *Counts) add(l lint.Level) {
	switch l {
	case lint.Error:
		c.Errors++
	case lint.Warning:
		c.Warnings++
	case lint.Note:
		c.Notes++
	}
}

// Worst gives the gravest level that was counted, or [lint.NoLevel].
func (c Counts) Worst() lint.Level {
	switch {
	case c.Errors > 0:
		return lint.Error
	case c.Warnings > 0:
		return lint.Warning
	case c.Notes > 0:
		return lint.Note
	}
	return lint.NoLevel
}

// String gives the summary in one line: "3 errors, 2 warnings, 41 not checked
// in 42 racks, 611 mounts". Where nothing was found it says that, and no more
// than that: what was not checked may still be wrong.
func (c Counts) String() string {
	found := "no finding among the checked rules"
	if c.Worst() != lint.NoLevel {
		found = quantity.Count(c.Errors, "error") + ", " + quantity.Count(c.Warnings, "warning")
		if c.Notes > 0 {
			found += ", " + quantity.Count(c.Notes, "note")
		}
	}
	return fmt.Sprintf("%s, %d not checked in %s, %s", found, c.Unchecked, quantity.Count(c.Racks, "rack"), quantity.Count(c.Mounts, "mount"))
}

// remarks are the sentences that stand before the summary: what is waived,
// what a base had, what could not be read.
func (p *Page) remarks() []string {
	var all []string
	if n, until := p.waived(); n > 0 {
		line := quantity.Count(n, "finding") + " waived"
		if until != 0 {
			line += ", " + map[bool]string{true: "until ", false: "the first until "}[n == 1] + until.String()
		}
		all = append(all, line)
	}
	if b := p.Base; b != nil {
		all = append(all, fmt.Sprintf("compared with %s: only what is new is shown; %d cured, %d there before", b.Name, b.Cured, b.Old))
	}
	if len(p.Broken) > 0 {
		names := make([]string, 0, 3)
		for _, f := range p.Broken[:min(len(p.Broken), 3)] {
			names = append(names, p.path(f))
		}
		if more := len(p.Broken) - len(names); more > 0 {
			names = append(names, fmt.Sprintf("%d more", more))
		}
		all = append(all, fmt.Sprintf("%s could not be read whole (%s): what is declared there may be missing above",
			quantity.Count(len(p.Broken), "file"), strings.Join(names, ", ")))
	}
	return all
}

// waived counts waived findings and gives the day on which the first waiver
// ends.
func (p *Page) waived() (n int, until estate.Date) {
	for i := range p.Result.Findings {
		w := p.Result.Findings[i].Waiver
		if w == nil {
			continue
		}
		n++
		if until == 0 || w.Until != 0 && w.Until < until {
			until = w.Until
		}
	}
	return n, until
}
