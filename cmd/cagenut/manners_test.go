package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"cagenut/render/style"
)

// terminal makes the session's streams terminals of that width.
func terminal(p *program, stdout, stderr io.Writer, width int) {
	p.width = func(w io.Writer) int {
		if w == stdout || w == stderr {
			return width
		}
		return 0
	}
}

// On a terminal of forty columns no line is wider, but for a word that cannot
// be broken.
func TestFortyColumns(t *testing.T) {
	dir := ferryDir(t)
	for _, args := range [][]string{
		{"lint", "--at", "proposal", "--color", "never"},
		{"lint", "--at", "proposal", "--color", "never", "--unchecked"},
		{"elevation", "--color", "never"},
		{"elevation", "--face", "side", "--color", "never"},
		{"diff", "main..proposal", "--color", "never"},
		{"diff", "main..ship-swap", "--color", "never"},
		{"capacity", "--color", "never"},
		{"history", "hq-a", "--color", "never"},
		{"fit", "storage-24", "--color", "never"},
		{"load", "hq-a", "--color", "never"},
		{"waivers", "--color", "never"},
		{"parts", "hq-a", "--color", "never"},
		{"explain", "--color", "never"},
		{"explain", "power/feed-lost", "--color", "never"},
		{"--help"},
		{"lint", "--help"},
	} {
		p, stdout, stderr := session(dir)
		terminal(p, stdout, stderr, 40)
		if status := run(context.Background(), p, args); status > statusReported {
			t.Fatalf("%v: status %d: %s", args, status, stderr)
		}
		if stdout.Len() == 0 {
			t.Errorf("%v printed nothing", args)
		}
		for _, line := range strings.Split(stdout.String(), "\n") {
			if w := style.Width(line); w > 40 && len(strings.Fields(line)) > 1 {
				t.Errorf("%v: %d cells: %q", args, w, line)
			}
		}
	}
}

// Help fits a terminal of eighty columns.
func TestHelpFits(t *testing.T) {
	p, _, _ := session(t.TempDir())
	root := rootCommand(p)
	for _, cmd := range append(root.Commands(), root) {
		for _, line := range strings.Split(cmd.Long+"\n"+cmd.UsageString(), "\n") {
			if w := style.Width(line); w > 80 {
				t.Errorf("%s: %d cells: %q", cmd.Name(), w, line)
			}
		}
	}
}

// What programs read is never broken into lines.
func TestNarrowTerminalLeavesFormsAlone(t *testing.T) {
	dir := ferryDir(t)
	for _, args := range [][]string{{"lint", "--format", "json"}, {"elevation", "qt-w", "--format", "svg"}, {"window", "main..mended"}} {
		var printed [2]string
		for i, width := range []int{0, 40} {
			p, stdout, stderr := session(dir)
			terminal(p, stdout, stderr, width)
			if status := run(context.Background(), p, args); status > statusReported {
				t.Fatalf("%v: status %d: %s", args, status, stderr)
			}
			printed[i] = stdout.String()
		}
		if printed[0] != printed[1] {
			t.Errorf("%v differs on a narrow terminal", args)
		}
	}
}

// slow is a clock on which every look takes some time.
func slow(each time.Duration) func() time.Time {
	var mu sync.Mutex
	at := time.Date(2027, time.January, 12, 9, 0, 0, 0, time.UTC)
	return func() time.Time {
		mu.Lock()
		defer mu.Unlock()
		at = at.Add(each)
		return at
	}
}

func TestProgressBar(t *testing.T) {
	dir := ferryDir(t)
	bar := regexp.MustCompile(`(?s)reading folder .*\(\d+/\d+\).*judging folder .*\(\d+/\d+\)`)
	part := regexp.MustCompile(`(reading|judging) folder`)
	tests := []struct {
		name   string
		width  int
		clock  func() time.Time
		args   []string
		wanted bool
	}{
		{"slow on a terminal", 80, slow(2 * time.Second), []string{"lint", "--no-store"}, true},
		{"slow on a narrow terminal", 40, slow(2 * time.Second), []string{"lint", "--no-store"}, true},
		{"quick", 80, slow(0), []string{"lint", "--no-store"}, false},
		{"quiet", 80, slow(2 * time.Second), []string{"lint", "--no-store", "--quiet"}, false},
		{"no terminal", 0, slow(2 * time.Second), []string{"lint", "--no-store"}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, stdout, stderr := session(dir)
			terminal(p, stdout, stderr, tt.width)
			p.now = tt.clock
			if status := run(context.Background(), p, tt.args); status > statusReported {
				t.Fatalf("status %d: %s", status, stderr)
			}
			if got := bar.MatchString(stderr.String()); got != tt.wanted {
				t.Errorf("a bar was shown: %v, want %v; stderr %q", got, tt.wanted, stderr)
			}
			if !tt.wanted && part.MatchString(stderr.String()) || part.MatchString(stdout.String()) {
				t.Errorf("a bar is where none is wanted; stdout %q, stderr %q", stdout, stderr)
			}
			if last := stderr.String()[strings.LastIndex(stderr.String(), "\r")+1:]; part.MatchString(last) {
				t.Errorf("the bar stays: %q", last)
			}
		})
	}
}

// An interrupt ends the work with status 3, says so, and prints no half page.
func TestInterrupt(t *testing.T) {
	dir := ferryDir(t)
	for _, args := range [][]string{{"lint", "--format", "json"}, {"elevation"}, {"diff", "main..proposal"}} {
		p, stdout, stderr := session(dir)
		ctx, stop := context.WithCancel(context.Background())
		stop()
		if status := run(ctx, p, args); status != statusFailed {
			t.Errorf("%v: status %d, want %d", args, status, statusFailed)
		}
		if stdout.Len() > 0 || stderr.String() != "cagenut: interrupted\n" {
			t.Errorf("%v: stdout %q, stderr %q", args, stdout, stderr)
		}
	}
}

// A reader that has seen enough, such as head, ends the program without noise.
func TestPipeThatCloses(t *testing.T) {
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	p, _, _ := session(ferryDir(t))
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	args := []string{"-test.run", "^TestRunAsProgram$", "--", "elevation", "--color", "never"}
	for range 100 { // more than a pipe holds
		args = append(args, "hq-a", "hq-b")
	}
	cmd := exec.Command(exe, args...)
	cmd.Dir = p.dir
	cmd.Env = append(os.Environ(), "CAGENUT_AS_PROGRAM=1")
	var stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = write, &stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	write.Close()
	if _, err := read.Read(make([]byte, 10)); err != nil {
		t.Fatal(err)
	}
	read.Close()
	// Ended by the pipe's signal or by itself: both are quiet.
	_ = cmd.Wait()
	if stderr.Len() > 0 {
		t.Errorf("stderr %q", &stderr)
	}
}

// TestRunAsProgram is the program itself, for tests that need a process.
func TestRunAsProgram(t *testing.T) {
	if os.Getenv("CAGENUT_AS_PROGRAM") == "" {
		t.Skip("only for other tests")
	}
	for i, a := range os.Args {
		if a == "--" {
			os.Args = append(os.Args[:1], os.Args[i+1:]...)
			main()
		}
	}
}
