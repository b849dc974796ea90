package sheet

import (
	"fmt"
	"strings"
	"unicode"
)

// A Column is something that a sheet may say about a mount.
type Column struct {
	Name  string   // as it is called with --column
	Doc   string   // one sentence
	Words []string // headings it is known by, letters and digits only
	Must  bool     // a sheet without it cannot be read
}

// Columns lists what a sheet may say, in the order of the reference.
var Columns = []Column{
	{"rack", "the rack it is in", []string{"rack", "rackname", "cabinet", "cab", "bay"}, true},
	{"unit", "the unit it is at: 38, U38, 38-39, 40.5, or 0U beside the posts", []string{"unit", "u", "units", "at", "position", "pos", "ru", "rackunit", "lowestunit", "unitno"}, true},
	{"equipment", "what it is", []string{"equipment", "model", "type", "product", "item"}, true},
	{"name", "what it is called", []string{"name", "device", "host", "hostname", "label"}, false},
	{"height", "how many units it takes", []string{"height", "heightu", "size", "sizeu", "uheight", "numberofunits"}, false},
	{"face", "front or rear", []string{"face", "side", "mountedon", "frontrear"}, false},
	{"slot", "the part of the width: left, right, 1/3", []string{"slot", "half", "width"}, false},
	{"serial", "its serial number", []string{"serial", "serialnumber", "serialno", "sn"}, false},
	{"asset", "its number in the register of assets", []string{"asset", "assettag", "assetnumber", "assetno", "inventorynumber"}, false},
	{"owner", "who answers for it", []string{"owner", "team", "department", "responsible"}, false},
	{"service", "what depends on it", []string{"service", "application", "purpose"}, false},
	{"feeds", "its feeds, by name, with commas between", []string{"feeds", "feed", "power", "supply"}, false},
	{"row", "the row its rack is in", []string{"row", "aisle"}, false},
	{"place", "the place of its rack in the row", []string{"place", "placeinrow", "rackno"}, false},
	{"frame", "the frame its rack is", []string{"frame", "racktype", "cabinettype"}, false},
}

// columns says in which cell of a row each column stands.
type columns map[string]int

// find maps headings to columns; given maps the names of columns to headings
// and has the first word.
func find(t *Table, given map[string]string) (columns, []string, []Problem) {
	cols := columns{}
	taken := map[int]string{}
	var problems []Problem
	take := func(name string, i int) {
		cols[name] = i
		taken[i] = name
	}
	for _, c := range Columns {
		want, ok := given[c.Name]
		if !ok {
			continue
		}
		i := headingIndex(t.Headings, want)
		if i < 0 {
			problems = append(problems, Problem{Message: fmt.Sprintf("no column is headed %q; the headings are %s", want, quotedList(nonEmpty(t.Headings)))})
			continue
		}
		take(c.Name, i)
	}
	for _, c := range Columns {
		if _, done := cols[c.Name]; done || given[c.Name] != "" {
			continue
		}
		for _, word := range c.Words {
			i := headingIndex(t.Headings, word)
			if i < 0 || taken[i] != "" {
				continue
			}
			take(c.Name, i)
			break
		}
		if _, found := cols[c.Name]; !found && c.Must {
			problems = append(problems, Problem{Message: fmt.Sprintf("no column says %s; the headings are %s: name the right one with --column %s=HEADING", c.Doc, quotedList(nonEmpty(t.Headings)), c.Name)})
		}
	}
	var left []string
	for i, h := range t.Headings {
		if h != "" && taken[i] == "" {
			left = append(left, h)
		}
	}
	return cols, left, problems
}

// headingIndex finds a heading; case, spaces and signs do not count.
func headingIndex(headings []string, want string) int {
	w := letters(want)
	for i, h := range headings {
		if h == want || w != "" && letters(h) == w {
			return i
		}
	}
	return -1
}

// letters leaves the letters and digits of s, small.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

func nonEmpty(all []string) []string {
	var out []string
	for _, s := range all {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// cell gives what a row says in a column, or "".
func (cols columns) cell(r Row, name string) string {
	i, ok := cols[name]
	if !ok || i >= len(r.Cells) {
		return ""
	}
	return r.Cells[i]
}

// letterOf names a column as a spreadsheet program does: A, B, ... AA.
func letterOf(i int) string {
	s := ""
	for i++; i > 0; i = (i - 1) / 26 {
		s = string(rune('A'+(i-1)%26)) + s
	}
	return s
}
