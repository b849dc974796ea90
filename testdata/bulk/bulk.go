// Package bulk writes estates of honest size, for benchmarks and for tests of
// what only shows in thousands of racks.
//
// An estate of n racks is made up and regular: a file a rack, forty mounts a
// rack, rooms of two hundred racks in rows of twenty, a dozen kinds of
// equipment. The same n gives the same bytes.
package bulk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// MountsPerRack is how many mounts each rack has.
const MountsPerRack = 40

const (
	racksPerRow  = 20
	rowsPerRoom  = 10
	racksPerRoom = racksPerRow * rowsPerRoom
)

// Files gives the estate as paths and their text.
func Files(racks int) map[string]string {
	files := map[string]string{"estate.hcl": header, "catalogue.hcl": catalogue()}
	rooms := (racks + racksPerRoom - 1) / racksPerRoom
	for room := range rooms {
		files[fmt.Sprintf("room-%02d/room.hcl", room+1)] = roomText(room)
	}
	for i := range racks {
		files[Path(i)] = Rack(i, "")
	}
	return files
}

// Path gives the file of the i-th rack, from 0.
func Path(i int) string {
	return fmt.Sprintf("room-%02d/%s.hcl", i/racksPerRoom+1, Name(i))
}

// Name gives the name of the i-th rack.
func Name(i int) string {
	return fmt.Sprintf("r%02d-%02d-%02d", i/racksPerRoom+1, i%racksPerRoom/racksPerRow+1, i%racksPerRow+1)
}

// Write writes the estate below a folder.
func Write(dir string, racks int) error {
	for path, text := range Files(racks) {
		name := filepath.Join(dir, filepath.FromSlash(path))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			return err
		}
	}
	return nil
}

const header = `estate "archipelago" {
  language = 1
  rules    = "2026.1"
  lengths  = "mm"
}

site "mainland" {
  zone         = "Europe/Tallinn"
  altitude     = "12 m"
  seismic_zone = 0
  continuous   = 0.8
}
`

// kinds are the pieces of equipment that racks are filled with.
var kinds = []struct {
	name  string
	depth int // mm
	mass  int // kg
	watts int
}{
	{"ledger-server", 710, 14, 240}, {"tide-server", 690, 13, 210}, {"edge-server", 540, 9, 160},
	{"access-switch", 380, 6, 90}, {"spine-switch", 480, 10, 220}, {"patch-panel", 120, 2, 0},
	{"cord-guide", 90, 1, 0}, {"short-store", 720, 17, 260}, {"console", 460, 8, 30},
	{"clock", 300, 4, 25}, {"relay-shelf", 410, 7, 60}, {"tape-drive", 620, 12, 140},
}

func catalogue() string {
	var b strings.Builder
	b.WriteString(`frame "cab-45" {
  system     = "19in"
  kind       = "cabinet"
  units      = 45
  counted    = "up"
  holes      = "square"
  post_span  = "740 mm"
  front_room = "80 mm"
  rear_room  = "220 mm"
  opening    = "450 mm"
  width      = "600 mm"
  depth      = "1100 mm"
  height     = "2150 mm"
  base       = "100 mm"
  mass       = "120 kg"
  rated      = "1200 kg"
  standing   = "feet"
  fixed      = "anchored"
}
`)
	for _, k := range kinds {
		fmt.Fprintf(&b, `
equipment "%s" {
  kind     = "%s"
  system   = "19in"
  height   = "1U"
  body     = "440 mm"
  depth    = "%d mm"
  cords    = "60 mm"
  front    = "30 mm"
  mass     = "%d kg"
  mounting = "fixed-rails"
  rails    = { from = "600 mm", to = "900 mm" }
  holes    = ["square"]
  air      = "front-to-rear"
`, k.name, k.name[strings.LastIndexByte(k.name, '-')+1:], k.depth, k.mass)
		if k.watts > 0 {
			fmt.Fprintf(&b, "  draw     = { typical = \"%d W\", maximum = \"%d W\", nameplate = \"%d W\" }\n  inlets   = { type = \"c14\", count = 2, needs = 1 }\n",
				k.watts/4, k.watts/3, k.watts)
		}
		b.WriteString("}\n")
	}
	return b.String()
}

func roomText(room int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "room \"room-%02d\" {\n  site       = site.mainland\n  heat_limit = \"1200 kW\"\n  floor_load = \"15 kPa\"\n  supply_air = \"22 C\"\n  height     = \"3200 mm\"\n}\n", room+1)
	for row := range rowsPerRoom {
		fmt.Fprintf(&b, "\nrow \"row-%02d-%02d\" {\n  room  = room.room-%02d\n  front = \"cold\"\n}\n", room+1, row+1, room+1)
		for _, side := range []string{"a", "b"} {
			fmt.Fprintf(&b, "\nfeed \"f%02d-%02d-%s\" {\n  room    = room.room-%02d\n  source  = \"hall-%s\"\n  voltage = \"230 V\"\n  phases  = 3\n  rated   = \"250 A\"\n}\n", room+1, row+1, side, room+1, side)
		}
	}
	return b.String()
}

// Rack gives the text of the i-th rack; the note is put into a comment, so
// that a benchmark can change the file and nothing else.
func Rack(i int, note string) string {
	room, row := i/racksPerRoom+1, i%racksPerRoom/racksPerRow+1
	var b strings.Builder
	b.Grow(7 << 10)
	if note != "" {
		fmt.Fprintf(&b, "# %s\n", note)
	}
	fmt.Fprintf(&b, "rack %q {\n  row   = row.row-%02d-%02d\n  place = %d\n  frame = frame.cab-45\n  feeds = [feed.f%02d-%02d-a, feed.f%02d-%02d-b]\n  owner = \"hall\"\n",
		Name(i), room, row, i%racksPerRow+1, room, row, room, row)
	for m := range MountsPerRack {
		k := kinds[(i+m*5)%len(kinds)]
		fmt.Fprintf(&b, "\n  mount \"%s-%02d\" {\n    at        = %d\n    equipment = equipment.%s\n", k.name, m+1, m+3, k.name)
		if k.watts > 0 {
			fmt.Fprintf(&b, "    feeds     = [feed.f%02d-%02d-a, feed.f%02d-%02d-b]\n", room, row, room, row)
		}
		fmt.Fprintf(&b, "    serial    = \"AR-%06d-%02d\"\n    owner     = \"desk-%d\"\n  }\n", i+1, m+1, m%7)
	}
	fmt.Fprintf(&b, "\n  blank { at = \"1-2\" }\n  blank { at = \"43-45\" }\n}\n")
	return b.String()
}
