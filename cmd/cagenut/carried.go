package main

import (
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"os"

	"cagenut/lang"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lint"
)

// Where few racks have changed since the last run, only what may feel it is
// read and judged again.

// surveyed ends the name of the survey that is kept with a result.
const surveyed = ".survey"

// A survey is what must be known of the files behind a result to carry it over.
type survey struct {
	Paths, Hashes []string // of each file
	Racks, Mounts []int    // how many each declares
	Keyed         []int    // how many of the keys below are those of its racks
	Keys          []byte   // by which rules compare racks anywhere, four bytes each; see [lint.Keys]
}

// surveyOf makes the survey of what was read. Where that is a part of the tree,
// the rest is as it was.
func surveyOf(k *keep, v *verdict) *survey {
	n := len(k.files)
	s := newSurvey(n)
	at := make(map[string]int, n)
	for i, f := range k.files {
		s.Paths[i], s.Hashes[i] = f.Path, string(f.Hash)
		at[f.Path] = i
	}
	keys := make([][]byte, n)
	if v.before != nil {
		from := 0
		for i, path := range v.before.Paths {
			to := from + 4*v.before.Keyed[i]
			if j, ok := at[path]; ok && !v.changed(path) {
				s.Racks[j], s.Mounts[j], keys[j] = v.before.Racks[i], v.before.Mounts[i], v.before.Keys[from:to]
			}
			from = to
		}
	}
	for _, rack := range v.estate.Racks {
		i, ok := at[rack.Source.File]
		if !ok || v.before != nil && !v.changed(rack.Source.File) {
			continue
		}
		s.Racks[i]++
		s.Mounts[i] += len(rack.Mounts)
		lint.Keys(v.book, rack, func(key uint32) { keys[i] = binary.LittleEndian.AppendUint32(keys[i], key) })
	}
	total := 0
	for i := range keys {
		total += len(keys[i])
	}
	s.Keys = make([]byte, 0, total)
	for i := range keys {
		s.Keyed[i] = len(keys[i]) / 4
		s.Keys = append(s.Keys, keys[i]...)
	}
	return s
}

// The form of a survey in a file: a sum of all that follows, how many files there
// are, of each its path, hash and counts, and the keys.

func (s *survey) write(file string) error {
	b := make([]byte, 4, 4+len(s.Paths)*80+len(s.Keys))
	b = binary.AppendUvarint(b, uint64(len(s.Paths)))
	for i, path := range s.Paths {
		b = append(binary.AppendUvarint(b, uint64(len(path))), path...)
		b = append(binary.AppendUvarint(b, uint64(len(s.Hashes[i]))), s.Hashes[i]...)
		for _, n := range []int{s.Racks[i], s.Mounts[i], s.Keyed[i]} {
			b = binary.AppendUvarint(b, uint64(n))
		}
	}
	b = append(b, s.Keys...)
	binary.LittleEndian.PutUint32(b, crc32.Checksum(b[4:], castagnoli))
	return lang.ReplaceFile(file, b)
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// readSurvey reads what write wrote, or gives nil.
func readSurvey(file string) *survey {
	b, err := os.ReadFile(file)
	if err != nil || len(b) < 4 || crc32.Checksum(b[4:], castagnoli) != binary.LittleEndian.Uint32(b) {
		return nil
	}
	b = b[4:]
	number := func() int {
		n, size := binary.Uvarint(b)
		if size <= 0 || n > 1<<31 {
			b = nil
			return 0
		}
		b = b[size:]
		return int(n)
	}
	text := func() string {
		n := number()
		if n > len(b) {
			b = nil
			return ""
		}
		s := string(b[:n])
		b = b[n:]
		return s
	}
	n := min(number(), len(b))
	s := newSurvey(n)
	keyed := 0
	for i := range n {
		s.Paths[i], s.Hashes[i] = text(), text()
		s.Racks[i], s.Mounts[i], s.Keyed[i] = number(), number(), number()
		keyed += s.Keyed[i]
	}
	if len(b) != 4*keyed {
		return nil
	}
	s.Keys = b
	return s
}

func newSurvey(n int) *survey {
	return &survey{make([]string, n), make([]string, n), make([]int, n), make([]int, n), make([]int, n), nil}
}

// judgeChanged judges again what may feel what has changed since an earlier
// result, and takes the rest of that over. It gives nil where that cannot be.
func (p *program) judgeChanged(ctx context.Context, place *source.Place, tree source.Tree, k *keep, set string) (*verdict, error) {
	if k == nil {
		return nil, nil
	}
	kept, before := lastSurvey(k.like)
	if before == nil {
		return nil, nil
	}
	was := before.changed(k.files)
	if len(was) > mostChanged {
		return nil, nil
	}
	var j judged
	if !readKept(kept, &j) || len(j.Mistakes)+len(j.Broken) > 0 {
		return nil, nil
	}
	o, end := p.loading(place, "reading "+tree.Name())
	around, err := lang.LookAround(ctx, tree, was, o)
	end()
	if err != nil || around == nil {
		return nil, err
	}
	r, err := p.readTree(ctx, place, around.Tree())
	if err != nil {
		return nil, err
	}
	r.tree, r.before, r.was = tree, before, was
	return p.carry(ctx, r, &lint.Carried{Result: &j.Result, Touches: around.Touches}, set)
}

// lastSurvey gives the last used result of those whose names begin so that has a
// survey, or nil.
func lastSurvey(like string) (result string, s *survey) {
	for _, name := range keptResults(like) {
		if s = readSurvey(name + surveyed); s != nil {
			return name, s
		}
	}
	return "", nil
}

// carry judges a part of an estate, and adds what is carried over.
func (p *program) carry(ctx context.Context, r *reading, c *lint.Carried, set string) (*verdict, error) {
	if len(r.mistakes) > 0 {
		return nil, nil
	}
	book, mistakes, err := p.ruleBook(r)
	if err != nil || len(mistakes) > 0 || !c.Carries(book) || r.meets(book) {
		return nil, err
	}
	c.Racks, c.Mounts = r.counted()
	r.carried = c
	result, book, err := p.judge(ctx, r, set)
	if errors.Is(err, lint.ErrFelt) {
		return nil, nil
	}
	if err == nil && p.verbose {
		p.notef("changed since it was judged: %s of %d; judged again: %s of %d",
			quantity.Count(len(r.was), "file"), len(r.before.Paths), quantity.Count(len(r.estate.Racks), "rack"), c.Racks)
	}
	return &verdict{reading: r, result: result, book: book}, err
}

// changed gives the files that are not as they were, with the hashes that they
// had, "" where there was none.
func (s *survey) changed(files []source.File) map[string]source.Hash {
	was := map[string]source.Hash{}
	i := 0
	for _, f := range files { // both are sorted by path
		for i < len(s.Paths) && s.Paths[i] < f.Path {
			was[s.Paths[i]] = source.Hash(s.Hashes[i])
			i++
		}
		switch {
		case i == len(s.Paths) || s.Paths[i] != f.Path:
			was[f.Path] = ""
			continue
		case s.Hashes[i] != string(f.Hash):
			was[f.Path] = source.Hash(s.Hashes[i])
		}
		i++
	}
	for ; i < len(s.Paths); i++ {
		was[s.Paths[i]] = source.Hash(s.Hashes[i])
	}
	return was
}

// changed reports whether a file is not as it was in the earlier run.
func (r *reading) changed(path string) bool {
	_, ok := r.was[path]
	return ok
}

// counted gives how many racks and mounts the whole estate has.
func (r *reading) counted() (racks, mounts int) {
	for i, path := range r.before.Paths {
		if !r.changed(path) {
			racks += r.before.Racks[i]
			mounts += r.before.Mounts[i]
		}
	}
	for _, rack := range r.estate.Racks {
		if r.changed(rack.Source.File) {
			racks++
			mounts += len(rack.Mounts)
		}
	}
	return racks, mounts
}

// meets reports whether a rack that has changed may have a key in common with
// one that has not.
func (r *reading) meets(book []*lint.Rule) bool {
	now := map[uint32]bool{}
	var low [1 << 12]bool // their lowest bits, as most of all others have none of these
	for _, rack := range r.estate.Racks {
		if r.changed(rack.Source.File) {
			lint.Keys(book, rack, func(key uint32) { now[key], low[key%uint32(len(low))] = true, true })
		}
	}
	from := 0
	for i, path := range r.before.Paths {
		to := from + 4*r.before.Keyed[i]
		if !r.changed(path) {
			for at := from; at < to; at += 4 {
				if key := binary.LittleEndian.Uint32(r.before.Keys[at:]); low[key%uint32(len(low))] && now[key] {
					return true
				}
			}
		}
		from = to
	}
	return false
}
