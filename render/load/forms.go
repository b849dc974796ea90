package load

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"cagenut/render/document"
)

// Format is the version of the JSON form. It is raised when a field goes or
// changes its meaning; a field that is added does not raise it.
const Format = 1

// A Document is the JSON form of sheets. Lists are never null.
type Document struct {
	Format  int             `json:"format"`
	Of      string          `json:"of"` // "load"
	Caution string          `json:"caution"`
	Sheets  []DocumentSheet `json:"sheets"`
}

// A DocumentSheet is the sheet of one rack or room.
type DocumentSheet struct {
	Kind     string            `json:"kind"`
	Name     string            `json:"name"`
	Sections []DocumentSection `json:"sections"`
}

// A DocumentSection is one subject.
type DocumentSection struct {
	Name    string           `json:"name"`
	Caution string           `json:"caution"`
	Figures []DocumentFigure `json:"figures"`
}

// A DocumentFigure is one figure. Value and limit are null where they are not
// known, and in the unit named.
type DocumentFigure struct {
	Name    string   `json:"name"`
	Value   *float64 `json:"value"`
	Unit    string   `json:"unit"`
	Limit   *float64 `json:"limit"`
	AtLeast bool     `json:"at_least"` // the limit is the least, not the most
	Beyond  bool     `json:"beyond"`   // on the wrong side of the limit
	Text    string   `json:"text"`     // the value as people write it
	From    string   `json:"from"`     // formula and basis
	Unknown string   `json:"unknown"`  // what is missing, or what the value, then a lower bound, leaves out
}

// Of gives the JSON form of sheets.
func Of(sheets []Sheet) Document {
	d := Document{Format: Format, Of: "load", Caution: cautionSheet, Sheets: []DocumentSheet{}}
	for _, s := range sheets {
		doc := DocumentSheet{Kind: s.Kind, Name: s.Name, Sections: []DocumentSection{}}
		for _, c := range s.Sections {
			sec := DocumentSection{Name: c.Name, Caution: c.Caution, Figures: []DocumentFigure{}}
			for i := range c.Figures {
				f := &c.Figures[i]
				sec.Figures = append(sec.Figures, DocumentFigure{
					Name: f.Name, Value: f.Number, Unit: f.Unit, Limit: f.Most, AtLeast: f.AtLeast, Beyond: f.Beyond(),
					Text: f.Value, From: f.From, Unknown: f.Unknown,
				})
			}
			doc.Sections = append(doc.Sections, sec)
		}
		d.Sheets = append(d.Sheets, doc)
	}
	return d
}

// JSON writes sheets for programs.
func JSON(w io.Writer, sheets []Sheet) error {
	return document.JSON(w, Of(sheets))
}

// CSV writes sheets for spreadsheets, one figure a line. The caution stands in
// the last line, in the column "from".
func CSV(w io.Writer, sheets []Sheet) error {
	out := csv.NewWriter(w)
	_ = out.Write([]string{"of", "name", "section", "figure", "value", "unit", "limit", "beyond", "from", "not known"})
	for _, s := range sheets {
		for _, c := range s.Sections {
			for i := range c.Figures {
				f := &c.Figures[i]
				beyond := ""
				if f.Beyond() {
					beyond = "yes"
				}
				_ = out.Write([]string{s.Kind, s.Name, c.Name, f.Name, number(f.Number), f.Unit, number(f.Most), beyond, f.From, f.Unknown})
			}
		}
	}
	_ = out.Write([]string{"", "", "", "caution", "", "", "", "", cautionSheet, ""})
	out.Flush()
	return out.Error() // of any write before as well
}

func number(n *float64) string {
	if n == nil {
		return ""
	}
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.6f", *n), "0"), ".")
}

// Markdown writes sheets for a page or a comment.
func Markdown(w io.Writer, sheets []Sheet) error {
	var b strings.Builder
	for _, s := range sheets {
		fmt.Fprintf(&b, "# Load sheet of %s %s\n", s.Kind, cell(s.Name))
		for _, c := range s.Sections {
			fmt.Fprintf(&b, "\n## %s%s\n\n> %s\n\n| figure | value | limit | from |\n|---|---:|---:|---|\n", strings.ToUpper(c.Name[:1]), c.Name[1:], cell(c.Caution))
			for i := range c.Figures {
				f := &c.Figures[i]
				value, limit, from := f.Value, f.Limit, f.From
				if value == "" {
					value = "not known"
				}
				if f.Beyond() {
					value = "**" + value + "** (beyond)"
				}
				if f.AtLeast && limit != "" {
					limit = "least " + limit
				}
				if f.Unknown != "" {
					if from != "" {
						from += "; "
					}
					from += "not known: " + f.Unknown
				}
				fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", cell(f.Name), cell(value), cell(limit), cell(from))
			}
		}
		b.WriteString("\n")
	}
	b.WriteString(cautionSheet + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// cell keeps what would end a cell of a table, or begin an element, out of it.
func cell(s string) string {
	return strings.NewReplacer("|", "\\|", "<", "&lt;", "\n", " ").Replace(s)
}
