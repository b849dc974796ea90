package runsheet

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"cagenut/lint/sequence"
)

// Calendar writes the windows of a plan as a calendar (RFC 5545): one event a
// window, with an alarm at the latest moment to turn back. An event keeps its
// UID as long as estate, window and night are the same, so that a calendar that
// is read again replaces what it knew. Times are in UTC; stamp is when the plan
// was made.
func Calendar(w io.Writer, p *sequence.Plan, o Options, stamp time.Time) error {
	c := ics.NewCalendarFor("cagenut")
	c.SetMethod(ics.MethodPublish)
	for _, n := range p.Windows {
		e := c.AddEvent(uid(p, n))
		e.SetDtStampTime(stamp)
		e.SetStartAt(n.Opens)
		e.SetEndAt(n.Closes)
		e.SetSummary(fmt.Sprintf("Change window %d of %d: %s", n.Number, len(p.Windows), Title(p)))
		var racks []string
		var places []string
		var steps []string
		for _, b := range n.Blocks {
			block := &p.Blocks[b]
			steps = append(steps, fmt.Sprintf("%d to %d", block.From+1, block.To))
			for i := block.From; i < block.To; i++ {
				a := p.Steps[i].At
				if a.Rack != "" && !slices.Contains(racks, a.Rack) {
					racks = append(racks, a.Rack)
				}
				if place := strings.TrimSpace(a.Room + " " + a.Site); place != "" && !slices.Contains(places, place) {
					places = append(places, place)
				}
			}
		}
		if len(places) > 0 {
			e.SetLocation(strings.Join(places, ", "))
		}
		lines := []string{
			fmt.Sprintf("Steps %s in racks %s.", strings.Join(steps, ", "), strings.Join(racks, ", ")),
			fmt.Sprintf("Planned %s to %s (%s), margin %s min.", n.Clock(n.Begin), n.Clock(n.End), n.Zone, minutes(n.Window.Margin)),
		}
		if !n.LatestBack.IsZero() {
			lines = append(lines, "Latest moment to turn back: "+n.Clock(n.LatestBack)+".")
		}
		if o.Record != "" {
			lines = append(lines, "Change record: "+o.Record+".")
		}
		lines = append(lines, sequence.PlanningAid)
		e.SetDescription(strings.Join(lines, "\n"))
		if !n.LatestBack.IsZero() {
			a := e.AddAlarm()
			a.SetAction(ics.ActionDisplay)
			a.SetTrigger(n.LatestBack.UTC().Format("20060102T150405Z"), ics.WithValue("DATE-TIME"))
			a.SetProperty(ics.ComponentPropertyDescription, "Latest moment to turn back")
		}
	}
	_, err := io.WriteString(w, c.Serialize(ics.WithNewLineWindows))
	return err
}

func uid(p *sequence.Plan, n *sequence.Night) string {
	site := ""
	if s := n.Site(); s != nil {
		site = s.Name
	}
	sum := sha256.Sum256([]byte(p.New().Name + "\x00" + site + "\x00" + n.Window.Name + "\x00" + n.Opens.UTC().Format("20060102")))
	return hex.EncodeToString(sum[:12]) + "@cagenut.invalid"
}
