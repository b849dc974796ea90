package rules

import (
	"fmt"

	"cagenut/lang/estate"
	"cagenut/lint"
)

// rowsAcross reports two rows whose fronts look at one aisle and do not agree
// whether it is cold: once for each pair, at the row that names the other.
var rowsAcross = &lint.Rule{
	ID:      "air/rows-across",
	Since:   "2026.1",
	Level:   lint.Warning,
	Summary: "a row blows its exhaust at the fronts of the row across",
	Why: `Rows stand face to face so that both draw from one cold aisle. A row whose fronts
are its warm side breathes out into the intakes across the aisle, and the
cooling has to undo it.`,
	Source: "ASHRAE TC 9.9 (hot and cold aisles, fronts to fronts); common practice",
	Omits:  "single racks turned round (air/against-aisle)",
	Estate: checkRowsAcross,
	Bad:    acrossExample("hot"),
	Good:   acrossExample("cold"),
}

func acrossExample(front string) string {
	return fmt.Sprintf(`
row "hq-1" {
  front  = "cold"
  across = row.hq-2
}
row "hq-2" { front = %q }
`, front)
}

func checkRowsAcross(p *lint.Pass) {
	told := map[*estate.Row]*estate.Row{}
	for _, row := range p.Estate.Rows {
		other := row.Across
		if other == nil || told[other] == row {
			continue
		}
		told[row] = other
		if row.Front == estate.MixedAisle || other.Front == estate.MixedAisle || row.Front == other.Front && row.Front != estate.NoAisle {
			continue
		}
		for _, r := range []*estate.Row{row, other} {
			if r.Front == estate.NoAisle {
				p.NotChecked(lint.Unchecked{At: r.Source.At(), Thing: "row." + r.Name, Because: "which aisle the fronts of row." + r.Name + " look at is missing"})
			}
		}
		if row.Front == estate.NoAisle || other.Front == estate.NoAisle {
			continue
		}
		p.Report(lint.Finding{
			At: row.Source.Attr("across"), Thing: "row." + row.Name, Others: []string{"row." + other.Name},
			Message: fmt.Sprintf("the fronts of %s look at the %s aisle, and those of %s, across it, at the %s one", row.Name, row.Front, other.Name, other.Front),
			Related: []lint.Related{{At: other.Source.Attr("front"), Message: "the other row's front is declared here"}},
		})
	}
}
