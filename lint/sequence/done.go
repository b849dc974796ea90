package sequence

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"cagenut/lang/quantity"
	"cagenut/lint"
)

// ReadTicks reads which steps of a half-done sheet are ticked, by number. It
// reads a sheet in Markdown with its boxes ticked ("[x]", "☑", "x"), the table
// of --format csv with something in the column done, or plain numbers and runs
// of them, as in "1-7, 9". The error names every line that cannot be read.
func ReadTicks(r io.Reader, name string) ([]int, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	var ticks []int
	switch first, _, _ := strings.Cut(strings.TrimSpace(text), "\n"); {
	case strings.HasPrefix(first, "number,"):
		ticks, err = ticksOfTable(text, name)
	case strings.HasPrefix(first, "#") || strings.HasPrefix(first, "|"):
		ticks, err = ticksOfSheet(text, name)
	default:
		ticks, err = ticksOfNumbers(text, name)
	}
	if err != nil {
		return nil, err
	}
	if len(ticks) == 0 {
		return nil, fmt.Errorf("%s has no ticked step; tick boxes as [x], or write numbers such as 1-7", name)
	}
	slices.Sort(ticks)
	return slices.Compact(ticks), nil
}

func ticksOfSheet(text, name string) ([]int, error) {
	var ticks []int
	lines := bufio.NewScanner(strings.NewReader(text))
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		line := strings.TrimSpace(lines.Text())
		if !strings.HasPrefix(line, "|") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		n, err := strconv.Atoi(strings.TrimSpace(cells[0]))
		if err != nil || len(cells) < 8 { // the way back has fewer columns
			continue
		}
		if ticked(cells[len(cells)-1]) {
			ticks = append(ticks, n)
		}
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return ticks, nil
}

// ticked reports whether a cell has its box ticked, whatever stands beside it.
func ticked(cell string) bool {
	cell = strings.ToLower(strings.TrimSpace(cell))
	if strings.Contains(cell, "☐") || strings.Contains(cell, "[ ]") {
		return false
	}
	return cell != ""
}

func ticksOfTable(text, name string) ([]int, error) {
	c := csv.NewReader(strings.NewReader(text))
	c.FieldsPerRecord = -1
	rows, err := c.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	done := slices.Index(rows[0], "done")
	if done < 0 {
		return nil, fmt.Errorf("%s has no column \"done\"; write its name in the first line, as window --format csv does", name)
	}
	var ticks []int
	var errs []error
	for i, row := range rows[1:] {
		if done >= len(row) || strings.TrimSpace(row[done]) == "" {
			continue
		}
		n, err := strconv.Atoi(strings.TrimSpace(row[0]))
		if err != nil {
			errs = append(errs, fmt.Errorf("%s:%d: %q is no step number", name, i+2, row[0]))
			continue
		}
		ticks = append(ticks, n)
	}
	return ticks, errors.Join(errs...)
}

func ticksOfNumbers(text, name string) ([]int, error) {
	var ticks []int
	var errs []error
	for i, line := range strings.Split(text, "\n") {
		for _, word := range strings.FieldsFunc(line, func(r rune) bool { return r == ',' || r == ' ' || r == '\t' || r == '\r' || r == ';' }) {
			lo, hi, isRun := strings.Cut(word, "-")
			a, err1 := strconv.Atoi(lo)
			b, err2 := a, error(nil)
			if isRun {
				b, err2 = strconv.Atoi(hi)
			}
			if err1 != nil || err2 != nil || a < 1 || b < a || b > 1_000_000 {
				errs = append(errs, fmt.Errorf("%s:%d: %q is no step; write numbers such as 1-7, 9", name, i+1, word))
				continue
			}
			for n := a; n <= b; n++ {
				ticks = append(ticks, n)
			}
		}
	}
	return ticks, errors.Join(errs...)
}

// stand sees to it that the ticked steps are the first ones of the sheet, and
// says where the work stands.
func (p *Plan) stand(done []int) error {
	if len(done) == 0 {
		return nil
	}
	var errs []error
	last := done[len(done)-1]
	if last > len(p.Steps) {
		errs = append(errs, fmt.Errorf("step %d is ticked, and the sheet of this change has %d steps: is it the sheet of another change?", last, len(p.Steps)))
	} else {
		for n := 1; n < last; n++ {
			if !slices.Contains(done, n) {
				errs = append(errs, fmt.Errorf("step %d is ticked and step %d (%s) is not; tick it, or undo what was done out of turn", last, n, strings.TrimSuffix(p.Steps[n-1].Do, ".")))
			}
		}
	}
	if err := errors.Join(errs...); err != nil {
		return err
	}
	p.Done = done
	s := &p.Steps[last-1]
	b := &p.Blocks[s.Block]
	if last == b.To && len(p.closings(s.Block+1)) == 0 {
		return nil
	}
	what := "the work stops within steps that belong together"
	switch {
	case s.State.Out != "":
		what = s.State.Out + " is out of its place"
	case len(s.State.Parked) > 0:
		what = "parked: " + strings.Join(s.State.Parked, ", ")
	case len(s.State.Ajar) > 0:
		what = "open, and to stay shut: " + strings.Join(s.State.Ajar, ", ")
	case len(s.State.Down) > 0:
		what = "down: " + strings.Join(s.State.Down, ", ")
	case len(s.State.Open) > 0:
		what = "open: " + strings.Join(s.State.Open, ", ")
	case len(s.State.Off) > 0:
		what = "off: " + strings.Join(s.State.Off, ", ")
	}
	f := lint.Finding{
		Rule: "plan/not-at-rest", Level: lint.Error, Thing: stepThing(s), Rack: s.At.Rack,
		Message: fmt.Sprintf("after step %d nothing rests: %s; go on to the end of step %d, or back to before step %d by the back page", last, what, max(b.To, last+1), b.From+1),
	}
	if s.Job != nil {
		f.At = s.Job.declared()
	}
	p.Findings = append(p.Findings, f)
	if len(s.State.Seals) > 0 {
		f.Rule = "plan/seal-open"
		f.Message = fmt.Sprintf("after step %d fire seal %s stands open: re-make it with the listed system before the room is left, whichever way the work goes", last, strings.Join(s.State.Seals, ", "))
		p.Findings = append(p.Findings, f)
	}
	return nil
}

// Next gives the number of the first step that is not done.
func (p *Plan) Next() int {
	if len(p.Done) == 0 {
		return 1
	}
	return p.Done[len(p.Done)-1] + 1
}

// WayBack gives the way back from where the work stands to the very start: to
// the last rest first, then block by block, each with where it ends.
func (p *Plan) WayBack() [][]Undo {
	var out [][]Undo
	for at := p.Next() - 1; at > 0; {
		b := &p.Blocks[p.Steps[at-1].Block]
		out = append(out, p.BackOut(at))
		at = b.From
	}
	return out
}

// rest gives the minutes of a block that are not done yet.
func (p *Plan) rest(block int) quantity.Duration {
	var sum quantity.Duration
	b := &p.Blocks[block]
	for i := max(b.From, p.Next()-1); i < b.To; i++ {
		sum += p.Steps[i].Minutes
	}
	return sum
}
