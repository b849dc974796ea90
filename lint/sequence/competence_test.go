package sequence_test

import (
	"strings"
	"testing"

	"cagenut/lint/sequence"
)

// battery moves a UPS and, on its own, a server, with windows given.
func battery(windows string) string {
	ups := `equipment "ups" {
  kind     = "ups"
  system   = "19in"
  height   = "2U"
  depth    = "500 mm"
  mass     = "15 kg"
  mounting = "fixed-rails"
  rails    = { from = "600 mm", to = "900 mm" }
  draw     = "20 W"
  inlets   = { type = "c14", count = 1, needs = 1 }
}
`
	return racks(12, ups+windows, map[string][]string{
		"before x": {"u ups 1 [feed.a]", "s two 5"},
		"after x":  {"u ups 3 [feed.a]", "s two 8"},
	})
}

func night(name, day, competences string) string {
	return "window \"" + name + "\" {\n  site = site.s\n  days = [\"" + day + "\"]\n  opens = \"20:00\"\n  closes = \"04:00\"\n  people = 3\n  lift = true\n" + competences + "}\n"
}

// A step for an electrician goes into a window that has one; a window that says
// nothing is taken to have none as soon as another one of the site says so.
func TestElectriciansWindow(t *testing.T) {
	from := sequence.Options{From: at(t, "2026-11-25T00:00:00Z")}
	p := plan(t, battery(night("mon", "mon", "")+night("wed", "wed", "  competences = [\"electrician\"]\n")), from)
	if len(p.Findings) > 0 || len(p.Left) > 0 || len(p.Unchecked) > 0 {
		t.Fatalf("findings %v, left %v, unchecked %v", p.Findings, p.Left, p.Unchecked)
	}
	for _, n := range p.Windows {
		for _, b := range n.Blocks {
			if len(p.Blocks[b].Competences) > 0 && n.Window.Name != "wed" {
				t.Errorf("%s is done in window.%s", p.Blocks[b].Jobs[0].Name, n.Window.Name)
			}
		}
	}

	// Nobody there on any night: refused, with what would do.
	p = plan(t, battery(night("mon", "mon", "  competences = \"none\"\n")+night("wed", "wed", "")), from)
	if len(p.Findings) != 1 || p.Findings[0].Rule != "plan/too-few-people" || p.Findings[0].Thing != "rack.x.u" ||
		!strings.Contains(p.Findings[0].Message, `calls for an electrician, and no window of site.s has that; have one there, and write it: competences = ["electrician"]`) {
		t.Errorf("findings %v", p.Findings)
	}
	if len(p.Left) == 0 {
		t.Error("a window without an electrician holds the UPS")
	}

	// Nobody says: it is planned, and said to be not known, once.
	p = plan(t, battery(night("mon", "mon", "")+night("wed", "wed", "")), from)
	if len(p.Findings) > 0 || len(p.Left) > 0 || len(p.Unchecked) != 1 ||
		!strings.Contains(p.Unchecked[0].Because, "takes an electrician, and no window of site.s says whether one is there") {
		t.Errorf("findings %v, left %v, unchecked %v", p.Findings, p.Left, p.Unchecked)
	}
}

// An electrician in a window that is too short does not help.
func TestElectricianInTooShortAWindow(t *testing.T) {
	short := strings.Replace(night("wed", "wed", "  competences = [\"electrician\"]\n"), "04:00", "20:40", 1)
	p := plan(t, battery(night("mon", "mon", "")+short), sequence.Options{From: at(t, "2026-11-25T00:00:00Z")})
	for _, f := range p.Findings {
		if f.Rule == "plan/too-few-people" && strings.Contains(f.Message, "and an electrician, and no window of site.s that is long enough has that") {
			return
		}
	}
	t.Errorf("findings %v", p.Findings)
}
