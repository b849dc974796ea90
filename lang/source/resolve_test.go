package source

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// revisions makes a repository in which each form of revision names something:
// a side branch with a merge, tags of all kinds, a remote with branches that
// are followed, and a reflog.
func revisions(t *testing.T) *repo {
	far := newRepo(t)
	far.estate()
	r := far.at(filepath.Join(filepath.Dir(far.dir), "clone"))
	far.in("", "clone", "-q", far.dir, r.dir)
	r.git("checkout", "-q", "-b", "feature/x-1")
	r.commit("a side rack", "side.hcl", "rack \"side\" {}\n")
	r.git("checkout", "-q", "main")
	r.commit("ahead of the side", "main.hcl", "rack \"main\" {}\n")
	r.git("merge", "-q", "--no-ff", "-m", "merge the side\n\nwith a body about cables", "feature/x-1")
	r.git("tag", "light", "HEAD~1")
	r.git("tag", "-a", "-m", "first release", "v1", "HEAD~1")
	r.git("tag", "-a", "-m", "a tag of a tag", "v1-signed-off", "v1")
	r.git("tag", "feature/x-1", "HEAD~2") // a tag wins over a branch of its name
	r.git("tag", "on-tree", "HEAD^{tree}")
	r.git("branch", "weird@name", "HEAD~1")
	r.git("branch", "abcd1", "HEAD~2") // looks like a hash
	r.git("branch", "--track", "follower", "origin/main")
	r.git("branch", "local-follower", "HEAD~1")
	r.git("branch", "--set-upstream-to=main", "local-follower")
	r.git("config", "branch.follower.merge", "refs/heads/main")
	r.commit("after the tag", "later.hcl", "")
	return r
}

// accepted are forms of revisions that name one commit; the page of the
// documentation lists them.
var accepted = []string{
	"HEAD", "@", "main", "heads/main", "refs/heads/main", "origin", "origin/main", "refs/remotes/origin/main",
	"light", "v1", "tags/v1", "refs/tags/v1", "v1-signed-off", "feature/x-1", "heads/feature/x-1", "weird@name", "abcd1",
	"HEAD~", "HEAD~2", "HEAD^", "HEAD^^", "HEAD^0", "HEAD~0", "HEAD~1^2", "HEAD~1^1~1", "@~1", "@^", "main~", "v1~1", "v1^0", "v1^{}", "v1^{commit}",
	"v1-signed-off^{}", "v1-signed-off~1", "v1^{tag}", "v1^{object}", "HEAD^{commit}", "HEAD^{/second}", "HEAD^{/cables}", "main^{/side}~1", "HEAD^{/!-after}",
	":/second rack", ":/cables", ":/^a side", ":/a.*side",
	"@{u}", "@{upstream}", "main@{u}", "main@{UPSTREAM}", "follower@{u}", "local-follower@{u}", "@{push}", "main@{u}~1",
	"HEAD@{0}", "HEAD@{1}", "HEAD@{2}~1", "main@{1}", "main@{0}", "@{1}", "@{-1}", "@{-1}~1", "@{now}", "main@{2026-03-01}",
}

// refused are forms that name no commit, or several; each is refused by name.
var refused = []string{
	"", "-1", "^main", "A..B", "main...v1", "main^@", "main^!", "main^-1", ":extra.hcl", ":0:extra.hcl", "HEAD:hq/hq-a.hcl",
	"HEAD^{tree}", "HEAD^{blob}", "HEAD^{tag}", "HEAD^{rack}", "HEAD^{tree", "HEAD^2", "HEAD~99", "HEAD^x", "main@{77}", "@{-9}", "main@{-1}", "main@{}",
}

func TestResolveAsGit(t *testing.T) {
	r := revisions(t)
	p := place(t, r.dir)
	head := r.hash("HEAD").String()
	revs := append(slices.Clone(accepted),
		head, head[:4], head[:7], head[:9], head[:39], strings.ToUpper(head[:10]), head[:8]+"~1",
		r.hash("v1").String(), r.hash("v1").String()[:9], r.git("describe", "HEAD"), "v1-99-g"+head[:7])
	for _, rev := range revs {
		out := r.git("rev-parse", "--verify", "--end-of-options", commitOf(rev))
		want, ok := ParseHash(out[strings.LastIndexByte(out, '\n')+1:]) // a warning may stand before it
		if !ok {
			t.Fatalf("git does not know %q", rev)
		}
		got, err := p.Repo.Resolve(context.Background(), rev)
		if err != nil || got != want {
			t.Errorf("Resolve(%q) = %s, %v, want %s", rev, got.Short(), err, want.Short())
		}
	}
	// One and all again without the library.
	q := place(t, r.dir)
	q.Repo.why = "the test wants it so"
	for _, rev := range revs {
		want, _ := p.Repo.Resolve(context.Background(), rev)
		got, err := q.Repo.Resolve(context.Background(), rev)
		if err != nil || got != want {
			t.Errorf("through the installed git, Resolve(%q) = %s, %v, want %s", rev, got.Short(), err, want.Short())
		}
	}
}

// commitOf makes git peel a revision as Resolve does; :/text takes no more
// signs behind it.
func commitOf(rev string) string {
	if strings.HasPrefix(rev, ":/") {
		return rev
	}
	return rev + "^{commit}"
}

func TestResolveRefused(t *testing.T) {
	r := revisions(t)
	r.git("checkout", "-q", "-b", "alone")
	p := place(t, r.dir)
	short := func(rev string) string { return r.hash(rev + "^{commit}").Short() }
	first := r.hash("main~5")
	tests := []struct{ rev, want string }{
		{"", "an empty revision names nothing; write a branch, a tag or a commit, such as HEAD"},
		{"-1", `"-1" is no revision: none begins with a dash`},
		{"^main", `"^main" takes commits away and names none; write "main"`},
		{"A..B", `"A..B" is a range of two revisions where one is wanted`},
		{"main...v1", `"main...v1" is a range of two revisions where one is wanted`},
		{"main^@", `"main^@" names several commits where one is wanted`},
		{"main^!", `"main^!" names several commits where one is wanted`},
		{"main^-1", `"main^-1" names several commits where one is wanted`},
		{":extra.hcl", `":extra.hcl" names a file in the index, not a commit`},
		{":0:extra.hcl", `":0:extra.hcl" names a file in the index, not a commit`},
		{"HEAD:hq/hq-a.hcl", `"HEAD:hq/hq-a.hcl" names hq/hq-a.hcl in a commit, not the commit itself; write "HEAD"`},
		{"HEAD:", `"HEAD:" names the top folder in a commit, not the commit itself; write "HEAD"`},
		{"HEAD^{tree}", `"HEAD^{tree}" names a tree, not a commit; write "HEAD"`},
		{"HEAD^{blob}", `"HEAD^{blob}" names a file, not a commit; write "HEAD"`},
		{"HEAD^{tag}", `HEAD is a commit, not an annotated tag`},
		{"HEAD^{rack}", `"HEAD^{rack}" asks for a "rack"; git knows commit, tag and a text to search as in HEAD^{/text}`},
		{"HEAD^{tree", `the revision "HEAD^{tree" opens a brace and does not close it`},
		{"on-tree", "on-tree (" + r.hash("on-tree").Short() + ") is a tree, not a commit"},
		{"HEAD^2", "HEAD (" + short("HEAD") + ") has 1 parent, so there is no HEAD^2"},
		{"HEAD~1^3", "HEAD~1 (" + short("HEAD~1") + ") has 2 parents, so there is no HEAD~1^3"},
		{"HEAD~99", `history begins 5 commits before HEAD, so there is no "HEAD~99"`},
		{first.String() + "^", first.Short() + " is the first commit of its history; it has no parent"},
		{"HEAD~99999999999999999999", `"HEAD~99999999999999999999" counts further back than any history reaches`},
		{"HEAD^x", `the revision "HEAD^x" cannot be read from "x" on; write a branch, a tag or a hash, with ~N or ^N behind it`},
		{"mian", `there is no branch, tag or commit "mian"; did you mean "main"?`},
		{"utterly-different-thing", `there is no branch, tag or commit "utterly-different-thing" here; if origin has it, fetch it with: git fetch origin utterly-different-thing, and write FETCH_HEAD`},
		{"origin/utterly-different-thing", `there is no branch, tag or commit "origin/utterly-different-thing" here; if origin has it, fetch it with: git fetch origin utterly-different-thing:refs/remotes/origin/utterly-different-thing`},
		{"deadbeef", `there is no branch, tag or commit "deadbeef" here; if it begins a hash, write it whole, since a remote gives commits by no less; if it is a branch of origin, fetch it with: git fetch origin deadbeef, and write FETCH_HEAD`},
		{"origin/maim", `there is no branch, tag or commit "origin/maim" here; did you mean "origin/main"? If origin has it, fetch it with: git fetch origin maim:refs/remotes/origin/maim`},
		{"FETCH_HEAD", `there is no branch, tag or commit "FETCH_HEAD" here; if origin has it, fetch it with: git fetch origin BRANCH`},
		{"../config", `"../config" is a range of two revisions where one is wanted`},
		{"config", `there is no branch, tag or commit "config" here; if origin has it, fetch it with: git fetch origin config, and write FETCH_HEAD`},
		{"@{u}", "the branch alone follows no other; give it one with: git branch --set-upstream-to=origin/alone alone"},
		{"v1@{u}", `"v1@{u}": v1 is no branch of this clone, so it follows none`},
		{"nothing@{u}", `there is no branch, tag or commit "nothing" here; if origin has it, fetch it with: git fetch origin nothing, and write FETCH_HEAD`},
		{"main@{77}", `"main@{77}": this clone remembers 3 earlier places of main; a reflog is kept where the work was done, and a fresh clone has none`},
		{"@{-9}", `"@{-9}": this working tree remembers 3 changes of branch`},
		{"main@{-1}", `"main@{-1}": @{-1} is the branch before; nothing stands in front of it`},
		{"main@{}", `"main@{}" says nothing between the braces; write main@{1}, @{u} or @{-1}`},
		{":/no such words", `no commit has a message that matches "no such words"`},
		{"HEAD^{/no such words}", `no commit has a message that matches "no such words"`},
	}
	for _, rev := range refused {
		if !slices.ContainsFunc(tests, func(tt struct{ rev, want string }) bool { return tt.rev == rev }) {
			t.Errorf("no test says how %q is refused", rev)
		}
	}
	for _, tt := range tests {
		h, err := p.Repo.Resolve(context.Background(), tt.rev)
		if h != "" || errString(err) != tt.want {
			t.Errorf("Resolve(%q) = %q, %q\nwant %q", tt.rev, h.Short(), errString(err), tt.want)
		}
	}
}

func TestResolveAmbiguous(t *testing.T) {
	r := newRepo(t)
	r.estate()
	head := r.hash("HEAD").String()
	// A file whose name begins as the commit's does: the commit is meant.
	twin := func(prefix string, not ...string) (text string) {
		for i := range 1 << 22 {
			text := fmt.Sprint("text ", i)
			if strings.HasPrefix(HashOf([]byte(text), "").String(), prefix) && !slices.Contains(not, text) {
				return text
			}
		}
		t.Fatalf("no text has a hash that begins with %s", prefix)
		return ""
	}
	r.write("twin.txt", twin(head[:4]))
	one := twin("beef")
	two := twin("beef", one)
	r.write("one.txt", one)
	r.write("two.txt", two)
	r.git("add", "-A")
	p := place(t, r.dir)
	if got, err := p.Repo.Resolve(context.Background(), head[:4]); err != nil || got.String() != head {
		t.Errorf("Resolve(%q) = %s, %v, want %s", head[:4], got, err, head)
	}
	x, y := HashOf([]byte(one), "").String(), HashOf([]byte(two), "").String()
	if x > y {
		x, y = y, x
	}
	want := fmt.Sprintf(`"beef" begins the names of several objects: file %s, file %s; write more digits`, x, y)
	if _, err := p.Repo.Resolve(context.Background(), "beef"); errString(err) != want {
		t.Errorf("Resolve(beef): %q, want %q", errString(err), want)
	}
}

func TestParseRange(t *testing.T) {
	tests := []struct {
		in   string
		want Range
		ok   bool
	}{
		{"a..b", Range{"a", "b", false}, true},
		{"a...b", Range{"a", "b", true}, true},
		{"a..", Range{"a", "", false}, true},
		{"..b", Range{"", "b", false}, true},
		{"v1.2..v1.3", Range{"v1.2", "v1.3", false}, true},
		{"HEAD^{/one..two}..b", Range{"HEAD^{/one..two}", "b", false}, true},
		{"main", Range{}, false},
		{":/see a..b", Range{}, false},
		{"HEAD^{/a..b}", Range{}, false},
	}
	for _, tt := range tests {
		if got, ok := ParseRange(tt.in); got != tt.want || ok != tt.ok {
			t.Errorf("ParseRange(%q) = %+v, %t, want %+v, %t", tt.in, got, ok, tt.want, tt.ok)
		}
	}
}

func TestNames(t *testing.T) {
	for name, want := range map[string]string{
		"hq/ä b.hcl":      "hq/ä b.hcl",
		"new\nline":       `new\x0aline`,
		"\x1b[31mred":     `\x1b[31mred`,
		"latin-\xe4.hcl":  `latin-\xe4.hcl`,
		"right\u202eleft": `right\xe2\x80\xaeleft`,
	} {
		if got := Quote(name); got != want {
			t.Errorf("Quote(%q) = %s, want %s", name, got, want)
		}
	}
	for _, name := range []string{"../config", "refs/../config", "config", "refs/heads/x.lock", "refs/heads/.x", "refs//x", "a b", "refs/heads/a~1"} {
		if isRefName(name) {
			t.Errorf("isRefName(%q) = true", name)
		}
	}
}

func TestMain(m *testing.M) {
	// What the machine's own configuration says must not decide a test.
	os.Setenv("GIT_CONFIG_GLOBAL", os.DevNull)
	os.Setenv("GIT_CONFIG_SYSTEM", os.DevNull)
	for _, name := range []string{"GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_OBJECT_DIRECTORY"} {
		os.Unsetenv(name)
	}
	os.Exit(m.Run())
}
