package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// bondChained reports a rack whose bonding conductor goes to another rack, with
// the path that it takes to a bar, if it takes one.
var bondChained = &lint.Rule{
	ID:      "site/bond-chained",
	Since:   "2026.1",
	Level:   lint.Error,
	Summary: "a rack is bonded to another rack only",
	Why: `Bonds in a chain hang on every rack between. The day the middle one is taken out
its neighbour loses its earth with all its supplies on, and nobody who works at
the one looks at the other. Racks may be joined to each other as well; their own
conductor to the bar is what counts.`,
	Source:  "TIA-607 and EN 50310, as practised: never from rack to rack",
	Omits:   "where the bar itself is bonded; conductors beside a rack's own",
	Decides: bondDecides,
	Estate:  checkBondChained,
	Bad:     chainExample("rack.hq-a"),
	Good:    chainExample("bar.hq"),
}

func chainExample(bond string) string {
	return fmt.Sprintf(`
bar "hq" {}
frame "cab-42" {
  system = "19in"
  units  = 42
}
rack "hq-a" {
  frame = frame.cab-42
  bond  = bar.hq
}
rack "hq-b" {
  frame = frame.cab-42
  bond  = %s
}
`, bond)
}

func checkBondChained(p *lint.Pass) {
	for _, r := range p.Estate.Racks {
		if r.Bond.Rack == nil {
			continue
		}
		path, bar, circle := r.BondPath()
		f := lint.AtRack(r, "bond")
		f.Others = []string{r.Bond.Rack.Ref()}
		var way []string
		for _, by := range path {
			way = append(way, by.Ref())
		}
		end, between := "", path[1:]
		switch {
		case bar != nil:
			way = append(way, "bar."+bar.Name)
		case circle:
			end, between = ", which is a circle and reaches no bar", path[1:len(path)-1]
		default:
			end = ", whose own bond " + bondTold(path[len(path)-1])
		}
		f.Message = fmt.Sprintf("%s is bonded to another rack only: %s%s; every rack has a conductor of its own to a bar", r.Ref(), strings.Join(way, " -> "), end)
		for _, by := range between {
			f.Related = append(f.Related, lint.Related{At: by.Source.Attr("bond"), Message: fmt.Sprintf("the bond of %s %s", by.Ref(), bondTold(by))})
		}
		if bar != nil {
			f.Related = append(f.Related, lint.Related{At: bar.Source.At(), Message: "the bar is declared here"})
		}
		p.Report(f)
	}
}

// bondTold says what the bond of a rack goes to.
func bondTold(r *estate.Rack) string {
	switch ref := r.Bond.Ref(); {
	case r.Bond.State == estate.IsMissing:
		return "is not declared"
	case r.Bond.State == estate.IsUnknown:
		return "is unknown"
	case ref == "":
		return "goes to something that does not exist"
	default:
		return "goes to " + ref
	}
}
