package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/tealeg/xlsx/v3"
)

const (
	maxBytes   = 256 << 20 // of a spreadsheet, unpacked
	maxColumns = 256
)

// readXLSX reads a sheet of an XLSX file: what each cell shows, and what merged
// cells show in each of them.
//
// The library was chosen for what it costs a program that reads no spreadsheet:
// one that also computes formulas took a third of the time of every start.
func readXLSX(name string, data []byte, sheet string) (t *Table, err error) {
	unreadable := func(err any) error { return fmt.Errorf("%s cannot be read as a spreadsheet: %v", name, err) }
	if err := fits(data); err != nil {
		return nil, unreadable(err)
	}
	defer func() {
		// The library panics at kinds of cells that it does not know.
		if p := recover(); p != nil {
			t, err = nil, unreadable(p)
		}
	}()
	f, err := xlsx.OpenBinary(data, xlsx.RowLimit(maxRows+2), xlsx.ColLimit(maxColumns))
	if err != nil {
		return nil, unreadable(err)
	}
	var names []string
	for _, s := range f.Sheets {
		names = append(names, s.Name)
	}
	if sheet == "" && len(names) > 0 {
		sheet = names[0]
	}
	from, ok := f.Sheet[sheet]
	if !ok {
		return nil, fmt.Errorf("%s has no sheet %q; it has %s", name, sheet, quotedList(names))
	}
	t = &Table{Name: name + ", sheet " + sheet}
	if len(names) > 1 {
		t.Notes = append(t.Notes, fmt.Sprintf("%s has %d sheets; %q is read", name, len(names), sheet))
	}
	rows, err := shown(from)
	if err != nil {
		return nil, unreadable(err)
	}
	for i, cells := range rows {
		if err := t.add(i+1, cells); err != nil {
			return nil, err
		}
	}
	return t.whole()
}

// fits refuses a file that would unpack to more than memory should hold, and one
// whose cells do not say where they stand, as they need not: the library would
// leave them out. What is unpacked beyond the length that the file states is an
// error of its own.
func fits(data []byte) error {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return err
	}
	all := uint64(0)
	for _, f := range z.File {
		if all += f.UncompressedSize64; f.UncompressedSize64 > maxBytes || all > maxBytes {
			return fmt.Errorf("unpacked it has more than %d MB", maxBytes>>20)
		}
	}
	for _, f := range z.File {
		if strings.HasPrefix(f.Name, "xl/worksheets/") && strings.HasSuffix(f.Name, ".xml") {
			if err := placed(f); err != nil {
				return err
			}
		}
	}
	return nil
}

// placed refuses a sheet with a cell that does not say where it stands.
func placed(f *zip.File) error {
	in, err := f.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	d := xml.NewDecoder(in)
	for {
		token, err := d.RawToken()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		cell, ok := token.(xml.StartElement)
		if ok && cell.Name.Local == "c" && !slices.ContainsFunc(cell.Attr, func(a xml.Attr) bool { return a.Name.Local == "r" }) {
			return fmt.Errorf("%s has a cell that does not say where it stands; open it in a spreadsheet program and save it again, or save it as CSV", f.Name)
		}
	}
}

// shown gives what the cells of a sheet show, row by row from the first. Sheets
// often merge the name of a rack over all its rows: what merged cells show
// stands in each of them.
func shown(s *xlsx.Sheet) ([][]string, error) {
	var rows [][]string
	type merged struct {
		row, col, down, right int
		text                  string
	}
	var merges []merged
	err := s.ForEachRow(func(r *xlsx.Row) error {
		n := r.GetCoordinate()
		for len(rows) <= n {
			rows = append(rows, nil)
		}
		return r.ForEachCell(func(c *xlsx.Cell) error {
			col, _ := c.GetCoordinates()
			text, err := c.FormattedValue()
			if err != nil {
				text = c.Value // shown in a way that the library does not know
			}
			if c.HMerge > 0 || c.VMerge > 0 {
				merges = append(merges, merged{n, col, c.VMerge, c.HMerge, text})
			}
			for len(rows[n]) <= col {
				rows[n] = append(rows[n], "")
			}
			rows[n][col] = text
			return nil
		}, xlsx.SkipEmptyCells)
	}, xlsx.SkipEmptyRows)
	if err != nil {
		return nil, err
	}
	for _, m := range merges {
		for r := m.row; r <= min(m.row+m.down, len(rows)-1); r++ {
			for c := m.col; c <= min(m.col+m.right, maxColumns-1); c++ {
				for len(rows[r]) <= c {
					rows[r] = append(rows[r], "")
				}
				if rows[r][c] == "" {
					rows[r][c] = m.text
				}
			}
		}
	}
	return rows, nil
}
