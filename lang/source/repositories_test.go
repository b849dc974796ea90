package source

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite REPOSITORIES.md")

// A row is one kind of repository, and what becomes of it.
type row struct {
	kind string // for the page; part of the test's name
	how  string // what happens, for the page

	// make gives the folder to open, and the repository to ask git about.
	make func(t *testing.T) (dir string, r *repo)

	rev     string // read in place of HEAD
	prefix  string // where the estate lies
	git     bool   // the installed git must be the one that reads
	openErr string // whole message; DIR stands for the folder
	readErr string // whole message when listing and reading the commit
	only    func(t *testing.T, p *Place, r *repo)
}

const (
	byLibrary = "read"
	byGit     = "read through the installed git"
)

func plain(t *testing.T) *repo { return newRepo(t).estate() }

// clone makes a clone beside a repository.
func clone(r *repo, options ...string) *repo {
	r.t.Helper()
	c := r.at(filepath.Join(filepath.Dir(r.dir), "clone"))
	r.in("", append(append([]string{"clone", "-q"}, options...), "file://"+r.dir, c.dir)...)
	return c
}

var rows = []row{
	{kind: "working tree", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		return r.dir, r
	}},
	{kind: "a folder inside a working tree", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		return filepath.Join(r.dir, "hq"), r
	}},
	{kind: "estate in a subfolder", how: byLibrary, prefix: "racks/quay/", make: func(t *testing.T) (string, *repo) {
		r := newRepo(t)
		r.commit("racks below", "racks/quay/estate.hcl", "estate \"quay\" {}\n", "racks/quay/a/b.hcl", "rack \"b\" {}\n", "other.hcl", "not ours\n")
		return filepath.Join(r.dir, "racks/quay/a"), r
	}},
	{kind: "packed references and objects", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("tag", "-a", "-m", "one", "v1")
		r.git("pack-refs", "--all")
		r.git("gc", "-q", "--prune=now")
		return r.dir, r
	}, rev: "v1"},
	{kind: "multi-pack index, bitmaps and commit graph", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("repack", "-q", "-ad", "--write-bitmap-index")
		r.git("multi-pack-index", "write")
		r.git("commit-graph", "write", "--reachable")
		return r.dir, r
	}},
	{kind: "pack index of version 1", how: byGit, git: true, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("-c", "pack.indexVersion=1", "repack", "-q", "-ad")
		return r.dir, r
	}},
	{kind: "detached HEAD", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("checkout", "-q", "--detach", "HEAD~1")
		return r.dir, r
	}},
	{kind: "unborn HEAD", how: "the folder and the index are read; commits are refused", make: func(t *testing.T) (string, *repo) {
		r := newRepo(t)
		r.write("estate.hcl", "estate \"quay\" {}\n")
		return r.dir, r
	}, readErr: "-", only: func(t *testing.T, p *Place, r *repo) {
		_, err := p.At(context.Background(), "HEAD")
		wantErr(t, err, "the branch main has no commit yet; commit something first, or leave the revision out to read the folder")
		folder, err := p.Folder()
		if err != nil {
			t.Fatal(err)
		}
		if got := listing(t, folder); got != "estate.hcl \"estate \\\"quay\\\" {}\\n\"\n" {
			t.Errorf("the folder holds %s", got)
		}
		index, err := p.Index(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if got := listing(t, index); got != "" {
			t.Errorf("the index holds %s", got)
		}
	}},
	{kind: "shallow clone, depth 1", how: "read; older commits are refused with the fetch to run", make: func(t *testing.T) (string, *repo) {
		c := clone(plain(t), "--depth=1")
		return c.dir, c
	}, only: func(t *testing.T, p *Place, r *repo) {
		_, err := p.At(context.Background(), "HEAD~1")
		wantErr(t, err, "this clone is shallow and ends at "+r.hash("HEAD").Short()+", before 1 commit back from HEAD; fetch more history with: git fetch --deepen=100 origin")
	}},
	{kind: "shallow clone, base fetched by hash", how: "read and compared; no history is needed", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "uploadpack.allowAnySHA1InWant", "true")
		base := r.hash("HEAD~2")
		c := clone(r, "--depth=1")
		c.git("fetch", "-q", "--depth=1", "origin", base.String())
		return c.dir, c
	}, rev: "FETCH_HEAD", only: func(t *testing.T, p *Place, r *repo) {
		sameDiff(t, p, r, "FETCH_HEAD", "HEAD")
		_, _, err := p.Pair(context.Background(), "FETCH_HEAD...HEAD")
		wantErr(t, err, fmt.Sprintf("this clone is shallow, and no common ancestor of %s and %s is in it; fetch more history with: git fetch --deepen=100 origin",
			r.hash("FETCH_HEAD").Short(), r.hash("HEAD").Short()))
	}},
	{kind: "partial clone without files", how: "refused with the fetch to run; nothing is fetched unasked", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "uploadpack.allowFilter", "true")
		c := clone(r, "--filter=blob:none", "--no-checkout")
		return c.dir, c
	}, readErr: "reading estate.hcl in HEAD (HASH): this clone is partial and has not fetched object BLOB yet; fetch what is lacking with: git fetch --refetch --no-filter origin",
		only: func(t *testing.T, p *Place, r *repo) {
			// What the message says must be the cure.
			r.git("fetch", "-q", "--refetch", "--no-filter", "origin")
			tree, err := p.At(context.Background(), "HEAD")
			if err != nil {
				t.Fatal(err)
			}
			if got, want := listing(t, tree), r.gitListing("HEAD", ""); got != want {
				t.Errorf("after the fetch:\n%swant\n%s", got, want)
			}
		}},
	{kind: "partial clone with files checked out", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "uploadpack.allowFilter", "true")
		c := clone(r, "--filter=blob:none")
		return c.dir, c
	}},
	{kind: "linked working tree", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		w := r.at(filepath.Join(filepath.Dir(r.dir), "linked"))
		r.git("worktree", "add", "-q", w.dir, "-b", "linked")
		w.tick = 40
		w.commit("only here", "here.hcl", "rack \"here\" {}\n")
		return w.dir, w
	}},
	{kind: "bare repository", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		b := r.at(filepath.Join(filepath.Dir(r.dir), "bare.git"))
		r.in("", "clone", "-q", "--bare", r.dir, b.dir)
		return b.dir, b
	}, only: func(t *testing.T, p *Place, r *repo) {
		_, err := p.Folder()
		wantErr(t, err, "a bare repository has no folder to read; name a commit with --at, such as --at HEAD")
		_, err = p.Index(context.Background())
		wantErr(t, err, "a bare repository has no index; name a commit with --at, such as --at HEAD")
	}},
	{kind: "bare repository with the estate in a subfolder", how: byLibrary, prefix: "racks/", make: func(t *testing.T) (string, *repo) {
		r := newRepo(t)
		r.commit("racks below", "racks/estate.hcl", "estate \"quay\" {}\n", "other.hcl", "not ours\n")
		b := r.at(filepath.Join(filepath.Dir(r.dir), "bare.git"))
		r.in("", "clone", "-q", "--bare", r.dir, b.dir)
		return b.dir, b
	}},
	{kind: "bare repository with several estates", how: "refused; the message names them", make: func(t *testing.T) (string, *repo) {
		r := newRepo(t)
		r.commit("two", "a/estate.hcl", "estate \"a\" {}\n", "b/estate.hcl", "estate \"b\" {}\n")
		b := r.at(filepath.Join(filepath.Dir(r.dir), "bare.git"))
		r.in("", "clone", "-q", "--bare", r.dir, b.dir)
		return b.dir, b
	}, openErr: "the bare repository DIR holds several estates (a, b); clone it, and choose one with --root"},
	{kind: "mirror, from a folder inside it", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		b := r.at(filepath.Join(filepath.Dir(r.dir), "mirror.git"))
		r.in("", "clone", "-q", "--mirror", r.dir, b.dir)
		return filepath.Join(b.dir, "refs", "heads"), b
	}},
	{kind: "submodule, from inside it", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		super := newRepo(t)
		super.git("submodule", "--quiet", "add", r.dir, "racks")
		super.commit("racks of their own")
		s := super.at(filepath.Join(super.dir, "racks"))
		return s.dir, s
	}},
	{kind: "submodule, seen from around it", how: "left out, and said so", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		super := newRepo(t)
		super.commit("an estate", "estate.hcl", "estate \"all\" {}\n")
		super.git("submodule", "--quiet", "add", r.dir, "racks")
		super.commit("racks of their own")
		return super.dir, super
	}, only: func(t *testing.T, p *Place, r *repo) {
		wantNotes(t, p, []Note{{"racks", "is a repository of its own"}})
	}},
	{kind: "borrowed objects, absolute path", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		c := r.at(filepath.Join(filepath.Dir(r.dir), "shared"))
		r.in("", "clone", "-q", "--shared", r.dir, c.dir)
		return c.dir, c
	}},
	{kind: "borrowed objects, relative path", how: byGit, git: true, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		c := r.at(filepath.Join(filepath.Dir(r.dir), "shared"))
		r.in("", "clone", "-q", "--shared", r.dir, c.dir)
		c.write(".git/objects/info/alternates", "../../../repo/.git/objects\n")
		return c.dir, c
	}},
	{kind: "borrowed objects, lender gone", how: "refused; the message names the file to correct", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		c := r.at(filepath.Join(filepath.Dir(r.dir), "shared"))
		r.in("", "clone", "-q", "--shared", r.dir, c.dir)
		c.write(".git/objects/info/alternates", "/no/such/objects\n")
		return c.dir, c
	}, openErr: "the repository DIR/.git borrows objects from /no/such/objects, which is not there; put it back, or correct DIR/.git/objects/info/alternates"},
	{kind: "estate.hcl not checked out", how: "commits are read; the folder is refused, with what brings the file back", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("sparse-checkout", "set", "--no-cone", "/hq")
		return filepath.Join(r.dir, "hq"), r
	}, only: func(t *testing.T, p *Place, r *repo) {
		_, err := p.Folder()
		wantErr(t, err, "estate.hcl is in the last commit and not in the folder; bring it back with: git checkout --ignore-skip-worktree-bits HEAD -- estate.hcl, or read the commit with --at HEAD")
		r.git("checkout", "--ignore-skip-worktree-bits", "HEAD", "--", "estate.hcl") // must be the cure
		if _, err := place(t, filepath.Join(r.dir, "hq")).Folder(); err != nil {
			t.Error(err)
		}
	}},
	{kind: "sparse checkout", how: "read; of the folder, what is left out is read as it is staged", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("sparse-checkout", "set", "--no-cone", "/estate.hcl")
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		sameFolder(t, p, r)
		tree, err := p.Folder()
		if err != nil {
			t.Fatal(err)
		}
		if got, want := listing(t, tree), r.gitListing("HEAD", ""); got != want {
			t.Errorf("the folder holds\n%swant\n%s", got, want)
		}
		left := Left(tree)
		if len(left) == 0 || slices.Contains(left, "estate.hcl") {
			t.Fatalf("left out are %q", left)
		}
		// What somebody puts there counts, and nothing else of it.
		r.write(left[0], "rack \"by-hand\" {}\n")
		old, neu, err := place(t, r.dir).Pair(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		deltas, err := Differ(context.Background(), old, neu)
		if err != nil || len(deltas) != 1 || deltas[0].Path != left[0] || deltas[0].New == nil {
			t.Errorf("Differ(HEAD, folder) = %+v, %v, want %s altered", deltas, err, left[0])
		}
	}},
	{kind: "sparse checkout of a partial clone", how: "commits are refused with the fetch to run; the folder is read as it lies there, and says what is left out", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "uploadpack.allowFilter", "true")
		c := clone(r, "--filter=blob:none", "--sparse")
		return c.dir, c
	}, only: func(t *testing.T, p *Place, r *repo) {
		tree, err := p.Folder()
		if err != nil {
			t.Fatal(err)
		}
		files, err := tree.Files(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if _, err := tree.Read(context.Background(), f); err != nil {
				t.Error(err)
			}
		}
		notes := Skipped(tree)
		if len(notes) != 1 || !strings.Contains(notes[0].Why, "not checked out, and this partial clone has not fetched") {
			t.Errorf("the notes are %v", notes)
		}
		head, err := p.At(context.Background(), "HEAD")
		if err != nil {
			t.Fatal(err)
		}
		if files, err = head.Files(context.Background()); err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if _, err = head.Read(context.Background(), f); err != nil {
				break
			}
		}
		if err == nil || !strings.HasSuffix(err.Error(), "fetch what is lacking with: git fetch --refetch --no-filter origin") {
			t.Errorf("reading HEAD: %v", err)
		}
	}, readErr: "-"},
	{kind: "sparse index", how: "read; the index through the installed git", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("sparse-checkout", "set", "--cone", "--sparse-index")
		return r.dir, r
	}, only: sameIndex},
	{kind: "split index", how: "read; the index through the installed git", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("update-index", "--split-index")
		return r.dir, r
	}, only: sameIndex},
	{kind: "index of version 4, with untracked cache", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("update-index", "--index-version", "4", "--force-untracked-cache")
		return r.dir, r
	}, only: sameIndex},
	{kind: "index with a file announced but not added", how: "the file counts once it is added", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.write("soon.hcl", "rack \"soon\" {}\n")
		r.git("add", "-N", "soon.hcl")
		return r.dir, r
	}, only: sameIndex},
	{kind: "index with an unfinished merge", how: "commits and the folder are read; the index is refused by file", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("checkout", "-q", "-b", "side")
		r.commit("one way", "extra.hcl.json", "{\"a\": 1}\n")
		r.git("checkout", "-q", "main")
		r.commit("another way", "extra.hcl.json", "{\"a\": 2}\n")
		if out, err := r.try(r.dir, "merge", "side"); err == nil {
			t.Fatalf("the merge should conflict: %s", out)
		}
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		_, err := p.Index(context.Background())
		wantErr(t, err, "the index holds unfinished merges of extra.hcl.json; resolve them, then run: git add extra.hcl.json")
	}},
	{kind: "merge with two bases", how: "read; the younger base is taken", make: func(t *testing.T) (string, *repo) {
		r := crissCross(t)
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) { sameBases(t, p, r, "main", "side") }},
	{kind: "merge of more than two branches", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := octopus(t)
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		sameLog(t, p, r, "hq/hq-a.hcl")
		sameLog(t, p, r, "one.hcl")
	}},
	{kind: "branches without a common ancestor", how: "compared; A...B is refused", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("checkout", "-q", "--orphan", "other")
		r.commit("from nothing", "other.hcl", "rack \"other\" {}\n")
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		sameDiff(t, p, r, "main", "other")
		_, _, err := p.Pair(context.Background(), "main...other")
		wantErr(t, err, fmt.Sprintf("%s and %s have no common ancestor: their histories are unrelated", r.hash("main").Short(), r.hash("other").Short()))
	}},
	{kind: "SHA-256 objects", how: byGit, git: true, make: func(t *testing.T) (string, *repo) {
		r := newRepo(t, "--object-format=sha256").estate()
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		sameDiff(t, p, r, "HEAD~2", "HEAD")
		sameLog(t, p, r, "hq/hq-a.hcl")
		sameIndex(t, p, r)
		sameFolder(t, p, r)
		if _, err := p.Repo.Resolve(context.Background(), r.hash("HEAD~1").String()[:9]); err != nil {
			t.Error(err)
		}
	}},
	{kind: "references kept as a table", how: byGit + ", from git 2.45 on", git: true, make: func(t *testing.T) (string, *repo) {
		r := &repo{t: t, dir: filepath.Join(realTemp(t), "repo")}
		if out, err := r.try("", "init", "-q", "-b", "main", "--ref-format=reftable", r.dir); err != nil {
			t.Skipf("this git makes no such repository: %s", out)
		}
		r.estate()
		return r.dir, r
	}},
	{kind: "an extension that nobody knows", how: "refused in git's own words", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "core.repositoryformatversion", "1")
		r.git("config", "extensions.tidalindex", "true")
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		_, err := p.At(context.Background(), "HEAD")
		if err == nil || !strings.HasSuffix(err.Error(), "unknown repository extension found: tidalindex") {
			t.Errorf("At(HEAD): %v", err)
		}
	}, readErr: "-"},
	{kind: "repository format 7", how: "refused by name", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "core.repositoryformatversion", "7")
		return r.dir, r
	}, openErr: "the repository DIR/.git has format version 7; versions 0 and 1 are known: a newer git wrote it"},
	{kind: "extensions for working trees and precious objects", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "core.repositoryformatversion", "1")
		r.git("config", "extensions.worktreeConfig", "true")
		r.git("config", "extensions.preciousObjects", "true")
		return r.dir, r
	}},
	{kind: "rebase = merges, merge = refs/pull/1/head, pack.window = -1, an odd refspec", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "branch.main.rebase", "merges")
		r.git("config", "branch.main.remote", "origin")
		r.git("config", "branch.main.merge", "refs/pull/1/head")
		r.git("config", "pack.window", "-1")
		r.git("config", "remote.origin.fetch", "refs/heads/*")
		return r.dir, r
	}},
	{kind: "malformed configuration", how: "refused; the message names the file", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.write(".git/config", "[core\nbare = false\n")
		return r.dir, r
	}, openErr: "the configuration DIR/.git/config cannot be read (1:6: expected subsection name or right bracket); see what git makes of it: git config --list --show-origin"},
	{kind: "core.worktree elsewhere", how: "heeded", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		elsewhere := filepath.Join(filepath.Dir(r.dir), "elsewhere")
		if err := os.Mkdir(elsewhere, 0o777); err != nil {
			t.Fatal(err)
		}
		r.git("config", "core.worktree", elsewhere)
		return r.dir, r
	}, openErr: "the estate in DIR lies outside the working tree ELSEWHERE of its repository"},
	{kind: "replaced commits and grafts", how: "heeded", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("replace", "HEAD", "HEAD~1")
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		sameLog(t, p, r, "hq/hq-a.hcl")
		r.git("replace", "-d", "HEAD")
		r.write(".git/info/grafts", r.hash("HEAD").String()+" "+r.hash("HEAD~2").String()+"\n")
		p = place(t, r.dir)
		sameLog(t, p, r, "hq/hq-b.hcl")
	}},
	{kind: "CRLF checkout", how: "a file that differs in nothing else does not differ", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.git("config", "core.autocrlf", "true")
		for _, name := range []string{"estate.hcl", "hq/hq-a.hcl", "hq/hq-b.hcl"} {
			if err := os.Remove(filepath.Join(r.dir, name)); err != nil {
				t.Fatal(err)
			}
		}
		r.git("checkout", "-q", "--", ".")
		return r.dir, r
	}, only: sameFolder},
	{kind: "symbolic links", how: "not followed, and said so", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		for link, to := range map[string]string{"link.hcl": "estate.hcl", "out.hcl": "/etc/passwd", "folder": "hq", "dangling.hcl": "nowhere"} {
			if err := os.Symlink(to, filepath.Join(r.dir, link)); err != nil {
				t.Skip(err)
			}
		}
		r.commit("links")
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		wantNotes(t, p, []Note{{"dangling.hcl", "is a symbolic link"}, {"link.hcl", "is a symbolic link"}, {"out.hcl", "is a symbolic link"}},
			Note{"folder", "is a symbolic link to a folder"})
		sameFolder(t, p, r)
	}},
	{kind: "names with line feeds, tabs, quotes, colons and bytes that are not UTF-8", how: "read; shown with the bytes escaped", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		for i, name := range []string{"new\nline.hcl", "tab\t.hcl", "quo\"te.hcl", "co:lon.hcl", "back\\slash.hcl", "latin-\xe4.hcl", "e\u0301.hcl", "\u00e9.hcl", "git~1.hcl", " .hcl", "-dash.hcl"} {
			r.write(name, fmt.Sprintf("rack \"odd-%d\" {}\n", i))
		}
		r.commit("odd names")
		return r.dir, r
	}, only: sameFolder},
	{kind: "a tree with .., .git or a slash in a name", how: "those entries are left out, and said so", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		blob := r.hash("HEAD:estate.hcl")
		var raw bytes.Buffer
		for _, name := range []string{"..", ".git", "a/b.hcl", "estate.hcl"} {
			fmt.Fprintf(&raw, "100644 %s\x00%s", name, string(blob))
		}
		file := filepath.Join(filepath.Dir(r.dir), "raw")
		if err := os.WriteFile(file, raw.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		tree := r.git("hash-object", "-t", "tree", "--literally", "-w", file)
		commit := r.git("commit-tree", "-m", "hostile", tree)
		r.git("update-ref", "refs/heads/hostile", commit)
		return r.dir, r
	}, rev: "hostile", only: func(t *testing.T, p *Place, r *repo) {
		tree, err := p.At(context.Background(), "hostile")
		if err != nil {
			t.Fatal(err)
		}
		if got, want := listing(t, tree), "estate.hcl \"estate \\\"quay\\\" {}\\n\"\n"; got != want {
			t.Errorf("the hostile tree holds %s, want %s", got, want)
		}
		const why = "has a name that no file may have"
		if got, want := fmt.Sprint(Skipped(tree)), fmt.Sprint([]Note{{"..", why}, {".git", why}, {"a/b.hcl", why}}); got != want {
			t.Errorf("left out: %s, want %s", got, want)
		}
		deltas, err := Differ(context.Background(), tree, mustAt(t, p, "HEAD"))
		if err != nil || len(deltas) != 3 {
			t.Errorf("Differ = %v, %v, want the three files of HEAD that are not in it", deltas, err)
		}
	}, readErr: "-"},
	{kind: "an object cut short", how: "refused; the message names it", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		h := r.hash("HEAD:estate.hcl").String()
		name := filepath.Join(r.dir, ".git/objects", h[:2], h[2:])
		if err := os.Chmod(name, 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Truncate(name, 8); err != nil {
			t.Fatal(err)
		}
		return r.dir, r
	}, readErr: "reading estate.hcl in HEAD (HASH): object BLOB cannot be read (unexpected EOF); see what is damaged with: git fsck"},
	{kind: "a missing folder object", how: "refused; the message names it", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		h := r.hash("HEAD:hq").String()
		if err := os.Remove(filepath.Join(r.dir, ".git/objects", h[:2], h[2:])); err != nil {
			t.Fatal(err)
		}
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		_, err := mustAt(t, p, "HEAD").Files(context.Background())
		wantErr(t, err, fmt.Sprintf("reading HEAD (%s): object %s is missing from the repository; see what is damaged with: git fsck", r.hash("HEAD").Short(), r.hash("HEAD:hq").Short()))
	}, readErr: "-"},
	{kind: "packing by another process meanwhile", how: "read; the packs are opened anew", make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		return r.dir, r
	}, only: func(t *testing.T, p *Place, r *repo) {
		tree := mustAt(t, p, "HEAD~1")
		if _, err := tree.Files(context.Background()); err != nil {
			t.Fatal(err)
		}
		r.git("gc", "-q", "--prune=now")
		if got, want := listing(t, tree), r.gitListing("HEAD~1", ""); got != want {
			t.Errorf("after packing:\n%swant\n%s", got, want)
		}
		if via := p.Repo.Via(); via != "the built-in reader" {
			t.Errorf("read by %s", via)
		}
	}},
	{kind: "index.lock held by another process", how: byLibrary, make: func(t *testing.T) (string, *repo) {
		r := plain(t)
		r.write(".git/index.lock", "")
		return r.dir, r
	}, only: sameIndex},
}

func TestRepositories(t *testing.T) {
	for _, row := range rows {
		t.Run(row.kind, func(t *testing.T) {
			dir, r := row.make(t)
			p, err := Locate(dir)
			if err == nil && p.repoErr != nil {
				err = p.repoErr
			}
			if err != nil || row.openErr != "" {
				want := strings.NewReplacer("DIR", r.dir, "ELSEWHERE", filepath.Join(filepath.Dir(r.dir), "elsewhere")).Replace(row.openErr)
				wantErr(t, err, want)
				return
			}
			defer p.Repo.Close()
			if row.readErr != "-" {
				readRow(t, row, p, r)
			}
			if via := p.Repo.Via(); row.readErr == "" && row.git != strings.HasPrefix(via, "the installed git") {
				t.Errorf("read by %s", via)
			}
			if row.only != nil {
				row.only(t, p, r)
			}
		})
	}
}

// readRow compares the commit as it is read here with what git reads.
func readRow(t *testing.T, row row, p *Place, r *repo) {
	t.Helper()
	rev := row.rev
	if rev == "" {
		rev = "HEAD"
	}
	tree, err := p.At(context.Background(), rev)
	if err != nil {
		t.Fatal(err)
	}
	if row.readErr != "" {
		files, err := tree.Files(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if _, err = tree.Read(context.Background(), f); err != nil {
				want := strings.NewReplacer("HASH", r.hash(rev).Short(), "BLOB", f.Hash.Short()).Replace(row.readErr)
				wantErr(t, err, want)
				return
			}
		}
		t.Errorf("every file of %s was read, want the error %q", rev, row.readErr)
		return
	}
	got, want := listing(t, tree), r.gitListing(rev, row.prefix)
	if got != want || want == "" {
		t.Errorf("%s holds\n%sgit has\n%s", rev, got, want)
	}
}

func mustAt(t *testing.T, p *Place, rev string) Tree {
	t.Helper()
	tree, err := p.At(context.Background(), rev)
	if err != nil {
		t.Fatal(err)
	}
	return tree
}

func wantErr(t *testing.T, err error, want string) {
	t.Helper()
	if got := errString(err); got != want {
		t.Errorf("error %q\nwant  %q", got, want)
	}
}

// wantNotes wants these notes of each tree, and the last ones of the folder.
func wantNotes(t *testing.T, p *Place, want []Note, onDisk ...Note) {
	t.Helper()
	trees := []Tree{mustAt(t, p, "HEAD"), Folder(p.Root)}
	if index, err := p.Index(context.Background()); err == nil {
		trees = append(trees, index)
	}
	for _, tree := range trees {
		if _, err := tree.Files(context.Background()); err != nil {
			t.Fatal(err)
		}
		want := slices.Clone(want)
		if _, ok := tree.(*folder); ok {
			want = append(want, onDisk...)
			slices.SortFunc(want, func(a, b Note) int { return strings.Compare(a.Path, b.Path) })
		}
		if got := fmt.Sprint(Skipped(tree)); got != fmt.Sprint(want) {
			t.Errorf("%s leaves out %s, want %s", tree.Name(), got, want)
		}
	}
}

// sameIndex compares the index with what git would commit.
func sameIndex(t *testing.T, p *Place, r *repo) {
	t.Helper()
	tree, err := p.Index(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := listing(t, tree), r.gitListing("HEAD", ""); got != want {
		t.Errorf("the index holds\n%swant\n%s", got, want)
	}
}

// sameFolder expects the folder to be as HEAD has it.
func sameFolder(t *testing.T, p *Place, _ *repo) {
	t.Helper()
	old, neu, err := p.Pair(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	deltas, err := Differ(context.Background(), old, neu)
	if err != nil || len(deltas) > 0 {
		t.Errorf("Differ(HEAD, folder) = %+v, %v, want nothing", deltas, err)
	}
}

// sameDiff compares a difference with that of git.
func sameDiff(t *testing.T, p *Place, r *repo, a, b string) {
	t.Helper()
	old, neu, err := p.Pair(context.Background(), a, b)
	if err != nil {
		t.Fatal(err)
	}
	deltas, err := Differ(context.Background(), old, neu)
	if err != nil {
		t.Fatal(err)
	}
	var got strings.Builder
	for _, d := range deltas {
		switch {
		case d.Old == nil:
			got.WriteString("A")
		case d.New == nil:
			got.WriteString("D")
		default:
			got.WriteString("M")
		}
		fmt.Fprintf(&got, "\t%s\n", d.Path)
	}
	var want strings.Builder
	fields := strings.Split(r.git("diff", "--no-renames", "--name-status", "-z", a, b), "\x00")
	for i := 0; i+1 < len(fields); i += 2 {
		if IsEstateFile(fields[i+1]) {
			fmt.Fprintf(&want, "%s\t%s\n", fields[i], fields[i+1])
		}
	}
	if got.String() != want.String() || want.Len() == 0 {
		t.Errorf("%s and %s differ in\n%sgit says\n%s", a, b, got.String(), want.String())
	}
}

// sameLog compares the history of a path with that of git, both ways.
func sameLog(t *testing.T, p *Place, r *repo, path string) {
	t.Helper()
	for _, first := range []bool{true, false} {
		options := []string{"--full-history", "--no-merges"}
		if first {
			options = []string{"--first-parent"}
		}
		head, err := p.Repo.Resolve(context.Background(), "HEAD")
		if err != nil {
			t.Fatal(err)
		}
		versions, err := p.History(context.Background(), Walk{From: head, Paths: []string{path}, FirstParent: first})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, v := range versions {
			if first || len(v.Parents) < 2 { // git lists merges that only bring what others did
				got = append(got, v.Hash.String()+" "+v.Subject)
			}
		}
		var want []string
		for line := range strings.Lines(r.git(append(append([]string{"log", "--format=%H %s"}, options...), "--", path)...)) {
			if !strings.HasPrefix(line, "hint:") && len(strings.Fields(line)[0]) >= 40 {
				want = append(want, strings.TrimRight(line, "\n"))
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) || len(want) == 0 {
			t.Errorf("history of %s (%v):\n%s\ngit says\n%s", path, options, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

func sameBases(t *testing.T, p *Place, r *repo, a, b string) {
	t.Helper()
	got, err := p.Repo.MergeBases(context.Background(), r.hash(a), r.hash(b))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, h := range got {
		seen[h.String()] = true
	}
	want := strings.Fields(r.git("merge-base", "--all", a, b))
	if len(got) != len(want) {
		t.Errorf("MergeBases(%s, %s) = %v, git says %v", a, b, got, want)
	}
	for _, h := range want {
		if !seen[h] {
			t.Errorf("MergeBases(%s, %s) = %v lacks %s", a, b, got, h)
		}
	}
}

// crissCross makes two branches that each merged the other.
func crissCross(t *testing.T) *repo {
	r := plain(t)
	r.git("checkout", "-q", "-b", "side")
	r.commit("on the side", "side.hcl", "rack \"side\" {}\n")
	r.git("checkout", "-q", "main")
	r.commit("on main", "main.hcl", "rack \"main\" {}\n")
	r.git("branch", "main-then")
	r.git("merge", "-q", "--no-ff", "-m", "side into main", "side")
	r.git("checkout", "-q", "side")
	r.git("merge", "-q", "--no-ff", "-m", "main into side", "main-then")
	r.commit("further on the side", "side.hcl", "rack \"side\" {\n}\n")
	r.git("checkout", "-q", "main")
	r.commit("further on main", "main.hcl", "rack \"main\" {\n}\n")
	return r
}

// octopus makes a merge with three parents, one of which changed a file that
// the others leave alone.
func octopus(t *testing.T) *repo {
	r := plain(t)
	for _, name := range []string{"one", "two"} {
		r.git("checkout", "-q", "-b", name, "main")
		r.commit("branch "+name, name+".hcl", "rack \""+name+"\" {}\n")
	}
	r.git("checkout", "-q", "main")
	r.commit("main goes on", "hq/hq-a.hcl", "rack \"hq-a\" {\n\n}\n")
	r.git("merge", "-q", "-m", "all of them", "one", "two")
	return r
}

// TestWithoutGit takes the installed git away: what the library reads is read
// as before, and what it cannot read is refused by name.
func TestWithoutGit(t *testing.T) {
	r := plain(t)
	other := newRepo(t, "--object-format=sha256").estate()
	want := r.gitListing("HEAD", "")
	found := findGit
	findGit = func() string { return "" }
	defer func() { findGit = found }()
	if got := listing(t, mustAt(t, place(t, r.dir), "HEAD")); got != want {
		t.Errorf("HEAD holds\n%swant\n%s", got, want)
	}
	p, err := Locate(other.dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Folder(); err != nil {
		t.Errorf("the folder needs no git: %v", err)
	}
	_, err = p.At(context.Background(), "HEAD")
	wantErr(t, err, fmt.Sprintf("the repository %s cannot be read without git, because its objects are named by SHA-256; install git and run this again",
		filepath.Join(other.dir, ".git")))
}

func TestOutsideRepositories(t *testing.T) {
	dir := realTemp(t)
	t.Setenv("GIT_CEILING_DIRECTORIES", filepath.Dir(dir))
	_, err := Locate(dir)
	wantErr(t, err, dir+" holds no estate.hcl, nor does any folder above it: no estate here; begin one with: cagenut new")
	if err := os.WriteFile(filepath.Join(dir, RootFile), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	p := place(t, dir)
	_, err = p.At(context.Background(), "HEAD")
	wantErr(t, err, dir+" is in no git repository: there are no commits to read; make one with: git init")
}

// TestEnvironment checks the variables that git sets for the hooks it runs.
func TestEnvironment(t *testing.T) {
	r := plain(t)
	r.write("staged.hcl", "rack \"staged\" {}\n")
	other := filepath.Join(filepath.Dir(r.dir), "other-index")
	t.Setenv("GIT_DIR", filepath.Join(r.dir, ".git"))
	t.Setenv("GIT_WORK_TREE", r.dir)
	t.Setenv("GIT_INDEX_FILE", other)
	if out, err := exec.Command("git", "-C", r.dir, "add", "staged.hcl").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	tree, err := place(t, r.dir).Index(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := listing(t, tree), "staged.hcl \"rack \\\"staged\\\" {}\\n\"\n"; got != want {
		t.Errorf("the index holds %s, want %s", got, want)
	}
}

// TestPage keeps the page of the documentation in step with the table above.
func TestPage(t *testing.T) {
	var page strings.Builder
	page.WriteString("# Repositories that are read, and how\n\nEach row is a test that makes such a repository with git and compares what is read with what git reads. " +
		"The page is written by `go test ./lang/source -run TestPage -update`.\n\n| repository | what happens |\n|---|---|\n")
	for _, row := range rows {
		fmt.Fprintf(&page, "| %s | %s |\n", row.kind, row.how)
	}
	page.WriteString("\n## Revisions\n\nThese name the same commit as for `git rev-parse`, with and without the installed git, and so do whole and short hashes " +
		"of any length from four digits on and what `git describe` prints. Dates such as `main@{2026-03-01}` are asked of the installed git.\n\n")
	listed := func(revs []string) {
		for i, rev := range revs {
			if i > 0 {
				page.WriteString(", ")
			}
			fmt.Fprintf(&page, "`%s`", rev)
		}
		page.WriteString("\n")
	}
	listed(accepted)
	page.WriteString("\nThese name no commit, or several, and are refused by name, with what to write:\n\n")
	listed(refused[1:])
	const name = "REPOSITORIES.md"
	if *update {
		if err := os.WriteFile(name, []byte(page.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(name)
	if err != nil || string(have) != page.String() {
		t.Errorf("%s is not what the table says (%v); run: go test ./lang/source -run TestPage -update", name, err)
	}
}
