package source

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestHistoryOfMerges: a merge is part of a file's history only where it made
// something that none of its parents had.
func TestHistoryOfMerges(t *testing.T) {
	r := plain(t)
	r.git("checkout", "-q", "-b", "side")
	r.commit("side adds", "side.hcl", "rack \"side\" {}\n", "hq/hq-b.hcl", "rack \"hq-b\" { # side\n}\n")
	r.git("checkout", "-q", "main")
	r.commit("main alters", "hq/hq-b.hcl", "rack \"hq-b\" { # main\n}\n")
	if out, err := r.try(r.dir, "merge", "side"); err == nil {
		t.Fatalf("the merge should conflict: %s", out)
	}
	r.commit("both ways", "hq/hq-b.hcl", "rack \"hq-b\" { # both\n}\n")
	p := place(t, r.dir)
	tests := []struct {
		paths []string
		first bool
		want  string
	}{
		{[]string{"hq/hq-b.hcl"}, false, "both ways; main alters; side adds; a second rack"},
		{[]string{"hq/hq-b.hcl"}, true, "both ways; main alters; a second rack"},
		{[]string{"side.hcl"}, false, "side adds"},
		{[]string{"side.hcl"}, true, "both ways"},
		{[]string{"hq"}, true, "both ways; main alters; more in the first; a second rack; the first racks"},
		{[]string{"side.hcl", "extra.hcl.json"}, false, "side adds; more in the first"},
		{[]string{"nowhere.hcl"}, false, ""},
		{nil, true, "both ways; main alters; more in the first; a second rack; the first racks"},
	}
	for _, tt := range tests {
		versions, err := p.History(context.Background(), Walk{From: r.hash("HEAD"), Paths: tt.paths, FirstParent: tt.first})
		var got []string
		for _, v := range versions {
			got = append(got, v.Subject)
		}
		if err != nil || strings.Join(got, "; ") != tt.want {
			t.Errorf("History(%v, first parent %t) = %s, %v\nwant %s", tt.paths, tt.first, strings.Join(got, "; "), err, tt.want)
		}
	}
	versions, err := p.History(context.Background(), Walk{From: r.hash("HEAD"), Paths: []string{"hq"}, FirstParent: true, Until: r.hash("HEAD~2")})
	if err != nil || len(versions) != 2 {
		t.Errorf("History until HEAD~2 = %v, %v, want two versions", versions, err)
	}
	versions, err = p.History(context.Background(), Walk{From: r.hash("HEAD"), Limit: 1})
	if err != nil || len(versions) != 1 || versions[0].Author != "Rack Planner" || versions[0].When.Format("-0700") != "+0200" {
		t.Errorf("History limited to 1 = %+v, %v", versions, err)
	}
}

// TestRandomHistories compares differences, histories and merge bases with git
// on repositories that grow at random.
func TestRandomHistories(t *testing.T) {
	for seed := range uint64(3) {
		rnd := rand.New(rand.NewPCG(seed, 7))
		r := newRepo(t)
		r.commit("start", "estate.hcl", "estate \"x\" {}\n")
		branches := []string{"main"}
		for i := range 24 {
			on := branches[rnd.IntN(len(branches))]
			r.git("checkout", "-q", on)
			switch {
			case rnd.IntN(5) == 0 && len(branches) < 4:
				name := fmt.Sprint("b", i)
				r.git("branch", name)
				branches = append(branches, name)
			case rnd.IntN(4) == 0:
				// Each side writes files of its own, so that merges go through.
				r.git("merge", "-q", "--no-ff", "-m", fmt.Sprint("merge ", i), branches[rnd.IntN(len(branches))])
			default:
				path := fmt.Sprintf("of-%s/%d/%d.hcl", on, rnd.IntN(2), rnd.IntN(3))
				r.commit(fmt.Sprint("commit ", i), path, fmt.Sprintf("rack \"x\" {} # %d\n", rnd.IntN(4)))
			}
		}
		p := place(t, r.dir)
		for _, a := range branches {
			for _, b := range branches {
				sameBases(t, p, r, a, b)
				if r.git("diff", "--name-only", a, b) != "" {
					sameDiff(t, p, r, a, b)
				}
			}
		}
		sameLog(t, p, r, "estate.hcl")
		r.git("checkout", "-q", "main")
		for _, path := range strings.Fields(r.git("ls-files")) {
			sameLog(t, p, r, path)
		}
	}
}

func TestParseCommit(t *testing.T) {
	h := Hash(strings.Repeat("\x01", 20))
	tree := strings.Repeat("ab", 20)
	c, err := parseCommit(h, []byte("tree "+tree+"\nauthor J\xf6rg Maa\xdf <j@example> 1772352000 -0330\ncommitter X <x@example> 1772352001 +0000\nencoding ISO-8859-1\n\n\nSt\xfchle\nund Tische\n\nbody"))
	if err != nil {
		t.Fatal(err)
	}
	if c.Author != "Jörg Maaß" || c.Subject != "Stühle und Tische" || c.When.Format("2006-01-02 15:04 -0700") != "2026-03-01 04:30 -0330" {
		t.Errorf("parseCommit = %q, %q, %s", c.Author, c.Subject, c.When)
	}
	for _, bad := range []string{"", "parent x\n\n", "tree zz\n\n"} {
		if _, err := parseCommit(h, []byte(bad)); err == nil {
			t.Errorf("parseCommit(%q) gave no error", bad)
		}
	}
}

// FuzzTree feeds raw trees to what walks them: they come from whoever made the
// commit.
func FuzzTree(f *testing.F) {
	sum := strings.Repeat("\x07", 20)
	f.Add([]byte("100644 a.hcl\x00"+sum), []byte("40000 a\x00"+sum+"100644 b.hcl\x00"+sum))
	f.Add([]byte("100644 "), []byte("\x00\x00"))
	f.Fuzz(func(t *testing.T, a, b []byte) {
		r := &Repository{bits: 20, trees: map[Hash][]byte{"a": a, "b": b}}
		x, y := &commitTree{repo: r, commit: &Commit{}, root: "a"}, &commitTree{repo: r, commit: &Commit{}, root: "b"}
		ctx, stop := context.WithCancel(context.Background())
		stop() // no object beyond the two may be read
		Differ(ctx, x, y)
		for data := a; len(data) > 0; {
			e, rest, ok := next(data, 20)
			if !ok {
				break
			}
			if len(rest) >= len(data) || len(e.hash) != 20 {
				t.Fatalf("next(%q) goes nowhere", data)
			}
			data = rest
		}
	})
}
