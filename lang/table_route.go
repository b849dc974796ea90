package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
)

var routeBlock = top("route", "the way from the kerb into a room, gate by gate",
	func(e *estate.Estate) *[]*estate.Route { return &e.Routes },
	func(o *estate.Route) (*string, *estate.Source) { return &o.Name, &o.Source },
).with(`route "dock" {
  gate "dock-door" {
    width  = "1200 mm"
    height = "2100 mm"
  }
  gate "lift" {
    width  = "1100 mm"
    height = "2000 mm"
    length = "1400 mm"
    rated  = "1000 kg"
    by     = "facilities"
  }
}`, func(r *reader, owner any, b *hclsyntax.Block) {
	if o := owner.(*estate.Route); len(o.Gates) == 0 && !r.part.broken {
		r.report(labelRange(b), "", "%s has no gate; write gate \"NAME\" { width = \"1200 mm\" } for each door, lift and ramp on the way", title("route", o.Name))
	}
}, gateBlock)

var gateBlock = (&block{
	name: "gate", label: "NAME",
	doc:  "a door, a lift, a ramp or the like on a route; what is left out limits nothing there, what nobody has measured is unknown",
	open: in(func(o *estate.Route) *[]*estate.Gate { return &o.Gates }),
	head: func(owner any) (*string, *estate.Source) {
		g := owner.(*estate.Gate)
		return &g.Name, &g.Source
	},
	attrs: []attr{
		figure("width", `"1200 mm"`, "its clear width", func(g *estate.Gate) figureOfLength { return &g.Width }),
		figure("height", `"2100 mm"`, "its clear height", func(g *estate.Gate) figureOfLength { return &g.Height }),
		figure("length", `"1400 mm"`, "the clear length in which a thing must stand whole, as in the car of a lift or on a landing", func(g *estate.Gate) figureOfLength { return &g.Length }),
		figure("rated", `"1000 kg"`, "the mass that it bears", func(g *estate.Gate) figureOfMass { return &g.Rated }),
		figure("gradient", `"6 deg"`, "how steep it is, of a ramp", func(g *estate.Gate) *estate.Figure[quantity.Angle] { return &g.Gradient }),
		figure("step", `"25 mm"`, "the height of a step or threshold", func(g *estate.Gate) figureOfLength { return &g.Step }),
		freeText("floor", `"plates over the threshold"`, "what protects the floor there", func(g *estate.Gate) *string { return &g.Floor }),
		freeText("by", `"facilities"`, "who must open or work it", func(g *estate.Gate) *string { return &g.Opener }),
		freeText("note", `"measured at the basement landing"`, "what else those who go there must know", func(g *estate.Gate) *string { return &g.Note }),
	},
}).with(`gate "lift" {
  width  = "1100 mm"
  height = "2000 mm"
  length = "1400 mm"
  rated  = "1000 kg"
}`, nil)

var crateKeys = []string{"width", "depth", "height", "mass"}

// readCrate reads { width = LENGTH, depth = LENGTH, height = LENGTH, mass = MASS }.
func readCrate(r *reader, x hclsyntax.Expression) (estate.Crate, bool) {
	var c estate.Crate
	o, ok := x.(*hclsyntax.ObjectConsExpr)
	if !ok {
		r.bad(x, "takes width, depth, height and mass%s", r.example())
		return c, false
	}
	return c, r.object(o, crateKeys, func(key string, x hclsyntax.Expression) (ok bool) {
		switch key {
		case "width":
			c.Width, ok = readFigure[quantity.Length](r, x)
		case "depth":
			c.Depth, ok = readFigure[quantity.Length](r, x)
		case "height":
			c.Height, ok = readFigure[quantity.Length](r, x)
		case "mass":
			c.Mass, ok = readFigure[quantity.Mass](r, x)
		}
		return ok
	})
}
