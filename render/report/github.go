package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"cagenut/lang/quantity"
	"cagenut/lint"
)

// githubShows is how many annotations of one level GitHub shows of a step;
// what a step prints beyond them is lost.
const githubShows = 10

// GitHub prints the page as text, then as workflow commands that GitHub shows
// beside the lines they are about. It shows ten of a level, so the gravest are
// written and the last line says how many of how many those are.
func GitHub(w io.Writer, p *Page, look Look) error {
	if err := Text(w, p, Look{ASCII: look.ASCII}); err != nil {
		return err
	}
	out := bufio.NewWriter(w)
	places := p.places()
	all := p.entries(false)
	slices.SortStableFunc(all, func(a, b entry) int { return int(b.Level) - int(a.Level) })
	shown, total := map[lint.Level]int{}, map[lint.Level]int{}
	for _, e := range all {
		total[e.Level]++
		if shown[e.Level] == githubShows {
			continue
		}
		shown[e.Level]++
		title := e.Rule
		if e.Thing != "" {
			title += " on " + e.Thing
		}
		props := []string{"title=" + githubProperty.Replace(title)}
		if d := places.of(e.At); d != nil {
			props = append(props, "file="+githubProperty.Replace(d.File), fmt.Sprintf("line=%d", d.Line), fmt.Sprintf("endLine=%d", d.EndLine))
			if d.Line == d.EndLine { // columns across lines are refused
				props = append(props, fmt.Sprintf("col=%d", d.Column), fmt.Sprintf("endColumn=%d", d.EndColumn))
			}
		}
		message := e.Message
		if e.Detail != "" {
			message += "\n" + e.Detail
		}
		fmt.Fprintf(out, "::%s %s::%s\n", githubCommand(e.Level), strings.Join(props, ","), githubData.Replace(message))
	}
	var parts []string
	for _, l := range []lint.Level{lint.Error, lint.Warning, lint.Note} {
		if total[l] > 0 {
			parts = append(parts, fmt.Sprintf("%d of %s", shown[l], quantity.Count(total[l], l.String())))
		}
	}
	if len(parts) > 0 {
		fmt.Fprintf(out, "annotated: %s; all are in the text above\n", strings.Join(parts, ", "))
	}
	return out.Flush()
}

func githubCommand(l lint.Level) string {
	if l == lint.Note {
		return "notice"
	}
	return l.String()
}

// The characters that GitHub's documentation of workflow commands has escaped,
// in what is said and in what is said about it.
var (
	githubData     = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	githubProperty = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)
