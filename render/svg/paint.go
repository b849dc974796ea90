package svg

import (
	"fmt"
	"strings"
)

// A class is a kind of thing drawn; what it looks like is one row of a table.
type class uint8

const (
	noClass class = iota
	paper
	frame    // outline of a cabinet
	post     // a post as seen
	hole     // in a post
	floor    // the line it stands on
	body     // a mount on the face that is looked at
	far      // a mount on the other face
	cords    // room for cords, handles and connectors
	door     // a closed door, seen from the side
	blank    // a blank panel
	held     // reserved units
	shut     // units that nothing can be mounted in
	adapter  // what holds a panel on wider posts
	obstacle // a strut or a fan inside the frame
	clash    // claimed twice
	outside  // of the frame or the doors
	comes    // a change brings it
	goes     // a change takes it away
	moves    // a change moves it
	alters   // a change alters it
	badge    // the square behind a sign
	measure  // a dimension line
	title
	label
	aside
	sign // a sign on a badge

	classes int = iota
)

// A look is how a class is painted. A colour of "" paints nothing.
type look struct {
	name         string
	fill, stroke string // on paper
	darkFill     string // on a dark screen
	darkStroke   string
	width        float64   // of the stroke, in mm
	dash         []float64 // in mm
	pattern      pattern   // over the fill
	bold         bool
}

// pattern is a filling that shows without colour.
type pattern uint8

const (
	noPattern pattern = iota
	dots
	slants
	crosses
	uprights
	levels
	grid
)

const (
	ink, darkInk   = "#1b2127", "#e4e8ec"
	grey, darkGrey = "#59636e", "#9aa5b1"
)

// looks is the one table of looks. In grey the fills differ by pattern, the
// outlines by width and dashes.
var looks = [classes]look{
	paper:    {name: "paper", fill: "#ffffff", darkFill: "#12161a"},
	frame:    {name: "frame", fill: "#f3f4f5", darkFill: "#191e23", stroke: grey, darkStroke: darkGrey, width: 3},
	post:     {name: "post", fill: "#d6dbe0", darkFill: "#333b43", stroke: grey, darkStroke: darkGrey, width: 1.5},
	hole:     {name: "hole", fill: "#ffffff", darkFill: "#12161a", stroke: grey, darkStroke: darkGrey, width: 1},
	floor:    {name: "floor", stroke: ink, darkStroke: darkInk, width: 6},
	body:     {name: "body", fill: "#fdfaf1", darkFill: "#242b32", stroke: ink, darkStroke: darkInk, width: 3},
	far:      {name: "far", fill: "#f3f4f5", darkFill: "#191e23", stroke: grey, darkStroke: darkGrey, width: 2.5, dash: []float64{14, 9}},
	cords:    {name: "cords", stroke: grey, darkStroke: darkGrey, width: 2, dash: []float64{5, 6}, pattern: uprights},
	door:     {name: "door", stroke: ink, darkStroke: darkInk, width: 3, dash: []float64{24, 8, 4, 8}},
	blank:    {name: "blank", fill: "#ffffff", darkFill: "#12161a", stroke: grey, darkStroke: darkGrey, width: 1.5, pattern: dots},
	held:     {name: "held", fill: "#ffffff", darkFill: "#12161a", stroke: grey, darkStroke: darkGrey, width: 2, dash: []float64{20, 8}, pattern: slants},
	shut:     {name: "shut", fill: "#ffffff", darkFill: "#12161a", stroke: grey, darkStroke: darkGrey, width: 1.5, pattern: crosses},
	adapter:  {name: "adapter", fill: "#d6dbe0", darkFill: "#333b43", stroke: ink, darkStroke: darkInk, width: 2, pattern: uprights},
	obstacle: {name: "obstacle", fill: "#d6dbe0", darkFill: "#333b43", stroke: ink, darkStroke: darkInk, width: 2.5, dash: []float64{3, 3}, pattern: crosses},
	clash:    {name: "clash", stroke: "#b3261e", darkStroke: "#ff8a80", width: 9},
	outside:  {name: "outside", stroke: "#b3261e", darkStroke: "#ff8a80", width: 6, dash: []float64{6, 10}},
	comes:    {name: "in", fill: "#dff0f4", darkFill: "#12343d", stroke: "#0b6478", darkStroke: "#6cc9dd", width: 7, pattern: grid},
	goes:     {name: "out", fill: "#f7e4ef", darkFill: "#3d1b30", stroke: "#8a2363", darkStroke: "#e39ac6", width: 4, dash: []float64{10, 8}, pattern: levels},
	moves:    {name: "moved", fill: "#e3e8f8", darkFill: "#1c2747", stroke: "#27408b", darkStroke: "#9db2f2", width: 7, pattern: slants},
	alters:   {name: "altered", fill: "#f8efd9", darkFill: "#3a2f12", stroke: "#7a5800", darkStroke: "#e2bf67", width: 5, pattern: dots},
	badge:    {name: "badge", fill: ink, darkFill: darkInk},
	measure:  {name: "measure", stroke: grey, darkStroke: darkGrey, width: 2},
	title:    {name: "title", fill: ink, darkFill: darkInk, bold: true},
	label:    {name: "label", fill: ink, darkFill: darkInk},
	aside:    {name: "aside", fill: grey, darkFill: darkGrey},
	sign:     {name: "sign", fill: "#ffffff", darkFill: "#12161a", bold: true},
}

// A patternLook is one tile of a pattern: lines in a square of that size.
type patternLook struct {
	name  string
	size  float64
	lines [][4]float64 // from x, y to x, y; a point where both are the same
	width float64
}

var patterns = [...]patternLook{
	dots:     {"dots", 18, [][4]float64{{9, 9, 9, 9}}, 4},
	slants:   {"slants", 24, [][4]float64{{0, 24, 24, 0}, {-6, 6, 6, -6}, {18, 30, 30, 18}}, 2.5},
	crosses:  {"crosses", 24, [][4]float64{{4, 4, 20, 20}, {4, 20, 20, 4}}, 2},
	uprights: {"uprights", 10, [][4]float64{{5, 0, 5, 10}}, 1.5},
	levels:   {"levels", 14, [][4]float64{{0, 7, 14, 7}}, 1.5},
	grid:     {"grid", 22, [][4]float64{{11, 5, 11, 17}, {5, 11, 17, 11}}, 2},
}

// patternInk is the colour of patterns.
const patternInk, darkPatternInk = "#8b96a1", "#66727e"

// Style gives the rules for the classes of every drawing, for a page that holds
// some. Drawings follow the reader's choice of a light or dark screen, and are
// light in print.
func Style() string {
	var b, dark strings.Builder
	for _, l := range looks {
		if l.name == "" {
			continue
		}
		fill, stroke := orNone(l.fill), orNone(l.stroke)
		fmt.Fprintf(&b, ".cn-%s{fill:%s;stroke:%s", l.name, fill, stroke)
		if l.stroke != "" {
			fmt.Fprintf(&b, ";stroke-width:%s", number(l.width))
		}
		if len(l.dash) > 0 {
			fmt.Fprintf(&b, ";stroke-dasharray:%s", dashes(l.dash))
		}
		if l.bold {
			b.WriteString(";font-weight:700")
		}
		b.WriteString("}\n")
		fmt.Fprintf(&dark, ".cn-%s{fill:%s;stroke:%s}\n", l.name, orNone(l.darkFill), orNone(l.darkStroke))
	}
	fmt.Fprintf(&b, ".cn-tile{fill:none;stroke:%s;stroke-linecap:round}\n", patternInk)
	fmt.Fprintf(&dark, ".cn-tile{fill:none;stroke:%s}\n", darkPatternInk)
	b.WriteString(".cn text{font-family:system-ui,sans-serif;font-variant-numeric:tabular-nums}\n")
	return b.String() + "@media screen and (prefers-color-scheme:dark){\n" + dark.String() + "}\n"
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

func dashes(all []float64) string {
	s := make([]string, len(all))
	for i, d := range all {
		s[i] = number(d)
	}
	return strings.Join(s, " ")
}
