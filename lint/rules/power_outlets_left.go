package rules

import (
	"fmt"
	"slices"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// outletsLeft notes a rack whose strips have few outlets left of a type that it
// uses: with two strips or more, the fewest that one of them has, since the next
// thing needs one on each. It looks at racks whose cords name their outlets.
var outletsLeft = &lint.Rule{
	ID:      "power/outlets-left",
	Since:   "2026.1",
	Level:   lint.Note,
	Summary: "a rack is running out of outlets",
	Why: `Space, power and cooling are left, and no outlet: what comes next ends on a cord
to the neighbour, or on a strip in a strip.`,
	Source:  "common practice",
	Decides: electrician,
	Limits:  []lint.Limit{{Name: "limit", Default: 2, Doc: "how many outlets of a type should be left on each strip (common practice)"}},
	Rack:    checkOutletsLeft,
	Bad:     leftExample(5),
	Good:    leftExample(4),
}

func leftExample(n int) string {
	s := exampleStrip + `
rack "r1" {
  frame = frame.cab
  zero_u "strip-a" {
    equipment = equipment.strip-8
    side      = "left"
    from      = "50 mm"
    feeds     = [feed.a]
  }
`
	for i := range n {
		s += fmt.Sprintf(`  mount "server-%d" {
    at        = %d
    equipment = equipment.server
    cords     = { to = "strip-a", outlet = %d }
  }
`, i+1, i+1, i+1)
	}
	return s + "}\n"
}

func checkOutletsLeft(p *lint.Pass, rack *estate.Rack) {
	used := map[*estate.Mount]map[string]int{}
	var strips []*estate.Mount
	var types []string
	for _, m := range rack.Mounts {
		for i := range m.Cords {
			strip := p.Estate.StripOf(m, &m.Cords[i])
			if strip == nil || strip.Rack != rack || strip.Equipment == nil {
				continue
			}
			set := strip.Equipment.Outlet(m.Cords[i].Outlet)
			if set == nil {
				continue
			}
			if used[strip] == nil {
				used[strip] = map[string]int{}
				strips = append(strips, strip)
			}
			used[strip][set.Type]++
			if !slices.Contains(types, set.Type) {
				types = append(types, set.Type)
			}
		}
	}
	limit := lint.LimitFor[int](p, "limit", rack)
	for _, kind := range types {
		fewest, where := -1, (*estate.Mount)(nil)
		for _, strip := range strips {
			total := 0
			for _, set := range strip.Equipment.Outlets {
				if set.Type == kind {
					total += set.Count
				}
			}
			if total == 0 {
				continue
			}
			if left := total - used[strip][kind]; fewest < 0 || left < fewest {
				fewest, where = left, strip
			}
		}
		if where == nil || fewest >= limit {
			continue
		}
		f := lint.AtMount(where, "equipment")
		f.Others = []string{kind}
		f.Message = fmt.Sprintf("%s has %s of type %s left; %d is the limit", where.Ref(), quantity.Count(max(fewest, 0), "outlet"), kind, limit)
		p.Report(f)
	}
}
