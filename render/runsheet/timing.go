package runsheet

import (
	"fmt"
	"io"
	"strings"

	"cagenut/lang/quantity"
	"cagenut/lint/sequence"
)

// Pace writes what measured minutes propose as a pace block, with what each
// figure rests on beside it. Tasks with too few lines keep their figure and are
// listed as comments.
func Pace(w io.Writer, all []sequence.Calibration, lines int) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# From %d measured lines of signed sheets: the median of each task, for one time.\n", lines)
	b.WriteString("pace {\n")
	width := 0
	for _, c := range all {
		if c.Enough {
			width = max(width, len(c.Task))
		}
	}
	for _, c := range all {
		note := fmt.Sprintf("%d lines, %s to %s, was %s", c.Lines, short(c.Low), short(c.High), short(c.Present))
		if c.Enough {
			fmt.Fprintf(&b, "  %-*s = %q # %s\n", width, c.Task, quantity.Number(c.Median.Minutes(), 1)+" min", note)
		} else {
			fmt.Fprintf(&b, "  # %s: %s; too few to go by\n", c.Task, strings.Replace(note, "1 lines", "1 line", 1))
		}
	}
	b.WriteString("}\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func short(d quantity.Duration) string { return quantity.Number(d.Minutes(), 1) }
