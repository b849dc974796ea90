package runsheet

import (
	"fmt"

	"cagenut/lint/sequence"
)

// window writes the head of one window.
func (m *markdown) window(n *sequence.Night) {
	m.head(2, fmt.Sprintf("Window %d: %s, %s to %s (%s)", n.Number, n.Window.Name, n.Opens.Format("Mon 2 January 2006 15:04"), n.Closes.Format("15:04"), n.Zone))
	m.item("Usable %s min (margin %s min); planned %s min with set-up and close-out", minutes(n.Usable), minutes(n.Window.Margin), minutes(n.Needs))
	m.item("Planned from %s to %s", n.Begin.Format("15:04"), n.End.Format("15:04"))
	m.item("Latest moment to turn back: %s", n.LatestBack.Format("15:04"))
}
