package policy

import (
	"fmt"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lang/system"
)

// bulk is an estate of 10,000 racks with 40 mounts each, of which a few are
// heavy and high.
func bulk(racks int) *estate.Estate {
	sys, ok := system.ByName("19in")
	if !ok {
		panic("no 19-inch system")
	}
	frame := &estate.Frame{Name: "cab", System: sys, Units: 42, Counted: estate.CountedUp, First: 1}
	kinds := make([]*estate.Equipment, 8)
	for i := range kinds {
		kinds[i] = &estate.Equipment{Name: fmt.Sprint("q", i), System: sys, Mass: estate.Is(quantity.Mass(4+3*i) * quantity.Kilogram),
			Height: estate.Height{Count: estate.OneUnit, Word: "U", Length: quantity.RackUnit, State: estate.IsGiven}}
	}
	e := &estate.Estate{Name: "bulk", Frames: []*estate.Frame{frame}, Equipment: kinds}
	for i := range racks {
		r := &estate.Rack{Name: fmt.Sprint("r", i), Frame: frame}
		for u := 1; u <= 40; u++ {
			r.Mounts = append(r.Mounts, &estate.Mount{Name: fmt.Sprint("m", u), Rack: r, Equipment: kinds[(i+u)%len(kinds)], At: estate.Units(u), Face: estate.FrontFace})
		}
		e.Racks = append(e.Racks, r)
	}
	return e
}

const (
	heavyWhere   = `mount.mass > kg(22)`
	heavyRequire = `mount.top <= 30`
)

// BenchmarkPolicy compares one simple policy over 400,000 mounts: as a loop
// written by hand (the floor), compiled, and by HCL's evaluator with one
// context of just the two names that it needs. The figure to watch is mounts/s;
// the compiled form is meant to reach 10 million on one core.
func BenchmarkPolicy(b *testing.B) {
	e := bulk(10_000)
	mounts := 40 * len(e.Racks)
	count := func(b *testing.B, judge func() int) {
		b.ReportAllocs()
		found := 0
		for b.Loop() {
			found = judge()
		}
		if found == 0 {
			b.Fatal("nothing found")
		}
		b.ReportMetric(float64(mounts)*float64(b.N)/b.Elapsed().Seconds(), "mounts/s")
	}
	b.Run("floor", func(b *testing.B) {
		count(b, func() int {
			n := 0
			for _, r := range e.Racks {
				for _, m := range r.Mounts {
					if m.Equipment.Mass.Value > 22*quantity.Kilogram {
						if x, ok := m.Extent(); ok && unitAt(r.Frame, x.Top-estate.Touch-1) > 30 {
							n++
						}
					}
				}
			}
			return n
		})
	})
	b.Run("compiled", func(b *testing.B) {
		scope := NewModel(e, 1).Scope("mount")
		where, mistakes := Compile(text(heavyWhere), scope, BoolKind)
		require, more := Compile(text(heavyRequire), scope, BoolKind)
		if where == nil || require == nil {
			b.Fatal(mistakes, more)
		}
		j := &judge{policy: &estate.Policy{}, where: where, require: require}
		count(b, func() int {
			n, s := 0, j.state()
			for _, r := range e.Racks {
				for _, m := range r.Mounts {
					if ok, u := j.holds(s, m); !ok || u != nil {
						n++
					}
				}
			}
			return n
		})
	})
	b.Run("evaluator", func(b *testing.B) {
		where, _ := hclsyntax.ParseExpression([]byte(`mount.mass > 22`), "p", hcl.InitialPos)
		require, _ := hclsyntax.ParseExpression([]byte(heavyRequire), "p", hcl.InitialPos)
		ctx := &hcl.EvalContext{Variables: map[string]cty.Value{}}
		count(b, func() int {
			n := 0
			for _, r := range e.Racks {
				for _, m := range r.Mounts {
					x, _ := m.Extent()
					ctx.Variables["mount"] = cty.ObjectVal(map[string]cty.Value{
						"mass": cty.NumberFloatVal(m.Equipment.Mass.Value.Kilograms()),
						"top":  cty.NumberIntVal(unitAt(r.Frame, x.Top-estate.Touch-1)),
					})
					if v, diags := where.Value(ctx); diags.HasErrors() || v.False() {
						continue
					}
					if v, diags := require.Value(ctx); diags.HasErrors() || v.False() {
						n++
					}
				}
			}
			return n
		})
	})
}
