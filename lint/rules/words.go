package rules

import (
	"fmt"
	"slices"
	"strings"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint"
)

// list joins names as a sentence does: "a", "a and b", "a, b and c".
func list(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// percent prints a share: "63 %".
func percent(share float64) string { return quantity.Number(share*100, 1) + " %" }

// atLeast marks a total that leaves something out.
func atLeast(whole bool) string {
	if whole {
		return ""
	}
	return ", without what is not known"
}

func atLeastWord(known bool) string {
	if known {
		return ""
	}
	return "at least "
}

// heaviest points at the n heaviest mounts.
func heaviest(mounts []*estate.Mount, n int) []lint.Related {
	sorted := slices.Clone(mounts)
	slices.SortStableFunc(sorted, func(a, b *estate.Mount) int {
		x, _ := a.Weighs()
		y, _ := b.Weighs()
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	var out []lint.Related
	for _, m := range sorted[:min(n, len(sorted))] {
		if mass, why := m.Weighs(); why == "" {
			out = append(out, lint.Related{At: m.Source.At(), Message: fmt.Sprintf("%s weighs %s", m.Name, mass)})
		}
	}
	return out
}
