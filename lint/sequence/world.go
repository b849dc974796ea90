package sequence

import (
	"slices"

	"cagenut/lang/estate"
)

// A world is the estate between two steps: what is declared in the end, with
// each thing where it is now.
//
// Racks are never changed in place: an edit replaces a rack by a changed copy,
// so that a list of them taken earlier stays what it was.
type world struct {
	end   *estate.Estate
	racks []*estate.Rack
	index map[string]int // by the rack's name, the one it has in the end
	named map[string]string

	// The thing that a mount stands for, by the pointer that the change, or
	// the final estate, has for it; and where that thing is now.
	origin map[*estate.Mount]*estate.Mount
	now    map[*estate.Mount]*estate.Mount

	equipment map[string]*estate.Equipment
	feeds     map[string]*estate.Feed
}

// key gives the pointer by which a job's thing is known in a world.
func (j *Job) key() *estate.Mount { return j.Mount() }

// newWorld gives the world before any step. Frames, rooms, feeds and the
// catalogue are those of the end: what is corrected on paper is true already.
func newWorld(p *Plan, jobs []*Job) *world {
	w := &world{
		end: p.after, index: map[string]int{}, named: map[string]string{},
		origin: map[*estate.Mount]*estate.Mount{}, now: map[*estate.Mount]*estate.Mount{},
		equipment: map[string]*estate.Equipment{}, feeds: map[string]*estate.Feed{},
	}
	for _, q := range p.after.Equipment {
		w.equipment[q.Name] = q
	}
	for _, f := range p.after.Feeds {
		w.feeds[f.Name] = f
	}
	moved := map[*estate.Mount]bool{}
	for _, j := range jobs {
		if j.New != nil {
			moved[j.New] = true
		}
	}
	add := func(r *estate.Rack, mounts []*estate.Mount, blanks []*estate.Blank) {
		rack := *r
		rack.Mounts, rack.Blanks = nil, nil
		for _, b := range blanks {
			own := *b
			own.Rack = &rack
			rack.Blanks = append(rack.Blanks, &own)
		}
		w.index[r.Name] = len(w.racks)
		w.racks = append(w.racks, &rack)
		for _, m := range mounts {
			w.place(&rack, m, m)
		}
	}
	old := map[string]*estate.Rack{}
	for _, r := range p.before.Racks {
		old[r.Name] = r
	}
	for i := range p.Change.Racks {
		if r := &p.Change.Racks[i]; r.Renamed() {
			w.named[r.Old.Name] = r.New.Name
			old[r.New.Name] = r.Old
		}
	}
	for _, r := range p.after.Racks {
		var mounts []*estate.Mount
		for _, m := range r.Mounts {
			if !moved[m] {
				mounts = append(mounts, m)
			}
		}
		var blanks []*estate.Blank
		if was := old[r.Name]; was != nil {
			blanks = was.Blanks
		}
		add(r, mounts, blanks)
	}
	for i := range p.Change.Racks {
		if r := &p.Change.Racks[i]; r.New == nil {
			add(r.Old, nil, r.Old.Blanks)
		}
	}
	for _, j := range jobs {
		if j.Old != nil {
			w.put(j.key(), w.spot(j.Old))
		}
	}
	return w
}

// rack gives the rack as it is now, by any name it has had.
func (w *world) rack(name string) *estate.Rack {
	if i, ok := w.index[name]; ok {
		return w.racks[i]
	}
	if i, ok := w.index[w.named[name]]; ok {
		return w.racks[i]
	}
	return nil
}

// spot gives a declared place in terms of the world: its rack, equipment and
// feeds are those of the end, where these have them.
func (w *world) spot(m *estate.Mount) *estate.Mount {
	s := *m
	if m.Rack != nil {
		name := m.Rack.Name
		if to, ok := w.named[name]; ok {
			name = to
		}
		if r := w.rack(name); r != nil {
			s.Rack = r
		}
	}
	if m.Equipment != nil {
		if q := w.equipment[m.Equipment.Name]; q != nil {
			s.Equipment = q
		}
	}
	if len(m.Feeds) > 0 {
		s.Feeds = make([]*estate.Feed, len(m.Feeds))
		for i, f := range m.Feeds {
			s.Feeds[i] = f
			if own := w.feeds[f.Name]; own != nil {
				s.Feeds[i] = own
			}
		}
	}
	return &s
}

func (w *world) place(rack *estate.Rack, key, spot *estate.Mount) {
	own := *spot
	own.Rack = rack
	rack.Mounts = append(rack.Mounts, &own)
	w.origin[&own] = key
	w.now[key] = &own
}

// edit replaces a rack by a copy that do has changed.
func (w *world) edit(name string, do func(*estate.Rack)) {
	i, ok := w.index[name]
	if !ok {
		return
	}
	was := w.racks[i]
	rack := *was
	rack.Mounts, rack.Blanks = nil, nil
	for _, m := range was.Mounts {
		key := w.origin[m]
		delete(w.origin, m)
		w.place(&rack, key, m)
	}
	for _, b := range was.Blanks {
		own := *b
		own.Rack = &rack
		rack.Blanks = append(rack.Blanks, &own)
	}
	do(&rack)
	w.racks[i] = &rack
}

// put brings a thing to a spot.
func (w *world) put(key, spot *estate.Mount) {
	if spot == nil || spot.Rack == nil {
		return
	}
	w.edit(spot.Rack.Name, func(r *estate.Rack) { w.place(r, key, spot) })
}

// take takes a thing out of where it is.
func (w *world) take(key *estate.Mount) {
	at := w.now[key]
	if at == nil {
		return
	}
	w.edit(at.Rack.Name, func(r *estate.Rack) {
		m := w.now[key]
		r.Mounts = slices.DeleteFunc(r.Mounts, func(o *estate.Mount) bool { return o == m })
		delete(w.origin, m)
		delete(w.now, key)
	})
}

// snapshot gives the racks as they are now.
func (w *world) snapshot() []*estate.Rack { return slices.Clone(w.racks) }

// estate gives the whole estate as it is now, confined to some racks: those
// for which keep holds.
func (w *world) estate(keep func(*estate.Rack) bool) *estate.Estate {
	e := *w.end
	e.Racks = nil
	for _, r := range w.racks {
		if keep == nil || keep(r) {
			e.Racks = append(e.Racks, r)
		}
	}
	e.Groups = make([]*estate.Group, 0, len(w.end.Groups))
	for _, g := range w.end.Groups {
		own := *g
		own.Of = nil
		for _, m := range g.Of {
			if at := w.now[m]; at != nil {
				own.Of = append(own.Of, at)
			}
		}
		e.Groups = append(e.Groups, &own)
	}
	return &e
}
