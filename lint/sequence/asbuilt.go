package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/change"
	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// A Confirmation is what is known of when the record that a change starts from
// was last confirmed as built, at one site.
type Confirmation struct {
	Site *estate.Site
	Tag  string // the last tag of the site's pattern before the change; "" for none
	// Racks are those that the change asks work at and that were changed on
	// paper since; all of them where there is no tag. Sorted.
	Racks   []*estate.Rack
	Commits []string // by which they were changed, the youngest first: "d400b0c (core-2 was found at U37)"
	Unknown string   // why it cannot be told, or ""
}

// Confirmed reports whether nobody has touched the record since it was
// confirmed.
func (c *Confirmation) Confirmed() bool { return c.Tag != "" && len(c.Racks) == 0 && c.Unknown == "" }

// WorkedAt gives the racks, as they were before a change, at which it asks for
// work, by name. What changes on paper alone needs no rack to be looked at.
func WorkedAt(c *change.Change) []*estate.Rack {
	var out []*estate.Rack
	add := func(r *estate.Rack) {
		if r == nil {
			return
		}
		for i := range c.Racks {
			if c.Racks[i].New == r {
				r = c.Racks[i].Old // under its old name, or nil where it is new
			}
		}
		if r != nil {
			r = c.Old.Rack(r.Name)
		}
		if r != nil && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	jobs, _ := jobsOf(c)
	for _, j := range jobs {
		add(j.rack)
		for _, m := range []*estate.Mount{j.Old, j.New} {
			if m != nil {
				add(m.Rack)
			}
		}
	}
	for i := range c.Blanks {
		add(c.Blanks[i].Blank().Rack)
	}
	slices.SortFunc(out, func(a, b *estate.Rack) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// Unconfirmed gives what stands against starting from a record that nobody has
// confirmed as built: one finding for each site.
func Unconfirmed(all []Confirmation) ([]lint.Finding, []lint.Unchecked) {
	const rule = "plan/unconfirmed-base"
	var found []lint.Finding
	var unchecked []lint.Unchecked
	for i := range all {
		c := &all[i]
		at, thing := c.Site.Source.Attr("as_built"), "site."+c.Site.Name
		if c.Unknown != "" {
			unchecked = append(unchecked, lint.Unchecked{Rule: rule, At: at, Thing: thing, Because: c.Unknown})
			continue
		}
		if len(c.Racks) == 0 {
			continue
		}
		f := lint.Finding{Rule: rule, Level: lint.Warning, At: at, Thing: thing}
		var racks []string
		for _, r := range c.Racks {
			racks = append(racks, r.Ref())
			f.Others = append(f.Others, r.Ref())
			f.Related = append(f.Related, lint.Related{At: r.Source.At(), Message: r.Ref() + " is worked at"})
		}
		if c.Tag == "" {
			f.Message = fmt.Sprintf("no tag %s lies on the commit that the change starts from or before it: nobody has confirmed %s as built; look at the racks, mend the record and tag it, or fetch the tags with: git fetch --tags",
				c.Site.AsBuilt, listOf(racks))
		} else {
			since := ""
			if n := len(c.Commits); n > 0 {
				since = fmt.Sprintf(" in %s (%s)", quantity.Count(n, "commit"), listOf(c.Commits))
			}
			was := "was"
			if len(racks) > 1 {
				was = "were"
			}
			f.Message = fmt.Sprintf("%s %s changed on paper%s since %s, the last confirmation as built before this change: look at the racks, mend the record, and tag what is confirmed",
				listOf(racks), was, since, c.Tag)
		}
		found = append(found, f)
	}
	return found, unchecked
}
