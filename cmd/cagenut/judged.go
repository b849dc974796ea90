package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lint"
)

// What was found on the same files, by the same program, on the same day, is
// found again: where nothing has changed, the files are looked at and the last
// result is printed. Where some racks have changed, what the change cannot be
// felt by is taken over; see carried.go. Everything that a result depends on is
// in its name.

// A judged is a result as it is kept in the git directory.
type judged struct {
	Result   lint.Result
	Mistakes []lang.Diagnostic
	Broken   []string
}

const (
	mostUnknown = 64     // files that may have to be read to tell whether anything changed
	mostChanged = 512    // files that may have changed for a result to be carried over
	mostKept    = 20     // results that are kept
	mostSurveys = 4      // of these, results that are carried over from
	mostLines   = 20_000 // findings and unchecked things that are worth keeping
)

// A keep is where the result of judging a tree is kept.
type keep struct {
	dir   string
	like  string // begins the names of results of the same program, day and rule set
	file  string
	files []source.File // of the tree, with their hashes
}

// keepOf tells where the result of judging a tree is kept, or gives nil where
// none is.
func (p *program) keepOf(ctx context.Context, place *source.Place, tree source.Tree, set string) (*keep, error) {
	dir := place.Store()
	if dir == "" {
		return nil, nil
	}
	today, err := p.day()
	if err != nil {
		return nil, err
	}
	files, err := tree.Files(ctx)
	if err != nil {
		return nil, err
	}
	k := &keep{dir: dir, files: slices.Clone(files)}
	head, sum := sha256.New(), sha256.New()
	stamp := lang.Stamp()
	head.Write(stamp[:])
	fmt.Fprintf(head, "%s\x00%s", today, set)
	unknown := 0
	for i := range k.files {
		f := &k.files[i]
		if f.Hash == "" {
			if unknown++; unknown > mostUnknown {
				return nil, nil
			}
			if _, f.Hash, err = source.ReadHashed(ctx, tree, *f); err != nil {
				return nil, err
			}
		}
		fmt.Fprintf(sum, "%s\x00%s", f.Path, string(f.Hash))
	}
	k.like = filepath.Join(dir, "judged-"+hex.EncodeToString(head.Sum(nil)[:8])+"-")
	k.file = k.like + hex.EncodeToString(sum.Sum(nil)[:16])
	return k, nil
}

// A verdict is what was found on a tree. Where results were kept, not all of the
// tree may have been read.
type verdict struct {
	*reading
	result *lint.Result
	book   []*lint.Rule // nil where the result is that of an earlier run
	whole  bool         // all of it was read
}

// verdictOn judges a tree, with the help of what earlier runs have kept if it may.
func (p *program) verdictOn(ctx context.Context, place *source.Place, tree source.Tree, set string, may bool) (*verdict, error) {
	var k *keep
	var err error
	if may {
		if k, err = p.keepOf(ctx, place, tree, set); err != nil {
			return nil, err
		}
	}
	if v := p.recall(place, tree, k); v != nil {
		return v, nil
	}
	v, err := p.judgeChanged(ctx, place, tree, k, set)
	if err != nil {
		return nil, err
	}
	if v == nil {
		v = &verdict{whole: true}
		if v.reading, err = p.readTree(ctx, place, tree); err != nil {
			return nil, err
		}
		if k == nil && may { // too much was unknown before it was read
			if k, err = p.keepOf(ctx, place, tree, set); err != nil {
				return nil, err
			}
		}
		if v.result, v.book, err = p.judge(ctx, v.reading, set); err != nil {
			return nil, err
		}
	}
	p.keepResult(k, v)
	return v, nil
}

// recall gives what an earlier run has found on the same files, or nil.
func (p *program) recall(place *source.Place, tree source.Tree, k *keep) *verdict {
	if k == nil {
		return nil
	}
	var j judged
	if !readKept(k.file, &j) {
		return nil
	}
	use(k.file)
	if p.verbose {
		p.notef("nothing has changed since it was judged: %s in %s", quantity.Count(j.Result.Racks, "rack"), tree.Name())
	}
	p.tellSkipped(tree)
	r := &reading{place: place, tree: tree, estate: &estate.Estate{Broken: j.Broken}, mistakes: j.Mistakes}
	return &verdict{reading: r, result: &j.Result}
}

// use makes a result the last used one. File systems count time too coarsely for
// runs that follow at once; and where it fails, something may be judged anew.
func use(file string) {
	now := time.Now()
	_ = os.Chtimes(file, now, now)
}

// readKept reads what writeKept wrote, and reports false where that is not
// whole.
func readKept(file string, into any) bool {
	data, err := os.ReadFile(file)
	if err != nil || len(data) < sha256.Size {
		return false
	}
	sum := sha256.Sum256(data[sha256.Size:])
	return bytes.Equal(sum[:], data[:sha256.Size]) && gob.NewDecoder(bytes.NewReader(data[sha256.Size:])).Decode(into) == nil
}

func writeKept(file string, from any) error {
	var b bytes.Buffer
	b.Write(make([]byte, sha256.Size))
	if err := gob.NewEncoder(&b).Encode(from); err != nil {
		return err
	}
	sum := sha256.Sum256(b.Bytes()[sha256.Size:])
	copy(b.Bytes(), sum[:])
	return lang.ReplaceFile(file, b.Bytes())
}

// keepResult keeps a result for the next run. What cannot be kept costs time
// and nothing else.
func (p *program) keepResult(k *keep, v *verdict) {
	if k == nil || len(v.estate.Policies) > 0 || len(v.result.Findings)+len(v.result.Unchecked) > mostLines {
		return // shared policies lie outside, where nobody looks whether they changed
	}
	err := surveyOf(k, v).write(k.file + surveyed)
	if err == nil {
		err = writeKept(k.file, judged{*v.result, v.mistakes, v.estate.Broken})
	}
	use(k.file)
	if err != nil && p.verbose {
		p.notef("the result is not kept for the next run: %v", err)
	}
	forgetJudged(k.dir)
}

// forgetJudged throws the oldest results away.
func forgetJudged(dir string) {
	for i, name := range keptResults(filepath.Join(dir, "judged-")) {
		if i >= mostKept {
			os.Remove(name) // another process may have done so already
		}
		if i >= mostSurveys {
			os.Remove(name + surveyed)
		}
	}
}

// keptResults gives the results whose names begin so, the last used first.
func keptResults(like string) []string {
	names, _ := filepath.Glob(like + "*") // the only error is that of a pattern
	names = slices.DeleteFunc(names, func(name string) bool { return strings.HasSuffix(name, surveyed) })
	age := map[string]time.Time{}
	for _, name := range names {
		if info, err := os.Stat(name); err == nil {
			age[name] = info.ModTime()
		}
	}
	slices.SortStableFunc(names, func(a, b string) int { return age[b].Compare(age[a]) })
	return names
}
