package sequence

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// needs notes a competence that a step of the block takes.
func (b *Block) needs(competence string) {
	if competence == "" {
		return
	}
	if at, known := slices.BinarySearch(b.Competences, competence); !known {
		b.Competences = slices.Insert(b.Competences, at, competence)
	}
}

// competences gives what the windows that a site may use declare together, and
// whether any of them declares it at all.
//
// Where one does, the others are taken to have nobody: whoever writes down when
// the electrician comes means that there is none at other times. Where none
// does, nothing is known, and nothing is refused for it.
func (p *Plan) competences(site *estate.Site) (there []string, said bool) {
	for _, w := range p.after.Windows {
		if w.Site != nil && site != nil && w.Site.Name != site.Name {
			continue
		}
		said = said || len(w.Competences) > 0
		there = append(there, w.Competences...)
	}
	return there, said
}

// competent reports whether a window has what a block takes, as far as that is
// declared.
func (p *Plan) competent(b *Block, w *estate.Window) bool {
	if _, said := p.competences(b.Site); !said {
		return true
	}
	return !slices.ContainsFunc(b.Competences, func(c string) bool { return !slices.Contains(w.Competences, c) })
}

// checkCompetences says of which blocks it is not known whether a window has
// who is needed: once for each site and competence.
func (p *Plan) checkCompetences() {
	seen := map[string]bool{}
	for i := range p.Steps {
		s := &p.Steps[i]
		site := p.Blocks[s.Block].Site
		key := siteName(site) + " " + s.Competence
		if s.Competence == "" || s.Job == nil || seen[key] || len(p.after.Windows) == 0 {
			continue
		}
		if _, said := p.competences(site); said {
			continue
		}
		seen[key] = true
		p.Unchecked = append(p.Unchecked, lint.Unchecked{
			Rule: "plan/too-few-people", At: s.Job.declared(), Thing: s.Job.Thing, Rack: s.At.Rack,
			Because: fmt.Sprintf("step %d (%s) takes %s, and no window of site.%s says whether one is there; write competences = [%q] in it, or \"none\" where there is none",
				s.Number, strings.TrimSuffix(s.Do, "."), article(s.Competence), siteName(site), s.Competence),
		})
	}
}

// article puts the indefinite article before a word.
func article(word string) string {
	if strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}
