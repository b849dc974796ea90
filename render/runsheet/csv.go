package runsheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"cagenut/lint/sequence"
)

// csvHead names the columns. Times are the site's, as "2026-12-01 22:10".
var csvHead = []string{
	"number", "window", "start", "latest_start", "minutes", "rack", "face", "units", "counted", "task", "count", "do", "expect",
	"people", "watcher", "lift", "competence", "mass_kg", "state_after", "undo", "undo_minutes", "hold", "cautions", "done", "time", "measured_minutes", "initials", "remark",
}

// CSV writes one line a step (RFC 4180), with columns left empty for who does
// the work: done, time, measured minutes, initials, remark. Filled in, the same
// file is what a pace is calibrated from.
func CSV(w io.Writer, p *sequence.Plan, o Options) error {
	s := newSheet(p, o)
	c := csv.NewWriter(w)
	c.UseCRLF = true
	if err := c.Write(csvHead); err != nil {
		return err
	}
	window := map[int]int{}
	for _, n := range p.Windows {
		for _, b := range n.Blocks {
			window[b] = n.Number
		}
	}
	for i := range p.Steps {
		st := &p.Steps[i]
		row := make([]string, len(csvHead))
		set := func(name, value string) {
			for k, h := range csvHead {
				if h == name {
					row[k] = plainCell(value)
				}
			}
		}
		set("number", fmt.Sprint(st.Number))
		if n := window[st.Block]; n > 0 {
			set("window", fmt.Sprint(n))
		}
		if !st.Start.IsZero() {
			set("start", st.Start.Format("2006-01-02 15:04"))
			set("latest_start", st.LatestStart.Format("2006-01-02 15:04"))
		}
		set("minutes", minutes(st.Minutes))
		set("rack", st.At.Rack)
		set("face", st.At.Face)
		set("units", st.At.Units)
		set("counted", st.At.Counted)
		set("task", string(st.Task))
		set("count", fmt.Sprint(st.Count))
		set("do", st.Do)
		set("expect", st.Expect)
		set("people", fmt.Sprint(st.People))
		set("watcher", yes(st.Watcher))
		set("lift", yes(st.Lift))
		set("competence", st.Competence)
		if st.MassStated {
			set("mass_kg", strings.TrimSuffix(st.Mass.String(), " kg"))
		}
		set("state_after", s.state(&st.State))
		set("undo", st.Undo)
		set("undo_minutes", minutes(st.UndoMinutes))
		if h := st.Hold; h != nil {
			set("hold", h.Name+": "+h.What)
		}
		cautions := st.Cautions
		if st.Tip != nil {
			cautions = append([]string{st.Tip.String()}, cautions...)
		}
		set("cautions", strings.Join(cautions, " "))
		if err := c.Write(row); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// plainCell keeps a spreadsheet from reading text as a formula.
func plainCell(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}
