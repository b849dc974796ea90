package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/examples"
	"cagenut/lang"
	"cagenut/lang/source"
)

const newLong = `Write the files of a small estate to begin your own from: a site, a room, a
cabinet, three pieces of equipment and a rack, with a remark beside everything
that you must decide. DIR may hold other files; none is overwritten. Without DIR
they are written here.`

func newCommand(p *program) *cobra.Command {
	var name string
	cmd := &cobra.Command{
		Use:   "new [DIR]",
		Short: "write a small estate to begin your own from",
		Long:  newLong,
		Args:  atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			dir := "."
			if len(args) > 0 {
				dir = args[0]
			}
			return runNew(p, dir, name)
		},
	}
	cmd.Flags().StringVar(&name, "name", "", "`NAME` of the estate (default: that of the folder)")
	return cmd
}

func runNew(p *program, dir, name string) error {
	if p.at != "" || p.root != "" {
		return usagef("new writes to a folder; name it as an argument, without --at and --root")
	}
	root := p.inDir(dir)
	if name == "" {
		if name = lang.Label(filepath.Base(root)); name == "" {
			name = examples.StarterName
		}
	}
	if lang.Label(name) != name {
		return usagef("--name %q: a name begins with a letter and has letters, digits, \"-\" and \"_\"", name)
	}
	texts := map[string]string{}
	var paths []string
	err := fs.WalkDir(examples.Starter(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(examples.Starter(), path)
		if err != nil {
			return err
		}
		paths = append(paths, path)
		texts[path] = strings.Replace(string(b), `estate "`+examples.StarterName+`"`, fmt.Sprintf("estate %q", name), 1)
		return nil
	})
	if err != nil {
		return err
	}
	if _, err := os.Lstat(filepath.Join(root, source.RootFiles[1])); err == nil {
		return usagef("nothing is overwritten, and there is an estate already: %s", source.RootFiles[1])
	}
	if err := writeNew(root, paths, texts); err != nil {
		return err
	}
	for _, path := range paths {
		fmt.Fprintln(p.stdout, filepath.ToSlash(filepath.Join(dir, filepath.FromSlash(path))))
	}
	p.notef("begin with estate.hcl; then: cagenut lint")
	return nil
}

// writeNew writes files that must not be there yet: all of them, or none where
// one is. Paths are slash-separated, below root.
func writeNew(root string, paths []string, texts map[string]string) error {
	var there []string
	for _, path := range paths {
		if _, err := os.Lstat(filepath.Join(root, filepath.FromSlash(path))); err == nil {
			there = append(there, path)
		}
	}
	if len(there) > 0 {
		return usagef("nothing is overwritten, and there already: %s", strings.Join(there, ", "))
	}
	for _, path := range paths {
		name := filepath.Join(root, filepath.FromSlash(path))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			return err
		}
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if err != nil {
			return err
		}
		if _, err := f.WriteString(texts[path]); err != nil {
			f.Close()
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
	}
	return nil
}
