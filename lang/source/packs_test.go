package source

import (
	"crypto/sha1"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"cagenut/testdata/outside"
)

const packedCommits = 12

// packedRepo makes a repository in one pack in which most objects are told from
// others, and says how they name them.
func packedRepo(t testing.TB, settings ...string) *Repository {
	t.Helper()
	git := outside.Need(t, "git")
	dir := t.TempDir()
	run := func(args ...string) {
		outside.Run(t, "", git, append([]string{"-C", dir, "-c", "user.name=Rack Planner", "-c", "user.email=planner@brackwater.example"}, args...)...)
	}
	run("init", "-q", "-b", "main")
	rnd := rand.New(rand.NewPCG(5, 6))
	lines := make([]string, 3000)
	for i := range lines {
		lines[i] = fmt.Sprintf("mount \"m-%d\" { at = %d }", i, rnd.Uint32())
	}
	for i := range packedCommits {
		lines[rnd.IntN(len(lines))] = fmt.Sprintf("# step %d", i)
		for j := range 60 {
			name := filepath.Join(dir, fmt.Sprintf("folder-%d", j%4), fmt.Sprintf("r%02d.hcl", j))
			if i > 0 && j%7 != i%7 {
				continue
			}
			if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(name, []byte(strings.Join(lines[j*50:], "\n")), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		run("add", "-A")
		run("commit", "-q", "-m", fmt.Sprint("step ", i))
	}
	run("tag", "-a", "-m", "a mark", "v1")
	run(append(settings, "repack", "-adfq", "--depth=40", "--window=20")...)
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func openedPacks(t *testing.T, r *Repository) *packs {
	t.Helper()
	o, ok := r.openPacks()
	if !ok {
		t.Fatal("the packs of the repository cannot be opened")
	}
	p := o.(*packs)
	t.Cleanup(p.close)
	return p
}

// TestPacksReadWhatTheNamesSay reads every object, and hashes it again.
func TestPacksReadWhatTheNamesSay(t *testing.T) {
	for name, settings := range map[string][]string{
		"bases by offset": nil,
		"bases by name":   {"-c", "repack.useDeltaBaseOffset=false"},
	} {
		t.Run(name, func(t *testing.T) {
			p := openedPacks(t, packedRepo(t, settings...))
			kinds := map[kind]int{}
			for which := range p.all {
				k := &p.all[which]
				for i := range len(k.names) / nameSize {
					h := Hash(k.name(i))
					at, ok := k.offset(h)
					if !ok {
						t.Fatalf("%s is in the index and not found", h)
					}
					kind, data, err := p.at(which, at, 0)
					if err != nil {
						t.Fatalf("%s: %v", h, err)
					}
					word := [...]string{"", "commit", "tree", "blob", "tag"}[kind]
					if sum := sha1.Sum(fmt.Appendf(nil, "%s %d\x00%s", word, len(data), data)); Hash(sum[:]) != h {
						t.Fatalf("%s reads as a %s of another hash", h, word)
					}
					kinds[kind]++
					if found, err := p.prefix(h.String()[:13]); err != nil || !slices.Equal(found, []Hash{h}) {
						t.Fatalf("prefix(%s) = %v, %v", h.String()[:13], found, err)
					}
				}
			}
			if kinds[commitKind] != packedCommits || kinds[treeKind] < packedCommits || kinds[blobKind] < 100 || kinds[tagKind] != 1 || len(p.bases) == 0 {
				t.Errorf("read %v, told from %d others: the test hardly tests", kinds, len(p.bases))
			}
			if p.library != nil {
				t.Errorf("the library was needed")
			}
			absent := Hash(strings.Repeat("\xff", nameSize))
			if _, _, err := p.object(absent); err == nil || p.library == nil {
				t.Errorf("an object that is nowhere gives %v, and the library was asked: %t", err, p.library != nil)
			}
		})
	}
}

// TestDamagedPacks turns bytes of a pack over and cuts it short: nearly always
// that is an error, and never more than a wrong object, which has a right sum
// of its own where the object that others are told from was mistaken.
func TestDamagedPacks(t *testing.T) {
	p := openedPacks(t, packedRepo(t))
	k := &p.all[0]
	whole := slices.Clone(k.data)
	rnd := rand.New(rand.NewPCG(7, 8))
	refused, mistaken := 0, 0
	for range 400 {
		broken := slices.Clone(whole)
		i := rnd.IntN(len(k.names) / nameSize)
		h := Hash(k.name(i))
		at, _ := k.offset(h)
		broken[at+rnd.IntN(min(12, len(broken)-at))] ^= byte(1 + rnd.IntN(255))
		q := &packs{repo: p.repo, dir: p.dir, bases: map[base][]byte{}, all: []pack{*k}}
		q.all[0].data = broken
		if rnd.IntN(3) == 0 {
			q.all[0].data = broken[:at+rnd.IntN(40)]
		}
		kind, data, err := q.at(0, at, 0)
		if err != nil {
			refused++
			continue
		}
		word := [...]string{"object", "commit", "tree", "blob", "tag"}[kind]
		if sum := sha1.Sum(fmt.Appendf(nil, "%s %d\x00%s", word, len(data), data)); Hash(sum[:]) != h {
			mistaken++
		}
	}
	if refused < 300 || mistaken > 20 {
		t.Errorf("of 400 damaged objects %d were refused, and %d gave another object", refused, mistaken)
	}
}

// BenchmarkFirstObject reads one object as a short run does, which opens the
// repository's packs for it: by the reader of packs, and by the library alone.
func BenchmarkFirstObject(b *testing.B) {
	r := packedRepo(b)
	head, err := r.Resolve(b.Context(), "HEAD")
	if err != nil {
		b.Fatal(err)
	}
	for name, open := range map[string]func() objects{
		"packs":   func() objects { p, _ := r.openPacks(); return p },
		"library": r.openLibrary,
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				o := open()
				if _, _, err := o.object(head); err != nil {
					b.Fatal(err)
				}
				o.close()
			}
		})
	}
}
