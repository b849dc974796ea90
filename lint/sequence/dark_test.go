package sequence_test

import (
	"strings"
	"testing"

	"cagenut/lint"
	"cagenut/lint/sequence"
)

// While a UPS is moved, what hangs on it alone is named, and how long it is
// dark; a group that is left with too few members makes it an error.
func TestGoesDark(t *testing.T) {
	const things = `estate "e" { language = 1 }
site "quay" { zone = "Europe/Tallinn" }
room "hq" { site = site.quay }
row "r" {
  room  = room.hq
  front = "mixed"
}
frame "f" {
  system = "19in"
  units  = 12
  rated  = "300 kg"
}
equipment "ups" {
  kind     = "ups"
  height   = "2U"
  mass     = "18 kg"
  mounting = "fixed-rails"
}
equipment "router" {
  height = "1U"
  mass   = "4 kg"
  inlets = { type = "c14", count = 1, needs = 1 }
}
equipment "server" {
  height = "1U"
  mass   = "8 kg"
  inlets = { type = "c14", count = 2, needs = 1 }
}
source "ups" {
  kind  = "ups"
  mount = rack.a.ups-1
}
feed "u" {
  room    = room.hq
  source  = "ups"
  voltage = "230 V"
  rated   = "16 A"
}
feed "m" {
  room    = room.hq
  source  = "mains"
  voltage = "230 V"
  rated   = "16 A"
}
`
	rack := func(at, feed string) string {
		return `rack "a" {
  row   = row.r
  frame = frame.f
  feeds = [feed.u, feed.m]
  mount "ups-1" {
    at        = ` + at + `
    equipment = equipment.ups
  }
  mount "router-1" {
    at        = 6
    equipment = equipment.router
    feeds     = [feed.u]
  }
  mount "router-2" {
    at        = 7
    equipment = equipment.router
    feeds     = [feed.` + feed + `]
  }
  mount "server-1" {
    at        = 8
    equipment = equipment.server
    feeds     = [feed.u, feed.m]
  }
}
group "routers" {
  of = [rack.a.router-1, rack.a.router-2]
  up = 1
}
`
	}
	tests := []struct {
		name, feed string
		level      lint.Level
		says       string
	}{
		{name: "one of a pair", feed: "m", level: lint.Warning, says: "nothing else feeds rack.a.router-1; hand over"},
		{name: "both of a pair", feed: "u", level: lint.Error, says: "group routers then has 0 of 2 members up and needs 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := planFor(t,
				load(t, map[string]string{"estate.hcl": things + rack("1", tt.feed)}),
				load(t, map[string]string{"estate.hcl": things + rack("4", tt.feed)}), sequence.Options{})
			found := 0
			for _, f := range p.Findings {
				if f.Rule != "plan/goes-dark" {
					continue
				}
				found++
				if f.Level != tt.level || !strings.Contains(f.Message, tt.says) || strings.Contains(f.Message, "server-1") {
					t.Errorf("%s: %s", f.Level, f.Message)
				}
			}
			if found != 1 {
				t.Errorf("%d findings of plan/goes-dark, want 1", found)
			}
		})
	}
}
