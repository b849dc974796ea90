package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"

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
		{"capacity_1.json", []string{"capacity", "--format", "json"}},
		{"fit_1.json", []string{"fit", "storage-24", "--format", "json"}},
		{"history_1.json", []string{"history", "hq-a", "--format", "json"}},
		{"load_1.json", []string{"load", "hq-a", "--format", "json"}},
		{"waivers_1.json", []string{"waivers", "--format", "json"}},
		{"window_1.json", []string{"window", "main..mended", "--format", "json"}},
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

// Every form of our own says what it is and its version in the first two
// fields, so that a reader can refuse what it does not know.
func TestJSONSaysItsFormat(t *testing.T) {
	calls := map[string][]string{
		"lint":           {"lint"},
		"diff":           {"diff", "main..proposal"},
		"parts":          {"parts", "hq-a"},
		"explain system": {"explain", "system", "19in"},
		"capacity":       {"capacity"},
		"fit":            {"fit", "storage-24"},
		"history":        {"history", "hq-a"},
		"load":           {"load", "hq-a"},
		"waivers":        {"waivers"},
		"window":         {"window", "main..mended"},
	}
	head := regexp.MustCompile(`^\{\s*"format": [1-9]\d*,\s*"of": "[a-z]+",`)
	dir := ferryDir(t)
	p, _, _ := session(dir)
	seen := 0
	var visit func(cmd *cobra.Command, name string)
	visit = func(cmd *cobra.Command, name string) {
		for _, sub := range cmd.Commands() {
			visit(sub, strings.TrimSpace(name+" "+sub.Name()))
		}
		flag := cmd.Flags().Lookup("format")
		if flag == nil || !strings.Contains(flag.Usage, "json") {
			return
		}
		args, ok := calls[name]
		if !ok {
			t.Errorf("%s prints JSON; say here how to call it", name)
			return
		}
		seen++
		p, stdout, stderr := session(dir)
		if status := run(context.Background(), p, append(args, "--format", "json")); status > statusReported {
			t.Errorf("%s: status %d: %s", name, status, stderr)
		}
		if !head.Match(stdout.Bytes()) || !json.Valid(stdout.Bytes()) {
			t.Errorf("%s begins with %.80q", name, stdout)
		}
	}
	visit(rootCommand(p), "")
	if seen < 8 {
		t.Errorf("only %d commands print JSON", seen)
	}
}
