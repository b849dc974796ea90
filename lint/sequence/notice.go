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

// checkRecord notes that a change has no record number where a site that it is
// done at asks for one.
func (p *Plan) checkRecord(record string) {
	if record != "" {
		return
	}
	var seen []string
	for n := range p.Blocks {
		site := p.Blocks[n].Site
		if site == nil || !site.Record || slices.Contains(seen, site.Name) {
			continue
		}
		seen = append(seen, site.Name)
		p.Findings = append(p.Findings, lint.Finding{
			Rule: "plan/no-record", Level: lint.Note, At: site.Source.Attr("record"), Thing: "site." + site.Name,
			Message: fmt.Sprintf("site.%s asks for a record number of every change, and this one has none: open the record, and name it with --record", site.Name),
		})
	}
}
