package source

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
)

// findGit gives the installed git, or "".
var findGit = sync.OnceValue(func() string {
	path, err := exec.LookPath("git")
	if err != nil {
		return ""
	}
	return path
})

// needInstalled refuses a repository that only the installed git can read,
// where there is none.
func (r *Repository) needInstalled() error {
	if findGit() != "" {
		return nil
	}
	return fmt.Errorf("the repository %s cannot be read without git, because %s; install git and run this again", r.git, r.why)
}

// command makes a call of the installed git that reads and nothing else:
// nothing is fetched, no hook or monitor is started, no lock is taken.
func (r *Repository) command(ctx context.Context, args ...string) *exec.Cmd {
	at := r.top
	if at == "" {
		at = r.git
	}
	cmd := exec.CommandContext(ctx, findGit(), append([]string{
		"-C", at, "--no-pager", "--literal-pathspecs",
		"-c", "core.fsmonitor=false", "-c", "core.hooksPath=" + os.DevNull,
	}, args...)...)
	cmd.Env = append(os.Environ(),
		"GIT_NO_LAZY_FETCH=1",     // heeded from git 2.44 on
		"GIT_ALLOW_PROTOCOL=none", // before it, fetching fails for want of a protocol
		"GIT_OPTIONAL_LOCKS=0", "GIT_TERMINAL_PROMPT=0", "GIT_TRACE=0", "LC_ALL=C")
	return cmd
}

// ask runs the installed git and gives what it prints.
func (r *Repository) ask(ctx context.Context, args ...string) ([]byte, error) {
	cmd := r.command(ctx, args...)
	var problems bytes.Buffer
	cmd.Stderr = &problems
	out, err := cmd.Output()
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if text := strings.TrimSpace(problems.String()); text != "" {
			first, rest, _ := strings.Cut(text, "\n")
			if strings.HasSuffix(first, ":") { // what it is about stands below
				first += " " + strings.Join(strings.Fields(rest), " ")
			}
			return nil, fmt.Errorf("git %s says: %s", args[0], strings.TrimPrefix(first, "fatal: "))
		}
		return nil, fmt.Errorf("git %s: %w", args[0], err)
	}
	return out, nil
}

// installed reads objects through a child process.
type installed struct {
	repo     *Repository
	cmd      *exec.Cmd
	in       io.WriteCloser
	out      *bufio.Reader
	problems *bytes.Buffer
}

func (r *Repository) openInstalled() (objects, error) {
	if findGit() == "" {
		return nil, r.needInstalled()
	}
	// The child outlives the call that starts it, so it has no context.
	cmd := r.command(context.Background(), "cat-file", "--batch")
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	o := &installed{repo: r, cmd: cmd, in: in, out: bufio.NewReaderSize(out, 64<<10), problems: new(bytes.Buffer)}
	cmd.Stderr = o.problems
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("starting git: %w", err)
	}
	return o, nil
}

func (o *installed) object(h Hash) (kind, []byte, error) {
	if _, err := io.WriteString(o.in, h.String()+"\n"); err != nil {
		return noKind, nil, o.died(err)
	}
	head, err := o.out.ReadString('\n')
	if err != nil {
		return noKind, nil, o.died(err)
	}
	fields := strings.Fields(head)
	if len(fields) == 2 && fields[1] == "missing" {
		return noKind, nil, errMissing
	}
	if len(fields) != 3 {
		return noKind, nil, fmt.Errorf("git cat-file answered %q", head)
	}
	size, err := strconv.Atoi(fields[2])
	if err != nil {
		return noKind, nil, fmt.Errorf("git cat-file answered %q", head)
	}
	data := make([]byte, size+1) // and the line feed behind it
	if _, err := io.ReadFull(o.out, data); err != nil {
		return noKind, nil, o.died(err)
	}
	k := noKind
	switch fields[1] {
	case "commit":
		k = commitKind
	case "tree":
		k = treeKind
	case "blob":
		k = blobKind
	case "tag":
		k = tagKind
	}
	return k, data[:size:size], nil
}

// died explains why the child has gone. In a partial clone it ends when it is
// asked for an object that it may not fetch.
func (o *installed) died(err error) error {
	o.in.Close()
	o.cmd.Wait()
	text, _, _ := strings.Cut(strings.TrimSpace(o.problems.String()), "\n")
	text = strings.TrimPrefix(text, "fatal: ")
	switch {
	case o.repo.Partial() && !strings.Contains(text, "dubious ownership"):
		return errMissing
	case text != "":
		return errors.New("git says: " + text)
	}
	return err
}

func (o *installed) prefix(digits string) ([]Hash, error) {
	out, err := o.repo.ask(context.Background(), "rev-parse", "--disambiguate="+digits)
	if err != nil {
		return nil, err
	}
	var hashes []Hash
	for _, line := range strings.Fields(string(out)) {
		if h, ok := ParseHash(line); ok {
			hashes = append(hashes, h)
		}
	}
	return hashes, nil
}

func (o *installed) close() {
	o.in.Close()
	o.cmd.Wait()
}
