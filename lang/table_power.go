package lang

import (
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/physics"
	"cagenut/lang/quantity"
)

// The power tree: what feeds come from, and how strips hand it on.

var sourceBlock = top("source", "what breakers and feeds come from in the end",
	func(e *estate.Estate) *[]*estate.PowerSource { return &e.PowerSources },
	func(s *estate.PowerSource) (*string, *estate.Source) { return &s.Name, &s.Source },
	word("kind", `"ups"`, "what it is", estate.SourceKinds, func(s *estate.PowerSource) *estate.SourceKind { return &s.Kind }),
	refs("from", "source", "[source.mains]", "what feeds it, in its turn", func(s *estate.PowerSource) *[]*estate.PowerSource { return &s.From }),
	ref("mount", "mount", "rack.hq-a.core-1", "the mount that gives it: while that is off, so is all that hangs on it", func(s *estate.PowerSource) **estate.Mount { return &s.Mount }),
	rating("what it can give: apparent power in VA, active power in W, or both", func(s *estate.PowerSource) *estate.Rating { return &s.Rated }),
	runtimeCurve("how long it goes on at a load when what feeds it is lost, point by point of its maker's curve", func(s *estate.PowerSource) *estate.Figure[[]physics.RuntimePoint] { return &s.Runtime }),
).with(`source "ups-1" {
  kind  = "ups"
  from  = [source.mains]
  rated = "20 kVA"
}`, nil)

var breakerBlock = top("breaker", "a protective device between a source and feeds",
	func(e *estate.Estate) *[]*estate.Breaker { return &e.Breakers },
	func(b *estate.Breaker) (*string, *estate.Source) { return &b.Name, &b.Source },
	ref("source", "source", "source.ups-1", "the source that it comes from", func(b *estate.Breaker) **estate.PowerSource { return &b.Supply }),
	ref("breaker", "breaker", "breaker.main-2", "the breaker before it", func(b *estate.Breaker) **estate.Breaker { return &b.From }),
	figure("rated", `"32 A"`, "its rating", func(b *estate.Breaker) figureOfCurrent { return &b.Rated }),
	whole("phases", "3", "how many phases it opens", 1, 3, func(b *estate.Breaker) *int { return &b.Phases }).otherwise("3 where a feed of three phases hangs on it, else 1"),
	figure("residual", `"300 mA"`, "its rated residual operating current, where it is a residual current device as well", func(b *estate.Breaker) figureOfCurrent { return &b.Residual }),
	oneOf("curve", `"C"`, "its tripping curve, after IEC 60898", []string{"B", "C", "D"}, func(b *estate.Breaker) *string { return &b.Curve }),
).with(`breaker "p1-3" {
  source = source.ups-1
  rated  = "32 A"
  curve  = "C"
}`, nil)

// groups reads { ... } or a list of such, part by part.
func groups[V any](r *reader, x hclsyntax.Expression, keys []string, usual V, part func(v *V, key string, x hclsyntax.Expression) bool, done func(v *V, x hclsyntax.Expression) bool) ([]V, bool) {
	var out []V
	ok := r.each(x, func(x hclsyntax.Expression) bool {
		o, ok := x.(*hclsyntax.ObjectConsExpr)
		if !ok {
			r.bad(x, "takes a group of values, not %s%s", describe(x), r.example())
			return false
		}
		v := usual
		ok = r.object(o, keys, func(key string, x hclsyntax.Expression) bool { return part(&v, key, x) })
		ok = ok && done(&v, x)
		out = append(out, v)
		return ok
	})
	return out, ok
}

var outletKeys = []string{"type", "count", "bank", "locking", "from", "pitch"}

// readOutlets reads { type = "c13", count = 20, bank = "1" }, or a list of
// such.
func readOutlets(r *reader, x hclsyntax.Expression) ([]estate.OutletSet, bool) {
	return groups(r, x, outletKeys, estate.OutletSet{Count: 1}, func(o *estate.OutletSet, key string, x hclsyntax.Expression) (ok bool) {
		switch key {
		case "type":
			o.Type, ok = r.freeText(x)
			o.Type = r.intern(o.Type)
		case "count":
			o.Count, ok = r.whole(x, 1, 999)
		case "bank":
			o.Bank, ok = r.freeText(x)
		case "locking":
			o.Locking, ok = readFigureAs(r, x, (*reader).yesNo)
		case "from":
			o.From, ok = readFigure[quantity.Length](r, x)
		case "pitch":
			o.Pitch, ok = readFigure[quantity.Length](r, x)
		}
		return ok
	}, func(*estate.OutletSet, hclsyntax.Expression) bool { return true })
}

var (
	bankKeys  = []string{"name", "rated", "lines"}
	bankLines = []string{"", "1-2", "2-3", "3-1", "1-n", "2-n", "3-n"}
)

// readBanks reads { name = "1", rated = "16 A", lines = "1-2" }, or a list of
// such.
func readBanks(r *reader, x hclsyntax.Expression) ([]estate.Bank, bool) {
	return groups(r, x, bankKeys, estate.Bank{}, func(b *estate.Bank, key string, x hclsyntax.Expression) (ok bool) {
		switch key {
		case "name":
			b.Name, ok = r.freeText(x)
		case "rated":
			b.Rated, ok = readQuantity[quantity.Current](r, x)
		case "lines":
			var i int
			if i, ok = r.word(x, bankLines); ok {
				b.Lines = bankLines[i]
			}
		}
		return ok
	}, func(b *estate.Bank, x hclsyntax.Expression) bool {
		if b.Name == "" {
			r.bad(x, "a bank needs a name that its outlets refer to%s", r.example())
		}
		return b.Name != ""
	})
}

var cordKeys = []string{"to", "outlet", "length", "needed", "plug", "socket", "locking", "fuse"}

// readCords reads { to = "strip-a", outlet = 3, length = "1.5 m" }, or a list
// of such.
func readCords(r *reader, x hclsyntax.Expression) ([]estate.Cord, bool) {
	return groups(r, x, cordKeys, estate.Cord{}, func(c *estate.Cord, key string, x hclsyntax.Expression) (ok bool) {
		switch key {
		case "to":
			c.To, ok = r.freeText(x)
		case "outlet":
			c.Outlet, ok = r.whole(x, 1, 9999)
		case "length":
			c.Length, ok = readFigure[quantity.Length](r, x)
		case "needed":
			c.Needed, ok = readFigure[quantity.Length](r, x)
		case "locking":
			c.Locking, ok = readFigureAs(r, x, (*reader).yesNo)
		case "plug":
			c.Plug, ok = r.freeText(x)
		case "socket":
			c.Socket, ok = r.freeText(x)
		case "fuse":
			c.Fuse, ok = readQuantity[quantity.Current](r, x)
		}
		return ok
	}, func(c *estate.Cord, x hclsyntax.Expression) bool {
		if c.To == "" {
			r.bad(x, "a cord needs the strip that it runs to%s", r.example())
		}
		return c.To != ""
	})
}

var voltageKeys = []string{"from", "to", "basis", "on"}

// readVoltages reads { from = VOLTAGE, to = VOLTAGE }.
func readVoltages(r *reader, x hclsyntax.Expression) (estate.Figure[estate.VoltageRange], bool) {
	f := estate.Figure[estate.VoltageRange]{At: span(x.Range())}
	if isUnknown(x) {
		f.State = estate.IsUnknown
		return f, true
	}
	o, ok := x.(*hclsyntax.ObjectConsExpr)
	if !ok {
		r.bad(x, "takes two voltages%s", r.example())
		return f, false
	}
	var has [2]bool
	ok = r.object(o, voltageKeys, func(key string, x hclsyntax.Expression) (ok bool) {
		switch key {
		case "from":
			has[0] = true
			f.Value.From, ok = readQuantity[quantity.Voltage](r, x)
		case "to":
			has[1] = true
			f.Value.To, ok = readQuantity[quantity.Voltage](r, x)
		case "basis":
			f.Basis, ok = r.basis(x)
		case "on":
			f.On, ok = r.date(x)
		}
		return ok
	})
	switch {
	case !ok:
		return f, false
	case !has[0] || !has[1]:
		r.bad(x, "both ends are needed%s", r.example())
		return f, false
	case f.Value.From < 0 != (f.Value.To < 0):
		r.bad(x, "%s and %s have different signs; a supply has one polarity", f.Value.From, f.Value.To)
		return f, false
	}
	if quantity.Abs(f.Value.To) < quantity.Abs(f.Value.From) {
		f.Value.From, f.Value.To = f.Value.To, f.Value.From
	}
	f.State = estate.IsGiven
	return f, true
}
