package main

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"cagenut/examples"
	"cagenut/testdata/outside"
)

var update = flag.Bool("update", false, "rewrite the golden files of the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"cagenut": main})
}

// TestScripts runs the scripts of testdata/script: each a session of a user on
// repositories made by git itself. A script's name begins with the command it
// is about.
//
// Besides the usual commands a script has:
//
//	status N cagenut ...   runs it and wants exit status N
//	ferry DIR              writes the demo's repository to DIR
//	commit DIR MESSAGE     commits everything in DIR, at a fixed time
//	example NAME DIR       copies the estate examples/NAME to DIR
//	cmpsubjects SUBJECT..  wants these commits in the history just printed
func TestScripts(t *testing.T) {
	outside.Need(t, "git")
	testscript.Run(t, testscript.Params{
		Condition:     needs,
		Dir:           filepath.Join("testdata", "script"),
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			kit, err := filepath.Abs(filepath.Join("..", "..", ".github"))
			if err != nil {
				return err
			}
			for name, value := range map[string]string{
				"KIT":                 kit,
				"HOME":                e.WorkDir,
				"LANG":                "C.UTF-8",
				"NO_COLOR":            "1",
				"GIT_CONFIG_NOSYSTEM": "1",
				"GIT_AUTHOR_NAME":     "Rack Planner",
				"GIT_AUTHOR_EMAIL":    "planner@brackwater.example",
				"GIT_COMMITTER_NAME":  "Rack Planner",
				"GIT_COMMITTER_EMAIL": "planner@brackwater.example",
				"GIT_AUTHOR_DATE":     "2026-11-02T10:00:00+02:00",
				"GIT_COMMITTER_DATE":  "2026-11-02T10:00:00+02:00",
			} {
				e.Setenv(name, value)
			}
			config := "[init]\n\tdefaultBranch = main\n[protocol \"file\"]\n\tallow = always\n[advice]\n\tdetachedHead = false\n"
			return os.WriteFile(filepath.Join(e.WorkDir, ".gitconfig"), []byte(config), 0o666)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":  scriptStatus,
			"ferry":   scriptFerry,
			"commit":  scriptCommit,
			"example": scriptExample,

			"cmpsubjects": scriptSubjects,
		},
	})
}

// needs is the condition [need:PROGRAM] of lines that ask an outside tool: they
// are left out where it is not installed, which under CI=true is a mistake.
func needs(condition string) (bool, error) {
	program, ok := strings.CutPrefix(condition, "need:")
	if !ok {
		return false, fmt.Errorf("unknown condition %q", condition)
	}
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") == "true" {
			return false, fmt.Errorf("%s is not installed, and CI must check against it", program)
		}
		return false, nil
	}
	return true, nil
}

func scriptStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N program [args]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

func scriptFerry(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: ferry DIR")
	}
	ts.Check(writeFerry(ts.MkAbs(args[0])))
}

func scriptCommit(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: commit DIR MESSAGE")
	}
	ts.Check(ts.Exec("git", "-C", args[0], "add", "-A"))
	ts.Check(ts.Exec("git", "-C", args[0], "commit", "-q", "-m", args[1]))
}

// scriptSubjects compares the subjects of the commits that history printed.
func scriptSubjects(ts *testscript.TestScript, neg bool, want []string) {
	var got []string
	for line := range strings.Lines(ts.ReadFile("stdout")) {
		if m := historyHead.FindStringSubmatch(line); m != nil {
			got = append(got, m[1])
		}
	}
	if neg || !slices.Equal(got, want) {
		ts.Fatalf("the commits are %q, want %q", got, want)
	}
}

var historyHead = regexp.MustCompile(`^\d{4}-\d\d-\d\d \d\d:\d\d  [0-9a-f]{8}  Rack Planner  (.*)\n$`)

func scriptExample(ts *testscript.TestScript, neg bool, args []string) {
	known := map[string]fs.FS{"observatory": examples.Observatory(), "touring": examples.Touring()}
	if neg || len(args) != 2 || known[args[0]] == nil {
		ts.Fatalf("usage: example observatory|touring DIR")
	}
	ts.Check(os.CopyFS(ts.MkAbs(args[1]), known[args[0]]))
}
