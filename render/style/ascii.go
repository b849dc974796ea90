package style

import "strings"

// plainSigns are the characters beyond ASCII that texts of the program hold,
// formulas among them, and what stands for each where only ASCII may be
// printed.
var plainSigns = strings.NewReplacer(
	"×", "x", "√", "sqrt ", "Σ", "sum of ", "²", "^2", "°", "", "≥", ">=", "→", "->", "–", "-", "…", "~",
	"↑", "(counted up)", "↓", "(counted down)",
)

// ASCII gives a text of the program in ASCII. What it holds of the user's own,
// names and reasons, keeps its letters.
func ASCII(s string) string { return plainSigns.Replace(s) }
