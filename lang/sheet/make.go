package sheet

import (
	"cmp"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/hashicorp/hcl/v2/hclwrite"
	"github.com/zclconf/go-cty/cty"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/text"
)

// Options say how a table becomes files.
type Options struct {
	Into    string            // folder of the new files, such as "imported"
	Frame   string            // frame of racks whose rows name none
	Columns map[string]string // headings of columns, by the column's name
	// Largest says that a unit number is the largest that a mount takes. A
	// mount's height must then be known.
	Largest bool
	// FillDown says that an empty rack, row or frame is that of the row above.
	FillDown bool
}

// A Problem is what keeps a table from becoming files.
type Problem struct {
	Row     int    // as a spreadsheet program counts it; 0 for the whole table
	Column  string // letter and heading, such as "C, unit"; "" for the whole row
	Message string
}

// String prints the problem with its place.
func (p Problem) String() string {
	switch {
	case p.Row == 0:
		return p.Message
	case p.Column == "":
		return fmt.Sprintf("row %d: %s", p.Row, p.Message)
	}
	return fmt.Sprintf("row %d, column %s: %s", p.Row, p.Column, p.Message)
}

// A File is a file to be written.
type File struct {
	Path string // slash-separated, relative to the estate's root
	Text string
}

// A Draft is what a table becomes.
type Draft struct {
	Files  []File
	Racks  int
	Mounts int
	New    []string // names of equipment that the catalogue had not
	Notes  []string // what the person who reads the files must know
}

// Make turns a table into files for an estate, which gives the names of what
// exists. Where anything is wrong, all that is wrong comes back, in the order
// of rows, and no draft.
func Make(t *Table, e *estate.Estate, o Options) (*Draft, []Problem) {
	cols, left, problems := find(t, o.Columns)
	if len(problems) > 0 {
		return nil, problems
	}
	m := &maker{table: t, estate: e, options: o, cols: cols, racks: map[string]*rack{}, items: map[string]*item{}, files: map[string]bool{}}
	for _, r := range t.Rows {
		m.row(r)
	}
	if len(m.problems) > 0 {
		slices.SortStableFunc(m.problems, func(a, b Problem) int { return cmp.Compare(a.Row, b.Row) })
		return nil, m.problems
	}
	d := &Draft{Notes: slices.Clone(t.Notes)}
	if len(left) > 0 {
		d.Notes = append(d.Notes, "not taken over: the columns "+quotedList(left))
	}
	m.write(d)
	return d, nil
}

type maker struct {
	table    *Table
	estate   *estate.Estate
	options  Options
	cols     columns
	problems []Problem

	racks map[string]*rack
	order []*rack
	items map[string]*item // equipment that the catalogue has not
	fresh []*item
	rows  []string // rows that the estate has not

	above map[string]string
	files map[string]bool // names of racks' files, in small letters
}

type rack struct {
	label, said       string // its label, and how the sheet writes it
	first             int    // the row that names it first
	row, place, frame string
	mounts            []*mount
	names             map[string]int // rows of its mounts by label
}

type mount struct {
	label, said string
	row         int
	at, height  estate.UnitNumber
	text        string // at as HCL
	zeroU       bool
	equipment   string
	attrs       [][2]string
}

// item is a catalogue entry that is made.
type item struct {
	label, said string
	height      estate.UnitNumber
	row         int // the row that said its height
	zeroU       bool
}

func (m *maker) problem(r Row, column, format string, args ...any) {
	p := Problem{Row: r.Number, Message: fmt.Sprintf(format, args...)}
	if i, ok := m.cols[column]; ok && column != "" {
		p.Column = letterOf(i) + ", " + m.table.Headings[i]
	}
	m.problems = append(m.problems, p)
}

// value gives what a row says in a column, or what the row above says.
func (m *maker) value(r Row, column string) string {
	s := m.cols.cell(r, column)
	if !m.options.FillDown {
		return s
	}
	if m.above == nil {
		m.above = map[string]string{}
	}
	if s == "" {
		return m.above[column]
	}
	if column == "rack" { // a new rack takes nothing else from above
		m.above = map[string]string{}
	}
	m.above[column] = s
	return s
}

func (m *maker) row(r Row) {
	k := m.rackOf(r)
	if k == nil {
		return
	}
	q := m.equipment(r)
	if q == "" {
		return
	}
	n := &mount{row: r.Number, equipment: q}
	if !m.place(r, n) {
		return
	}
	if !m.name(r, k, n) {
		return
	}
	m.details(r, n)
	k.mounts = append(k.mounts, n)
}

// rackOf finds or begins the rack of a row.
func (m *maker) rackOf(r Row) *rack {
	said := m.value(r, "rack")
	if said == "" {
		m.problem(r, "rack", "no rack is named; write it in every row, or add --fill-down where it stands above")
		return nil
	}
	label := lang.Label(said)
	if label == "" {
		m.problem(r, "rack", "%q cannot become a name; a name begins with a letter and has letters, digits, \"-\" and \"_\"", said)
		return nil
	}
	row, place, frame := m.value(r, "row"), m.value(r, "place"), m.value(r, "frame")
	k := m.racks[label]
	if k == nil {
		if old := m.estate.Rack(label); old != nil {
			m.problem(r, "rack", "rack %s is declared already, in %s, and is not touched; take its rows out of the sheet", label, old.Source.File)
			m.racks[label] = &rack{label: label, said: said, first: -1} // told once
			return nil
		}
		k = &rack{label: label, said: said, first: r.Number, names: map[string]int{}}
		m.racks[label] = k
		m.order = append(m.order, k)
		k.frame = m.frame(r, frame)
	}
	if k.first < 0 {
		return nil // told once
	}
	if k.said != said {
		m.problem(r, "rack", "%q and %q of row %d would both be called %s; write them alike, or further apart", said, k.said, k.first, label)
		return nil
	}
	m.once(r, "row", &k.row, row)
	m.once(r, "place", &k.place, place)
	if frame != "" && k.frame != "" && lang.Label(frame) != k.frame {
		m.problem(r, "frame", "rack %s is a %s in row %d and a %s here", label, k.frame, k.first, frame)
	}
	return k
}

// once takes over what each row of a rack must say alike.
func (m *maker) once(r Row, column string, to *string, said string) {
	switch {
	case said == "":
	case *to == "":
		if column == "place" {
			if n, err := strconv.Atoi(said); err != nil || n < 1 {
				m.problem(r, column, "%q is no place in a row; write 1, 2, 3", said)
				return
			}
		}
		*to = said
		if column == "row" {
			m.needRow(r, said)
		}
	case *to != said:
		m.problem(r, column, "this says %q of a rack of which an earlier row says %q", said, *to)
	}
}

func (m *maker) needRow(r Row, said string) {
	label := lang.Label(said)
	if label == "" {
		m.problem(r, "row", "%q cannot become a name", said)
		return
	}
	for _, o := range m.estate.Rows {
		if o.Name == label {
			return
		}
	}
	if !slices.Contains(m.rows, label) {
		m.rows = append(m.rows, label)
	}
}

// frame gives the frame of a new rack.
func (m *maker) frame(r Row, said string) string {
	column := "frame"
	if said == "" {
		said, column = m.options.Frame, ""
	}
	var known []string
	for _, f := range m.estate.Frames {
		known = append(known, f.Name)
	}
	if said == "" {
		m.problem(r, "", "nothing says which frame the rack is; name one with --frame, such as %s", orNone(known))
		return ""
	}
	label := lang.Label(said)
	if !slices.Contains(known, label) {
		near := lang.Near(label, known)
		if near != "" {
			near = "; perhaps " + near + " is meant"
		}
		m.problem(r, column, "there is no frame %s%s; the estate declares %s", said, near, orNone(known))
		return ""
	}
	return label
}

func orNone(names []string) string {
	if len(names) == 0 {
		return "none yet: declare one first"
	}
	if len(names) > 8 {
		return strings.Join(names[:8], ", ") + " and others"
	}
	return strings.Join(names, ", ")
}

// equipment gives the catalogue entry of a row, and makes one where there is
// none.
func (m *maker) equipment(r Row) string {
	said := m.cols.cell(r, "equipment")
	if said == "" {
		m.problem(r, "equipment", "nothing says what it is")
		return ""
	}
	label := lang.Label(said)
	if label == "" {
		m.problem(r, "equipment", "%q cannot become a name", said)
		return ""
	}
	for _, q := range m.estate.Equipment {
		if strings.EqualFold(q.Name, label) {
			return q.Name
		}
	}
	q := m.items[strings.ToLower(label)]
	if q == nil {
		q = &item{label: label, said: said}
		m.items[strings.ToLower(label)] = q
		m.fresh = append(m.fresh, q)
	}
	return q.label
}

// name gives a mount its label.
func (m *maker) name(r Row, k *rack, n *mount) bool {
	n.said = m.cols.cell(r, "name")
	made := n.said
	if made == "" {
		made = n.equipment + "-" + strings.NewReplacer("\"", "", ".", "-").Replace(n.text)
		if n.zeroU {
			made = n.equipment + "-" + strconv.Itoa(r.Number)
		}
	}
	n.label = lang.Label(made)
	if n.label == "" {
		m.problem(r, "name", "%q cannot become a name", n.said)
		return false
	}
	if row, twice := k.names[n.label]; twice {
		m.problem(r, "name", "rack %s has a %s already, in row %d; names in a rack differ", k.label, n.label, row)
		return false
	}
	k.names[n.label] = r.Number
	return true
}

// details takes over what else a row says.
func (m *maker) details(r Row, n *mount) {
	if s := strings.ToLower(m.cols.cell(r, "face")); s != "" && !n.zeroU {
		switch s {
		case "front", "f":
		case "rear", "back", "r", "b":
			n.attrs = append(n.attrs, [2]string{"face", `"rear"`})
		default:
			m.problem(r, "face", "%q is no face; write front or rear", s)
		}
	}
	if s := strings.ToLower(m.cols.cell(r, "slot")); s != "" && s != "whole" && s != "full" && !n.zeroU {
		if !part().MatchString(s) {
			m.problem(r, "slot", "%q is no part of the width; write left, right or a part such as 1/3", s)
		}
		n.attrs = append(n.attrs, [2]string{"slot", quote(s)})
	}
	if s := m.cols.cell(r, "feeds"); s != "" {
		if list, ok := m.feeds(r, s); ok {
			n.attrs = append(n.attrs, [2]string{"feeds", list})
		}
	}
	for _, name := range []string{"serial", "asset", "owner", "service"} {
		if s := m.cols.cell(r, name); s != "" {
			if c := lang.Hidden(s); c != 0 {
				m.problem(r, name, "the text holds the character %U, which cannot be seen; take it out", c)
				continue
			}
			n.attrs = append(n.attrs, [2]string{name, quote(s)})
		}
	}
}

// part is a part of a unit's width.
var part = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(left|right|1/[2-9]|2/[2-9]|3/[3-9]|4/[4-9])$`) })

func (m *maker) feeds(r Row, s string) (string, bool) {
	var known, list []string
	for _, f := range m.estate.Feeds {
		known = append(known, f.Name)
	}
	good := true
	for _, word := range strings.FieldsFunc(s, func(c rune) bool { return strings.ContainsRune(",;+&/ ", c) }) {
		label := lang.Label(word)
		i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, label) })
		if i < 0 {
			m.problem(r, "feeds", "there is no feed %s; the estate declares %s", word, orNone(known))
			good = false
			continue
		}
		list = append(list, "feed."+known[i])
	}
	return "[" + strings.Join(list, ", ") + "]", good && len(list) > 0
}

// write writes the files of a draft.
func (m *maker) write(d *Draft) {
	origin := "# Taken over from " + path.Base(m.table.Name) + ".\n"
	for _, k := range m.order {
		d.Racks++
		d.Mounts += len(k.mounts)
		d.Files = append(d.Files, File{m.rackFile(k.label), layOut(origin + k.text())})
	}
	var b strings.Builder
	if len(m.fresh) > 0 {
		b.WriteString("# The figures that the sheet does not give are unknown, and are not checked\n# until somebody writes them here.\n")
		slices.SortFunc(m.fresh, func(a, c *item) int { return cmp.Compare(a.label, c.label) })
		for _, q := range m.fresh {
			d.New = append(d.New, q.label)
			b.WriteString("\n" + q.text())
		}
		d.Files = append(d.Files, File{path.Join(m.options.Into, "equipment.hcl"), layOut(origin + b.String())})
	}
	if len(m.rows) > 0 {
		slices.Sort(m.rows)
		b.Reset()
		b.WriteString("# Rows that the sheet names: say in which room they are, and where their\n# fronts look.\n")
		for _, name := range m.rows {
			fmt.Fprintf(&b, "\nrow %q {}\n", name)
		}
		d.Files = append(d.Files, File{path.Join(m.options.Into, "rows.hcl"), layOut(origin + b.String())})
	}
}

// rackFile names the file of a rack, so that it is another one than that of
// every other rack where case does not count, too.
func (m *maker) rackFile(label string) string {
	name := label
	for i := 2; m.files[strings.ToLower(name)]; i++ {
		name = fmt.Sprintf("%s-%d", label, i)
	}
	m.files[strings.ToLower(name)] = true
	return path.Join(m.options.Into, "racks", name+".hcl")
}

func (k *rack) text() string {
	var b strings.Builder
	if k.said != k.label {
		fmt.Fprintf(&b, "# %s in the sheet\n", oneLine(k.said))
	}
	fmt.Fprintf(&b, "rack %q {\n", k.label)
	if k.row != "" {
		fmt.Fprintf(&b, "row = row.%s\n", lang.Label(k.row))
	}
	if k.place != "" {
		n, _ := strconv.Atoi(k.place)
		fmt.Fprintf(&b, "place = %d\n", n)
	}
	fmt.Fprintf(&b, "frame = frame.%s\n", k.frame)
	slices.SortStableFunc(k.mounts, func(a, c *mount) int { return cmp.Compare(c.at, a.at) })
	for _, n := range k.mounts {
		b.WriteString("\n")
		if n.said != "" && n.said != n.label {
			fmt.Fprintf(&b, "# %s in the sheet\n", oneLine(n.said))
		}
		if n.zeroU {
			fmt.Fprintf(&b, "zero_u %q {\n", n.label)
		} else {
			fmt.Fprintf(&b, "mount %q {\nat = %s\n", n.label, n.text)
		}
		fmt.Fprintf(&b, "equipment = equipment.%s\n", n.equipment)
		for _, a := range n.attrs {
			fmt.Fprintf(&b, "%s = %s\n", a[0], a[1])
		}
		b.WriteString("}\n")
	}
	b.WriteString("}\n")
	return b.String()
}

func (q *item) text() string {
	var b strings.Builder
	if q.said != q.label {
		fmt.Fprintf(&b, "# %s in the sheet\n", oneLine(q.said))
	}
	fmt.Fprintf(&b, "equipment %q {\n", q.label)
	switch {
	case q.zeroU:
		b.WriteString("mounting = \"zero-u\"\n")
	case q.height > 0:
		fmt.Fprintf(&b, "height = %q\n", q.height.String()+"U")
	default:
		b.WriteString("height = unknown\n")
	}
	b.WriteString("depth = unknown\nmass = unknown\ndraw = unknown\n}\n")
	return b.String()
}

// oneLine makes a text fit for a comment.
func oneLine(s string) string { return text.Printable(strings.Join(strings.Fields(s), " ")) }

// quote writes a text as HCL.
func quote(s string) string {
	return string(hclwrite.TokensForValue(cty.StringVal(strings.Join(strings.Fields(s), " "))).Bytes())
}

func layOut(s string) string {
	out, _ := lang.Format("made.hcl", []byte(s))
	return string(out)
}
