package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
	"time"

	"golang.org/x/term"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/render/style"
)

// A program is the world that a command sees, so that a test can make another.
type program struct {
	dir    string // the folder it was called in
	stdin  io.Reader
	stdout io.Writer
	stderr io.Writer
	env    func(string) string
	now    func() time.Time

	// width gives the columns of the terminal behind a stream, or 0 where the
	// stream is none.
	width func(io.Writer) int

	narrow *narrower // what stdout passes through
	escape *escaper  // what it passes through after that

	// What the flags that every command has were set to.
	root    string // folder of the estate, or any below it
	at      string // revision to read in place of the folder
	colour  string // auto, always or never
	today   string // date to judge by, for tests and previews
	ascii   bool
	quiet   bool
	verbose bool
	noStore bool

	text int64 // bytes of text of the estates that were loaded, added up by [atomic.AddInt64]

	store *lang.Store // opened when it is needed first
}

func realProgram() *program {
	dir, err := os.Getwd()
	if err != nil {
		dir = "."
	}
	return &program{
		dir: dir, stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr,
		env: os.Getenv, now: time.Now, width: terminalWidth,
	}
}

func terminalWidth(w io.Writer) int {
	f, ok := w.(*os.File)
	if !ok {
		return 0
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return width
}

// The exit statuses of every command.
const (
	statusClean    = 0 // nothing to report
	statusReported = 1 // something was reported at or above the level asked for
	statusUsage    = 2 // called wrongly
	statusFailed   = 3 // could not do its work
)

// errReported ends a command that reported something.
var errReported = errors.New("reported")

// A usageError is a mistake in how the program was called.
type usageError struct{ text string }

func (e usageError) Error() string { return e.text }

// usagef makes a usageError.
func usagef(format string, args ...any) error { return usageError{fmt.Sprintf(format, args...)} }

// run runs one command line and gives its exit status.
func run(ctx context.Context, p *program, args []string) int {
	real := p.stdout
	width := p.width
	p.escape = &escaper{to: real}
	p.narrow = narrow(p.escape, width(real))
	out := bufio.NewWriterSize(p.narrow, 1<<16)
	p.width = func(w io.Writer) int {
		if w == io.Writer(out) {
			w = real
		}
		return width(w)
	}
	p.stdout = out
	cmd := rootCommand(p)
	cmd.SetArgs(args)
	err := cmd.ExecuteContext(ctx)
	if errors.Is(err, context.Canceled) { // half a page is worse than none
		fmt.Fprintln(p.stderr, "cagenut: interrupted")
		return statusFailed
	}
	if flushed := errors.Join(out.Flush(), p.narrow.flush()); err == nil || errors.Is(err, errReported) {
		if closedPipe(flushed) {
			return statusClean // the reader of a pipe has seen enough
		}
		if flushed != nil {
			err = fmt.Errorf("writing what was found: %w", flushed)
		}
	}
	var usage usageError
	switch {
	case err == nil:
		return statusClean
	case closedPipe(err):
		return statusClean
	case errors.Is(err, errReported) && err.Error() == errReported.Error():
		return statusReported
	case errors.As(err, &usage):
		p.complain(err)
		return statusUsage
	}
	p.complain(err)
	return statusFailed
}

func closedPipe(err error) bool { return errors.Is(err, syscall.EPIPE) }

// coloured decides whether what is written to w is coloured: --color, else
// NO_COLOR, else CLICOLOR_FORCE or FORCE_COLOR, else whether w is a terminal
// that understands colour.
func (p *program) coloured(w io.Writer) bool {
	switch p.colour {
	case "always":
		return true
	case "never":
		return false
	}
	if p.env("NO_COLOR") != "" {
		return false
	}
	for _, name := range []string{"CLICOLOR_FORCE", "FORCE_COLOR"} {
		if v := p.env(name); v != "" && v != "0" {
			return true
		}
	}
	return p.width(w) > 0 && p.env("TERM") != "dumb"
}

// plain decides whether output keeps to ASCII: when asked, or when the locale
// does not speak UTF-8.
func (p *program) plain() bool {
	if p.ascii {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := p.env(name); v != "" {
			v = strings.ToLower(v)
			return !strings.Contains(v, "utf-8") && !strings.Contains(v, "utf8")
		}
	}
	return false
}

// day gives the date to judge by: --today, else the day it is.
func (p *program) day() (estate.Date, error) {
	if p.today == "" {
		return estate.DateOf(p.now()), nil
	}
	d, err := estate.ParseDate(p.today)
	if err != nil {
		return 0, usagef("--today: %v", err)
	}
	return d, nil
}

// notef tells the user about the run, on stderr, unless --quiet.
func (p *program) notef(format string, args ...any) {
	if !p.quiet {
		p.tell(fmt.Sprintf(format, args...))
	}
}

// complain says on stderr why a command ends.
func (p *program) complain(err error) { p.tell("cagenut: " + err.Error()) }

// tell prints a message on stderr, broken between words where a terminal is
// too narrow for it.
func (p *program) tell(message string) {
	width := p.width(p.stderr)
	var b strings.Builder
	for line := range strings.SplitSeq(message, "\n") {
		for _, part := range style.Message(line, width) {
			b.WriteString(part + "\n")
		}
	}
	fmt.Fprint(p.stderr, b.String()) // nobody is left to tell that it cannot be written
}
