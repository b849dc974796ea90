package physics

import (
	"fmt"
	"math/rand/v2"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"cagenut/lang/quantity"
	"cagenut/testdata/outside"
)

func watts(n ...int) []quantity.Power {
	out := make([]quantity.Power, len(n))
	for i, x := range n {
		out[i] = quantity.Power(x) * w
	}
	return out
}

// holds reports whether a split is what it says it is.
func holds(t *testing.T, loads []quantity.Power, parts int) quantity.Power {
	t.Helper()
	fullest, of := Split(loads, parts)
	sums := make([]quantity.Power, parts)
	for i, p := range of {
		if p < 0 || p >= parts {
			t.Fatalf("load %d goes to part %d of %d", i, p, parts)
		}
		sums[p] += loads[i]
	}
	if got := slices.Max(sums); got != fullest {
		t.Errorf("the fullest part of %v carries %v and is said to carry %v", of, got, fullest)
	}
	return fullest
}

func TestSplit(t *testing.T) {
	tests := []struct {
		loads []quantity.Power
		parts int
		want  quantity.Power
	}{
		{watts(30, 20, 12, 5), 2, 35 * w}, // as GLPK, CBC and MiniZinc agree
		{watts(1000, 1000, 1000, 530, 530, 530, 530, 530, 530), 3, 2060 * w},
		{watts(5), 3, 5 * w},
		{nil, 2, 0},
		{watts(3, 3, 2, 2, 2), 2, 6 * w}, // the largest first would give 7
	}
	for _, tt := range tests {
		if got := holds(t, tt.loads, tt.parts); got != tt.want {
			t.Errorf("Split(%v, %d) = %v, want %v", tt.loads, tt.parts, got, tt.want)
		}
	}
	if got, of := Split(watts(1, 2), 0); got != 0 || of != nil {
		t.Errorf("no parts: %v, %v", got, of)
	}
	// Forty loads are shared quickly, and not badly.
	many := make([]quantity.Power, 40)
	var sum quantity.Power
	for i := range many {
		many[i] = quantity.Power(100+37*i%400) * w
		sum += many[i]
	}
	if got := holds(t, many, 3); got > sum/3*4/3+w {
		t.Errorf("forty loads of %v: the fullest of three parts carries %v", sum, got)
	}
}

// clasp, an answer-set solver, finds no better split.
func TestSplitAgainstClasp(t *testing.T) {
	gringo, clasp := outside.Need(t, "gringo"), outside.Need(t, "clasp")
	optimum := regexp.MustCompile(`Optimization *: *(\d+)`)
	r := rand.New(rand.NewPCG(1, 2))
	for round := range 12 {
		parts := 2 + round%2
		loads := watts(30, 20, 12, 5)
		if round > 0 {
			loads = make([]quantity.Power, 3+r.IntN(6))
			for i := range loads {
				loads[i] = quantity.Power(1+r.IntN(60)) * w
			}
		}
		var text strings.Builder
		for i, l := range loads {
			fmt.Fprintf(&text, "load(%d,%d).\n", i, int64(l/w))
		}
		fmt.Fprintf(&text, "part(1..%d).\n", parts)
		text.WriteString(`1 { on(I,P) : part(P) } 1 :- load(I,_).
sum(P,S) :- part(P), S = #sum { W,I : on(I,P), load(I,W) }.
most(M) :- M = #max { S : sum(_,S) }.
#minimize { M : most(M) }.
`)
		grounded := outside.Run(t, text.String(), gringo, "-")
		solve := exec.Command(clasp, "--opt-mode=opt", "--time-limit=60")
		solve.Stdin = strings.NewReader(grounded)
		out, _ := solve.Output() // the status says what was found, and so does the text
		all := optimum.FindAllStringSubmatch(string(out), -1)
		if len(all) == 0 || !strings.Contains(string(out), "OPTIMUM FOUND") {
			t.Fatalf("clasp found nothing:\n%s", out)
		}
		want, err := strconv.Atoi(all[len(all)-1][1])
		if err != nil {
			t.Fatal(err)
		}
		if got := holds(t, loads, parts); got != quantity.Power(want)*w {
			t.Errorf("Split(%v, %d) = %v, clasp finds %d W", loads, parts, got, want)
		}
	}
}
