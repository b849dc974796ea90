package main

import "testing"

// What is found about a sequence or a bond follows racks in other rooms: after a
// change of one of them it is judged again.
func TestCarriedAlongSequencesAndBonds(t *testing.T) {
	const common = `estate "small" {}
room "one" {}
room "two" {}
row "one" { room = room.one }
row "two" { room = room.two }
bar "b" {}
frame "f" {
  system = "19in"
  units  = 12
}
equipment "amplifier" {
  kind   = "amplifier"
  height = "2U"
}
equipment "desk" {
  kind   = "mixer"
  height = "2U"
}
sequence "q" {
  step "amps" { on = [rack.a.amp-1] }
  step "desks" {
    on    = [rack.b.desk-1]
    delay = "2 s"
  }
}
`
	rack := func(name, bond, mount, equipment string) string {
		return "rack \"" + name + "\" {\n  row = row." + map[string]string{"a": "one", "b": "two"}[name] + "\n  frame = frame.f\n  bond = " + bond +
			"\n  mount \"" + mount + "\" {\n    at = 1\n    equipment = equipment." + equipment + "\n  }\n}\n"
	}
	c := newCarrying(t)
	files := map[string]string{"estate.hcl": common, "a.hcl": rack("a", "rack.b", "amp-1", "amplifier")}
	for _, step := range []struct{ name, b string }{
		{"a desk on the bar", rack("b", "bar.b", "desk-1", "desk")},
		{"an amplifier in its place", rack("b", "bar.b", "desk-1", "amplifier")},
		{"its bond is not known", rack("b", "unknown", "desk-1", "amplifier")},
		{"its bond leads back", rack("b", "rack.a", "desk-1", "desk")},
	} {
		files["b.hcl"] = step.b
		c.write(files)
		c.compare(step.name)
	}
	if c.carried != 3 {
		t.Errorf("%d of %d results were carried over, want 3", c.carried, c.compared)
	}
}
