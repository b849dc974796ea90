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
	"time"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lint"
	"cagenut/render/report"
)

// What was found on the same files, by the same program, on the same day, is
// found again: where nothing has changed, the files are looked at and the last
// result is printed. Everything that a result depends on is in its name.

// A judged is a result as it is kept in the git directory.
type judged struct {
	Result   lint.Result
	Mistakes []lang.Diagnostic
	Broken   []string
}

const (
	mostUnknown = 64     // files that may have to be read to tell whether anything changed
	mostKept    = 20     // results that are kept
	mostLines   = 20_000 // findings and unchecked things that are worth keeping
)

// judgedFile names the file in which the result of judging a tree is kept, or
// gives "" where none is.
func (p *program) judgedFile(ctx context.Context, place *source.Place, tree source.Tree, set string) (string, error) {
	dir := place.Store()
	if dir == "" {
		return "", nil
	}
	today, err := p.day()
	if err != nil {
		return "", err
	}
	files, err := tree.Files(ctx)
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	stamp := lang.Stamp()
	sum.Write(stamp[:])
	fmt.Fprintf(sum, "%s\x00%s\x00%d\x00", today, set, len(files))
	unknown := 0
	for _, f := range files {
		h := f.Hash
		if h == "" {
			if unknown++; unknown > mostUnknown {
				return "", nil
			}
			if _, h, err = source.ReadHashed(ctx, tree, f); err != nil {
				return "", err
			}
		}
		fmt.Fprintf(sum, "%s\x00%s", f.Path, string(h))
	}
	return filepath.Join(dir, "judged-"+hex.EncodeToString(sum.Sum(nil)[:16])), nil
}

// recallJudged gives the page of an earlier run, or nil.
func (p *program) recallJudged(place *source.Place, tree source.Tree, file string) *report.Page {
	data, err := os.ReadFile(file)
	if file == "" || err != nil || len(data) < sha256.Size {
		return nil
	}
	sum := sha256.Sum256(data[sha256.Size:])
	if !bytes.Equal(sum[:], data[:sha256.Size]) {
		return nil
	}
	var j judged
	if err := gob.NewDecoder(bytes.NewReader(data[sha256.Size:])).Decode(&j); err != nil {
		return nil
	}
	now := time.Now()
	_ = os.Chtimes(file, now, now) // so that it is not the next to be thrown away; if not, it is judged anew
	if p.verbose {
		p.notef("nothing has changed since it was judged: %s in %s", quantity.Count(j.Result.Racks, "rack"), tree.Name())
	}
	p.tellSkipped(tree)
	r := &reading{place: place, tree: tree, estate: &estate.Estate{Broken: j.Broken}, mistakes: j.Mistakes}
	return r.page(&j.Result, nil)
}

// keepJudged keeps a result for the next run. What cannot be kept costs time
// and nothing else.
func (p *program) keepJudged(file string, r *reading, result *lint.Result) {
	if file == "" || len(r.estate.Policies) > 0 || len(result.Findings)+len(result.Unchecked) > mostLines {
		return // shared policies lie outside, where nobody looks whether they changed
	}
	var b bytes.Buffer
	b.Write(make([]byte, sha256.Size))
	err := gob.NewEncoder(&b).Encode(judged{*result, r.mistakes, r.estate.Broken})
	if err == nil {
		sum := sha256.Sum256(b.Bytes()[sha256.Size:])
		copy(b.Bytes(), sum[:])
		err = lang.ReplaceFile(file, b.Bytes())
	}
	if err != nil && p.verbose {
		p.notef("the result is not kept for the next run: %v", err)
	}
	forgetJudged(filepath.Dir(file))
}

// forgetJudged throws the oldest results away.
func forgetJudged(dir string) {
	names, err := filepath.Glob(filepath.Join(dir, "judged-*"))
	if err != nil || len(names) <= mostKept {
		return
	}
	age := map[string]time.Time{}
	for _, name := range names {
		if info, err := os.Stat(name); err == nil {
			age[name] = info.ModTime()
		}
	}
	slices.SortFunc(names, func(a, b string) int { return age[b].Compare(age[a]) })
	for _, name := range names[mostKept:] {
		os.Remove(name) // another process may have done so already
	}
}
