package source

import (
	"context"
	"strings"
	"testing"
)

// TestLastTag asks for the youngest tag of a pattern on a history with a merge,
// with tags of tags and tags of what is no commit, loose and packed.
func TestLastTag(t *testing.T) {
	r := newRepo(t).estate()
	r.git("tag", "as-built/first", "HEAD~2")
	r.git("tag", "-a", "-m", "looked", "as-built/hq/second", "HEAD~1")
	r.git("tag", "as-built/third", "as-built/hq/second") // a tag of a tag
	r.git("tag", "as-built/tree", "HEAD^{tree}")
	r.git("tag", "release-1", "HEAD")
	r.git("checkout", "-q", "-b", "side", "HEAD~1")
	side := r.commit("on the side", "hq/hq-c.hcl", "rack \"hq-c\" {}\n")
	r.git("tag", "as-built/side")
	r.git("checkout", "-q", "main")
	r.git("merge", "-q", "--no-ff", "-m", "the side comes in", "side")
	main := r.hash("main")
	for _, packed := range []bool{false, true} {
		if packed {
			r.git("pack-refs", "--all")
		}
		repo := place(t, r.dir).Repo
		for _, tt := range []struct {
			pattern string
			from    Hash
			want    string
		}{
			{"as-built/*", main, "as-built/side"},
			{"as-built/*", r.hash("main^1"), "as-built/third"}, // the last by name of two on one commit
			{"as-built/hq/*", main, "as-built/hq/second"},
			{"as-built/*d", r.hash("main^1"), "as-built/third"},
			{"as-built/f????", main, "as-built/first"},
			{"as-built/*", r.hash("HEAD~2"), "as-built/third"},
			{"release-[0-9]", main, "release-1"},
			{"release-[0-9]", side, ""},
			{"as-built/tree", main, ""},
			{"as-built/[", main, ""},
		} {
			tag, err := repo.LastTag(context.Background(), tt.from, tt.pattern)
			if err != nil {
				t.Fatal(err)
			}
			got := ""
			if tag != nil {
				got = tag.Name
				if h := r.hash(got + "^{commit}"); tag.Commit.Hash != h {
					t.Errorf("LastTag(%s, %q) is on %s, and git says %s", tt.from.Short(), tt.pattern, tag.Commit.Hash.Short(), h.Short())
				}
			}
			if got != tt.want {
				t.Errorf("packed %v: LastTag(%s, %q) = %q, want %q", packed, tt.from.Short(), tt.pattern, got, tt.want)
			}
		}
	}
}

// A pattern fits what git tag --list lists for it.
func TestMatchesTag(t *testing.T) {
	r := newRepo(t).estate()
	names := []string{"as-built/1", "as-built/hq/2", "as-built", "asbuilt/1", "x/as-built/1"}
	for _, n := range names {
		if n != "as-built" { // git has no tag beside others below it
			r.git("tag", n)
		}
	}
	for _, pattern := range []string{"as-built/*", "*", "as-built/?", "as-built/[0-9]", "as*1", "*/*/*", "as-built/1", "as-built/"} {
		listed := strings.Fields(r.git("tag", "--list", pattern))
		var got []string
		for _, n := range names {
			if n != "as-built" && MatchesTag(pattern, n) {
				got = append(got, n)
			}
		}
		if strings.Join(got, " ") != strings.Join(listed, " ") {
			t.Errorf("%q fits %v, and git lists %v", pattern, got, listed)
		}
	}
}
