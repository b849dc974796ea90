package sheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

// workbook gives an XLSX file as another library writes it.
func workbook(t *testing.T, fill func(f *excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	fill(f)
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// TestWhatCellsShow reads kinds of cells as the library that wrote them reads
// them itself.
func TestWhatCellsShow(t *testing.T) {
	row := []any{"rack", "007", 38, 40.5, 0.5, 1234567, true, "M\u00e4nn & <b>", " spaced ", 1e-3, 37.0}
	data := workbook(t, func(f *excelize.File) {
		must(t, f.SetSheetRow("Sheet1", "A1", &[]any{"a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m"}))
		must(t, f.SetSheetRow("Sheet1", "A4", &row))
		must(t, f.SetCellFormula("Sheet1", "L4", "C4+1"))
		date, err := f.NewStyle(&excelize.Style{NumFmt: 14})
		must(t, err)
		must(t, f.SetCellValue("Sheet1", "M4", time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)))
		must(t, f.SetCellStyle("Sheet1", "M4", "M4", date))
	})
	f, err := excelize.OpenReader(bytes.NewReader(data))
	must(t, err)
	rows, err := f.GetRows("Sheet1")
	must(t, err)
	want := rows[3]
	for i := range want {
		want[i] = strings.TrimSpace(want[i])
	}
	table, err := Read("racks.xlsx", data, "")
	must(t, err)
	if len(table.Rows) != 1 || table.Rows[0].Number != 4 {
		t.Fatalf("read %+v, want one row, numbered 4", table.Rows)
	}
	if diff := cmp.Diff(want, table.Rows[0].Cells); diff != "" {
		t.Errorf("cells differ (-as written +as read):\n%s", diff)
	}
}

// A file may leave out where its cells stand; then none may get lost.
func TestCellsWithoutPlacesAreRefused(t *testing.T) {
	data := workbook(t, func(f *excelize.File) {
		must(t, f.SetSheetRow("Sheet1", "A1", &[]any{"rack", "unit"}))
		must(t, f.SetSheetRow("Sheet1", "A2", &[]any{"n", 3}))
	})
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	must(t, err)
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range z.File {
		in, err := f.Open()
		must(t, err)
		text, err := io.ReadAll(in)
		must(t, err)
		out, err := w.Create(f.Name)
		must(t, err)
		_, err = io.WriteString(out, strings.Replace(string(text), ` r="B2"`, "", 1))
		must(t, err)
	}
	must(t, w.Close())
	const want = "racks.xlsx cannot be read as a spreadsheet: xl/worksheets/sheet1.xml has a cell that does not say where it stands; open it in a spreadsheet program and save it again, or save it as CSV"
	if _, err := Read("racks.xlsx", b.Bytes(), ""); err == nil || err.Error() != want {
		t.Errorf("Read = %v, want %s", err, want)
	}
}

// A spreadsheet with bytes turned over gives a table or an error, and nothing
// else.
func TestBrokenSpreadsheets(t *testing.T) {
	data := workbook(t, func(f *excelize.File) {
		for i := range 30 {
			must(t, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &[]any{"n", i, "x", 1.5}))
		}
		must(t, f.MergeCell("Sheet1", "A2", "A9"))
	})
	// Stored without compression, so that what is turned over is seldom caught
	// before it is read.
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	must(t, err)
	rnd := rand.New(rand.NewPCG(3, 4))
	refused := 0
	for range 300 {
		var b bytes.Buffer
		w := zip.NewWriter(&b)
		hit := rnd.IntN(len(z.File))
		for i, f := range z.File {
			in, err := f.Open()
			must(t, err)
			text, err := io.ReadAll(in)
			must(t, err)
			if i == hit {
				at := rnd.IntN(len(text))
				text = append(append(append([]byte{}, text[:at]...), "0<9\"x"[rnd.IntN(5)]), text[at+rnd.IntN(min(3, len(text)-at)):]...)
			}
			out, err := w.Create(f.Name)
			must(t, err)
			_, err = out.Write(text)
			must(t, err)
		}
		must(t, w.Close())
		if table, err := Read("racks.xlsx", b.Bytes(), ""); err != nil {
			refused++
		} else if table.Headings == nil {
			t.Errorf("a table without headings is no error")
		}
	}
	if refused == 0 {
		t.Errorf("nothing was refused: the test hardly tests")
	}
}
