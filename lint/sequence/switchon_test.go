package sequence_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lint/sequence"
)

// guarded puts a B16 before feed b, which may trip from 3 x 16 A = 48 A, and
// gives modems a peak and a restart setting.
func guarded(text, inrush, restart string) string {
	text = strings.Replace(text, "feed \"b\" {\n", "breaker \"b16\" {\n  rated = \"16 A\"\n  curve = \"B\"\n}\nfeed \"b\" {\n  breaker = breaker.b16\n", 1)
	return strings.Replace(text, "equipment \"modem\" {\n", "equipment \"modem\" {\n  inrush = \""+inrush+"\"\n"+restart, 1)
}

// withCaution gives the cautions of a plan's steps that begin like this.
func withCaution(p *sequence.Plan, begin string) (out []string) {
	for i := range p.Steps {
		for _, c := range p.Steps[i].Cautions {
			if strings.HasPrefix(c, begin) {
				out = append(out, c)
			}
		}
	}
	return out
}

// What hangs on a strip that was moved is put on again with waits between, only
// where peaks together pass what trips the breaker.
func TestStaggeredByInrush(t *testing.T) {
	mounts := []string{on("k", "modem", 2, cord("strip-b", 2, "")), on("m", "modem", 10, cord("strip-b", 3, "")), on("n", "modem", 20, cord("strip-b", 4, ""))}
	front := strings.Replace(bothStrips, `side      = "right"`, `side      = "right"`+"\n    plane     = \"front\"", 1)
	const again = "Put on strip-b again what hung on it, one cord at a time, and check each: cord 1 of k at outlet 2, cord 1 of m at outlet 3, cord 1 of n at outlet 4."
	tests := []struct {
		inrush string
		step   string
		why    []string
	}{
		{"30 A", again + " Wait before m until the current of feed b is steady. Wait before n until the current of feed b is steady.", []string{ // 30 + 30 = 60 > 48
			"Inrush: m 30 A on top of k 30 A would come to 60 A; breaker.b16 (16 A, curve B) may trip from 48 A.",
			"Inrush: n 30 A on top of m 30 A would come to 60 A; breaker.b16 (16 A, curve B) may trip from 48 A.",
		}},
		{"20 A", again + " Wait before n until the current of feed b is steady.", []string{ // 20 + 20 = 40, with the third 60
			"Inrush: n 20 A on top of k 20 A, m 20 A would come to 60 A; breaker.b16 (16 A, curve B) may trip from 48 A.",
		}},
		{"16 A", again, nil}, // 3 x 16 = 48, at the bound
		{"50 A", again + " Wait before m until the current of feed b is steady. Wait before n until the current of feed b is steady.", []string{
			"Inrush: k 50 A alone; breaker.b16 (16 A, curve B) may trip from 48 A. Nothing else is switched on at that moment; who answers for the breaker knows of it.",
			"Inrush: m 50 A on top of k 50 A would come to 100 A; breaker.b16 (16 A, curve B) may trip from 48 A.",
			"Inrush: n 50 A on top of m 50 A would come to 100 A; breaker.b16 (16 A, curve B) may trip from 48 A.",
		}},
		{"unknown", again, nil},
	}
	for _, tt := range tests {
		t.Run(tt.inrush, func(t *testing.T) {
			room := func(strips string) map[string]string {
				text := guarded(plainRoom(corded(strips, mounts...)), tt.inrush, "")
				return map[string]string{"a.hcl": strings.Replace(text, `"unknown"`, "unknown", 1)}
			}
			p := planFor(t, load(t, room("")), load(t, room(front)), sequence.Options{})
			steps := dos(p, sequence.PowerOn)
			if diff := cmp.Diff([]string{tt.step}, steps); diff != "" {
				t.Errorf("steps differ (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.why, withCaution(p, "Inrush: ")); diff != "" {
				t.Errorf("cautions differ (-want +got):\n%s", diff)
			}
		})
	}
}

// Two things that change places are switched on in one block: the second waits.
func TestStaggeredMoves(t *testing.T) {
	things := func(k, m int) map[string]string {
		return map[string]string{"a.hcl": guarded(plainRoom(corded("", on("k", "modem", k, cord("strip-b", 2, "")), on("m", "modem", m, cord("strip-b", 3, "")))), "30 A", "")}
	}
	p := planFor(t, load(t, things(2, 10)), load(t, things(10, 2)), sequence.Options{})
	if len(p.Blocks) != 1 {
		t.Fatalf("%d blocks; findings %v", len(p.Blocks), p.Findings)
	}
	var waits []string
	for _, do := range dos(p, sequence.PowerOn) {
		if _, wait, ok := strings.Cut(do, "check it."); ok {
			waits = append(waits, strings.TrimSpace(wait))
		}
	}
	waits = slices.DeleteFunc(waits, func(s string) bool { return s == "" })
	if len(waits) == 0 || slices.ContainsFunc(waits, func(s string) bool { return s != "Wait first until the current of feed b is steady." }) {
		t.Errorf("steps %q", dos(p, sequence.PowerOn))
	}
}

// What a thing does when its supply returns is noted before it goes, and said
// where it comes on.
func TestRestartSettings(t *testing.T) {
	for set, want := range map[string][2]string{
		"": {"its restart setting noted", ""}, "on": {`its restart setting is "on", as declared`, `k starts by itself as soon as it has a supply (restart "on"): nobody's hands in it.`},
		"off": {`its restart setting is "off", as declared`, ""}, "last": {`its restart setting is "last", as declared`, ""},
	} {
		t.Run(set, func(t *testing.T) {
			attr := ""
			if set != "" {
				attr = "  restart = \"" + set + "\"\n"
			}
			rack := func(at int) map[string]string {
				return map[string]string{"a.hcl": guarded(plainRoom(corded("", on("k", "modem", at, cord("strip-b", 2, "")))), "20 A", attr)}
			}
			p := planFor(t, load(t, rack(2)), load(t, rack(10)), sequence.Options{})
			off := ""
			for i := range p.Steps {
				if p.Steps[i].Task == sequence.HandOver {
					off = p.Steps[i].Expect
				}
			}
			if !strings.HasSuffix(off, "; "+want[0]) {
				t.Errorf("hand over expects %q", off)
			}
			if got := strings.Join(withCaution(p, "k starts by itself"), "\n"); got != want[1] {
				t.Errorf("cautions %q, want %q", got, want[1])
			}
		})
	}
}

// A UPS that comes back brings back what hangs behind it, all at once: who starts
// by itself is named, and the sum of what does not wait is held against the
// breaker.
func TestRestoredFeed(t *testing.T) {
	const kit = `frame "f" {
  system = "19in"
  units  = 20
}
breaker "b16" {
  rated = "16 A"
  curve = "B"
}
equipment "ups" {
  kind     = "ups"
  height   = "2U"
  mounting = "fixed-rails"
}
equipment "amplifier" {
  kind    = "amplifier"
  height  = "1U"
  inrush  = "25 A"
  restart = "on"
  inlets  = { type = "c14", count = 1, needs = 1 }
}
equipment "switch" {
  kind    = "switch"
  height  = "1U"
  inrush  = "10 A"
  restart = "last"
  inlets  = { type = "c14", count = 1, needs = 1 }
}
equipment "server" {
  kind    = "server"
  height  = "1U"
  inrush  = "40 A"
  restart = "off"
  inlets  = { type = "c14", count = 1, needs = 1 }
}
equipment "modem" {
  kind   = "modem"
  height = "1U"
  inrush = "15 A"
  inlets = { type = "c14", count = 1, needs = 1 }
}
source "ups" {
  kind  = "ups"
  mount = rack.a.ups-1
}
feed "u" {
  source  = "ups"
  breaker = breaker.b16
}
`
	rack := func(at, amplifiers string) map[string]string {
		text := kit + "rack \"a\" {\n  frame = frame.f\n  mount \"ups-1\" {\n    at = " + at + "\n    equipment = equipment.ups\n  }\n"
		for i, m := range strings.Fields("switch server modem " + amplifiers) {
			text += "  mount \"" + m + "-" + string(rune('1'+i)) + "\" {\n    at = " + string(rune('3'+i)) + "\n    equipment = equipment." + m + "\n    feeds = [feed.u]\n  }\n"
		}
		return map[string]string{"a.hcl": text + "}\n"}
	}
	// The server waits: 10 + 15 + 25 = 50 A, above 48 A; without the amplifier 25 A.
	p := planFor(t, load(t, rack("1", "amplifier")), load(t, rack("18", "amplifier")), sequence.Options{})
	if diff := cmp.Diff([]string{"Feed u returns with it: switch-1 (last), amplifier-4 (on) start by themselves; server-2 (off) waits for somebody; of modem-3 note the restart setting beforehand. " +
		"In this order, one after the other: modem-3, switch-1, server-2, amplifier-4."}, withCaution(p, "Feed u")); diff != "" {
		t.Errorf("returns differ (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]string{"Inrush: what does not wait on feed u may peak at 50 A together; breaker.b16 (16 A, curve B) may trip from 48 A. " +
		"Switch it off at the thing first, and on again one by one, each when the current is steady."}, withCaution(p, "Inrush: ")); diff != "" {
		t.Errorf("inrush differs (-want +got):\n%s", diff)
	}
	p = planFor(t, load(t, rack("1", "")), load(t, rack("18", "")), sequence.Options{})
	if got := withCaution(p, "Inrush: "); len(got) > 0 {
		t.Errorf("25 A of 48 A: %q", got)
	}
}

// Of two feeds the thing starts on the first before the second goes on; where
// they are direct current, fuses are drawn one at a time, and those who watch
// them are warned.
func TestSuppliesOneAfterTheOther(t *testing.T) {
	const direct = "Direct current: draw its fuse before the cord is touched, and warn whoever watches that fuse's alarm beforehand."
	for _, tt := range []struct{ name, feed, feeds, want string }{
		{"alternating", "voltage = \"230 V\"", "feed.a, feed.b", ""},
		{"direct, of two", "voltage = \"-48 V\"", "feed.a, feed.b", direct + " Never both fuses of one thing at a time."},
		{"direct, of one", "voltage = \"-48 V\"", "feed.a", direct},
		{"not said", "", "feed.a, feed.b", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rack := func(at string) map[string]string {
				return map[string]string{"a.hcl": "frame \"f\" {\n  system = \"19in\"\n  units = 12\n}\nfeed \"a\" {\n  " + tt.feed + "\n}\nfeed \"b\" {\n  " + tt.feed + "\n}\n" +
					"equipment \"radio\" {\n  height = \"1U\"\n}\nrack \"r\" {\n  frame = frame.f\n  mount \"m\" {\n    at = " + at + "\n    equipment = equipment.radio\n    feeds = [" + tt.feeds + "]\n  }\n}\n"}
			}
			p := planFor(t, load(t, rack("1")), load(t, rack("5")), sequence.Options{})
			if got := strings.Join(withCaution(p, "Direct current"), "\n"); got != tt.want {
				t.Errorf("cautions %q, want %q", got, tt.want)
			}
			var got []string
			for i := range p.Steps {
				if s := &p.Steps[i]; s.Task == sequence.PowerOn {
					_, after, _ := strings.Cut(s.Expect, "; ")
					got = append(got, after)
				}
			}
			want := []string{"its current seen on the meter of feed a"}
			if strings.Contains(tt.feeds, "b") {
				want = []string{want[0] + "; it has started on this one before the next goes on", "its current seen on the meter of feed b; the load shares; a feed is pulled for a test only if the owner has agreed"}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("expects (-want +got):\n%s", diff)
			}
		})
	}
}
