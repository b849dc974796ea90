// Command measure compares the speed of cagenut with floors that nobody gets
// below, side by side on one machine:
//
//	go run ./cmd/measure [-racks 10000] [-runs 5] [-keep DIR]
//
// It writes an estate of made-up racks into a git repository and prints
// medians, and each as a ratio to its floor: the bare parse of the same bytes
// on the same processors, git status, git diff --name-status, git log, and a
// program that does nothing. Only the ratios mean anything; the times are those
// of the machine.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/testdata/bulk"
)

func main() {
	racks := flag.Int("racks", 10000, "how many racks the estate has")
	runs := flag.Int("runs", 5, "how often each thing is done; medians are printed")
	keep := flag.String("keep", "", "folder for the estate, which is kept and used again (default: a temporary one)")
	floor := flag.String("floor", "", "parse every file below this folder, print how long it took, and do nothing else")
	flag.Parse()
	var err error
	if *floor != "" {
		err = parseAll(*floor)
	} else {
		err = measure(*racks, *runs, *keep)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(3)
	}
}

// parseAll is the floor of a cold run: read nothing but bytes in memory, parse
// them on all processors, keep nothing.
func parseAll(dir string) error {
	var texts [][]byte
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".hcl") {
			return err
		}
		text, err := os.ReadFile(path)
		texts = append(texts, text)
		return err
	})
	if err != nil {
		return err
	}
	start, busy := time.Now(), processor()
	var next atomic.Int64
	var failed atomic.Bool
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(texts) {
					return
				}
				if _, diags := hclsyntax.ParseConfig(texts[i], "x.hcl", hcl.InitialPos); diags.HasErrors() {
					failed.Store(true)
				}
			}
		})
	}
	wait.Wait()
	if failed.Load() {
		return fmt.Errorf("a file of the estate does not parse")
	}
	fmt.Println(time.Since(start).Nanoseconds(), (processor() - busy).Nanoseconds())
	return nil
}

// processor gives how much processor time this process has taken.
func processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// A cost is what one run took.
type cost struct {
	wall, cpu time.Duration // cpu: of all processors together
	rss       int64         // bytes at most
}

// A bench is the estate in its repository, and what measures it.
type bench struct {
	dir, cagenut, self string
	empty              string // a program that does nothing
	runs               int
}

func measure(racks, runs int, keep string) error {
	work, err := os.MkdirTemp("", "measure-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	b := &bench{dir: filepath.Join(work, "estate"), cagenut: filepath.Join(work, "cagenut"), runs: runs}
	if keep != "" {
		if b.dir, err = filepath.Abs(keep); err != nil {
			return err
		}
	}
	if b.self, err = os.Executable(); err != nil {
		return err
	}
	if err := build(b.cagenut, "cagenut/cmd/cagenut"); err != nil {
		return err
	}
	source := filepath.Join(work, "empty.go")
	if err := os.WriteFile(source, []byte("package main\n\nfunc main() {}\n"), 0o666); err != nil {
		return err
	}
	b.empty = filepath.Join(work, "empty")
	if err := build(b.empty, source); err != nil {
		return err
	}
	if err := b.prepare(racks); err != nil {
		return err
	}
	return b.table(racks)
}

// build builds a program as the README says to.
func build(program, what string) error {
	cmd := exec.Command("go", "build", "-o", program, what)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("building %s: %w\n%s", what, err, out)
	}
	return nil
}

// filling lints with nothing kept yet.
func (b *bench) filling() (cost, error) {
	if err := os.RemoveAll(filepath.Join(b.dir, ".git", "cagenut")); err != nil {
		return cost{}, err
	}
	return b.child(b.cagenut, "lint", "--quiet")
}

// prepare makes the repository: all racks in one commit, one rack changed in a
// second, a hundred more in a third.
func (b *bench) prepare(racks int) error {
	if _, err := os.Stat(filepath.Join(b.dir, ".git")); err == nil {
		return nil
	}
	fmt.Fprintf(os.Stderr, "writing %d racks\n", racks)
	if err := bulk.Write(b.dir, racks); err != nil {
		return err
	}
	if err := b.git("init", "-q", "-b", "main"); err != nil {
		return err
	}
	step := func(n int, message string) error {
		for i := range n {
			name := filepath.Join(b.dir, filepath.FromSlash(bulk.Path(i*7%racks)))
			if err := os.WriteFile(name, []byte(swapOwners(bulk.Rack(i*7%racks, message))), 0o666); err != nil {
				return err
			}
		}
		if err := b.git("add", "-A"); err != nil {
			return err
		}
		return b.git("-c", "user.name=Measure", "-c", "user.email=measure@archipelago.example", "commit", "-q", "-m", message)
	}
	for i, n := range []int{0, 1, min(100, racks)} {
		if err := step(n, fmt.Sprintf("step %d", i+1)); err != nil {
			return err
		}
	}
	return b.git("gc", "-q")
}

// swapOwners changes one attribute of one mount.
func swapOwners(text string) string { return strings.Replace(text, `"desk-1"`, `"desk-9"`, 1) }

func (b *bench) git(args ...string) error {
	out, err := exec.Command("git", append([]string{"-C", b.dir}, args...)...).CombinedOutput()
	if err != nil {
		return fmt.Errorf("git %s: %w\n%s", args[0], err, out)
	}
	return nil
}

// median runs something some times and gives the median of each cost. What is
// short is run more often: it is soon done, and the machine disturbs it more.
func (b *bench) median(what string, run func() (cost, error)) (cost, error) {
	const short, more = 100 * time.Millisecond, 10
	var wall, cpu []time.Duration
	var most int64
	runs := b.runs
	for i := 0; i < runs; i++ {
		c, err := run()
		if c.wall < short { // the first may have had to find out what later ones know
			runs = b.runs * more
		}
		if err != nil {
			return cost{}, fmt.Errorf("%s: %w", what, err)
		}
		wall, cpu, most = append(wall, c.wall), append(cpu, c.cpu), max(most, c.rss)
	}
	slices.Sort(wall)
	slices.Sort(cpu)
	return cost{wall[len(wall)/2], cpu[len(cpu)/2], most}, nil
}

// child runs a program to its end. Status 1 of cagenut and git says that there
// was something to report.
func (b *bench) child(name string, args ...string) (cost, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = b.dir
	start := time.Now()
	out, err := cmd.CombinedOutput()
	c := cost{wall: time.Since(start)}
	if usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		c.cpu, c.rss = time.Duration(usage.Utime.Nano()+usage.Stime.Nano()), usage.Maxrss<<10
	}
	if err != nil && cmd.ProcessState.ExitCode() != 1 {
		return c, fmt.Errorf("%w\n%s", err, out)
	}
	return c, nil
}

func (b *bench) run(name string, args ...string) func() (cost, error) {
	return func() (cost, error) { return b.child(name, args...) }
}

func (b *bench) table(racks int) error {
	floor := func() (cost, error) {
		out, err := exec.Command(b.self, "-floor", b.dir).Output()
		if err != nil {
			return cost{}, err
		}
		var wall, cpu int64
		_, err = fmt.Sscan(string(out), &wall, &cpu)
		return cost{wall: time.Duration(wall), cpu: time.Duration(cpu)}, err
	}
	touched := 0
	oneChanged := func() (cost, error) {
		touched++
		name := filepath.Join(b.dir, filepath.FromSlash(bulk.Path(racks/2)))
		if err := os.WriteFile(name, []byte(bulk.Rack(racks/2, fmt.Sprintf("changed %d at %d", touched, time.Now().UnixNano()))), 0o666); err != nil {
			return cost{}, err
		}
		return b.child(b.cagenut, "lint", "--quiet")
	}
	type line struct {
		what  string
		run   func() (cost, error)
		floor string // the line that it is compared with
		goal  float64
	}
	lines := []line{
		{"bare parse", floor, "", 0},
		{"an empty program", b.run(b.empty), "", 0},
		{"git status", b.run("git", "status", "--porcelain"), "", 0},
		{"git diff --name-status, 1 rack", b.run("git", "diff", "--name-status", "HEAD~2", "HEAD~1"), "", 0},
		{"git diff --name-status, 100 racks", b.run("git", "diff", "--name-status", "HEAD~1", "HEAD"), "", 0},
		{"git log -- PATH", b.run("git", "log", "--format=%H", "--", bulk.Path(0)), "", 0},
		{"lint, nothing kept", b.run(b.cagenut, "lint", "--quiet", "--no-store"), "bare parse", 1.15},
		{"lint of a commit, nothing kept", b.run(b.cagenut, "lint", "--quiet", "--no-store", "--at", "HEAD"), "bare parse", 1.45},
		{"lint, filling the store", b.filling, "bare parse", 0},
		{"lint, nothing changed", b.run(b.cagenut, "lint", "--quiet"), "git status", 5},
		{"lint, one rack changed", oneChanged, "git status", 5},
		{"lint of a commit, kept", b.run(b.cagenut, "lint", "--quiet", "--at", "HEAD"), "git status", 5},
		{"diff, 1 rack", b.run(b.cagenut, "diff", "--quiet", "HEAD~2", "HEAD~1"), "git diff --name-status, 1 rack", 5},
		{"diff, 100 racks", b.run(b.cagenut, "diff", "--quiet", "HEAD~1", "HEAD"), "git diff --name-status, 100 racks", 0},
		{"history of a rack", b.run(b.cagenut, "history", "--quiet", bulk.Name(0)), "git log -- PATH", 8},
		{"--help", b.run(b.cagenut, "--help"), "an empty program", 0},
	}
	fmt.Printf("%d racks, %d mounts, %d processors, %s\n\n", racks, racks*bulk.MountsPerRack, runtime.GOMAXPROCS(0), runtime.Version())
	fmt.Printf("%-34s %9s %9s %7s  %s\n", "", "time", "processor", "memory", "ratio of time, and of processor time")
	took := map[string]cost{}
	for _, l := range lines {
		c, err := b.median(l.what, l.run)
		if err != nil {
			return err
		}
		took[l.what] = c
		note, memory := "", ""
		if f, ok := took[l.floor]; ok {
			note = fmt.Sprintf("%.2f, %.2f of %s", float64(c.wall)/float64(f.wall), float64(c.cpu)/float64(f.cpu), l.floor)
			if l.goal > 0 {
				note += fmt.Sprintf(" (goal %.2f)", l.goal)
			}
		}
		if c.rss > 0 {
			memory = fmt.Sprintf("%d MB", c.rss>>20)
		}
		fmt.Printf("%-34s %9s %9s %7s  %s\n", l.what, c.wall.Round(100*time.Microsecond), c.cpu.Round(100*time.Microsecond), memory, note)
	}
	return nil
}
