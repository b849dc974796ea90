package main

import (
	"bytes"
	"context"
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"cagenut/testdata/frozen"
)

var freeze = flag.Bool("freeze", false, "write the frozen files that are missing")

// ferryDir writes the demo's repository and gives its folder.
func ferryDir(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "ferry")
	if err := writeFerry(dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

// session gives a program in a folder that a test can run, with what it prints.
func session(dir string) (p *program, stdout, stderr *bytes.Buffer) {
	stdout, stderr = &bytes.Buffer{}, &bytes.Buffer{}
	return &program{
		dir: dir, stdin: &bytes.Buffer{}, stdout: stdout, stderr: stderr,
		env:   func(name string) string { return map[string]string{"LANG": "C.UTF-8"}[name] },
		now:   func() time.Time { return time.Date(2027, time.January, 12, 9, 0, 0, 0, time.UTC) },
		width: func(io.Writer) int { return 0 },
	}, stdout, stderr
}

// What the JSON of a command had in the first release of its format it has for
// ever: see [frozen.Check].
func TestJSONKeepsItsFormats(t *testing.T) {
	tests := []struct {
		file string
		args []string
	}{
		{"lint_1.json", []string{"lint", "--format", "json", "--at", "proposal", "--base", "main"}},
		{"diff_1.json", []string{"diff", "main..proposal", "--format", "json"}},
		{"diff_moves_1.json", []string{"diff", "main..ship-swap", "--format", "json"}},
		{"parts_1.json", []string{"parts", "hq-a", "--format", "json"}},
		{"parts_change_1.json", []string{"parts", "main..proposal", "--format", "json"}},
		{"systems_1.json", []string{"explain", "system", "--format", "json"}},
	}
	dir := ferryDir(t)
	for _, tt := range tests {
		t.Run(tt.file, func(t *testing.T) {
			p, stdout, stderr := session(dir)
			if status := run(context.Background(), p, tt.args); status > statusReported {
				t.Fatalf("status %d: %s", status, stderr)
			}
			file := filepath.Join("testdata", "frozen", tt.file)
			if *freeze {
				if _, err := os.Stat(file); os.IsNotExist(err) {
					if err := os.WriteFile(file, stdout.Bytes(), 0o666); err != nil {
						t.Fatal(err)
					}
				}
			}
			frozen.Check(t, file, stdout.Bytes())
		})
	}
}
