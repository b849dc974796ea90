package report

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"cagenut/lang/estate"
	"cagenut/lang/text"
	"cagenut/lint"
)

// large is a page of ten findings in each of a thousand files.
func large() *Page {
	body := "rack \"r\" {\n" + strings.Repeat("  mount \"m\" {\n    at        = 14\n    equipment = equipment.server\n  }\n", 40) + "}\n"
	result := &lint.Result{Racks: 1000, Mounts: 40_000}
	for f := range 1000 {
		file := fmt.Sprintf("row-%02d/rack-%04d.hcl", f/50, f)
		for i := range 10 {
			at := int32(strings.Index(body, "equipment.server") + i*70)
			result.Findings = append(result.Findings, lint.Finding{
				Rule: "fit/rail-span", Level: lint.Error, Thing: fmt.Sprintf("rack.rack-%04d.m-%d", f, i),
				At:      estate.Range{File: file, Span: estate.Span{Start: at, End: at + 16}},
				Message: "the rails of server reach 610 mm to 720 mm; the posts of cab-42 are 740 mm apart",
			})
		}
	}
	return &Page{Result: result, Texts: func(string) *text.Text { return text.New([]byte(body)) }}
}

// BenchmarkForms prints ten thousand findings in each form. Its floor is what
// every form needs: the lines of the thousand files found once.
func BenchmarkForms(b *testing.B) {
	page := large()
	b.Run("floor", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for i := 0; i < len(page.Result.Findings); i += 10 {
				t := page.Texts(page.Result.Findings[i].At.File)
				for _, f := range page.Result.Findings[i : i+10] {
					t.Position(int(f.At.Start))
				}
			}
		}
	})
	for _, form := range FormNames() {
		b.Run(form, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := Print(io.Discard, form, page, Look{Width: 80}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
