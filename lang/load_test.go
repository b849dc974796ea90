package lang

import (
	"context"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/source"
)

// load reads files that must have no mistakes in their text.
func load(t *testing.T, files map[string]string) *estate.Estate {
	t.Helper()
	e, diags, err := Load(context.Background(), source.Memory("test", files), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Errorf("%s:%d: %s", d.File, d.Start, d.Summary)
	}
	return e
}

func TestReferencesReachAcrossFiles(t *testing.T) {
	e := load(t, map[string]string{
		"estate.hcl":  `estate "e" { language = 1 }`,
		"a/rack.hcl":  "rack \"r\" {\n row = row.w\n frame = frame.f\n mount \"m\" {\n at = 3\n equipment = equipment.q\n }\n}",
		"z/frame.hcl": "frame \"f\" {\n system = \"19in\"\n units = 42\n}\nequipment \"q\" {\n height = \"2U\"\n}\nrow \"w\" {\n room = room.h\n}\nroom \"h\" {}",
	})
	r := e.Rack("r")
	if r == nil || r.Frame == nil || r.Frame.Name != "f" || r.Room() == nil || r.Room().Name != "h" {
		t.Fatalf("rack r = %+v, want it in frame f and room h", r)
	}
	m := r.Mount("m")
	if m == nil || m.Equipment == nil || m.Equipment.Height.Count != 2000 || m.At != estate.Units(3) || m.Rack != r {
		t.Errorf("mount m = %+v, want 2U of q at 3 in r", m)
	}
	if len(e.Unresolved) > 0 {
		t.Errorf("Unresolved = %v, want none", e.Unresolved)
	}
}

// diagnose gives what is wrong with a file.
func diagnose(t *testing.T, text string) []Diagnostic {
	t.Helper()
	return diagnoseFile(t, "a.hcl", text)
}

func diagnoseFile(t *testing.T, name, text string) []Diagnostic {
	t.Helper()
	_, diags, err := Load(t.Context(), source.Memory("test", map[string]string{name: text}), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return diags
}
