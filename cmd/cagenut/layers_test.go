package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Imports run cmd → render → lint → lang, and inside lang towards quantity:
// a package may import those of its own layer and of the layers below.
func TestImportsRunOneWay(t *testing.T) {
	layers := []string{"lang", "lint", "render", "cmd"}
	layer := func(path string) int {
		for i, l := range layers {
			if path == l || strings.HasPrefix(path, l+"/") {
				return i
			}
		}
		return -1
	}
	// Within lang: the model knows no HCL and no git.
	forbidden := map[string][]string{
		"lang/quantity": {"cagenut/", "github.com/hashicorp", "github.com/go-git"},
		"lang/system":   {"cagenut/lang/estate", "github.com/hashicorp", "github.com/go-git"},
		"lang/estate":   {"cagenut/lang/change", "cagenut/lang/source", "github.com/hashicorp", "github.com/go-git"},
		"lint":          {"cagenut/lint/", "github.com/go-git"},
	}
	root := filepath.Join("..", "..")
	seen := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && rel != "." || d.Name() == "testdata") {
			return fs.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(rel, ".go") || strings.HasSuffix(rel, "_test.go") {
			return nil
		}
		dir := filepath.ToSlash(filepath.Dir(rel))
		here := layer(dir)
		if here < 0 {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		seen++
		for _, imp := range file.Imports {
			name := strings.Trim(imp.Path.Value, `"`)
			if there := layer(strings.TrimPrefix(name, "cagenut/")); strings.HasPrefix(name, "cagenut/") && there > here {
				t.Errorf("%s imports %s, which is above it", rel, name)
			}
			for _, no := range forbidden[dir] {
				if strings.HasPrefix(name, no) {
					t.Errorf("%s imports %s; %s must not know it", rel, name, dir)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 20 {
		t.Errorf("looked at %d files only", seen)
	}
}

// The map for contributors names every package below lang and lint; those of
// render are one row.
func TestMapNamesEveryPackage(t *testing.T) {
	root := filepath.Join("..", "..")
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, layer := range []string{"lang", "lint"} {
		entries, err := os.ReadDir(filepath.Join(root, layer))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if name := layer + "/" + e.Name(); e.IsDir() && e.Name() != "testdata" && !strings.Contains(string(text), "`"+name+"`") {
				t.Errorf("DEVELOPERS.md does not name %s", name)
			}
		}
	}
}
