package report

import (
	"io"

	"cagenut/lint"
	"cagenut/render/document"
)

// A gitlabIssue is one element of GitLab's code quality report, with the fields
// that its documentation demands.
type gitlabIssue struct {
	Description string `json:"description"`
	CheckName   string `json:"check_name"`
	Fingerprint string `json:"fingerprint"`
	Severity    string `json:"severity"` // info, minor, major, critical or blocker
	Location    struct {
		Path  string `json:"path"`
		Lines struct {
			Begin int `json:"begin"`
			End   int `json:"end"`
		} `json:"lines"`
	} `json:"location"`
}

var gitlabSeverities = [...]string{lint.NoLevel: "info", lint.Off: "info", lint.Note: "info", lint.Warning: "minor", lint.Error: "major"}

// GitLab prints the page as a code quality report, the JSON list that GitLab
// shows in a merge request. Waived findings are left out: the form has no
// place for them.
func GitLab(w io.Writer, p *Page) error {
	places := p.places()
	all := []gitlabIssue{}
	for _, e := range p.entries(false) {
		issue := gitlabIssue{Description: e.Message, CheckName: e.Rule, Fingerprint: e.Key, Severity: gitlabSeverities[e.Level]}
		issue.Location.Path = p.root()
		issue.Location.Lines.Begin, issue.Location.Lines.End = 1, 1
		if d := places.of(e.At); d != nil {
			issue.Location.Path = d.File
			issue.Location.Lines.Begin, issue.Location.Lines.End = d.Line, d.EndLine
		}
		all = append(all, issue)
	}
	return document.JSON(w, all)
}
