package policy

import (
	"fmt"
	"strings"
	"testing"

	"cagenut/lang/estate"
)

// crate and shelf stand in for the model, with units and unknown figures.
type crate struct {
	Name  string
	Mass  Number
	Depth Number // 0 is unknown
	Top   Number
	On    *shelf
	Seen  estate.Date
}

type shelf struct {
	Name   string
	Crates []*crate
}

func crateClass() *Class {
	shelves := NewClass("shelf", "shelves", "a shelf")
	crates := NewClass("crate", "", "a crate")
	AddText(shelves, "name", "its name", func(s *shelf) (string, *Unknown) { return s.Name, nil })
	AddObjects(shelves, "crates", crates, "what stands on it", func(s *shelf) []*crate { return s.Crates })
	AddText(crates, "name", "its name", func(c *crate) (string, *Unknown) { return c.Name, nil })
	AddNumber(crates, "mass", Kilogram, "its mass", func(c *crate) (Number, *Unknown) { return c.Mass, nil })
	AddFigure(crates, "depth", Millimetre, "its depth", func(c *crate) (Number, *Unknown) {
		if c.Depth.Sign() == 0 {
			return Number{}, unknown("the depth of %s is missing", c.Name)
		}
		return c.Depth, nil
	}, func(*crate) (estate.Basis, *Unknown) { return estate.Measured, nil })
	AddCount(crates, "top", "U", "its highest unit", func(c *crate) (Number, *Unknown) { return c.Top, nil })
	AddObject(crates, "on", shelves, "the shelf it stands on", func(c *crate) *shelf { return c.On })
	AddDate(crates, "seen", "when it was seen", func(c *crate) (estate.Date, *Unknown) { return c.Seen, nil })
	scope := NewClass("crate", "", "")
	AddObject(scope, "crate", crates, "the crate", func(c *crate) *crate { return c })
	return scope
}

func testCrate() *crate {
	s := &shelf{Name: "low"}
	c := &crate{Name: "c-07", Mass: Whole(30), Depth: Whole(700), Top: Whole(24), On: s, Seen: estate.NewDate(2026, 11, 25)}
	s.Crates = []*crate{c, {Name: "c-08", Mass: Fraction(25, 2), Depth: Whole(508)}, {Name: "c-09", Mass: Whole(5)}}
	return c
}

func text(src string) estate.Expr {
	return estate.Expr{Text: src, At: estate.Range{File: "p.hcl", Span: estate.Span{Start: 100, End: 100 + int32(len(src))}}}
}

// eval prints the value of an expression on the test crate, or why it has
// none.
func eval(src string) string {
	p, mistakes := Compile(text(src), crateClass(), NoKind)
	if p == nil {
		return fmt.Sprint("refused: ", mistakes)
	}
	env, c := p.Env(), testCrate()
	var v any
	var u *Unknown
	switch p.Type().Kind {
	case NumberKind:
		v, u = p.Number(env, c)
	case BoolKind:
		v, u = p.Bool(env, c)
	case TextKind:
		v, u = p.Text(env, c)
	case DateKind:
		env.root = c
		v, u = p.e.date(env)
	}
	if u != nil {
		return "unknown: " + u.Because
	}
	return fmt.Sprint(v)
}

func TestMeaning(t *testing.T) {
	tests := []struct{ in, want string }{
		// Exact decimals and values of different types, as in HCL.
		{`0.1 + 0.2 == 0.3`, "true"},
		{`0.1 * 3 == 0.3`, "true"},
		{`1 / 3 * 3 == 1`, "true"},
		{`1 / 3`, "0.333333"},
		{`2 / 3`, "0.666667"},
		{`0.7 % 0.1`, "0"},
		{`-7 % 3`, "-1"},
		{`1e-9 * 1e-9`, "0.000000000000000001"},
		{`9223372036 * 10 + 0.000000001`, "92233720360.000000001"},
		{`9223372036854775807 * 9223372036854775807`, "85070591730234615847396907784232501249"},
		{`"10" == 10`, "false"},
		{`"10" != 10`, "true"},
		{`true == "true"`, "false"},
		{`"S\u00fcd" == "Su\u0308d"`, "true"}, // both are NFC in HCL

		// Units.
		{`crate.mass > kg(25)`, "true"},
		{`crate.mass == lb(66.138678655463270)`, "false"},
		{`lb(100)`, "45.359237"},
		{`inch(19)`, "482.6"},
		{`crate.depth / inch(1)`, "27.559055"},
		{`crate.mass / kg(10)`, "3"},
		{`w(460) / v(230) == a(2)`, "true"},
		{`v(230) * a(16) == kw(3.68)`, "true"},
		{`crate.top >= units(24) && crate.top <= 24`, "true"},

		// Lists.
		{`sum([for c in crate.on.crates : c.mass])`, "47.5"},
		{`sum(crate.on.crates[*].mass)`, "47.5"},
		{`sum([for i, c in crate.on.crates : i])`, "3"},
		{`count([for c in crate.on.crates : c if c.mass < kg(20)])`, "2"},
		{`max(crate.on.crates[*].mass) - min(kg(1), kg(2))`, "29"},
		{`any([for c in crate.on.crates : c.name == "c-08"])`, "true"},
		{`all([for c in crate.on.crates : c.depth > mm(600)])`, "false"}, // c-08 decides, c-09 is unknown
		{`all([for c in crate.on.crates : c.depth > mm(500)])`, "unknown: the depth of c-09 is missing"},
		{`any([for c in crate.on.crates : c.depth < mm(500)])`, "unknown: the depth of c-09 is missing"},
		{`count([for c in crate.on.crates : c if c.depth > mm(500)])`, "unknown: the depth of c-09 is missing"},
		{`crate.on.crates[1].name`, "c-08"},
		{`crate.on.crates[3].name`, "unknown: the list has no element 3"},
		{`crate.on.crates[0.5].name`, "unknown: the list has no element 0.5"},
		{`[for c in crate.on.crates : c.name][2]`, "c-09"},
		{`sum([for c in crate.on.crates : count([for d in crate.on.crates : d if d.mass <= c.mass])])`, "6"},
		{`among(crate.name, ["c-07", "c-08"])`, "true"},
		{`among(crate, crate.on.crates)`, "true"},
		{`count(distinct([for c in crate.on.crates : c.mass > kg(10) ? "heavy" : "light"]))`, "2"},
		{`count(distinct([1, 1.0, 2/2, 1/3, 2/6]))`, "2"},
		{`joined(crate.on.crates[*].name, ", ")`, "c-07, c-08, c-09"},
		{`max([for c in crate.on.crates : c.mass if c.name == ""])`, "unknown: the list in max([for c in crate.on.crates : c.mass if c.name == \"\"]) is empty"},

		// Texts.
		{`matches(crate.name, "^c-[0-9]{2}$")`, "true"},
		{`part(crate.name, "-([0-9]+)")`, "07"},
		{`number(part(crate.name, "-([0-9]+)")) == 7`, "true"},
		{`number(part(crate.name, "U([0-9]+)"))`, `unknown: "" is no number`},
		{`"${crate.name}: ${crate.mass} kg, ${crate.seen}, ${crate.mass > kg(25)}"`, "c-07: 30 kg, 2026-11-25, true"},
		{`"%{ for c in crate.on.crates }[${c.name}]%{ endfor }"`, "[c-07][c-08][c-09]"},
		{`letters("S\u00fcd") == 3 && upper("a") == "A" && begins("abc", "ab") && ends("abc", "bc") && includes("abc", "b")`, "true"},
		{`round(2.345, 2)`, "2.35"},
		{`round(-2.345, 2)`, "-2.35"},
		{`floor(-0.5) + ceil(0.5) + abs(-3)`, "3"},

		// Dates.
		{`crate.seen - date("2026-11-01")`, "24"},
		{`crate.seen + days(30) > date("2026-12-24")`, "true"},
		{`crate.seen - days(1)`, "2026-11-24"},
		{`weekday(crate.seen)`, "wed"},
		{`year(crate.seen) * 100 + month(crate.seen)`, "202611"},

		// What is not known.
		{`crate.on.crates[2].depth > mm(1)`, "unknown: the depth of c-09 is missing"},
		{`false && crate.on.crates[2].depth > mm(1)`, "false"},
		{`crate.on.crates[2].depth > mm(1) || true`, "true"},
		{`known(crate.on.crates[2].depth)`, "false"},
		{`known(crate.on.crates[*].mass)`, "true"},
		{`known(crate.on.crates[*].depth)`, "false"},
		{`basis(crate.depth)`, "measured"},
		{`crate.on.crates[1].on == null`, "true"},
		{`crate.on.crates[1].on.name`, "unknown: there is no crate.on.crates[1].on"},
		{`crate.on != null && crate.on.name == "low"`, "true"},
		{`1 / (crate.top - 24)`, "unknown: 1 / (crate.top - 24) divides by zero"},
		{`0 / (crate.top - 24)`, "unknown: 0 / (crate.top - 24) divides by zero"},
		{`1 % (crate.top - 24) == 0 || true`, "true"},
	}
	for _, tt := range tests {
		if got := eval(tt.in); got != tt.want {
			t.Errorf("%s = %s, want %s", tt.in, got, tt.want)
		}
	}
}

// TestMistakes compares whole messages; the text that each points at stands
// before it.
func TestMistakes(t *testing.T) {
	tests := []struct {
		in   string
		want Kind
		msgs []string // "text: message"
	}{
		{in: `crate.mas > kg(25)`, msgs: []string{`mas: a crate has no "mas"; perhaps mass is meant`}},
		{in: `crat.mass > kg(25)`, msgs: []string{`crat: "crat" is nothing that a policy on crates can see; perhaps crate is meant`}},
		{in: `kg > 1`, msgs: []string{`kg: "kg" is a function: write kg(NUMBER)`}},
		{in: `crate.mass > 25`, msgs: []string{`25: crate.mass is in kg, and 25 has no unit; write kg(25)`}},
		{in: `crate.mass > mm(25)`, msgs: []string{`mm(25): crate.mass is in kg, and mm(25) is in mm`}},
		{in: `crate.mass * crate.depth > 3`, msgs: []string{`3: crate.mass * crate.depth is in kg mm, and 3 has no unit`}},
		{in: `crate.mass + crate.depth`, msgs: []string{`crate.depth: crate.mass is in kg, and crate.depth is in mm`}},
		{in: `kg(crate.mass)`, msgs: []string{`crate.mass: crate.mass is in kg already; kg gives a unit to a plain number`}},
		{in: `kgs(3)`, msgs: []string{`kgs: there is no function kgs; perhaps kg is meant`}},
		{in: `kg(3, 4)`, msgs: []string{`kg(3, 4): kg is written kg(NUMBER)`}},
		{in: `kg("3")`, msgs: []string{`"3": kg is written kg(NUMBER), and "3" is a text`}},
		{in: `crate.name > 3`, msgs: []string{`crate.name: > takes numbers, and crate.name is a text; write a number without quotes, or number(TEXT)`}},
		{in: `crate.name + "x"`, msgs: []string{`crate.name + "x": + adds numbers; join texts as "${A}${B}"`}},
		{in: `!crate.name`, msgs: []string{`crate.name: ! takes true or false, and crate.name is a text`}},
		{in: `crate.mass`, want: BoolKind, msgs: []string{`crate.mass: crate.mass is a number in kg; true or false is needed here`}},
		{in: `crate`, want: TextKind, msgs: []string{`crate: crate is a crate and cannot be printed; write crate.name`}},
		{in: `crate.on.crates`, want: TextKind, msgs: []string{`crate.on.crates: crate.on.crates is a list of crates and cannot be printed`}},
		{in: `crate.on.crates.mass`, msgs: []string{`mass: a list of crates has no "mass"; write [for x in crate.on.crates : x.mass]`}},
		{in: `crate.mass == null`, msgs: []string{`crate.mass == null: crate.mass is never null; known(crate.mass) says whether its value is known`}},
		{in: `crate == crate.on`, msgs: []string{`crate == crate.on: crate is a crate, and crate.on is a shelf: they are never the same`}},
		{in: `crate.on.crates == [1]`, msgs: []string{`crate.on.crates == [1]: lists are not compared as a whole; compare count(LIST), or every element with all([for x in LIST : ...])`}},
		{in: `[1, "a"]`, msgs: []string{`"a": the elements of a list are of one type: 1 is a plain number, and "a" is a text`}},
		{in: `true ? 1 : "a"`, msgs: []string{`"a": the two results are of different types: 1 is a plain number, and "a" is a text`}},
		{in: `count(true ? crate.on.crates : crate.on.crates)`, msgs: []string{`crate.on.crates: a choice between two lists is not possible; choose inside the list, with if`}},
		{in: `{ a = 1 }`, msgs: []string{`{ a = 1 }: a policy has no use for an object in braces; write a list in brackets`}},
		{in: `{ for c in crate.on.crates : c.name => 1 }`, msgs: []string{`{ for c in crate.on.crates : c.name => 1 }: a policy has no use for an object in braces; write [for ... : ...] in brackets`}},
		{in: `matches(crate.name, "(")`, msgs: []string{`"(": "(" is no pattern: missing closing ): ` + "`(`"}},
		{in: `matches(crate.name, crate.name)`, msgs: []string{`crate.name: the pattern of matches must be written out, so that it can be checked beforehand`}},
		{in: `crate.seen > "2026-01-01"`, msgs: []string{`"2026-01-01": > compares a date with a date, and "2026-01-01" is a text; write date("2027-01-31")`}},
		{in: `crate.seen == "2026-01-01"`, msgs: []string{`"2026-01-01": crate.seen is a date, and "2026-01-01" a text; write date("2026-01-01")`}},
		{in: `date("31.1.2027")`, msgs: []string{`"31.1.2027": "31.1.2027" is no date; write year, month and day as in "2027-01-31"`}},
		{in: `crate.seen + 3`, msgs: []string{`3: a date takes + or - a number of days, as in days(30), or - another date; 3 is a plain number`}},
		{in: `crate.top / 0`, msgs: []string{`0: crate.top / 0 divides by zero`}},
		{in: `basis(crate.mass)`, msgs: []string{`crate.mass: basis takes the name of a figure, such as equipment.depth, and crate.mass is none`}},
		{in: `any([1])`, msgs: []string{`[1]: any takes a list of conditions, as in any([for m in rack.mounts : m.mass < kg(20)]); [1] is a list of numbers`}},
		{in: `1e99999999 > 1`, msgs: []string{`1e99999999: 1e99999999 is too large or too small a number`}},
		{in: `max([1, 2]...)`, msgs: []string{`[1, 2]: a list is given as it is, without ...`}},
		// All mistakes at once.
		{in: `crate.mas > 3 && crate.dept > mm(2)`, msgs: []string{`mas: a crate has no "mas"; perhaps mass is meant`, `dept: a crate has no "dept"; perhaps depth is meant`}},
		// What can still be judged.
		{in: `"10" == 10`, msgs: []string{`"10" == 10: "10" is a text, and 10 is a plain number: they are never equal`}},
	}
	for _, tt := range tests {
		p, mistakes := Compile(text(tt.in), crateClass(), tt.want)
		var got []string
		mild := true
		for _, m := range mistakes {
			got = append(got, tt.in[m.At.Start-100:m.At.End-100]+": "+m.Message)
			mild = mild && m.Mild
		}
		if strings.Join(got, "\n") != strings.Join(tt.msgs, "\n") {
			t.Errorf("Compile(%s):\n%s\nwant\n%s", tt.in, strings.Join(got, "\n"), strings.Join(tt.msgs, "\n"))
		}
		if (p != nil) != mild {
			t.Errorf("Compile(%s): a program is made exactly if no mistake is grave", tt.in)
		}
	}
}

// TestParserMistakes checks that what HCL's own parser refuses has a place
// inside the policy, whatever the wording.
func TestParserMistakes(t *testing.T) {
	for _, src := range []string{``, `crate.`, `crate.mass >`, `(1`, `"${crate.name`, `1 2`, `[for x : 1]`, "\x00", `crate.mass > > 1`} {
		p, mistakes := Compile(text(src), crateClass(), NoKind)
		if p != nil || len(mistakes) == 0 {
			t.Errorf("Compile(%q) = %v, %v; want a mistake", src, p, mistakes)
		}
		for _, m := range mistakes {
			if m.At.Start < 100 || m.At.End > 101+int32(len(src)) || m.Message == "" {
				t.Errorf("Compile(%q): mistake %+v is out of place", src, m)
			}
		}
	}
}

func TestFunctionsAreDocumented(t *testing.T) {
	for _, f := range Functions() {
		if f.Doc == "" || strings.HasSuffix(f.Doc, ".") || !strings.HasPrefix(f.Usage, f.Name+"(") {
			t.Errorf("function %s: usage %q, doc %q", f.Name, f.Usage, f.Doc)
		}
	}
}

// FuzzCompile checks that no text makes the compiler or what it compiles
// panic, that a refusal has a reason and a place, and that a second
// compilation says the same.
func FuzzCompile(f *testing.F) {
	for _, src := range []string{
		`crate.mass > kg(25)`, `sum([for i, c in crate.on.crates : c.mass * i if c.depth > mm(3)])`,
		`"${crate.name} %{ if true }x%{ endif }"`, `crate.on.crates[*].name[1]`, `max(1, 2, 3) % 0`, `1e400`, `{}`, `[]`, `[[1]]`, `null == null`,
		`crate["mass"]`, `crate.on.crates.0.name`, `among(null, [1])`, `distinct([true])`, `joined([[1]], "")`, "<<X\na\nX\n", `any(crate)`,
		`-crate`, `[for c in crate.on.crates : [for d in crate.on.crates : 1]]`, `known(null)`, `round(1, 10)`, `date("0000-00-00")`, `crate.seen + days(1e9)`,
	} {
		f.Add(src)
	}
	class, c := crateClass(), testCrate()
	f.Fuzz(func(t *testing.T, src string) {
		p, mistakes := Compile(text(src), class, NoKind)
		again, mistakesAgain := Compile(text(src), class, NoKind)
		if (p == nil) != (again == nil) || fmt.Sprint(mistakes) != fmt.Sprint(mistakesAgain) {
			t.Fatalf("two compilations differ: %v, %v", mistakes, mistakesAgain)
		}
		for _, m := range mistakes {
			if m.Message == "" || m.At.Start < 100 || m.At.End < m.At.Start {
				t.Fatalf("mistake out of place: %+v", m)
			}
		}
		if p == nil {
			if len(mistakes) == 0 {
				t.Fatal("refused without a reason")
			}
			return
		}
		env := p.Env()
		env.root = c
		if u := p.e.known()(env); u != nil && u.Because == "" {
			t.Fatal("unknown without a reason")
		}
		if asText := (&compiler{scope: class}).asText(p.e); asText != nil {
			asText.text(env)
		}
	})
}
