package policy

import (
	"math/big"
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	"cagenut/lang/estate"
)

var textFunctions = []*Function{
	{Name: "matches", Usage: `matches(TEXT, "PATTERN")`, Doc: "whether a regular expression in RE2 syntax matches somewhere in the text", least: 2, most: 2, compile: compileMatches},
	{Name: "part", Usage: `part(TEXT, "PATTERN")`, Doc: "what the first group of a pattern matches, or the whole pattern where it has no group; an empty text where it does not match", least: 2, most: 2, compile: compilePart},
	textTest("begins", "whether the text begins with another", strings.HasPrefix),
	textTest("ends", "whether the text ends with another", strings.HasSuffix),
	textTest("includes", "whether the text has another in it", strings.Contains),
	{Name: "lower", Usage: "lower(TEXT)", Doc: "the text in small letters", least: 1, most: 1, compile: textMap(strings.ToLower)},
	{Name: "upper", Usage: "upper(TEXT)", Doc: "the text in capital letters", least: 1, most: 1, compile: textMap(strings.ToUpper)},
	{Name: "letters", Usage: "letters(TEXT)", Doc: "how many characters the text has", least: 1, most: 1, compile: compileLetters},
	{Name: "number", Usage: "number(TEXT)", Doc: "the plain number that a text of digits states; not known for any other text", least: 1, most: 1, compile: compileNumber},
}

func (c *compiler) pattern(k *call, i int) *regexp.Regexp {
	s, ok := c.constant(k, i, "pattern")
	if !ok {
		return nil
	}
	re, err := regexp.Compile(s)
	if err != nil {
		c.wrong(k.args[i].at, "%q is no pattern: %s", s, strings.TrimPrefix(err.Error(), "error parsing regexp: "))
		return nil
	}
	return re
}

func compileMatches(c *compiler, k *call) *expr {
	e, re := c.arg(k, 0, TextKind), c.pattern(k, 1)
	if e == nil || re == nil {
		return nil
	}
	f := e.text
	return boolExpr(e.konst, func(env *Env) (bool, *Unknown) {
		s, u := f(env)
		return u == nil && re.MatchString(s), u
	})
}

func compilePart(c *compiler, k *call) *expr {
	e, re := c.arg(k, 0, TextKind), c.pattern(k, 1)
	if e == nil || re == nil {
		return nil
	}
	f, group := e.text, min(re.NumSubexp(), 1)
	return textExpr(e.konst, func(env *Env) (string, *Unknown) {
		s, u := f(env)
		if u != nil {
			return "", u
		}
		if found := re.FindStringSubmatch(s); found != nil {
			return found[group], nil
		}
		return "", nil
	})
}

func textTest(name, doc string, test func(s, part string) bool) *Function {
	return &Function{Name: name, Usage: name + "(TEXT, TEXT)", Doc: doc, least: 2, most: 2, compile: func(c *compiler, k *call) *expr {
		a, b := c.arg(k, 0, TextKind), c.arg(k, 1, TextKind)
		if a == nil || b == nil {
			return nil
		}
		f, g := a.text, b.text
		return boolExpr(k.konst(), func(env *Env) (bool, *Unknown) {
			s, u := f(env)
			t, w := g(env)
			if u == nil {
				u = w
			}
			return u == nil && test(s, t), u
		})
	}}
}

func textMap(do func(string) string) func(*compiler, *call) *expr {
	return func(c *compiler, k *call) *expr {
		e := c.arg(k, 0, TextKind)
		if e == nil {
			return nil
		}
		f := e.text
		return textExpr(e.konst, func(env *Env) (string, *Unknown) {
			s, u := f(env)
			return do(s), u
		})
	}
}

func compileLetters(c *compiler, k *call) *expr {
	e := c.arg(k, 0, TextKind)
	if e == nil {
		return nil
	}
	f := e.text
	return numberExpr(Plain, e.konst, func(env *Env) (Number, *Unknown) {
		s, u := f(env)
		return Whole(int64(utf8.RuneCountInString(s))), u
	})
}

var plainNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[+-]?[0-9]{1,100}(\.[0-9]{1,100})?$`) })

// mustNumber reads a text that plainNumber matches.
func mustNumber(s string) Number {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("policy: " + s + " is no number, though it looks like one")
	}
	return fromRat(r)
}

func compileNumber(c *compiler, k *call) *expr {
	e := c.arg(k, 0, TextKind)
	if e == nil {
		return nil
	}
	f := e.text
	return numberExpr(Plain, e.konst, func(env *Env) (Number, *Unknown) {
		s, u := f(env)
		if u != nil {
			return Number{}, u
		}
		if plainNumber().MatchString(s) {
			return mustNumber(s), nil
		}
		return Number{}, unknown("%q is no number", s)
	})
}

func compileJoined(c *compiler, k *call) *expr {
	e, between := c.arg(k, 0, ListKind), c.arg(k, 1, TextKind)
	if e == nil || between == nil {
		return nil
	}
	elem := *e.list.elem
	elem.at = e.at
	asText := c.asText(&elem)
	if asText == nil {
		return nil
	}
	each, f, g := e.list.each, asText.text, between.text
	return textExpr(false, func(env *Env) (string, *Unknown) {
		sep, u := g(env)
		if u != nil {
			return "", u
		}
		var parts []string
		var unsure *Unknown
		u = each(env, func() bool {
			s, u := f(env)
			parts, unsure = append(parts, s), u
			return u == nil
		})
		if u == nil {
			u = unsure
		}
		return strings.Join(parts, sep), u
	})
}

var dateFunctions = []*Function{
	{Name: "date", Usage: `date("2027-01-31")`, Doc: "a calendar day", least: 1, most: 1, compile: compileDate},
	{Name: "weekday", Usage: "weekday(DATE)", Doc: `the day of the week: "mon" to "sun"`, least: 1, most: 1, compile: compileWeekday},
	{Name: "month", Usage: "month(DATE)", Doc: "the month, 1 to 12", least: 1, most: 1, compile: calendar(func(d estate.Date) int { return int(d.Time().Month()) })},
	{Name: "year", Usage: "year(DATE)", Doc: "the year", least: 1, most: 1, compile: calendar(func(d estate.Date) int { return d.Time().Year() })},
}

func compileDate(c *compiler, k *call) *expr {
	s, ok := c.constant(k, 0, "day")
	if !ok {
		return nil
	}
	d, err := estate.ParseDate(s)
	if err != nil {
		c.wrong(k.args[0].at, "%v", err)
		return nil
	}
	return dateExpr(true, func(*Env) (estate.Date, *Unknown) { return d, nil })
}

func compileWeekday(c *compiler, k *call) *expr {
	e := c.arg(k, 0, DateKind)
	if e == nil {
		return nil
	}
	f := e.date
	return textExpr(e.konst, func(env *Env) (string, *Unknown) {
		d, u := f(env)
		return strings.ToLower(d.Time().Weekday().String()[:3]), u
	})
}

func calendar(part func(estate.Date) int) func(*compiler, *call) *expr {
	return func(c *compiler, k *call) *expr {
		e := c.arg(k, 0, DateKind)
		if e == nil {
			return nil
		}
		f := e.date
		return numberExpr(Plain, e.konst, func(env *Env) (Number, *Unknown) {
			d, u := f(env)
			return Whole(int64(part(d))), u
		})
	}
}

var knowledgeFunctions = []*Function{
	{Name: "known", Usage: "known(VALUE)", Doc: "whether the value is known; never unknown itself", least: 1, most: 1, compile: compileKnown},
	{Name: "basis", Usage: "basis(FIGURE)", Doc: `how a figure was come by: "measured", "data-sheet", "drawing", "estimated" or "unstated"`, least: 1, most: 1, compile: compileBasis},
}

func compileKnown(c *compiler, k *call) *expr {
	if k.args[0].typ.Kind == NullKind {
		c.wrong(k.args[0].at, "null is no value to be known")
		return nil
	}
	f := k.args[0].known()
	return boolExpr(false, func(env *Env) (bool, *Unknown) { return f(env) == nil, nil })
}

func compileBasis(c *compiler, k *call) *expr {
	e := k.args[0]
	if e.basis == nil {
		c.wrong(e.at, "basis takes the name of a figure, such as equipment.depth, and %s is none", c.textOf(e.at))
		return nil
	}
	return textExpr(false, e.basis)
}
