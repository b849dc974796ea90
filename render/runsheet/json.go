package runsheet

import (
	"io"
	"math"
	"strings"
	"time"

	"cagenut/lang/quantity"
	"cagenut/lint"
	"cagenut/lint/sequence"
	"cagenut/render/document"
)

// Format is the version of the JSON form. It is raised when a field goes or
// changes its meaning; a field that is added does not raise it.
const Format = 1

// A Document is the JSON form of a plan. Minutes are numbers of minutes, masses
// kilograms, times RFC 3339 with the site's offset; lists are never null.
type Document struct {
	Format      int               `json:"format"`
	Of          string            `json:"of"` // "window"
	Caution     string            `json:"caution"`
	Title       string            `json:"title"`
	Estate      string            `json:"estate"`
	Before      string            `json:"before,omitempty"`
	After       string            `json:"after,omitempty"`
	Record      string            `json:"record,omitempty"`
	Reason      string            `json:"reason,omitempty"`
	Unowned     []string          `json:"without_owner"` // what is touched and nobody is declared to own
	Moves       int               `json:"moves"`
	LeastMoves  int               `json:"least_moves"` // no order has fewer
	Contingency float64           `json:"contingency"`
	States      int               `json:"states_judged"`
	AsBuilt     []DocumentAsBuilt `json:"as_built,omitempty"`
	Jobs        []DocumentJob     `json:"jobs"`
	Daytime     []DocumentStep    `json:"daytime"`
	Steps       []DocumentStep    `json:"steps"`
	Blocks      []DocumentBlock   `json:"blocks"`
	Windows     []DocumentWindow  `json:"windows"`
	Next        int               `json:"next_step"`       // number of the first step that is not done
	WayBack     []DocumentUndo    `json:"way_back"`        // from there to the start, where steps are done
	Unplaced    []int             `json:"unplaced_blocks"` // numbers of blocks that fit into no window
	Parked      []DocumentParked  `json:"parked"`
	Refused     []DocumentRefusal `json:"refused"`
	Proposals   []string          `json:"proposals"`
	Findings    []DocumentFinding `json:"findings"`
	NotChecked  []DocumentOpen    `json:"not_checked"`
	OnPaper     []string          `json:"on_paper_only"`
	Ways        []string          `json:"ways,omitempty"` // of what is brought and taken away, gate by gate
}

// A DocumentJob is one thing that the change asks to be done.
type DocumentJob struct {
	Kind  string `json:"kind"`
	Thing string `json:"thing"`
	Text  string `json:"text"`
}

// A DocumentAsBuilt says when the record of a site was last confirmed as built.
type DocumentAsBuilt struct {
	Site    string   `json:"site"`
	Pattern string   `json:"pattern"`           // of the tags that confirm it
	Tag     string   `json:"tag,omitempty"`     // the last one at or before the drawing before
	Racks   []string `json:"racks"`             // worked at, and changed on paper since
	Commits []string `json:"commits"`           // by which
	Unknown string   `json:"unknown,omitempty"` // why it cannot be told
}

// A DocumentStep is one line of the sheet. Daytime work has no number.
type DocumentStep struct {
	Number      int            `json:"number,omitempty"`
	Block       int            `json:"block,omitempty"` // from 1
	Task        string         `json:"task"`
	Do          string         `json:"do"`
	Expect      string         `json:"expect,omitempty"`
	Thing       string         `json:"thing,omitempty"`
	Rack        string         `json:"rack,omitempty"`
	Room        string         `json:"room,omitempty"`
	Site        string         `json:"site,omitempty"`
	Face        string         `json:"face,omitempty"`
	Units       string         `json:"units,omitempty"`
	Counted     string         `json:"counted,omitempty"` // "up" or "down"
	Minutes     float64        `json:"minutes"`
	Undo        string         `json:"undo,omitempty"`
	UndoMinutes float64        `json:"undo_minutes"`
	MassKg      *float64       `json:"mass_kg,omitempty"` // declared mass of what is lifted
	People      int            `json:"people"`
	Watcher     bool           `json:"watcher,omitempty"`
	Lift        bool           `json:"lift,omitempty"`
	Competence  string         `json:"competence,omitempty"`
	Cautions    []string       `json:"cautions"`
	Tip         *DocumentTip   `json:"tip,omitempty"`
	Hold        *DocumentHold  `json:"hold,omitempty"` // a hold point after the step
	After       *DocumentState `json:"after,omitempty"`
	Start       string         `json:"start,omitempty"`
	LatestStart string         `json:"latest_start,omitempty"`
	Back        float64        `json:"back_minutes"`    // undoing its block so far, the step included, with contingency
	Forward     float64        `json:"forward_minutes"` // finishing its block from its start, with contingency
	Done        bool           `json:"done,omitempty"`
}

// A DocumentTip says how near a rack comes to tipping in a step: how many times
// the rest of it holds what is pulled out, or by how much it may lean with
// something heavy standing high in it.
type DocumentTip struct {
	Thing  string  `json:"thing"`
	Rack   string  `json:"rack"`
	Factor float64 `json:"factor,omitempty"`
	RestKg float64 `json:"rest_kg,omitempty"`
	Angle  float64 `json:"angle_deg,omitempty"`
}

// A DocumentHold is a hold point.
type DocumentHold struct {
	Name    string `json:"name"`
	What    string `json:"what"`
	Decides string `json:"decides"`

	Back    float64 `json:"back_minutes"`        // undoing the block so far, with contingency
	Forward float64 `json:"forward_minutes"`     // finishing it
	Turned  bool    `json:"turned,omitempty"`    // going on is the shorter way
	Ends    bool    `json:"ends,omitempty"`      // the work may rest here
	By      string  `json:"latest_go,omitempty"` // when the next step has to start at the latest
}

// A DocumentState is what is out of the ordinary after a step.
type DocumentState struct {
	Out     string   `json:"out,omitempty"`
	Off     []string `json:"off,omitempty"`
	OneFeed string   `json:"one_feed,omitempty"` // what is on fewer of its feeds than it gets
	Parked  []string `json:"parked"`
	Down    []string `json:"down"`
	Open    []string `json:"open"`
	Ajar    []string `json:"ajar"`  // doors that must stay shut and stand open
	Seals   []string `json:"seals"` // fire seals that stand open
}

// A DocumentBlock is a run of steps between two resting states.
type DocumentBlock struct {
	From    int     `json:"from"` // numbers of steps, both included
	To      int     `json:"to"`
	Turning int     `json:"turning_point,omitempty"` // number of a step
	Minutes float64 `json:"minutes"`                 // without contingency
	People  int     `json:"people"`
	Lift    bool    `json:"lift,omitempty"`

	Competences []string `json:"competences,omitempty"`
	Follows     bool     `json:"follows,omitempty"` // what the block before opened is open still: both in one window
}

// A DocumentUndo is one line of the way back. The work rests after a line whose
// Rests is set.
type DocumentUndo struct {
	Step    int     `json:"step"`
	Do      string  `json:"do"`
	Minutes float64 `json:"minutes"`
	Rests   bool    `json:"rests,omitempty"`
}

// A DocumentWindow is one night.
type DocumentWindow struct {
	Number     int     `json:"number"`
	Name       string  `json:"name"`
	Opens      string  `json:"opens"`
	Closes     string  `json:"closes"`
	Zone       string  `json:"zone"`
	Usable     float64 `json:"usable_minutes"`
	Needs      float64 `json:"needed_minutes"`
	LatestBack string  `json:"latest_back_out,omitempty"`
	Blocks     []int   `json:"blocks"` // from 1

	Breaks []DocumentBreak `json:"breaks,omitempty"`
}

// A DocumentBreak is a planned break of a window.
type DocumentBreak struct {
	Before  int     `json:"before_step"`
	At      string  `json:"at"`
	Minutes float64 `json:"minutes"`
}

// A DocumentParked is something that waits elsewhere for a while.
type DocumentParked struct {
	Thing   string `json:"thing"`
	Where   string `json:"where"`
	Running bool   `json:"running"`
	Why     string `json:"why"`
}

// A DocumentRefusal says why something is not possible.
type DocumentRefusal struct {
	Things []string `json:"things"`
	Why    string   `json:"why"`
	Proved bool     `json:"proved"`
	Mends  []string `json:"mends"`
}

// A DocumentFinding is what a plan rule, or a policy on steps, reports.
type DocumentFinding struct {
	Rule    string `json:"rule"`
	Level   string `json:"level"`
	Thing   string `json:"thing,omitempty"`
	Message string `json:"message"`
	Waived  string `json:"waived,omitempty"` // the reason of the waiver
}

// A DocumentOpen is what could not be judged.
type DocumentOpen struct {
	Rule    string `json:"rule"`
	Thing   string `json:"thing,omitempty"`
	Because string `json:"because"`
}

// JSON writes the document of a plan.
func JSON(w io.Writer, p *sequence.Plan, o Options) error {
	return document.JSON(w, documentOf(p, o))
}

func documentOf(p *sequence.Plan, o Options) *Document {
	d := &Document{
		Format: Format, Of: "window", Caution: sequence.PlanningAid, Title: Title(p), Estate: p.New().Name,
		Before: o.Before, After: o.After, Record: o.Record, Reason: strings.TrimSpace(o.Reason), Unowned: list(p.Unowned()), Moves: p.Moves, LeastMoves: p.Least,
		Contingency: p.Contingency, States: p.States,
		Jobs: []DocumentJob{}, Daytime: []DocumentStep{}, Steps: []DocumentStep{}, Blocks: []DocumentBlock{},
		Windows: []DocumentWindow{}, Next: p.Next(), WayBack: []DocumentUndo{}, Unplaced: []int{}, Parked: []DocumentParked{}, Refused: []DocumentRefusal{},
		Proposals: []string{}, Findings: []DocumentFinding{}, NotChecked: []DocumentOpen{}, OnPaper: list(p.Record), Ways: newSheet(p, o).ways(),
	}
	done := map[int]bool{}
	for _, n := range p.Done {
		done[n] = true
	}
	for _, j := range p.Jobs {
		d.Jobs = append(d.Jobs, DocumentJob{j.Kind.String(), j.Thing, j.String()})
	}
	for i := range p.Confirmations {
		c := &p.Confirmations[i]
		a := DocumentAsBuilt{c.Site.Name, c.Site.AsBuilt, c.Tag, []string{}, list(c.Commits), c.Unknown}
		for _, r := range c.Racks {
			a.Racks = append(a.Racks, r.Name)
		}
		d.AsBuilt = append(d.AsBuilt, a)
	}
	for i := range p.Daytime {
		d.Daytime = append(d.Daytime, stepOf(p, &p.Daytime[i]))
	}
	for i := range p.Steps {
		s := stepOf(p, &p.Steps[i])
		s.Done = done[s.Number]
		d.Steps = append(d.Steps, s)
	}
	for n := range p.Blocks {
		b := &p.Blocks[n]
		d.Blocks = append(d.Blocks, DocumentBlock{b.From + 1, b.To, p.Turning(n), number(b.Forward), b.People, b.Lift, b.Competences, b.Follows})
	}
	for _, n := range p.Windows {
		w := DocumentWindow{
			Number: n.Number, Name: n.Window.Name, Opens: moment(n.Opens), Closes: moment(n.Closes), Zone: n.Zone,
			Usable: number(n.Usable), Needs: number(n.Needs), LatestBack: moment(n.LatestBack), Blocks: []int{},
		}
		for _, b := range n.Blocks {
			w.Blocks = append(w.Blocks, b+1)
		}
		for _, b := range n.Breaks {
			w.Breaks = append(w.Breaks, DocumentBreak{b.Before, moment(b.At), number(b.Minutes)})
		}
		d.Windows = append(d.Windows, w)
	}
	for _, undo := range p.WayBack() {
		for i, u := range undo {
			d.WayBack = append(d.WayBack, DocumentUndo{u.Step, u.Do, number(u.Minutes), i == len(undo)-1})
		}
	}
	for _, b := range p.Left {
		d.Unplaced = append(d.Unplaced, b+1)
	}
	for _, q := range p.Parked {
		d.Parked = append(d.Parked, DocumentParked{q.Job.Thing, q.Where, q.Live, q.Why})
	}
	for _, r := range p.Refused {
		things := []string{}
		for _, j := range r.Jobs {
			things = append(things, j.Thing)
		}
		d.Refused = append(d.Refused, DocumentRefusal{things, r.Why, r.Proved, list(r.Mends)})
	}
	for _, q := range p.Proposals {
		d.Proposals = append(d.Proposals, q.Text)
	}
	for _, f := range p.Findings {
		d.Findings = append(d.Findings, findingOf(f))
	}
	for _, u := range p.Unchecked {
		d.NotChecked = append(d.NotChecked, DocumentOpen{u.Rule, u.Thing, u.Because})
	}
	return d
}

func findingOf(f lint.Finding) DocumentFinding {
	d := DocumentFinding{Rule: f.Rule, Level: f.Level.String(), Thing: f.Thing, Message: f.Message}
	if f.Waiver != nil {
		d.Waived = f.Waiver.Reason
	}
	return d
}

func stepOf(p *sequence.Plan, s *sequence.Step) DocumentStep {
	d := DocumentStep{
		Number: s.Number, Task: string(s.Task), Do: s.Do, Expect: s.Expect,
		Rack: s.At.Rack, Room: s.At.Room, Site: s.At.Site, Face: s.At.Face, Units: s.At.Units, Counted: s.At.Counted,
		Minutes: number(s.Minutes), Undo: s.Undo, UndoMinutes: number(s.UndoMinutes),
		People: s.People, Watcher: s.Watcher, Lift: s.Lift, Competence: s.Competence, Cautions: list(s.Cautions),
		Start: moment(s.Start), LatestStart: moment(s.LatestStart), Back: number(s.BackMinutes), Forward: number(s.ForwardMinutes),
	}
	if s.Job != nil {
		d.Thing = s.Job.Thing
	}
	if t := s.Tip; t != nil {
		d.Tip = &DocumentTip{t.Name, t.Rack, rounded(t.Factor, 3), t.Rest.Kilograms(), rounded(quantity.In(t.Angle, quantity.Degree), 2)}
	}
	if s.MassStated {
		kg := s.Mass.Kilograms()
		d.MassKg = &kg
	}
	if s.Number > 0 {
		d.Block = s.Block + 1
		d.After = &DocumentState{s.State.Out, s.State.Off, s.State.OneFeed, list(s.State.Parked), list(s.State.Down), list(s.State.Open), list(s.State.Ajar), list(s.State.Seals)}
	}
	if h := s.Hold; h != nil {
		c := p.ChoiceAt(s)
		d.Hold = &DocumentHold{h.Name, h.What, h.Decides, number(c.Back), number(c.On), c.Turned, c.Ends, moment(c.By)}
	}
	return d
}

func rounded(f float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	return math.Round(f*scale) / scale
}

func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

func number(d quantity.Duration) float64 { return d.Minutes() }

func moment(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339)
}
