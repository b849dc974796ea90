package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The README names every command.
func TestReadmeNamesEveryCommand(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	p, _, _ := session(t.TempDir())
	commands := rootCommand(p).Commands()
	if len(commands) < 15 {
		t.Fatalf("the program has %d commands only", len(commands))
	}
	for _, c := range commands {
		if c.Hidden || c.Name() == "help" || c.Name() == "completion" {
			continue
		}
		if !strings.Contains(string(readme), "`"+c.Name()) {
			t.Errorf("README.md does not name the command %s", c.Name())
		}
		if c.Long == "" && c.Name() != "waivers" || c.Short == "" {
			t.Errorf("%s lacks help", c.Name())
		}
	}
}
