package rules

import (
	"fmt"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// Unsupported reports a heavy or deep mount that hangs on its front ears
// alone, or of which nothing says how it is held.
//
// On two posts anything over a heavier limit is an error: there is no rear post
// that a shelf could be added to later. In a road case ears alone are an error
// for anything over the limit, since it is tipped and dropped.
var Unsupported = &lint.Rule{
	ID:      "fit/unsupported",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "too heavy or too deep to hang on its ears alone",
	Why: `Ears are bent sheet. A heavy or deep box on them droops, rests on the
one below and cannot be drawn out any more; in a vehicle it tears off.`,
	Source: "common practice",
	Limits: []lint.Limit{
		{Name: "mass", Default: 10 * quantity.Kilogram, Doc: "what ears alone may hold; common practice"},
		{Name: "depth", Default: 450 * quantity.Millimetre, Doc: "how deep a body on ears alone may be; common practice"},
		{Name: "two_post", Default: 25 * quantity.Kilogram, Doc: "what ears alone may hold on two posts before it is an error; common practice"},
	},
	Bad:  exampleCabinet + fmt.Sprintf(unsupportedThings, `"ears"`),
	Good: exampleCabinet + fmt.Sprintf(unsupportedThings, `"fixed-rails"`),
	Rack: unsupported,
}

const unsupportedThings = `equipment "storage-24" {
  system   = "19in"
  height   = "2U"
  depth    = "560 mm"
  mass     = "34 kg"
  mounting = %s
}

rack "hq-a" {
  frame = frame.cab-42

  mount "store-1" {
    at        = 12
    equipment = equipment.storage-24
  }
}
`

func unsupported(p *lint.Pass, r *estate.Rack) {
	for m, q := range inPlace(r) {
		if q.Mounting != estate.Ears && q.Mounting != estate.NoMounting {
			continue
		}
		massLimit := lint.LimitFor[quantity.Mass](p, "mass", m)
		depthLimit := lint.LimitFor[quantity.Length](p, "depth", m)
		var over, missing []string
		mass, known := q.Mass.Get()
		switch {
		case !known:
			missing = append(missing, lacks("mass", ofEquipment(q), q.Mass.State))
		case mass > massLimit:
			over = append(over, fmt.Sprintf("weighs %s%s (%s at most)", mass, basis(q.Mass), massLimit))
		}
		switch depth, known := q.Depth.Get(); {
		case !known:
			missing = append(missing, lacks("depth", ofEquipment(q), q.Depth.State))
		case depth > depthLimit:
			over = append(over, fmt.Sprintf("is %s deep (%s at most)", told(p, q.Depth), p.Length(depthLimit)))
		}
		if len(over) == 0 {
			if len(missing) > 0 {
				p.MountUnchecked(m, "%s", strings.Join(missing, ", "))
			}
			continue
		}
		f := lint.AtMount(m, "equipment")
		how := "hangs on its front ears alone"
		if q.Mounting == estate.NoMounting {
			how = "does not say how it is held"
		}
		f.Message = fmt.Sprintf("%s %s and %s; ears alone do not hold that", m.Name, how, strings.Join(over, " and "))
		f.Related = attrAt(&q.Source, "mounting", "the mounting of %s", q.Name)
		if q.Mounting == estate.Ears {
			switch {
			case r.Frame.Kind == estate.TwoPost && mass > lint.LimitFor[quantity.Mass](p, "two_post", m):
				f.Level = lint.Error
				f.Message += ", and " + r.Frame.Name + " has no rear posts"
			case r.Frame.Kind == estate.RoadCase && mass > massLimit:
				f.Level = lint.Error
				f.Message += ", least of all in a road case"
			}
		}
		p.Report(f)
	}
}
