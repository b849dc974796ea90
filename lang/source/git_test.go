package source

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"cagenut/testdata/outside"
)

// A repo is a repository that a test makes with git itself.
type repo struct {
	t    testing.TB
	dir  string
	tick int
}

// newRepo makes an empty repository; options go to git init.
func newRepo(t testing.TB, options ...string) *repo {
	t.Helper()
	outside.Need(t, "git")
	r := &repo{t: t, dir: filepath.Join(realTemp(t), "repo")}
	r.in("", append([]string{"init", "-q", "-b", "main"}, append(options, r.dir)...)...)
	return r
}

func realTemp(t testing.TB) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// at gives another working tree to run git in.
func (r *repo) at(dir string) *repo { return &repo{t: r.t, dir: dir, tick: r.tick} }

func (r *repo) git(args ...string) string {
	r.t.Helper()
	return r.in(r.dir, args...)
}

func (r *repo) in(dir string, args ...string) string {
	r.t.Helper()
	out, err := r.try(dir, args...)
	if err != nil {
		r.t.Fatalf("git %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return strings.TrimRight(out, "\n")
}

// try runs git with a clock that goes on by a minute a call and no
// configuration of the machine.
func (r *repo) try(dir string, args ...string) (string, error) {
	r.tick++
	stamp := fmt.Sprintf("2026-03-%02dT%02d:%02d:00+02:00", 1+r.tick/1440, r.tick/60%24, r.tick%60)
	cmd := exec.Command("git", append([]string{"-c", "protocol.file.allow=always"}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "HOME="+r.dir, "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_SYSTEM="+os.DevNull,
		"GIT_AUTHOR_NAME=Rack Planner", "GIT_AUTHOR_EMAIL=planner@brackwater.example", "GIT_AUTHOR_DATE="+stamp,
		"GIT_COMMITTER_NAME=Rack Planner", "GIT_COMMITTER_EMAIL=planner@brackwater.example", "GIT_COMMITTER_DATE="+stamp)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func (r *repo) write(path, text string) {
	r.t.Helper()
	name := filepath.Join(r.dir, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		r.t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		r.t.Fatal(err)
	}
}

// commit writes files (path, text, path, text, ...) and commits all.
func (r *repo) commit(subject string, files ...string) Hash {
	r.t.Helper()
	for i := 0; i < len(files); i += 2 {
		r.write(files[i], files[i+1])
	}
	r.git("add", "-A")
	r.git("commit", "-q", "--allow-empty", "-m", subject)
	return r.hash("HEAD")
}

func (r *repo) hash(rev string) Hash {
	r.t.Helper()
	h, ok := ParseHash(r.git("rev-parse", "--verify", rev))
	if !ok {
		r.t.Fatalf("rev-parse %s gave no hash", rev)
	}
	return h
}

// estate commits an estate of a few files in three commits.
func (r *repo) estate() *repo {
	r.t.Helper()
	r.commit("the first racks", "estate.hcl", "estate \"quay\" {}\n", "hq/hq-a.hcl", "rack \"hq-a\" {}\n", "notes.txt", "none of ours\n")
	r.commit("a second rack", "hq/hq-b.hcl", "rack \"hq-b\" {}\n")
	r.commit("more in the first", "hq/hq-a.hcl", "rack \"hq-a\" {\n}\n", "extra.hcl.json", "{}\n")
	return r
}

// place opens the estate in a folder.
func place(t testing.TB, dir string) *Place {
	t.Helper()
	p, err := Locate(dir)
	if err != nil {
		t.Fatal(err)
	}
	if p.Repo != nil {
		t.Cleanup(func() { p.Repo.Close() })
	}
	return p
}

// listing gives paths and content of a tree as one text.
func listing(t testing.TB, tree Tree) string {
	t.Helper()
	files, err := tree.Files(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, f := range files {
		data, err := tree.Read(context.Background(), f)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "%s %q\n", f.Path, data)
	}
	return b.String()
}

// gitListing gives the same of a commit, as git reads it. Links and
// submodules are not among its files.
func (r *repo) gitListing(rev, prefix string) string {
	r.t.Helper()
	var b strings.Builder
	for line := range strings.SplitSeq(r.git("ls-tree", "-r", "-z", "--full-tree", rev), "\x00") {
		head, path, ok := strings.Cut(line, "\t")
		if !ok || !IsEstateFile(path) || !strings.HasPrefix(path, prefix) || !strings.HasPrefix(head, "100") {
			continue
		}
		cmd := exec.Command("git", "-C", r.dir, "cat-file", "blob", strings.Fields(head)[2])
		data, err := cmd.Output()
		if err != nil {
			r.t.Fatal(err)
		}
		fmt.Fprintf(&b, "%s %q\n", strings.TrimPrefix(path, prefix), data)
	}
	return b.String()
}

func errString(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
