package sequence

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
)

// An edit replaces bytes of a file.
type edit struct {
	start, end int
	text       string
}

// RestingFiles gives the files of the estate as it rests after a step (by
// number): those of the end, with what is not done yet put back as it was. The
// maps hold text by path. A rack's mounts are written one by one, in the words
// of the files they come from; what cannot be written so, because a layout or a
// stack makes it, is named in the error.
func (p *Plan) RestingFiles(step int, before, after map[string]string) (map[string]string, error) {
	files := make(map[string]string, len(after))
	for name, text := range after {
		files[name] = text
	}
	edits := map[string][]edit{}
	var errs []error
	end := map[string]*estate.Rack{}
	for _, r := range p.after.Racks {
		end[r.Name] = r
	}
	was := map[string]*estate.Rack{}
	for _, r := range p.before.Racks {
		was[r.Name] = r
	}
	for _, now := range p.Racks(step) {
		final, old := end[now.Name], was[now.Name]
		stands := p.standing(now.Name, step)
		switch {
		case final == nil && stands: // it goes later
			path := old.Source.File
			text := strings.TrimRight(files[path], "\n")
			if text != "" {
				text += "\n\n"
			}
			// Behind everything, so that the spans of the file stay true.
			files[path] = text + slice(before, &old.Source) + "\n"
			continue
		case final == nil:
			continue
		case !stands: // it comes later
			edits[final.Source.File] = append(edits[final.Source.File], cut(after[final.Source.File], final.Source.Block))
			continue
		}
		own, err := p.rackEdits(now, final, before, after)
		if err != nil {
			errs = append(errs, err)
		}
		edits[final.Source.File] = append(edits[final.Source.File], own...)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	for name, all := range edits {
		files[name] = apply(files[name], all)
	}
	return files, nil
}

// standing reports whether a rack stands after a step.
func (p *Plan) standing(name string, step int) bool {
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Job == nil || s.Job.Rack != name {
			continue
		}
		switch {
		case s.Task == StandRack:
			return step >= s.Number
		case s.Task == RemoveRack:
			return step < s.Number
		}
	}
	return true
}

// rackEdits gives the edits that bring a rack from what it is in the end to
// what it is now.
func (p *Plan) rackEdits(now, final *estate.Rack, before, after map[string]string) ([]edit, error) {
	text := after[final.Source.File]
	inside := func(s *estate.Source, of *estate.Rack) bool {
		return s.File == of.Source.File && s.Block.Start > of.Source.Block.Start && s.Block.End <= of.Source.Block.End
	}
	same := func(a, b *estate.Mount) bool {
		return a.Source.File == b.Source.File && a.Source.Block == b.Source.Block && a.Label() == b.Label() && a.Equipment == b.Equipment
	}
	var edits []edit
	var added []string
	var errs []error
	kept := map[*estate.Mount]bool{}
	for _, m := range now.Mounts {
		i := slices.IndexFunc(final.Mounts, func(f *estate.Mount) bool { return f.Name == m.Name && same(f, m) && !kept[f] })
		if i >= 0 && p.isFinal(m, final.Mounts[i]) {
			kept[final.Mounts[i]] = true
			continue
		}
		src := &m.Source
		rack := p.rackBefore(m)
		if rack == nil || !inside(src, rack) {
			errs = append(errs, fmt.Errorf("%s is made by a layout or a stack, so that rack %s cannot be written as it rests between; choose a window after which the rack is done", m.Name, now.Name))
			continue
		}
		added = append(added, block(before[src.File], src.Block))
	}
	for _, f := range final.Mounts {
		if kept[f] {
			continue
		}
		if !inside(&f.Source, final) {
			errs = append(errs, fmt.Errorf("%s is made by a layout or a stack, so that rack %s cannot be written as it rests between; choose a window after which the rack is done", f.Name, now.Name))
			continue
		}
		edits = append(edits, cut(text, f.Source.Block))
	}
	if blanks := p.blankEdits(now, final, text, inside); blanks != nil {
		edits = append(edits, blanks...)
		for _, face := range []estate.Face{estate.FrontFace, estate.RearFace} {
			added = append(added, blankLines(now, face)...)
		}
	}
	if len(added) > 0 {
		at := int(final.Source.Block.End) - 1
		edits = append(edits, edit{at, at, "\n" + strings.Join(added, "\n") + "\n"})
	}
	return edits, errors.Join(errs...)
}

// isFinal reports whether a mount is where and as it is in the end.
func (p *Plan) isFinal(m, f *estate.Mount) bool {
	return m.At == f.At && m.Face == f.Face && m.Slot == f.Slot && feedNames(m.Feeds) == feedNames(f.Feeds) && m.Serial == f.Serial &&
		slices.EqualFunc(m.Cords, f.Cords, sameCord)
}

// sameCord reports whether two cords are declared alike, wherever that stands.
func sameCord(a, b estate.Cord) bool {
	a.Length.At, a.Needed.At, a.Locking.At = estate.Span{}, estate.Span{}, estate.Span{}
	b.Length.At, b.Needed.At, b.Locking.At = estate.Span{}, estate.Span{}, estate.Span{}
	return a == b
}

// rackBefore gives the rack of the old estate in which a mount is declared.
func (p *Plan) rackBefore(m *estate.Mount) *estate.Rack {
	for _, r := range p.before.Racks {
		for _, o := range r.Mounts {
			if o.Name == m.Name && o.Source.File == m.Source.File && o.Source.Block == m.Source.Block {
				return r
			}
		}
	}
	return nil
}

// blankEdits takes a rack's blanks out where those of now differ; nil where
// they do not.
func (p *Plan) blankEdits(now, final *estate.Rack, text string, inside func(*estate.Source, *estate.Rack) bool) []edit {
	differ := false
	for _, face := range []estate.Face{estate.FrontFace, estate.RearFace} {
		a, b := blanked(now.Blanks, face), blanked(final.Blanks, face)
		if len(a) != len(b) {
			differ = true
		}
		for u := range a {
			differ = differ || !b[u]
		}
	}
	if !differ {
		return nil
	}
	edits := []edit{}
	for _, b := range final.Blanks {
		if inside(&b.Source, final) {
			edits = append(edits, cut(text, b.Source.Block))
		}
	}
	return edits
}

// blankLines writes a rack's blanks at one face.
func blankLines(r *estate.Rack, face estate.Face) []string {
	var units []int
	for u := range blanked(r.Blanks, face) {
		units = append(units, u)
	}
	slices.Sort(units)
	var out []string
	for i := 0; i < len(units); {
		j := i
		for j+1 < len(units) && units[j+1] == units[j]+1 {
			j++
		}
		at := fmt.Sprint(units[i])
		if j > i {
			at = fmt.Sprintf("%q", fmt.Sprintf("%d-%d", units[i], units[j]))
		}
		if face == estate.RearFace {
			out = append(out, fmt.Sprintf("  blank {\n    at   = %s\n    face = \"rear\"\n  }", at))
		} else {
			out = append(out, fmt.Sprintf("  blank { at = %s }", at))
		}
		i = j + 1
	}
	return out
}

// slice gives the text of a declared block.
func slice(files map[string]string, s *estate.Source) string {
	return files[s.File][s.Block.Start:s.Block.End]
}

// block gives the text of a block with the indentation of its first line.
func block(text string, s estate.Span) string {
	start := int(s.Start)
	for start > 0 && (text[start-1] == ' ' || text[start-1] == '\t') {
		start--
	}
	return text[start:s.End]
}

// cut removes a block with its lines, and the empty line before them.
func cut(text string, s estate.Span) edit {
	start, end := int(s.Start), int(s.End)
	for start > 0 && (text[start-1] == ' ' || text[start-1] == '\t') {
		start--
	}
	for end < len(text) && text[end] != '\n' {
		if c := text[end]; c != ' ' && c != '\t' && c != '\r' && c != '#' {
			return edit{int(s.Start), int(s.End), ""}
		} else if c == '#' {
			break // a comment behind the block stays
		}
		end++
	}
	if end < len(text) && text[end] == '\n' {
		end++
		if start >= 2 && text[start-1] == '\n' && text[start-2] == '\n' {
			start--
		}
	}
	return edit{start, end, ""}
}

// apply makes edits that do not overlap.
func apply(text string, edits []edit) string {
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(a.start, b.start) })
	var b bytes.Buffer
	at := 0
	for _, e := range edits {
		if e.start < at {
			continue
		}
		b.WriteString(text[at:e.start])
		b.WriteString(e.text)
		at = e.end
	}
	b.WriteString(text[at:])
	return b.String()
}
