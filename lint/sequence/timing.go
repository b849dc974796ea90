package sequence

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"cagenut/lang/quantity"
)

// A Timing is one measured line of a signed sheet.
type Timing struct {
	Task     Task
	Count    int               // how often the task was done in it
	Planned  quantity.Duration // in all; 0 where the sheet does not say
	Measured quantity.Duration // in all
}

// ReadTimings reads the measured minutes of a signed sheet: a table with a line
// of column names, of which "task" and "measured_minutes" are needed and
// "count" and "minutes" are used. Lines without measured minutes are left out.
// The error names every line that cannot be read.
func ReadTimings(r io.Reader, name string) ([]Timing, error) {
	c := csv.NewReader(r)
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = true
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s is empty; it needs a first line of column names, with task and measured_minutes among them", name)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	column := map[string]int{}
	for i, h := range head {
		column[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))] = i
	}
	for _, need := range []string{"task", "measured_minutes"} {
		if _, ok := column[need]; !ok {
			return nil, fmt.Errorf("%s has no column %q; write its name in the first line, as window --format csv does", name, need)
		}
	}
	var out []Timing
	var errs []error
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			return out, errors.Join(errs...)
		}
		if err != nil {
			return out, errors.Join(append(errs, fmt.Errorf("%s: %w", name, err))...)
		}
		line, _ := c.FieldPos(0)
		cell := func(name string) string {
			if i, ok := column[name]; ok && i < len(row) {
				return strings.TrimSpace(row[i])
			}
			return ""
		}
		bad := func(format string, args ...any) {
			errs = append(errs, fmt.Errorf("%s:%d: %s", name, line, fmt.Sprintf(format, args...)))
		}
		if cell("measured_minutes") == "" {
			continue
		}
		t := Timing{Task: Task(cell("task")), Count: 1}
		if !slices.ContainsFunc(Norms, func(n Norm) bool { return n.Task == t.Task }) {
			bad("%q is the name of no task%s", t.Task, nearTask(string(t.Task)))
			continue
		}
		var ok bool
		if t.Measured, ok = minutesIn(cell("measured_minutes")); !ok || t.Measured <= 0 {
			bad("%q are no minutes; write a number such as 12 or 7.5", cell("measured_minutes"))
			continue
		}
		if s := cell("minutes"); s != "" {
			if t.Planned, ok = minutesIn(s); !ok {
				bad("%q in the column minutes is no number", s)
				continue
			}
		}
		if s := cell("count"); s != "" {
			n, err := strconv.Atoi(s)
			if err != nil || n < 1 {
				bad("%q in the column count is no whole number from 1", s)
				continue
			}
			t.Count = n
		}
		out = append(out, t)
	}
}

// minutesIn reads minutes with a point or a comma before decimals.
func minutesIn(s string) (quantity.Duration, bool) {
	f, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || math.IsNaN(f) || f < 0 || f > 100_000 {
		return 0, false
	}
	return quantity.Of(f, quantity.Minute), true
}

func nearTask(s string) string {
	for _, n := range Norms {
		if strings.ReplaceAll(string(n.Task), "_", "") == strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(s), "-", ""), "_", "") {
			return fmt.Sprintf("; did you mean %s?", n.Task)
		}
	}
	return "; the tasks are those that window --format csv prints"
}

// A Calibration is what timings say about one task.
type Calibration struct {
	Task    Task
	Lines   int               // measured lines
	Present quantity.Duration // for one time, by the pace in force
	Median  quantity.Duration // for one time, as measured
	Low     quantity.Duration // the least and the most for one time
	High    quantity.Duration
	Enough  bool // there are lines enough to go by
}

// calibrationLines is how many measured lines are enough to propose a new
// figure for a task (common practice: fewer say more about the night than about
// the task).
const calibrationLines = 3

// Calibrate compares timings with the pace in force and gives, for each task
// measured, its median for one time. Tasks are in the order of [Norms].
func Calibrate(timings []Timing, present func(Task) quantity.Duration) []Calibration {
	each := map[Task][]quantity.Duration{}
	for _, t := range timings {
		each[t.Task] = append(each[t.Task], t.Measured/quantity.Duration(t.Count))
	}
	var out []Calibration
	for _, n := range Norms {
		all := each[n.Task]
		if len(all) == 0 {
			continue
		}
		slices.Sort(all)
		mid := all[len(all)/2]
		if len(all)%2 == 0 {
			mid = (all[len(all)/2-1] + mid) / 2
		}
		out = append(out, Calibration{
			Task: n.Task, Lines: len(all), Present: present(n.Task), Median: mid, Low: all[0], High: all[len(all)-1],
			Enough: len(all) >= calibrationLines,
		})
	}
	return out
}
