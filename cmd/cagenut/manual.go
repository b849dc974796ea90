package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2/maybe"
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"cagenut/lang/quantity"
)

const manualLong = `Write the manual pages and the shell's completion into a folder, from the same
descriptions that --help prints:

  man1/cagenut.1, man1/cagenut-lint.1, ...
  completion/cagenut.bash, cagenut.zsh, cagenut.fish, cagenut.ps1

Try a page with: man -l DIR/man1/cagenut-lint.1`

func manualCommand(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "manual DIR",
		Short: "write manual pages and completion for shells",
		Long:  manualLong,
		Args:  cobra.MatchAll(atLeast(1, "a folder to write to"), atMost(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := args[0]
			if !filepath.IsAbs(dir) {
				dir = filepath.Join(p.dir, dir)
			}
			return writeManual(p, cmd.Root(), dir)
		},
	}
}

func writeManual(p *program, root *cobra.Command, dir string) error {
	today, err := p.day()
	if err != nil {
		return err
	}
	date := today.Time()
	files := map[string][]byte{}
	var names []string
	add := func(name string, write func(*bytes.Buffer) error) error {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			return fmt.Errorf("writing %s: %w", name, err)
		}
		files[name] = b.Bytes()
		names = append(names, name)
		return nil
	}
	root.DisableAutoGenTag = true
	for _, cmd := range append([]*cobra.Command{root}, root.Commands()...) {
		if cmd.Hidden || cmd.Name() == "help" || cmd.Name() == "completion" {
			continue
		}
		page := strings.ReplaceAll(cmd.CommandPath(), " ", "-")
		header := &doc.GenManHeader{Title: strings.ToUpper(page), Section: "1", Date: &date, Source: "cagenut " + version(), Manual: "cagenut manual"}
		cmd.DisableAutoGenTag = true
		cmd.Long = asExamples(cmd.Long)
		write := func(b *bytes.Buffer) error {
			var text bytes.Buffer
			err := doc.GenMan(cmd, header, &text)
			b.Write(bytes.ReplaceAll(text.Bytes(), []byte("\\fP[=false]\n"), []byte("\\fP\n"))) // a switch has its name alone
			return err
		}
		if err := add("man1/"+page+".1", write); err != nil {
			return err
		}
	}
	for _, shell := range []struct {
		name  string
		write func(*bytes.Buffer) error
	}{
		{"bash", func(b *bytes.Buffer) error { return root.GenBashCompletionV2(b, true) }},
		{"zsh", func(b *bytes.Buffer) error { return root.GenZshCompletion(b) }},
		{"fish", func(b *bytes.Buffer) error { return root.GenFishCompletion(b, true) }},
		{"ps1", func(b *bytes.Buffer) error { return root.GenPowerShellCompletionWithDesc(b) }},
	} {
		if err := add("completion/cagenut."+shell.name, shell.write); err != nil {
			return err
		}
	}
	for _, name := range names {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return err
		}
		if err := maybe.WriteFile(path, files[name], 0o666); err != nil {
			return err
		}
	}
	fmt.Fprintf(p.stdout, "wrote %s to %s\n", quantity.Count(len(names), "file"), dir)
	return nil
}

// asExamples sets the indented lines of a help text off by four spaces, which is
// what the writer of pages takes for lines to leave alone.
func asExamples(long string) string {
	lines := strings.Split(long, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "  ") {
			lines[i] = "  " + line
		}
	}
	return strings.Join(lines, "\n")
}
