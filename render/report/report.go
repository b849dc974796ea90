// Package report prints what lint found, for people and for machines.
//
// Read [Page] first: it is what every format is given. [Text] is for a
// terminal or a log, [Unchecked] lists what could not be judged; the other
// formats are one file each, with the published description they follow.
//
// The package prints what it is given and decides nothing: what is a finding,
// how grave it is and what is waived was settled in lint.
package report

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"cagenut/lang"
	"cagenut/lang/text"
	"cagenut/lint"
)

// A Page is all that one run of lint has to say. The zero values of its fields
// but Result are good.
type Page struct {
	Result   *lint.Result
	Mistakes []lang.Diagnostic // what is wrong with the text of the estate itself; cannot be waived
	Rules    []*lint.Rule      // what was judged by, for the formats that explain rules
	Base     *Base             // what was compared with, or nil
	Broken   []string          // files that could not be read whole, sorted

	// Texts gives the text of a file by its path in the estate, for lines,
	// columns and excerpts; nil where it cannot be had.
	Texts func(file string) *text.Text
	// Path gives what is printed for a file of the estate: its path from
	// where the reader looks. Machine formats need it slash-separated and
	// relative to the repository's root.
	Path func(file string) string

	FailOn  lint.Level // from which level a finding fails a run; the zero value is Error
	Version string     // of the program
	Root    string     // the file that names the estate; "" for estate.hcl
}

// A Base is what findings were compared with, so that only new ones are left.
type Base struct {
	Name  string // the revision as the user wrote it
	Cured int    // findings of the base that are gone
	Old   int    // findings of the base that are still there, and not shown
}

// languageRule stands in place of a rule's identifier for a mistake of the text. Rules
// have a slash in theirs.
const languageRule = "language"

// An entry is a finding or a mistake, ready to be printed by any format.
type entry struct {
	lint.Finding
	Detail  string
	Mistake bool
	Key     string // the same in every commit that has it, and of no other entry
}

// entries gives all that is to be printed: by file, worst first, mistakes of
// the language before findings of equal level. Waived findings are left out
// unless asked for.
func (p *Page) entries(waived bool) []entry {
	all := make([]entry, 0, len(p.Mistakes)+len(p.Result.Findings))
	for _, m := range p.Mistakes {
		e := entry{
			Finding: lint.Finding{Rule: languageRule, Level: level(m.Severity), At: m.Range, Message: m.Summary},
			Detail:  m.Detail, Mistake: true,
		}
		for _, r := range m.Related {
			e.Related = append(e.Related, lint.Related(r))
		}
		all = append(all, e)
	}
	for _, f := range p.Result.Findings {
		if waived || f.Waiver == nil {
			all = append(all, entry{Finding: f})
		}
	}
	slices.SortStableFunc(all, func(a, b entry) int {
		return cmp.Or(
			cmp.Compare(a.At.File, b.At.File),
			-cmp.Compare(a.Level, b.Level),
			-cmp.Compare(order(a.Mistake), order(b.Mistake)),
			lint.Compare(a.Finding, b.Finding),
		)
	})
	seen := map[string]int{}
	for i := range all {
		e := &all[i]
		key := e.Finding.Key()
		if e.Mistake {
			key = strings.Join([]string{languageRule, e.At.File, e.Message}, "\x00")
		}
		seen[key]++
		if n := seen[key]; n > 1 {
			key += fmt.Sprintf("\x00%d", n)
		}
		sum := sha256.Sum256([]byte(key))
		e.Key = hex.EncodeToString(sum[:16])
	}
	return all
}

// level gives the level of a mistake of the text.
func level(s lang.Severity) lint.Level {
	if s == lang.Warning {
		return lint.Warning
	}
	return lint.Error
}

func order(b bool) int {
	if b {
		return 1
	}
	return 0
}

// text gives the text of a file, or an empty one where it cannot be had.
func (p *Page) text(file string) *text.Text {
	if p.Texts != nil {
		if t := p.Texts(file); t != nil {
			return t
		}
	}
	return text.New(nil)
}

// path gives what is printed for a file.
func (p *Page) path(file string) string {
	if p.Path == nil {
		return file
	}
	return p.Path(file)
}
