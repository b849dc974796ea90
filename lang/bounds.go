package lang

import (
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// A file may come from anybody who can open a merge request. These bounds keep
// one from taking the memory, the stack or the time of whoever reads it.
const (
	// maxFile bounds the size of one file in bytes: places are kept in 31 bits,
	// and the parser needs many times the size of the text.
	maxFile = 16 << 20
	// maxNesting bounds how deep expressions are nested: the parser, which
	// cannot be stopped when the stack runs out, calls itself for each level.
	maxNesting = 100
	// maxOperators bounds how many operators stand in one expression.
	maxOperators = 1000
	// maxExponent bounds numbers such as 1e999, which are short to write and
	// long to print.
	maxExponent = 4096 // binary
	// maxMistakes bounds how many mistakes of one file are told.
	maxMistakes = 200
)

// deep finds the first place at which a file is nested deeper than the parser
// should be sent.
func deep(path string, src []byte) (at int, found bool) {
	at, found = seemsDeep(src)
	if !found || strings.HasSuffix(path, ".json") {
		return at, found
	}
	// It may be a line of dashes in a comment: ask the scanner.
	tokens, _ := hclsyntax.LexConfig(src, path, hcl.InitialPos)
	depth, signs, choices, operators := 0, 0, 0, 0
	for _, t := range tokens {
		sign := false
		switch t.Type {
		case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen, hclsyntax.TokenTemplateInterp:
			depth++
		case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen, hclsyntax.TokenTemplateSeqEnd:
			depth = max(depth-1, 0)
		case hclsyntax.TokenBang, hclsyntax.TokenMinus:
			sign = true
			signs++
			operators++
		case hclsyntax.TokenQuestion, hclsyntax.TokenTemplateControl:
			choices++
		case hclsyntax.TokenPlus, hclsyntax.TokenStar, hclsyntax.TokenSlash, hclsyntax.TokenPercent, hclsyntax.TokenAnd, hclsyntax.TokenOr,
			hclsyntax.TokenEqualOp, hclsyntax.TokenNotEqual, hclsyntax.TokenLessThan, hclsyntax.TokenLessThanEq, hclsyntax.TokenGreaterThan, hclsyntax.TokenGreaterThanEq:
			operators++
		case hclsyntax.TokenEqual:
			choices, operators = 0, 0
		}
		if !sign {
			signs = 0
		}
		if depth > maxNesting || signs > maxNesting || choices > maxNesting || operators > maxOperators {
			return t.Range.Start.Byte, true
		}
	}
	return 0, false
}

// The classes of bytes that nesting is made of.
const (
	other = iota
	opens
	closes
	signs
	choice1
	operator
	space
	equals
)

var class = [256]uint8{
	'(': opens, '[': opens, '{': opens, ')': closes, ']': closes, '}': closes,
	'!': signs, '-': signs, '?': choice1, '%': choice1,
	'+': operator, '*': operator, '/': operator, '<': operator, '>': operator, '&': operator, '|': operator,
	' ': space, '\t': space, '\n': space, '\r': space, '=': equals,
}

// seemsDeep is a quick test that finds every file that is nested too deep, and
// a few that are not: it takes texts and comments for code.
func seemsDeep(src []byte) (int, bool) {
	depth, run, choices, operators := 0, 0, 0, 0
	for i, c := range src {
		k := class[c]
		if k == other {
			run = 0
			continue
		}
		switch k {
		case space:
			continue
		case opens:
			depth++
			run = 0
		case closes:
			depth = max(depth-1, 0)
			run = 0
		case signs:
			run++
			operators++
		case choice1:
			choices++
			operators++
			run = 0
		case operator:
			operators++
			run = 0
		case equals:
			// "==" is an operator, too; two of them count as none, and a third
			// sign between them does not.
			if i+1 < len(src) && src[i+1] != '=' && (i == 0 || class[src[i-1]] == space) {
				choices, operators = 0, 0
			}
			run = 0
		}
		if depth > maxNesting || run > maxNesting || choices > maxNesting || operators > maxOperators {
			return i, true
		}
	}
	return 0, false
}

// hugeNumber finds a number in an expression that must not be computed with.
func hugeNumber(x hclsyntax.Expression) (hclsyntax.Expression, bool) {
	var huge hclsyntax.Expression
	_ = hclsyntax.VisitAll(x, func(n hclsyntax.Node) hcl.Diagnostics {
		l, ok := n.(*hclsyntax.LiteralValueExpr)
		if !ok || !l.Val.IsKnown() || l.Val.IsNull() || l.Val.Type() != cty.Number {
			return nil
		}
		f := l.Val.AsBigFloat()
		if e := f.MantExp(nil); f.IsInf() || e > maxExponent || e < -maxExponent {
			huge = l
		}
		return nil
	})
	return huge, huge != nil
}
