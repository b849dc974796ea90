package sequence

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// panel reports whether a thing is one that fixed cables usually end at.
func panel(m *estate.Mount) bool { return m.Equipment != nil && m.Equipment.Kind == "panel" }

// fixedCables reports whether fixed cables end at a thing: its slack is said, or
// it is a panel.
func fixedCables(m *estate.Mount) bool { return m.Slack.State != estate.IsMissing || panel(m) }

// slackOf gives the slack of the fixed cables of a job's thing: what was said of
// it in its old place, else what is said now.
func slackOf(j *Job) estate.Figure[quantity.Length] {
	if j.Old != nil && j.Old.Slack.State != estate.IsMissing {
		return j.Old.Slack
	}
	if j.New != nil {
		return j.New.Slack
	}
	return estate.Figure[quantity.Length]{}
}

// travel gives how much of the slack of its fixed cables a thing takes when it
// comes from one place to another, and why that is not known, or "". Toward
// where the cables come from it takes none, as far as the room says where that
// is. It is in whole millimetres, rounded up.
func travel(from, to *estate.Mount) (quantity.Length, string) {
	a, ok1 := from.Extent()
	b, ok2 := to.Extent()
	if !ok1 || !ok2 {
		return 0, "where it is before or after is not known"
	}
	up := (b.Bottom + b.Top - a.Bottom - a.Top) / 2
	way := quantity.Abs(up)
	if room := to.Rack.Room(); room != nil && room.Source.Has("overhead") && room.Overhead == (up > 0) {
		way = 0
	}
	if from.Posts() != to.Posts() && from.ZeroU == nil && to.ZeroU == nil {
		span, ok := to.Rack.Frame.PostSpan.Get()
		if !ok {
			return 0, fmt.Sprintf("the post span of frame.%s is %s", to.Rack.Frame.Name, to.Rack.Frame.PostSpan.State)
		}
		way += span
	}
	return (way + quantity.Millimetre - 1) / quantity.Millimetre * quantity.Millimetre, ""
}

// takes gives how much slack a job takes, and why that is not known, or "".
func takes(j *Job) (quantity.Length, string) {
	if j.Kind != Transfer {
		return travel(j.Old, j.New)
	}
	if a, b := siteOfMount(j.Old), siteOfMount(j.New); a != b {
		return 0, "it goes to another site"
	}
	return 0, fmt.Sprintf("the way of the cables from rack %s to rack %s is not reckoned", j.Old.Rack.Name, j.New.Rack.Name)
}

// pastSlack finds what is moved further than its fixed cables let it.
func (p *Plan) pastSlack() {
	for _, j := range p.Jobs {
		if !j.movesAbout() || !fixedCables(j.Old) && !fixedCables(j.New) {
			continue
		}
		slack := slackOf(j)
		way, why := takes(j)
		if why == "" && !slack.Known() {
			why = fmt.Sprintf("the slack of its fixed cables is %s, and the move takes %s", slack.State, p.length(way))
		}
		if why != "" {
			p.Unchecked = append(p.Unchecked, lint.Unchecked{
				Rule: "plan/past-slack", At: j.New.Source.At(), Thing: j.Thing, Rack: j.Rack,
				Because: fmt.Sprintf("whether the fixed cables of %s reach %s is not known: %s", j.Name, where(j.New), why),
			})
			continue
		}
		if way <= slack.Value {
			continue
		}
		p.Findings = append(p.Findings, lint.Finding{
			Rule: "plan/past-slack", Level: lint.Error, At: j.New.Source.Attr("at"), Thing: j.Thing, Rack: j.Rack,
			Message: fmt.Sprintf("%s goes from %s to %s, which takes %s of its fixed cables, and their slack is %s: %s short; go no further than that, or have the cables terminated anew as a task of its own, with its tests",
				j.Name, where(j.Old), where(j.New), p.length(way), p.length(slack.Value), p.length(way-slack.Value)),
		})
	}
}

// cautionSlack warns of fixed cables, with what their slack is and what the job
// takes of it.
func (p *Plan) cautionSlack(j *Job) string {
	if j == nil || !j.movesAbout() {
		return cautionFixedCable
	}
	slack := slackOf(j)
	way, why := takes(j)
	switch {
	case slack.Known() && why == "" && way <= slack.Value:
		return fmt.Sprintf("Fixed cables: their slack is %s, this move takes %s of it, and %s are left. Free them before it moves; none pulled, pinched or bent too sharply.",
			p.length(slack.Value), p.length(way), p.length(slack.Value-way))
	case slack.Known() && why == "":
		return fmt.Sprintf("Fixed cables: their slack is %s, and this move takes %s. Do not begin it.", p.length(slack.Value), p.length(way))
	case slack.Known():
		return fmt.Sprintf("%s Their slack is %s; what the move takes is not known: %s.", cautionFixedCable, p.length(slack.Value), why)
	case why == "":
		return fmt.Sprintf("%s Their slack is %s; this move takes %s: measure first.", cautionFixedCable, slack.State, p.length(way))
	}
	return cautionFixedCable + " Their slack is " + slack.State.String() + "."
}

// withinSlack reports whether the fixed cables of a thing, if it has any, let it
// be parked at a spot of its own rack.
func withinSlack(from, at *estate.Mount) bool {
	slack, ok := from.Slack.Get()
	if !ok {
		return true
	}
	way, why := travel(from, at)
	return why == "" && way <= slack
}
