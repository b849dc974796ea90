package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/lang/source"
)

const installLong = `Make git use cagenut in this clone:

  - rack files are merged by block and attribute (cagenut merge)
  - git diff shows rack files with one attribute a line (cagenut textconv)
  - before a commit, what it would bring is linted (cagenut lint --staged)

Settings go to the clone's own configuration and to info/attributes, so nothing
that is shared changes. What is there already is never overwritten: a setting
with another value, or a hook of another hand, is left alone and named, with
what to write there, and the exit status is 1. Running it again changes nothing.`

func installCommand(p *program) *cobra.Command {
	var show bool
	cmd := &cobra.Command{
		Use:   "install",
		Short: "set up git's merge, diff and pre-commit in this clone",
		Long:  installLong,
		Args:  atMost(0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return runInstall(cmd.Context(), p, show)
		},
	}
	cmd.Flags().BoolVar(&show, "print", false, "print what would be set, and change nothing")
	return cmd
}

// settings are what git's configuration gets.
var settings = []struct{ name, value string }{
	{"merge.cagenut.name", "rack files by block and attribute"},
	{"merge.cagenut.driver", "cagenut merge --path %P --marker-size %L %O %A %B"},
	{"diff.cagenut.textconv", "cagenut textconv"},
	{"diff.cagenut.xfuncname", `^[[:space:]]*((rack|mount|zero_u|stack|frame|equipment|feed|group|layout|row|room|site|policy)[[:space:]].*)$`},
}

// hookText is the pre-commit hook.
const hookText = `#!/bin/sh
# Written by cagenut install. Delete this file to stop it.
if git rev-parse --quiet --verify HEAD >/dev/null
then exec cagenut lint --staged --base HEAD
else exec cagenut lint --staged
fi
`

// An installer does, or tells, what git needs.
type installer struct {
	p       *program
	ctx     context.Context
	place   *source.Place
	show    bool
	blocked bool // something was left as it is
	changed bool // something was set
}

func runInstall(ctx context.Context, p *program, show bool) error {
	place, err := p.locate()
	if err != nil {
		return err
	}
	if place.Repo == nil || place.Repo.Top() == "" {
		return errors.New("there is no working tree of git here to set up; make one with: git init")
	}
	i := &installer{p: p, ctx: ctx, place: place, show: show}
	for _, s := range settings {
		if err := i.setting(s.name, s.value); err != nil {
			return err
		}
	}
	if err := i.attributes(); err != nil {
		return err
	}
	if err := i.hook(); err != nil {
		return err
	}
	if _, err := exec.LookPath("cagenut"); err != nil {
		p.notef("git will not find cagenut: it is not on the path; put it there, as with: go install ./cmd/cagenut")
	}
	if i.blocked {
		return errReported
	}
	if !i.changed && !show {
		i.say("everything is in place already; nothing is changed")
	}
	return nil
}

func (i *installer) git(args ...string) (string, error) {
	cmd := exec.CommandContext(i.ctx, "git", append([]string{"-C", i.place.Repo.Top()}, args...)...)
	var problems bytes.Buffer
	cmd.Stderr = &problems
	out, err := cmd.Output()
	if err != nil && problems.Len() > 0 {
		return "", fmt.Errorf("git %s: %s", args[0], strings.TrimSpace(problems.String()))
	}
	return strings.TrimRight(string(out), "\n"), err
}

func (i *installer) say(format string, args ...any) { fmt.Fprintf(i.p.stdout, format+"\n", args...) }

// setting sets a value that is not set.
func (i *installer) setting(name, value string) error {
	have, err := i.git("config", "--local", "--get", name)
	if exit := (*exec.ExitError)(nil); err != nil && !(errors.As(err, &exit) && exit.ExitCode() == 1) {
		return err
	}
	switch {
	case i.show:
		i.say("git config %s %s", name, quoted(value))
		return nil
	case err != nil:
		_, err := i.git("config", "--local", name, value)
		if err == nil {
			i.changed = true
			i.say("set %s", name)
		}
		return err
	case have != value:
		i.blocked = true
		i.say("left %s as it is (%s); for cagenut: git config %s %s", name, have, name, quoted(value))
	}
	return nil
}

// quoted gives a value as a shell takes it.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'" }

// attributes tells git which files are meant.
func (i *installer) attributes() error {
	name, err := i.git("rev-parse", "--git-path", "info/attributes")
	if err != nil {
		return err
	}
	if !filepath.IsAbs(name) {
		name = filepath.Join(i.place.Repo.Top(), name)
	}
	var lines []string
	for _, pattern := range []string{"*.hcl"} {
		if i.place.Prefix != "" {
			pattern = "/" + path.Join(i.place.Prefix, "**", pattern)
			pattern = strings.NewReplacer(" ", "[[:space:]]", `"`, "?").Replace(pattern)
		}
		lines = append(lines, pattern+" diff=cagenut merge=cagenut")
	}
	have, err := os.ReadFile(name)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	text := string(have)
	for _, line := range lines {
		if i.show {
			i.say("echo %s >> %s", quoted(line), i.short(name))
			continue
		}
		if strings.Contains("\n"+text+"\n", "\n"+line+"\n") {
			continue
		}
		if text != "" && !strings.HasSuffix(text, "\n") {
			text += "\n"
		}
		text += line + "\n"
	}
	if i.show || text == string(have) {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		return err
	}
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		return err
	}
	i.changed = true
	i.say("set %s in %s", strings.Join(lines, ", "), i.short(name))
	return nil
}

// short gives a path from the top of the working tree, where it lies below.
func (i *installer) short(name string) string {
	if rel, err := filepath.Rel(i.place.Repo.Top(), name); err == nil && !strings.HasPrefix(rel, "..") {
		return filepath.ToSlash(rel)
	}
	return name
}

// hook writes the pre-commit hook where there is none.
func (i *installer) hook() error {
	name, err := i.git("rev-parse", "--git-path", "hooks/pre-commit")
	if err != nil {
		return err
	}
	if !filepath.IsAbs(name) {
		name = filepath.Join(i.place.Repo.Top(), name)
	}
	text := hookText
	if i.place.Prefix != "" {
		text = strings.ReplaceAll(text, "lint --staged", "lint --root "+quoted(i.place.Prefix)+" --staged")
	}
	if i.show {
		i.say("cat > %s <<'END'\n%sEND\nchmod +x %s", i.short(name), text, i.short(name))
		return nil
	}
	have, err := os.ReadFile(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(name, []byte(text), 0o777); err != nil {
			return err
		}
		i.changed = true
		i.say("wrote %s", i.short(name))
	case err != nil:
		return err
	case strings.Contains(string(have), "cagenut lint"):
		// It is ours, or somebody has put the line into theirs.
	default:
		i.blocked = true
		i.say("left %s as it is; for cagenut, add to it: cagenut lint --staged --base HEAD || exit 1", i.short(name))
	}
	return nil
}
