package main

import (
	"context"
	"fmt"
	"io"
	"path"
	"sort"
	"strings"
	"time"

	"github.com/go-git/go-git/v5"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/filemode"
	"github.com/go-git/go-git/v5/plumbing/object"

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
	start := commit.Hash
	dir := place.Root
	if dir == "" {
		dir = p.dir // a bare repository
	}
	repo, err := git.PlainOpenWithOptions(dir, &git.PlainOpenOptions{DetectDotGit: true, EnableDotGitCommonDir: true})
	if err != nil {
		return fmt.Errorf("opening the repository to write to: %w", err)
	}
	ref := plumbing.NewBranchReferenceName(branch)
	if _, err := repo.Reference(ref, false); err == nil {
		return usagef("branch %q exists already; name another one with --branch", branch)
	}
	parent, err := repo.CommitObject(plumbing.NewHash(start.String()))
	if err != nil {
		return fmt.Errorf("reading commit %s: %w", start.Short(), err)
	}
	who := &object.Signature{Name: "cagenut", Email: "cagenut@localhost", When: p.now()}
	if c, err := repo.ConfigScoped(0); err == nil && c.User.Name != "" {
		who.Name, who.Email = c.User.Name, c.User.Email
	}
	at := parent.Hash
	tree, err := parent.Tree()
	if err != nil {
		return err
	}
	top := tree.Hash
	written := before
	for _, night := range plan.Windows[:n] {
		last := plan.Blocks[night.Blocks[len(night.Blocks)-1]].To
		files, err := restingFiles(ctx, plan, last, before, after)
		if err != nil {
			return fmt.Errorf("window %d: %w", night.Number, err)
		}
		if top, err = writeTree(repo, top, place.Prefix, written, files); err != nil {
			return err
		}
		written = files
		message := fmt.Sprintf("resting after window %d, step %d\n\n%s of %s, %s: what is not done yet is as it was.\n",
			night.Number, last, night.Window.Name, night.Opens.Format(time.DateOnly), strings.TrimSuffix(quantity.Count(len(night.Blocks), "run"), "s")+" of steps done")
		rests := &object.Commit{Author: *who, Committer: *who, Message: message, TreeHash: top, ParentHashes: []plumbing.Hash{at}}
		o := repo.Storer.NewEncodedObject()
		if err := rests.Encode(o); err != nil {
			return err
		}
		if at, err = repo.Storer.SetEncodedObject(o); err != nil {
			return err
		}
	}
	if err := repo.Storer.SetReference(plumbing.NewHashReference(ref, at)); err != nil {
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

// writeTree writes a tree that differs from an old one in some files below a
// folder, and gives its hash.
func writeTree(repo *git.Repository, top plumbing.Hash, prefix string, old, files map[string]string) (plumbing.Hash, error) {
	edits := map[string]*string{}
	for name, text := range files {
		if was, ok := old[name]; !ok || was != text {
			edits[path.Join(prefix, name)] = &text
		}
	}
	for name := range old {
		if _, ok := files[name]; !ok {
			edits[path.Join(prefix, name)] = nil
		}
	}
	return rewriteTree(repo, top, "", edits)
}

func rewriteTree(repo *git.Repository, tree plumbing.Hash, dir string, edits map[string]*string) (plumbing.Hash, error) {
	entries := map[string]object.TreeEntry{}
	if !tree.IsZero() {
		t, err := repo.TreeObject(tree)
		if err != nil {
			return plumbing.ZeroHash, err
		}
		for _, e := range t.Entries {
			entries[e.Name] = e
		}
	}
	below := map[string]bool{}
	for name, text := range edits {
		rest, ok := strings.CutPrefix(name, dir)
		if !ok {
			continue
		}
		if folder, _, deeper := strings.Cut(rest, "/"); deeper {
			below[folder] = true
			continue
		}
		if text == nil {
			delete(entries, rest)
			continue
		}
		hash, err := writeBlob(repo, *text)
		if err != nil {
			return plumbing.ZeroHash, err
		}
		mode := filemode.Regular
		if e, ok := entries[rest]; ok {
			mode = e.Mode
		}
		entries[rest] = object.TreeEntry{Name: rest, Mode: mode, Hash: hash}
	}
	for folder := range below {
		hash, err := rewriteTree(repo, entries[folder].Hash, dir+folder+"/", edits)
		if err != nil {
			return plumbing.ZeroHash, err
		}
		if hash.IsZero() {
			delete(entries, folder)
			continue
		}
		entries[folder] = object.TreeEntry{Name: folder, Mode: filemode.Dir, Hash: hash}
	}
	if len(entries) == 0 && dir != "" {
		return plumbing.ZeroHash, nil
	}
	out := &object.Tree{}
	for _, e := range entries {
		out.Entries = append(out.Entries, e)
	}
	sort.Sort(object.TreeEntrySorter(out.Entries))
	o := repo.Storer.NewEncodedObject()
	if err := out.Encode(o); err != nil {
		return plumbing.ZeroHash, err
	}
	return repo.Storer.SetEncodedObject(o)
}

func writeBlob(repo *git.Repository, text string) (plumbing.Hash, error) {
	o := repo.Storer.NewEncodedObject()
	o.SetType(plumbing.BlobObject)
	w, err := o.Writer()
	if err != nil {
		return plumbing.ZeroHash, err
	}
	if _, err := io.WriteString(w, text); err != nil {
		return plumbing.ZeroHash, err
	}
	if err := w.Close(); err != nil {
		return plumbing.ZeroHash, err
	}
	return repo.Storer.SetEncodedObject(o)
}
