package review

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/render/diff"
	"cagenut/render/elevation"
	"cagenut/render/html"
	"cagenut/render/style"
	"cagenut/render/svg"
)

//go:embed page.tmpl
var pageText string

// The parts of the page as the template takes them.
type (
	htmlPage struct {
		Title, Verdict, Where, Read, Caution string
		Mistakes, Brought, Cured             []htmlFinding
		Rules                                string
		Racks                                []htmlRack
		Things                               template.HTML
		Collisions                           []Collision
		Rulings                              []htmlRuling
		Open                                 []htmlReason
		Elsewhere                            string
		RunSheet                             template.HTML
		Work                                 []string
		OnPlan                               []htmlFinding
		NoRunSheet                           string
		Asked                                []string
	}
	htmlFinding struct {
		Sign, Class, Level, Rule, Message string
		At                                *Place
		Related                           []htmlRelated
	}
	htmlRelated struct {
		At      *Place
		Message string
	}
	htmlRack struct {
		ID, Name, Where string
		Totals          []diff.Total
		List            template.HTML
		Views           []htmlView
		NotDrawn        string
	}
	htmlView struct {
		Name          string
		Before, After template.HTML
	}
	htmlRuling struct{ Kind, Ref, Says string }
	htmlReason struct{ Because, Rules, Things string }
)

// HTML prints the page as one file that fetches nothing: racks before and after
// as pictures, differences told by sign and pattern as well as colour. It can
// be read with the keyboard and by a screen reader, and printed.
func HTML(w io.Writer, p *Page) error {
	page := htmlPage{
		Title: "Racks: " + diff.Summary(p.Change), Verdict: p.Verdict(), Where: plainWhere(p), Read: p.read(), Caution: caution,
		Brought: p.htmlFindings(p.Lint.Findings, false), Cured: p.htmlFindings(p.Lint.Cured, true),
		Rules: plural(p.Rules, "rule", "rules"), Collisions: p.Collisions, NoRunSheet: p.NoRunSheet, Asked: asked,
		Things: lines(diff.Things(p.Change, p.wide())),
	}
	for _, m := range p.Mistakes {
		page.Mistakes = append(page.Mistakes, htmlFinding{Sign: sign(lint.Error), Class: class(lint.Error), Level: "error", Message: style.Name(m.Message), At: p.at(m.At, false)})
	}
	for i, d := range p.Deltas {
		rack := htmlRack{ID: fmt.Sprintf("rack-%d", i+1), Name: style.Name(d.Rack().Name), Where: elevation.Where(d.Rack()), List: lines(diff.List(p.Change, d, p.wide()))}
		for _, t := range diff.Totals(d, p.look().Inches) {
			if t.Differs() || t.Over {
				rack.Totals = append(rack.Totals, t)
			}
		}
		p.draw(&rack, d.Old, d.New)
		page.Racks = append(page.Racks, rack)
	}
	for _, r := range p.rulings() {
		page.Rulings = append(page.Rulings, htmlRuling{r.kind.String(), style.Name(r.ref), style.Name(strings.Join(r.says, ", "))})
	}
	here, elsewhere := p.open()
	for _, r := range here {
		page.Open = append(page.Open, htmlReason{style.Name(r.because), strings.Join(r.rules, ", "), plural(len(r.things), "thing", "things")})
	}
	if elsewhere > 0 {
		page.Elsewhere = plural(elsewhere, "check lacks a figure", "checks lack a figure")
	}
	if p.Plan != nil {
		for _, f := range p.Plan.Facts {
			page.Work = append(page.Work, style.Name(f))
		}
		page.OnPlan = p.htmlFindings(p.Plan.Findings, false)
		page.RunSheet = p.Plan.Sheet
	}
	t, err := template.New("page").Funcs(template.FuncMap{"style": html.Rules}).Parse(pageText)
	if err != nil {
		return err
	}
	return t.Execute(w, page)
}

// draw adds the pictures of a rack before and after: from the front, and from
// behind where anything hangs there.
func (p *Page) draw(rack *htmlRack, old, neu *estate.Rack) {
	views := []elevation.View{elevation.Front}
	for _, r := range []*estate.Rack{old, neu} {
		if r != nil && len(views) == 1 && elevation.HangsBehind(r) {
			views = append(views, elevation.Rear)
		}
	}
	marks := diff.Marks(p.Change)
	for k, view := range views {
		v := htmlView{Name: map[elevation.View]string{elevation.Front: "from the front", elevation.Rear: "from behind"}[view]}
		for side, r := range map[string]*estate.Rack{"before": old, "after": neu} {
			if r == nil {
				continue
			}
			d, err := svg.Elevation(r, svg.Options{View: view, Inches: p.Change.New.Lengths == "in", Marks: marks, Bare: true, Slim: true})
			if err != nil {
				rack.NotDrawn = err.Error()
				continue
			}
			d.Title += ", " + side
			picture := template.HTML(d.Embedded(fmt.Sprintf("%s-%s-%d", rack.ID, side, k+1)))
			if side == "before" {
				v.Before = picture
			} else {
				v.After = picture
			}
		}
		if v.Before != "" || v.After != "" {
			rack.Views = append(rack.Views, v)
		}
	}
}

func (p *Page) htmlFindings(all []lint.Finding, old bool) []htmlFinding {
	var out []htmlFinding
	for _, f := range sorted(all) {
		h := htmlFinding{Sign: sign(f.Level), Class: class(f.Level), Level: f.Level.String(), Rule: f.Rule, Message: style.Name(f.Message), At: p.at(f.At, old)}
		for _, r := range f.Related {
			h.Related = append(h.Related, htmlRelated{p.at(r.At, old), style.Name(r.Message)})
		}
		out = append(out, h)
	}
	return out
}

func (p *Page) at(r estate.Range, old bool) *Place {
	if p.Place == nil || r.IsZero() {
		return nil
	}
	at := p.Place(r, old)
	at.File = style.Name(at.File)
	return &at
}

// sign and class say how grave a finding is, without and with colour.
func sign(l lint.Level) string {
	switch l {
	case lint.Error:
		return "!!"
	case lint.Warning:
		return "!"
	}
	return "i"
}

func class(l lint.Level) string {
	switch l {
	case lint.Error:
		return "grave"
	case lint.Warning:
		return "caution-level"
	}
	return "remark"
}

// lines gives a printed text with its roles as elements; letters that differ
// are deleted and inserted ones.
func lines(all []style.Line) template.HTML {
	var b strings.Builder
	for _, l := range all {
		for _, piece := range l {
			text := template.HTMLEscapeString(piece.Text)
			element, class := "span", ""
			switch piece.Role {
			case style.In:
				class = "in"
				if strings.HasPrefix(piece.Text, "{") {
					element = "ins"
				}
			case style.Out:
				class = "out"
				if strings.HasPrefix(piece.Text, "{") {
					element = "del"
				}
			case style.Moved:
				class = "moved"
			case style.Altered:
				class = "altered"
			case style.Aside:
				class = "aside"
			}
			if class == "" {
				b.WriteString(text)
				continue
			}
			fmt.Fprintf(&b, `<%s class="%s">%s</%s>`, element, class, text, element)
		}
		b.WriteString("\n")
	}
	return template.HTML(b.String())
}

// plainWhere names the rooms and racks that are touched, without marks.
func plainWhere(p *Page) string {
	s := strings.NewReplacer("`", "", "\\", "", "&lt;", "<", "&gt;", ">", "&amp;", "&", "\u200b", "").Replace(p.where())
	return s
}
