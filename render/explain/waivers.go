package explain

import (
	"fmt"
	"io"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/render/style"
)

// Waivers prints the waivers of an estate, the first to end first: how long
// each still holds, what it accepts, who accepts it and why.
func Waivers(w io.Writer, all []lint.WaiverState, today estate.Date, look Look) error {
	var b strings.Builder
	for _, v := range all {
		state, role := "in force", style.Plain
		switch left := int(v.Until - today); {
		case left < 0 && v.Accepts:
			state, role = "ended, and what it accepted is still there", style.Grave
		case left < 0:
			state, role = "ended", style.Remark
		case v.Judged && !v.Accepts:
			state, role = "accepts nothing", style.Caution
		case left == 0:
			state, role = "ends today", style.Caution
		case !v.Judged:
			state = "in force; not judged"
		}
		by := ""
		if v.By != "" {
			by = ", by " + v.By
		}
		lead := fmt.Sprintf("%s  %s on %s: ", v.Until, v.Rule, v.On)
		b.WriteString(lead + look.Colours.Paint(role, state) + "\n")
		for _, line := range style.Wrap(fmt.Sprintf("%s (%s%s)", style.Name(v.Reason), look.Where(v.Source.At()), by), look.width()-12) {
			b.WriteString("            " + line + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
