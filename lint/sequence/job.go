package sequence

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
)

// JobKind says what a job is.
type JobKind uint8

// The kinds of job.
const (
	NoJob      JobKind = iota
	Fit                // a new thing comes
	TakeOut            // a thing goes for good
	Move               // to other units of its rack
	Transfer           // to another rack
	Turn               // to the other face
	ChangeSide         // to another slot of its units, or another side of the posts
	Refeed             // to other feeds
	Rerail             // the same hardware gets another kit
	Relabel            // another name, serial or the like
	Blanking           // blanks come or go, and nothing else there
	NewRack            // a rack is stood up
	OldRack            // a rack goes
	NewFeed            // a feed comes
	OldFeed            // a feed goes
	Rebond             // a rack's bonding conductor goes elsewhere
	MoveRack           // an empty rack goes to another place
	NewFrame           // an empty rack gets another frame
)

var jobKinds = [...]string{"", "fit", "take out", "move", "transfer", "turn", "change side", "re-feed", "re-rail",
	"re-label", "blank", "new rack", "old rack", "new feed", "old feed", "bond", "move rack", "new frame"}

// String names the kind in words.
func (k JobKind) String() string { return jobKinds[k] }

// A Job is what a change asks to be done with one thing.
type Job struct {
	Kind     JobKind
	Thing    string // as the language refers to it after the change: "rack.s1.ups-1"
	Name     string // its label
	Old, New *estate.Mount
	Rack     string // name of the rack where it ends, or was
	Site     *estate.Site
	Fed      bool // its feeds change as well

	cords []change.CordChange // of a thing that stays or moves: the cords that hands have to do with
	feed  *estate.Feed
	rack  *estate.Rack
	was   *estate.Rack // before the change, of a rack that stays
	bond  estate.Bond  // what the rack's conductor goes to before, of a bond
	order int
}

// String says in one sentence what the job is.
func (j *Job) String() string {
	switch j.Kind {
	case Fit:
		return fmt.Sprintf("fit %s at %s", j.Name, where(j.New))
	case TakeOut:
		return fmt.Sprintf("take %s out of %s", j.Name, where(j.Old))
	case Move, Transfer, Turn, ChangeSide:
		return fmt.Sprintf("%s %s from %s to %s", j.Kind, j.Name, where(j.Old), where(j.New))
	case Refeed:
		if len(j.cords) > 0 {
			return fmt.Sprintf("re-feed %s: %s", j.Name, walked(j.cords))
		}
		return fmt.Sprintf("re-feed %s from %s to %s", j.Name, feedNames(j.Old.Feeds), feedNames(j.New.Feeds))
	}
	return fmt.Sprintf("%s %s", j.Kind, j.Thing)
}

// Mount gives the thing as it is in the end, or was.
func (j *Job) Mount() *estate.Mount {
	if j.New != nil {
		return j.New
	}
	return j.Old
}

// declared says where the job's thing is declared.
func (j *Job) declared() estate.Range {
	switch {
	case j.Mount() != nil:
		return j.Mount().Source.At()
	case j.rack != nil:
		return j.rack.Source.At()
	case j.feed != nil:
		return j.feed.Source.At()
	}
	return estate.Range{}
}

// where names a mount's place.
func where(m *estate.Mount) string {
	if m == nil || m.Rack == nil {
		return "outside"
	}
	if m.ZeroU != nil {
		return fmt.Sprintf("%s %s posts %s", m.Rack.Name, hangsAt(m), m.Label())
	}
	return fmt.Sprintf("%s %s %s", m.Rack.Name, m.Posts(), m.Label())
}

// hangsAt names the posts that a mount hangs on or beside.
func hangsAt(m *estate.Mount) estate.Face {
	if m.ZeroU != nil && m.ZeroU.Plane != estate.NoFace {
		return m.ZeroU.Plane
	}
	return m.Posts()
}

func feedNames(feeds []*estate.Feed) string {
	if len(feeds) == 0 {
		return "no feed"
	}
	names := make([]string, len(feeds))
	for i, f := range feeds {
		names[i] = f.Name
	}
	return strings.Join(names, " and ")
}

// jobsOf gives the jobs of a change, and what of it is on paper only.
func jobsOf(c *change.Change) (jobs []*Job, record []string) {
	add := func(j *Job) { jobs = append(jobs, j) }
	for i := range c.Things {
		t := &c.Things[i]
		switch f := t.New.(type) {
		case *estate.Feed:
			if t.Kind == change.Added {
				add(&Job{Kind: NewFeed, Thing: t.Ref(), Name: f.Name, feed: f, Site: siteOfRoom(f.Room)})
				continue
			}
		}
		if f, ok := t.Old.(*estate.Feed); ok && t.Kind == change.Removed {
			add(&Job{Kind: OldFeed, Thing: t.Ref(), Name: f.Name, feed: f, Site: siteOfRoom(f.Room)})
			continue
		}
		record = append(record, fmt.Sprintf("%s is %s", t.Ref(), t.Kind))
	}
	for i := range c.Racks {
		r := &c.Racks[i]
		switch rack := r.Rack(); {
		case r.Kind == change.Added:
			add(&Job{Kind: NewRack, Thing: rack.Ref(), Name: rack.Name, Rack: rack.Name, rack: rack, Site: rack.Site()})
		case r.Kind == change.Removed:
			add(&Job{Kind: OldRack, Thing: rack.Ref(), Name: rack.Name, Rack: rack.Name, rack: rack, Site: rack.Site()})
		default:
			paper := r.Alterations
			if rebonded(r) {
				add(&Job{Kind: Rebond, Thing: rack.Ref(), Name: rack.Name, Rack: rack.Name, rack: rack, Site: rack.Site(), bond: r.Old.Bond})
				paper = slices.DeleteFunc(slices.Clone(paper), func(a change.Alteration) bool { return a.Attr == "bond" })
			}
			own, done := rackJobs(c, r)
			for _, j := range own {
				add(j)
			}
			paper = slices.DeleteFunc(slices.Clone(paper), func(a change.Alteration) bool { return slices.Contains(done, a.Attr) })
			if r.Kind != change.Altered && len(own) == 0 || len(paper) > 0 {
				record = append(record, fmt.Sprintf("%s is %s%s", r.Old.Ref(), r.Kind, altered(paper)))
			}
		}
	}
	for i := range c.Mounts {
		m := &c.Mounts[i]
		for _, j := range mountJobs(m) {
			add(j)
		}
		if m.Kind == change.Altered && !m.Replaced() && byStrip(m) {
			record = append(record, fmt.Sprintf("%s: its cords stay, and what they lead to changes%s", m.New.Ref(), altered(m.Alterations)))
		}
		if m.RecordOnly() && !labelled(m) {
			record = append(record, fmt.Sprintf("%s: the record alone changes%s", m.New.Ref(), altered(m.Alterations)))
		}
	}
	for i := range c.Reserves {
		r := &c.Reserves[i]
		record = append(record, fmt.Sprintf("units held as %s in %s: %s", r.Reserve().Name, r.Reserve().Rack.Name, r.Kind))
	}
	slices.SortStableFunc(jobs, func(a, b *Job) int { return cmp.Compare(a.Rack, b.Rack) })
	for i, j := range jobs {
		j.order = i
	}
	return jobs, record
}

// rebonded reports whether a conductor must be laid. One that is put on record
// for the first time is taken to be there.
func rebonded(r *change.RackChange) bool {
	was, is := r.Old.Bond.Ref(), r.New.Bond.Ref()
	return r.Old.Bond.State == estate.IsGiven && r.New.Bond.State == estate.IsGiven && was != is && is != ""
}

func altered(all []change.Alteration) string {
	if len(all) == 0 {
		return ""
	}
	parts := make([]string, len(all))
	for i, a := range all {
		parts[i] = fmt.Sprintf("%s %s -> %s", a.Attr, orNone(a.Old), orNone(a.New))
	}
	return " (" + strings.Join(parts, ", ") + ")"
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// labelled reports whether a change on paper means a new label on the thing.
func labelled(m *change.MountChange) bool { return m.Renamed() || m.Has("asset") }

// mountJobs gives the jobs of one changed mount: two where one piece of
// hardware gives way to another.
func mountJobs(m *change.MountChange) []*Job {
	job := func(kind JobKind, was, is *estate.Mount) *Job {
		mount := is
		if mount == nil {
			mount = was
		}
		j := &Job{Kind: kind, Thing: mount.Ref(), Name: mount.Name, Old: was, New: is}
		if mount.Rack != nil {
			j.Rack, j.Site = mount.Rack.Name, mount.Rack.Site()
		}
		if was != nil && is != nil {
			j.Fed, j.cords = fedOtherwise(m), m.Cords()
		}
		return j
	}
	switch {
	case m.Kind == change.Added:
		return []*Job{job(Fit, nil, m.New)}
	case m.Kind == change.Removed:
		return []*Job{job(TakeOut, m.Old, nil)}
	case m.Replaced() && otherKit(m.Old, m.New):
		return []*Job{job(Rerail, m.Old, m.New)}
	case m.Replaced():
		return []*Job{job(TakeOut, m.Old, nil), job(Fit, nil, m.New)}
	case m.Kind == change.Moved:
		return []*Job{job(moveKind(m), m.Old, m.New)}
	case fedOtherwise(m):
		return []*Job{job(Refeed, m.Old, m.New)}
	case labelled(m):
		return []*Job{job(Relabel, m.Old, m.New)}
	}
	return nil
}

// fedOtherwise reports whether the supply of a mount is changed at the mount.
// Where its cords stay and only what their strips hang on changes, the work is
// at the strips.
func fedOtherwise(m *change.MountChange) bool {
	return len(m.Cords()) > 0 || m.Has("feeds") && !byStrip(m)
}

// byStrip reports whether a mount gets other feeds through the same cords.
func byStrip(m *change.MountChange) bool {
	return m.Has("feeds") && len(m.Cords()) == 0 && len(m.Old.Cords) > 0 && len(m.New.Cords) > 0 &&
		!m.Old.Source.Has("feeds") && !m.New.Source.Has("feeds")
}

// otherKit reports whether two declarations are one piece of hardware, known
// by its serial or asset number, that gets another rail kit.
func otherKit(was, is *estate.Mount) bool {
	same := was.Serial != "" && was.Serial == is.Serial || was.Serial == "" && is.Serial == "" && was.Asset != "" && was.Asset == is.Asset
	if !same || was.Equipment == nil || is.Equipment == nil {
		return false
	}
	a, b := was.Equipment, is.Equipment
	return a.Kind == b.Kind && a.Height.Length == b.Height.Length && a.Depth.Value == b.Depth.Value && a.Mass.Value == b.Mass.Value
}

func moveKind(m *change.MountChange) JobKind {
	switch {
	case m.BetweenRacks():
		return Transfer
	case m.Has("face") && !m.Has("at"):
		return Turn
	case !m.Has("at") && (m.Has("slot") || m.Has("side") || m.Has("plane")):
		return ChangeSide
	}
	return Move
}

func siteOfRoom(r *estate.Room) *estate.Site {
	if r == nil {
		return nil
	}
	return r.Site
}
