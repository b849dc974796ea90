package main

import (
	"context"
	"fmt"
	"net/mail"
	"path"
	"strings"
	"time"

	"github.com/go-git/go-git/v5/plumbing"

	"cagenut/lang"
	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/source"
	"cagenut/lint/sequence"
)

// writeResting writes the estate as it rests after each of the first n windows
// of a plan: one commit a window, on a new branch that starts at the commit
// before the change. Neither the folder nor any other branch is touched.
func (p *program) writeResting(ctx context.Context, plan *sequence.Plan, branch string, n int, args []string) error {
	if n < 1 || n > len(plan.Windows) {
		return usagef("--resting %d: the plan has %s", n, quantity.Count(len(plan.Windows), "window"))
	}
	place, err := p.locate()
	if err != nil {
		return err
	}
	from, to, err := place.Pair(ctx, args...)
	if err != nil {
		return err
	}
	before, err := textsOf(ctx, from)
	if err != nil {
		return err
	}
	after, err := textsOf(ctx, to)
	if err != nil {
		return err
	}
	commit := source.CommitOf(from)
	if commit == nil {
		return usagef("--resting needs a commit to start from; write it as A in A..B")
	}
	if via := place.Repo.Via(); !place.Repo.Plain() {
		return fmt.Errorf("--resting cannot write to a repository that is read by %s; make a plain clone, and write to that", via)
	}
	r := recordIn(place.Repo.GitDir())
	ref := plumbing.NewBranchReferenceName(branch)
	if _, err := r.storage.Reference(ref); err == nil {
		return usagef("branch %q exists already; name another one with --branch", branch)
	}
	who := mail.Address{Name: "cagenut", Address: "cagenut@localhost"}
	if c, err := r.storage.Config(); err == nil && c.User.Name != "" {
		who.Name, who.Address = c.User.Name, c.User.Email
	}
	at := plumbing.NewHash(commit.Hash.String())
	top := plumbing.NewHash(commit.Tree.String())
	written := before
	for _, night := range plan.Windows[:n] {
		last := plan.Blocks[night.Blocks[len(night.Blocks)-1]].To
		files, err := restingFiles(ctx, plan, last, before, after)
		if err != nil {
			return fmt.Errorf("window %d: %w", night.Number, err)
		}
		if top, err = r.edit(top, "", edited(place.Prefix, written, files)); err != nil {
			return err
		}
		written = files
		message := fmt.Sprintf("resting after window %d, step %d\n\n%s of %s, %s: what is not done yet is as it was.\n",
			night.Number, last, night.Window.Name, night.Opens.Format(time.DateOnly), strings.TrimSuffix(quantity.Count(len(night.Blocks), "run"), "s")+" of steps done")
		if at, err = r.commit(top, at, who, p.now(), message); err != nil {
			return err
		}
	}
	if err := r.storage.SetReference(plumbing.NewHashReference(ref, at)); err != nil {
		return err
	}
	p.notef("branch %s holds the estate as it rests after %s; see: git log %s", branch, quantity.Count(n, "window"), branch)
	return nil
}

func textsOf(ctx context.Context, t source.Tree) (map[string]string, error) {
	files, err := t.Files(ctx)
	if err != nil {
		return nil, err
	}
	out := make(map[string]string, len(files))
	for _, f := range files {
		data, err := t.Read(ctx, f)
		if err != nil {
			return nil, err
		}
		out[f.Path] = string(data)
	}
	return out, nil
}

// restingFiles gives the files of a resting state, read back and compared with
// the state that the plan has: what would declare anything else is refused.
func restingFiles(ctx context.Context, plan *sequence.Plan, step int, before, after map[string]string) (map[string]string, error) {
	files, err := plan.RestingFiles(step, before, after)
	if err != nil {
		return nil, err
	}
	for range len(files) + 1 {
		e, mistakes, err := lang.Load(ctx, source.Memory("resting", files), lang.Options{})
		if err != nil {
			return nil, err
		}
		for _, m := range mistakes {
			if m.Severity == lang.Error {
				return nil, fmt.Errorf("%s would not read: %s; this is a mistake of the program, please report it", m.File, m.Summary)
			}
		}
		if u, ok := olderWillDo(e, files, before, after); ok {
			files[u] = before[u]
			continue
		}
		if len(e.Unresolved) > 0 {
			u := e.Unresolved[0]
			return nil, fmt.Errorf("%s refers to %s, which is not there yet; put that into a change of its own", u.From, u.Name)
		}
		want := *plan.New()
		want.Racks = nil
		have := map[string]bool{}
		for _, r := range e.Racks {
			have[r.Name] = true
		}
		for _, r := range plan.Racks(step) {
			if have[r.Name] || len(r.Mounts) > 0 {
				want.Racks = append(want.Racks, r)
			}
		}
		c := change.Between(e, &want)
		if len(c.Mounts)+len(c.Racks) > 0 {
			thing := ""
			if len(c.Mounts) > 0 {
				thing = c.Mounts[0].Mount().Ref()
			} else {
				thing = c.Racks[0].Rack().Ref()
			}
			return nil, fmt.Errorf("%s cannot be written as it rests then; choose a window after which its rack is done", thing)
		}
		return files, nil
	}
	return nil, fmt.Errorf("the resting state cannot be written; choose a later window")
}

// olderWillDo names a file whose reference to something that is not there yet
// goes away when the file is left as it was: a group that gets a new member.
func olderWillDo(e *estate.Estate, files, before, after map[string]string) (string, bool) {
	for _, u := range e.Unresolved {
		name := u.At.File
		if old, ok := before[name]; ok && files[name] == after[name] && old != files[name] {
			return name, true
		}
	}
	return "", false
}

// edited gives the files that differ, by their paths from the top of the
// repository: their text, or nil for what is gone.
func edited(prefix string, old, files map[string]string) map[string][]byte {
	edits := map[string][]byte{}
	for name, text := range files {
		if was, ok := old[name]; !ok || was != text {
			edits[path.Join(prefix, name)] = []byte(text)
		}
	}
	for name := range old {
		if _, ok := files[name]; !ok {
			edits[path.Join(prefix, name)] = nil
		}
	}
	return edits
}
