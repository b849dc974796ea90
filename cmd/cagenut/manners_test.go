package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

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

// On a narrow terminal help flows anew, rather than being broken where it was
// broken for a wide one.
func TestHelpFlows(t *testing.T) {
	p, stdout, stderr := session(t.TempDir())
	terminal(p, stdout, stderr, 50)
	if status := run(context.Background(), p, []string{"lint", "--help"}); status != 0 {
		t.Fatalf("status %d: %s", status, stderr)
	}
	text, _, _ := strings.Cut(stdout.String(), "Examples:")
	for paragraph := range strings.SplitSeq(text, "\n\n") {
		lines := strings.Split(strings.TrimSpace(paragraph), "\n")
		for i, line := range lines[:len(lines)-1] {
			next, _, _ := strings.Cut(lines[i+1], " ")
			if w := style.Width(line) + 1 + style.Width(next); w <= 50 && !strings.HasPrefix(line, "Usage") {
				t.Errorf("%q has room for %q", line, next)
			}
		}
	}
	if !strings.Contains(stdout.String(), "\n      --unchecked       list what was not\n                        checked, and which") {
		t.Errorf("the table of flags is\n%s", stdout)
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

// With --ascii no command prints a character beyond ASCII in any of its
// formats: the ferry line has none in its names.
func TestASCII(t *testing.T) {
	dir := ferryDir(t)
	lint := []string{"text", "json", "sarif", "junit", "github", "gitlab"}
	tests := []struct {
		formats []string
		args    []string
	}{
		{lint, []string{"lint", "--unchecked"}},
		{lint, []string{"lint", "--base", "main", "--at", "proposal"}},
		{[]string{"text", "svg", "html"}, []string{"elevation", "qt-w"}},
		{[]string{"text", "svg", "html"}, []string{"elevation", "hq-a", "--face", "side"}},
		{[]string{"text", "json", "markdown"}, []string{"diff", "main...proposal"}},
		{[]string{"text", "json", "markdown"}, []string{"diff", "main..ship-swap"}},
		{[]string{"markdown", "html", "json", "csv", "ics"}, []string{"window", "main..ship-swap"}},
		{[]string{"markdown", "html"}, []string{"review", "main...proposal"}},
		{[]string{"text", "json", "csv", "markdown"}, []string{"load"}},
		{[]string{"text", "json", "csv", "markdown"}, []string{"load", "room.hq"}},
		{[]string{"text", "json"}, []string{"capacity", "--since", "main~10"}},
		{[]string{"text", "json"}, []string{"fit", "storage-24"}},
		{[]string{"text", "json"}, []string{"history", "hq-a"}},
		{[]string{"text", "json"}, []string{"history", "--by-unit", "hq-a"}},
		{[]string{"text", "csv", "json"}, []string{"parts", "main..proposal"}},
		{[]string{"text", "json"}, []string{"waivers"}},
		{[]string{"text", "json"}, []string{"explain", "system", "19in", "open-rack"}},
		{nil, []string{"explain", "power/line-over"}},
		{nil, []string{"demo"}},
	}
	for _, tt := range tests {
		for _, format := range append(tt.formats, "")[:max(len(tt.formats), 1)] {
			args := append(slices.Clone(tt.args), "--ascii")
			if format != "" {
				args = append(args, "--format", format)
			}
			at := dir
			if tt.args[0] == "demo" {
				at = t.TempDir()
			}
			p, stdout, stderr := session(at)
			if status := run(context.Background(), p, args); status > statusReported || stdout.Len() == 0 {
				t.Errorf("%v: status %d, %d bytes: %s", args, status, stdout.Len(), stderr)
			}
			for line := range strings.Lines(stdout.String() + stderr.String()) {
				if i := strings.IndexFunc(line, func(c rune) bool { return c > 127 }); i >= 0 {
					t.Errorf("%v: %q", args, line[max(i-30, 0):min(i+30, len(line))])
					break
				}
			}
		}
	}
}

// A format that can write any character in ASCII does so, and says the same.
func TestASCIILosesNothing(t *testing.T) {
	dir := ferryDir(t)
	var printed [2]any
	for i, extra := range [][]string{nil, {"--ascii"}} {
		p, stdout, stderr := session(dir)
		if status := run(context.Background(), p, append([]string{"load", "--format", "json"}, extra...)); status != 0 {
			t.Fatalf("status %d: %s", status, stderr)
		}
		if i == 0 && !strings.Contains(stdout.String(), "Σ") {
			t.Fatal("there is nothing to escape")
		}
		if err := json.Unmarshal(stdout.Bytes(), &printed[i]); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(printed[0], printed[1]); diff != "" {
		t.Errorf("JSON in ASCII says something else (-without +with):\n%s", diff)
	}
	var out bytes.Buffer
	e := &escaper{to: &out, code: jsonEscape}
	for _, b := range []byte("a é 🚢.") { // a character may come in pieces
		if n, err := e.Write([]byte{b}); n != 1 || err != nil {
			t.Fatalf("Write gives %d, %v", n, err)
		}
	}
	if got, want := out.String(), `a \u00e9 \ud83d\udea2.`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// Messages on a terminal are broken between words, and the command that one
// ends with is not.
func TestMessagesFit(t *testing.T) {
	dir := ferryDir(t)
	if out, err := exec.Command("git", "-C", dir, "remote", "add", "origin", "https://git.example/racks").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	p, stdout, stderr := session(dir)
	terminal(p, stdout, stderr, 40)
	if status := run(context.Background(), p, []string{"lint", "--base", "elsewhere/change-of-the-quay-office"}); status != statusFailed {
		t.Fatalf("status %d: %s%s", status, stdout, stderr)
	}
	lines := strings.Split(strings.TrimSuffix(stderr.String(), "\n"), "\n")
	last := lines[len(lines)-1]
	if !strings.HasPrefix(last, "  git fetch origin ") || len(lines) < 3 {
		t.Errorf("the message is\n%s", stderr)
	}
	for _, line := range lines[:len(lines)-1] {
		if w := style.Width(line); w > 40 {
			t.Errorf("%d cells: %q", w, line)
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

// A disk that is full.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// What cannot be written is said, and is no finding.
func TestFullDisk(t *testing.T) {
	for _, args := range [][]string{{"lint"}, {"elevation", "qt-w"}} {
		p, _, stderr := session(ferryDir(t))
		p.stdout = full{}
		if status := run(context.Background(), p, args); status != statusFailed {
			t.Errorf("%v: status %d", args, status)
		}
		got := stderr.String()
		if !strings.HasPrefix(got, "cagenut: ") || !strings.HasSuffix(got, "no space left on device\n") || strings.Contains(got, errReported.Error()) {
			t.Errorf("%v: stderr %q", args, got)
		}
	}
}
