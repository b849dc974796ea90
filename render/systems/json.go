package systems

import (
	"io"

	"cagenut/lang/system"
	"cagenut/render/document"
)

// Format is the version of the JSON form. It is raised when a field goes or
// changes its meaning; a reader must skip fields that it does not know.
const Format = 1

// A Document is the JSON form of panel systems. Lengths are nanometres.
type Document struct {
	Format  int              `json:"format"` // [Format]
	Of      string           `json:"of"`     // "systems"
	Systems []DocumentSystem `json:"systems"`
}

// A DocumentSystem is one panel system.
type DocumentSystem struct {
	Name      string         `json:"name"`
	Title     string         `json:"title"`
	Unit      string         `json:"unit"`
	Pitch     int64          `json:"pitch"`
	Holes     []int64        `json:"holes"` // centres in one unit, above its lower edge
	Panel     int64          `json:"panel_width"`
	Centres   int64          `json:"hole_centres"` // 0 where not known
	Allowance int64          `json:"panel_allowance"`
	Openings  []Opening      `json:"openings"`
	Facts     []DocumentFact `json:"facts"`
}

// An Opening is what one standard asks for between the posts.
type Opening struct {
	Least      int64  `json:"least"`
	By         string `json:"by"`
	Confidence string `json:"confidence"`
}

// A DocumentFact is one figure with its source.
type DocumentFact struct {
	Name       string `json:"name"`
	Value      int64  `json:"value,omitempty"` // missing where the fact is no length
	Text       string `json:"text,omitempty"`
	Source     string `json:"source"`
	Confidence string `json:"confidence"`
	Decides    bool   `json:"decides"` // whether it can be the ground of an error
}

// JSON prints systems.
func JSON(w io.Writer, all []*system.System) error {
	d := Document{Format: Format, Of: "systems", Systems: []DocumentSystem{}}
	for _, s := range all {
		out := DocumentSystem{
			Name: s.Name, Title: s.Title, Unit: s.Word, Pitch: int64(s.Pitch), Panel: int64(s.Panel),
			Centres: int64(s.Centres), Allowance: int64(s.Allowance),
			Holes: []int64{}, Openings: []Opening{}, Facts: []DocumentFact{},
		}
		for _, h := range s.Offsets {
			out.Holes = append(out.Holes, int64(h))
		}
		for _, o := range s.Openings {
			out.Openings = append(out.Openings, Opening{int64(o.Least), o.By, o.Confidence.String()})
		}
		for _, f := range s.Facts {
			out.Facts = append(out.Facts, DocumentFact{f.Name, int64(f.Value), f.Text, f.Source, f.Confidence.String(), f.Confidence.Decides()})
		}
		d.Systems = append(d.Systems, out)
	}
	return document.JSON(w, d)
}
