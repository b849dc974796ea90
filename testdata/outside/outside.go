// Package outside lets tests ask tools that the project did not write.
//
// A figure that only our own code has computed is checked against nobody. On a
// developer's machine such a test skips where the tool is missing; with
// CI=true in the environment it fails, so that no check is lost unseen.
package outside

import (
	"bytes"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// Need gives the path of a program, or skips the test by the program's name
// (fails it under CI=true) where it is not installed.
func Need(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		Missing(t, program)
	}
	return path
}

// NeedNode gives the environment in which node finds the named npm package,
// installed where NODE_PATH says, or skips like [Need].
func NeedNode(t testing.TB, pkg string) {
	t.Helper()
	node := Need(t, "node")
	if err := exec.Command(node, "-e", "require.resolve(process.argv[1])", pkg).Run(); err != nil {
		Missing(t, "npm package "+pkg)
	}
}

// Missing skips the test because what is not installed, or fails it under
// CI=true.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed, and CI must check against it", what)
	}
	t.Skipf("%s is not installed", what)
}

// Run runs a program that [Need] found with the text as its standard input,
// and gives what it prints, without white space at the ends.
func Run(t testing.TB, stdin, path string, args ...string) string {
	t.Helper()
	cmd := exec.Command(path, args...)
	cmd.Stdin = strings.NewReader(stdin)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", path, strings.Join(args, " "), err, stderr.Bytes())
	}
	return strings.TrimSpace(string(out))
}
