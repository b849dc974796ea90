package report

import (
	"fmt"
	"io"
	"strings"
)

// A Form is one way of printing a page.
type Form struct {
	Name  string // as --format takes it
	Doc   string // what it is for, in a few words
	Print func(io.Writer, *Page, Look) error
}

// Forms lists the forms but text, in the order in which help shows them.
func Forms() []Form {
	return []Form{
		{"json", "this program's own JSON, for scripts", anyhow(JSON)},
		{"sarif", "SARIF 2.1.0 of OASIS, for code scanning", anyhow(SARIF)},
		{"junit", "test results as XML", anyhow(JUnit)},
		{"github", "text, and annotations that GitHub shows beside the lines", GitHub},
		{"gitlab", "code quality report that GitLab shows in a merge request", anyhow(GitLab)},
	}
}

// anyhow is a way of printing that looks the same everywhere.
func anyhow(f func(io.Writer, *Page) error) func(io.Writer, *Page, Look) error {
	return func(w io.Writer, p *Page, _ Look) error { return f(w, p) }
}

// FormNames gives the names of all forms for help and completion, text first.
func FormNames() []string {
	all := []string{"text"}
	for _, f := range Forms() {
		all = append(all, f.Name)
	}
	return all
}

// Print prints the page in the named form. The look is for text; of it
// only whether it keeps to ASCII holds for the text in another form.
func Print(w io.Writer, form string, p *Page, look Look) error {
	if form == "" || form == "text" {
		return Text(w, p, look)
	}
	for _, f := range Forms() {
		if f.Name == form {
			return f.Print(w, p, look)
		}
	}
	return UnknownForm(form)
}

// UnknownForm says which forms there are.
func UnknownForm(form string) error {
	return fmt.Errorf("%q is no format of lint; write one of %s", form, strings.Join(FormNames(), ", "))
}
