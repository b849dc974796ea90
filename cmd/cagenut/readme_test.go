package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// What the README shows as output is what the program prints in the demo's
// repository. Run with -update to rewrite it.
func TestReadmeShowsRealOutput(t *testing.T) {
	name := filepath.Join("..", "..", "README.md")
	readme, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "ferry")
	if err := writeFerry(dir); err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)```console\n\\$ cagenut ([^\n]*)\n(.*?)```\n")
	shown := 0
	got := blocks.ReplaceAllFunc(readme, func(block []byte) []byte {
		shown++
		line := string(blocks.FindSubmatch(block)[1])
		out := runIn(t, dir, strings.Fields(line)...)
		return []byte("```console\n$ cagenut " + line + "\n" + out + "```\n")
	})
	if shown == 0 {
		t.Fatal("the README shows no output")
	}
	if *update {
		if err := os.WriteFile(name, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(string(readme), string(got)); diff != "" && !*update {
		t.Errorf("README.md is not what the program prints (-README +program):\n%s\nrun: go test ./cmd/cagenut -run Readme -update", diff)
	}
}

// runIn runs a command line in a folder, as on a plain terminal 80 columns
// wide, and gives what it prints.
func runIn(t *testing.T, dir string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	p := &program{
		dir: dir, stdin: strings.NewReader(""), stdout: &out, stderr: &errs,
		env:   func(name string) string { return map[string]string{"LANG": "C.UTF-8", "NO_COLOR": "1"}[name] },
		now:   func() time.Time { return time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC) },
		width: func(io.Writer) int { return 80 },
	}
	if status := run(context.Background(), p, args); status > statusReported {
		t.Fatalf("cagenut %s: status %d\n%s", strings.Join(args, " "), status, errs.String())
	}
	return out.String()
}
