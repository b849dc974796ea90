package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing/format/gitignore"

	"cagenut/lang"
	"cagenut/lang/source"
	"cagenut/lang/text"
)

// shared reads the policies that the estate shares with others. They lie
// outside its root, often in another repository, and are read as they are in
// the folder there, whatever revision of the estate is read.
func (r *reading) shared(ctx context.Context) error {
	e := r.estate
	if len(e.Policies) == 0 {
		return nil
	}
	bad := func(pattern, format string, args ...any) {
		r.mistakes = append(r.mistakes, lang.NoSharedPolicies(e, pattern, fmt.Sprintf(format, args...)))
	}
	if r.place.Root == "" {
		bad(e.Policies[0], "cannot be read from a bare repository; lint a working folder")
		return nil
	}
	files := map[string]string{}
	for _, pattern := range e.Policies {
		switch {
		case path.IsAbs(pattern) || filepath.IsAbs(pattern) || strings.Contains(pattern, `\`):
			bad(pattern, "is no path from the estate's root with slashes, such as \"../standards/**\"")
			continue
		case !strings.HasPrefix(path.Clean(pattern)+"/", "../"):
			bad(pattern, "lies inside the estate, whose files are read in any case; take it out")
			continue
		}
		found, err := sharedFiles(r.place.Root, pattern)
		if err != nil {
			return fmt.Errorf("reading shared policies %s: %w", source.Quote(pattern), err)
		}
		if len(found) == 0 {
			bad(pattern, "leads to no file of policies; is the other repository checked out beside this one?")
		}
		for name, b := range found {
			files[name] = string(b)
		}
	}
	rulings, mistakes, err := lang.Policies(ctx, source.Memory("shared policies", files))
	if err != nil {
		return err
	}
	e.Rulings.Policies = append(e.Rulings.Policies, rulings.Policies...)
	e.Rulings.Trials = append(e.Rulings.Trials, rulings.Trials...)
	r.mistakes = append(r.mistakes, mistakes...)
	r.outside = map[string]*text.Text{}
	for name, s := range files {
		r.outside[name] = text.New([]byte(s))
	}
	return nil
}

// sharedFiles reads the files below the estate's root/.. that a pattern leads
// to, by their path from the root. As git does, ** stands for any folders.
func sharedFiles(root, pattern string) (map[string][]byte, error) {
	pattern = path.Clean(pattern)
	steps := strings.Split(pattern, "/")
	fixed := slices.IndexFunc(steps, func(s string) bool { return strings.ContainsAny(s, "*?[") })
	if fixed < 0 {
		fixed = len(steps)
	}
	base, rest := path.Join(steps[:fixed]...), strings.Join(steps[fixed:], "/")
	match := gitignore.ParsePattern("/"+rest, nil)
	out := map[string][]byte{}
	top := filepath.Join(root, filepath.FromSlash(base))
	err := filepath.WalkDir(top, func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil && file == top && os.IsNotExist(err):
			return fs.SkipAll
		case err != nil:
			return err
		case d.IsDir():
			if d.Name() == ".git" {
				return fs.SkipDir
			}
			return nil
		}
		rel, err := filepath.Rel(top, file)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		name := base
		if rel != "." {
			name = path.Join(base, rel)
		}
		if !source.IsEstateFile(name) {
			return nil
		}
		if rest != "" && rest != "**" && match.Match(strings.Split(rel, "/"), false) != gitignore.Exclude {
			return nil
		}
		b, err := os.ReadFile(file)
		out[name] = b
		return err
	})
	return out, err
}
