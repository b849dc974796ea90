package examples

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"cagenut/lang"
	"cagenut/lang/source"
)

// Whoever begins with the starter must find nothing wrong in it, and find that
// still after taking the signs off what it proposes in remarks.
func TestStarterIsRight(t *testing.T) {
	files, uncommented := map[string]string{}, map[string]string{}
	remark := regexp.MustCompile(`(?m)^# ?((?:adjust|waive|policy|window) .*|  .*|\})$`)
	err := fs.WalkDir(Starter(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(Starter(), path)
		if err != nil {
			return err
		}
		files[path] = string(text)
		uncommented[path] = string(text)
		if path == "rules.hcl" {
			uncommented[path] = remark.ReplaceAllString(string(text), "$1")
		}
		if got, _ := lang.Format(path, text); string(got) != string(text) {
			t.Errorf("%s is not laid out", path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, files := range map[string]map[string]string{"as it is": files, "with its remarks in force": uncommented} {
		e, diags, err := lang.Load(t.Context(), source.Memory(name, files), lang.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range diags {
			t.Errorf("%s: %s:%d: %s", name, d.File, d.Start, d.Summary)
		}
		for _, u := range e.Unresolved {
			t.Errorf("%s: %s refers to %s, which is not there", name, u.From, u.Name)
		}
		if len(e.Racks) != 1 || len(e.Racks[0].Mounts) != 3 {
			t.Errorf("%s: the starter has %d racks", name, len(e.Racks))
		}
		if want := map[string]int{"as it is": 0, "with its remarks in force": 1}[name]; len(e.Rulings.Policies) != want || len(e.Windows) != want || len(e.Rulings.Waivers) != want {
			t.Errorf("%s: %d policies, %d windows and %d waivers, want %d each", name, len(e.Rulings.Policies), len(e.Windows), len(e.Rulings.Waivers), want)
		}
	}
	if !strings.Contains(files["estate.hcl"], `estate "`+StarterName+`" {`) {
		t.Errorf("the starter is not called %s", StarterName)
	}
}
