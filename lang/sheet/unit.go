package sheet

import (
	"strings"

	"cagenut/lang/estate"
)

// place reads where a mount is and how high it is.
func (m *maker) place(r Row, n *mount) bool {
	said := m.cols.cell(r, "unit")
	if said == "" {
		m.problem(r, "unit", "nothing says at which unit it is")
		return false
	}
	if s := strings.ToLower(strings.ReplaceAll(said, " ", "")); s == "0u" || s == "0" || s == "zerou" {
		n.zeroU = true
		m.note(n, 0, r)
		return true
	}
	lo, hi, ok := run(said)
	if !ok {
		m.problem(r, "unit", "%q is no unit; write 38, U38, 38-39 or 40.5, or 0U beside the posts", said)
		return false
	}
	height, ok := m.height(r, lo, hi)
	if !ok {
		return false
	}
	n.at, n.height, n.text = lo, height, lo.String()
	switch {
	case hi != lo:
		n.text = `"` + lo.String() + "-" + hi.String() + `"`
	case m.options.Largest:
		if height == 0 {
			height = m.catalogueHeight(n.equipment)
		}
		if height == 0 {
			m.problem(r, "unit", "the largest unit tells the place only of what has a height; give its height in a column or in the catalogue")
			return false
		}
		n.at = lo - height + estate.OneUnit
		if n.at <= 0 {
			m.problem(r, "unit", "%s units down from U%s is below the lowest unit", height, lo)
			return false
		}
		n.text = n.at.String()
	}
	return m.note(n, height, r)
}

// height gives how high a row says its mount is: in the column of heights, or
// by a run of units; 0 where it does not say.
func (m *maker) height(r Row, lo, hi estate.UnitNumber) (estate.UnitNumber, bool) {
	var height estate.UnitNumber
	if hi != lo {
		height = hi - lo + estate.OneUnit
	}
	said := m.cols.cell(r, "height")
	if said == "" {
		return height, true
	}
	h, ok := number(strings.TrimSuffix(strings.ToUpper(strings.ReplaceAll(said, " ", "")), "U"))
	if !ok || h <= 0 {
		m.problem(r, "height", "%q is no number of units; write 1, 2 or 1.5", said)
		return 0, false
	}
	if height != 0 && h != height {
		m.problem(r, "height", "%s units are said here, and the run of units is %s high", h, height)
		return 0, false
	}
	return h, true
}

// note keeps what a row says of equipment that the catalogue has not.
func (m *maker) note(n *mount, height estate.UnitNumber, r Row) bool {
	q := m.items[strings.ToLower(n.equipment)]
	if q == nil {
		return true
	}
	if n.zeroU {
		q.zeroU = true
		return true
	}
	switch {
	case height == 0:
	case q.height == 0:
		q.height, q.row = height, r.Number
	case q.height != height:
		m.problem(r, "height", "%s is %s units high here and %s in row %d", q.label, height, q.height, q.row)
		return false
	}
	return true
}

func (m *maker) catalogueHeight(name string) estate.UnitNumber {
	for _, q := range m.estate.Equipment {
		if q.Name == name {
			return q.Height.Count
		}
	}
	if q := m.items[strings.ToLower(name)]; q != nil {
		return q.height
	}
	return 0
}

// run reads 38, U38, 38U, 38-39, U38-U39 or 38.0.
func run(s string) (lo, hi estate.UnitNumber, ok bool) {
	s = strings.ToUpper(strings.NewReplacer(" ", "", "–", "-", "—", "-", "RU", "", "U", "", "ru", "", "u", "").Replace(s))
	a, b, isRun := strings.Cut(s, "-")
	lo, ok = number(a)
	if !ok || lo <= 0 {
		return 0, 0, false
	}
	if !isRun {
		return lo, lo, true
	}
	if hi, ok = number(b); !ok || hi <= 0 {
		return 0, 0, false
	}
	return min(lo, hi), max(lo, hi), true
}

// number reads 38 or 40.5, with at most three decimals.
func number(s string) (estate.UnitNumber, bool) {
	s = strings.ReplaceAll(s, ",", ".")
	whole, part, _ := strings.Cut(s, ".")
	if whole == "" || len(whole) > 4 || len(part) > 3 {
		return 0, false
	}
	n := 0
	for _, c := range whole + (part + "000")[:3] {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return estate.UnitNumber(n), true
}
