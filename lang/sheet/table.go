// Package sheet turns a spreadsheet of what is in which rack into files of an
// estate.
//
// [Read] reads a table from CSV or XLSX, [Make] turns its rows into racks,
// mounts and entries for the catalogue, or says which cells keep it from that.
// What comes out is text to be read, mended and committed by a person: nothing
// that the sheet does not say is made up.
//
// The package writes no files.
package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// A Table is the rows of one sheet, its headings first.
type Table struct {
	Name     string
	Headings []string
	Rows     []Row
	Notes    []string // how it was read, where that was not plain
}

// A Row is one row below the headings. Cells may be fewer than the headings.
type Row struct {
	Number int // as a spreadsheet program counts it, from 1
	Cells  []string
}

const maxRows = 200_000

// Read reads a table: CSV, with commas, semicolons or tabs, or the sheet of
// that name of an XLSX file (the first one where sheet is ""). Which it is, is
// told by the ending of the file's name.
func Read(name string, data []byte, sheet string) (*Table, error) {
	switch ending := strings.ToLower(path.Ext(name)); ending {
	case ".xlsx", ".xlsm":
		return readXLSX(name, data, sheet)
	case ".csv", ".tsv", ".txt":
		if sheet != "" {
			return nil, fmt.Errorf("%s is text and has no sheets; leave --sheet out", name)
		}
		return readCSV(name, data)
	default:
		return nil, fmt.Errorf("%s ends in %q; what can be read is .csv, .tsv and .xlsx", name, ending)
	}
}

func readCSV(name string, data []byte) (*Table, error) {
	t := &Table{Name: name}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) {
		decoded, err := charmap.Windows1252.NewDecoder().Bytes(data)
		if err != nil {
			return nil, fmt.Errorf("%s is in no encoding that can be told; save it as UTF-8", name)
		}
		data = decoded
		t.Notes = append(t.Notes, name+" is not in UTF-8 and was read as Windows-1252; look at letters with accents")
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = separator(data)
	r.FieldsPerRecord = -1
	r.LazyQuotes = true
	r.TrimLeadingSpace = true
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s cannot be read as a table: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		if err := t.add(line, cells); err != nil {
			return nil, err
		}
	}
	return t.whole()
}

// separator gives what stands most often between the words of the first line.
func separator(data []byte) rune {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	best, most := ',', bytes.Count(first, []byte(","))
	for _, c := range []rune{';', '\t'} {
		if n := bytes.Count(first, []byte(string(c))); n > most {
			best, most = c, n
		}
	}
	return best
}

// add adds a row; the first that holds anything is the headings.
func (t *Table) add(number int, cells []string) error {
	empty := true
	for i := range cells {
		cells[i] = strings.TrimSpace(strings.ReplaceAll(cells[i], "\u00a0", " "))
		empty = empty && cells[i] == ""
	}
	switch {
	case empty:
	case t.Headings == nil:
		t.Headings = cells
	case len(t.Rows) >= maxRows:
		return fmt.Errorf("%s has more than %d rows", t.Name, maxRows)
	default:
		t.Rows = append(t.Rows, Row{Number: number, Cells: cells})
	}
	return nil
}

func (t *Table) whole() (*Table, error) {
	if t.Headings == nil {
		return nil, fmt.Errorf("%s is empty; its first row must hold headings such as rack, unit, name, equipment", t.Name)
	}
	if len(t.Rows) == 0 {
		return nil, fmt.Errorf("%s has headings and no rows below them", t.Name)
	}
	return t, nil
}

func quotedList(words []string) string {
	var out []string
	for _, w := range words {
		out = append(out, fmt.Sprintf("%q", w))
	}
	return strings.Join(out, ", ")
}
