package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// checkNotice finds windows that open sooner than a site's notice allows: one
// finding for each site. A sheet that is half done was announced before.
func (p *Plan) checkNotice(o Options) {
	if o.Today == 0 || len(o.Done) > 0 {
		return
	}
	var sites []*estate.Site
	soon := map[*estate.Site][]string{}
	for _, n := range p.Windows {
		site := p.Blocks[n.Blocks[0]].Site
		if site == nil || site.Notice == 0 {
			continue
		}
		day := estate.DateOf(n.Opens)
		days := int(day - o.Today)
		if days >= site.Notice {
			continue
		}
		if !slices.Contains(sites, site) {
			sites = append(sites, site)
		}
		soon[site] = append(soon[site], fmt.Sprintf("window.%s of %s is %s away", n.Window.Name, day, daysText(days)))
	}
	for _, site := range sites {
		p.Findings = append(p.Findings, lint.Finding{
			Rule: "plan/short-notice", Level: lint.Warning, At: site.Source.Attr("notice"), Thing: "site." + site.Name,
			Message: fmt.Sprintf("%s, and site.%s asks for %s of notice: plan from %s on, or have those concerned agree to less",
				strings.Join(soon[site], ", "), site.Name, daysText(site.Notice), o.Today+estate.Date(site.Notice)),
		})
	}
}

func daysText(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// checkRecord notes that a change has no record number, or no reason, where a
// site that it is done at asks for one.
func (p *Plan) checkRecord(o Options) {
	var seen []string
	for n := range p.Blocks {
		site := p.Blocks[n].Site
		if site == nil || slices.Contains(seen, site.Name) {
			continue
		}
		seen = append(seen, site.Name)
		if site.Record && o.Record == "" {
			p.Findings = append(p.Findings, lint.Finding{
				Rule: "plan/no-record", Level: lint.Note, At: site.Source.Attr("record"), Thing: "site." + site.Name,
				Message: fmt.Sprintf("site.%s asks for a record number of every change, and this one has none: open the record, and name it with --record", site.Name),
			})
		}
		if site.Reason && strings.TrimSpace(o.Reason) == "" {
			p.Findings = append(p.Findings, lint.Finding{
				Rule: "plan/no-reason", Level: lint.Note, At: site.Source.Attr("reason"), Thing: "site." + site.Name,
				Message: fmt.Sprintf("site.%s asks for the reason of every change, and this one has none: say with --reason what it is for and what happens without it", site.Name),
			})
		}
	}
}

// Unowned names what the change touches that nobody is declared to own, neither
// the thing nor its rack, in the order of the jobs.
func (p *Plan) Unowned() []string {
	var out []string
	for _, j := range p.Jobs {
		owned := j.feed != nil // feeds have no owner to declare
		for _, rack := range []*estate.Rack{j.rack, p.rackNamed(j.Rack)} {
			owned = owned || rack != nil && rack.Owner != ""
		}
		for _, m := range []*estate.Mount{j.Old, j.New} {
			owned = owned || m != nil && (m.Owner != "" || m.Rack != nil && m.Rack.Owner != "")
		}
		if !owned && !slices.Contains(out, j.Name) {
			out = append(out, j.Name)
		}
	}
	return out
}
