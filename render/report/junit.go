package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"cagenut/lang/quantity"
	"cagenut/lint"
)

// JUnit prints the page as a file of test results, for platforms that show
// those. A rule is a suite; each finding is a case that failed, or that is
// noted where it is below [Page.FailOn]; what is waived or could not be checked
// is a case that was skipped; a rule that found nothing has one case that says
// so. There is no published standard of the form: it keeps to the elements and
// attributes that its readers agree on.
func JUnit(w io.Writer, p *Page) error {
	fail := p.FailOn
	if fail == lint.NoLevel {
		fail = lint.Error
	}
	j := &junitWriter{places: p.places(), fail: fail, suites: map[string]*junitSuite{}}
	for _, r := range p.Rules {
		j.suite(r.ID)
	}
	for _, e := range p.entries(true) {
		j.entry(&e)
	}
	for _, u := range p.Result.Unchecked {
		j.add(u.Rule, u.Thing, junitCase{Skipped: &junitText{Message: "not checked: " + u.Because}})
	}
	doc := junitDocument{Name: "cagenut lint"}
	ids := make([]string, 0, len(j.suites))
	for id := range j.suites {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		s := j.suites[id]
		if len(s.Cases) == 0 {
			j.add(id, "no finding in "+quantity.Count(p.Result.Racks, "rack"), junitCase{})
		}
		doc.Tests += s.Tests
		doc.Failures += s.Failures
		doc.Skipped += s.Skipped
		doc.Suites = append(doc.Suites, s)
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	enc := xml.NewEncoder(w)
	enc.Indent("", "  ")
	if err := enc.Encode(doc); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

type junitDocument struct {
	XMLName  xml.Name      `xml:"testsuites"`
	Name     string        `xml:"name,attr"`
	Tests    int           `xml:"tests,attr"`
	Failures int           `xml:"failures,attr"`
	Errors   int           `xml:"errors,attr"`
	Skipped  int           `xml:"skipped,attr"`
	Suites   []*junitSuite `xml:"testsuite"`
}

type junitSuite struct {
	Name     string      `xml:"name,attr"`
	Tests    int         `xml:"tests,attr"`
	Failures int         `xml:"failures,attr"`
	Errors   int         `xml:"errors,attr"`
	Skipped  int         `xml:"skipped,attr"`
	Cases    []junitCase `xml:"testcase"`
	names    map[string]int
}

type junitCase struct {
	Name    string     `xml:"name,attr"`
	Class   string     `xml:"classname,attr"`
	File    string     `xml:"file,attr,omitempty"`
	Line    int        `xml:"line,attr,omitempty"`
	Failure *junitText `xml:"failure"`
	Skipped *junitText `xml:"skipped"`
	Out     string     `xml:"system-out,omitempty"`
}

type junitText struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr,omitempty"`
	Text    string `xml:",chardata"`
}

type junitWriter struct {
	*places
	fail   lint.Level
	suites map[string]*junitSuite
}

func (j *junitWriter) suite(id string) *junitSuite {
	s := j.suites[id]
	if s == nil {
		s = &junitSuite{Name: id, names: map[string]int{}}
		j.suites[id] = s
	}
	return s
}

// add puts a case into the suite of a rule. Names are made unlike, because
// readers take cases of one name for the same.
func (j *junitWriter) add(rule, name string, c junitCase) {
	s := j.suite(rule)
	if name == "" {
		name = "estate"
	}
	s.names[name]++
	if n := s.names[name]; n > 1 {
		name = fmt.Sprintf("%s (%d)", name, n)
	}
	c.Name, c.Class = name, rule
	s.Tests++
	if c.Failure != nil {
		s.Failures++
	}
	if c.Skipped != nil {
		s.Skipped++
	}
	s.Cases = append(s.Cases, c)
}

func (j *junitWriter) entry(e *entry) {
	var c junitCase
	lines := []string{}
	if d := j.of(e.At); d != nil {
		c.File, c.Line = d.File, d.Line
		lines = append(lines, fmt.Sprintf("%s:%d:%d", d.File, d.Line, d.Column))
	}
	for _, r := range e.Related {
		line := r.Message
		if d := j.of(r.At); d != nil {
			line = fmt.Sprintf("%s:%d:%d: %s", d.File, d.Line, d.Column, line)
		}
		lines = append(lines, line)
	}
	if e.Detail != "" {
		lines = append(lines, e.Detail)
	}
	text := strings.Join(lines, "\n")
	switch {
	case e.Waiver != nil:
		c.Skipped = &junitText{Message: "waived: " + e.Waiver.Reason, Text: e.Message + "\n" + text}
	case e.Level >= j.fail:
		c.Failure = &junitText{Message: e.Message, Type: e.Level.String(), Text: text}
	default:
		c.Out = e.Level.String() + ": " + e.Message + "\n" + text
	}
	name := e.Thing
	if e.Mistake {
		name = j.page.path(e.At.File)
	}
	j.add(e.Rule, name, c)
}
