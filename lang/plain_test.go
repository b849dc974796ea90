package lang

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"

	"cagenut/testdata/bulk"
)

// sameAsLibrary checks that a text which is plain is read as the library reads
// it. It reports whether the text is plain.
func sameAsLibrary(t interface{ Fatalf(string, ...any) }, src string) bool {
	got := newPlainParser(map[string]string{}).parse([]byte(src))
	if got == nil {
		return false
	}
	file, diags := hclsyntax.ParseConfig([]byte(src), "", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatalf("%q is taken for plain, and the library refuses it: %v", src, diags)
	}
	if want, got := drawBody(file.Body.(*hclsyntax.Body)), drawBody(got); want != got {
		t.Fatalf("%q is read differently (-library +plain):\n%s", src, cmp.Diff(want, got))
	}
	return true
}

// drawBody writes a syntax tree down, with its ranges in bytes.
func drawBody(b *hclsyntax.Body) string {
	var out strings.Builder
	r := func(g hcl.Range) string { return fmt.Sprintf("%d-%d", g.Start.Byte, g.End.Byte) }
	var value func(x hclsyntax.Expression)
	value = func(x hclsyntax.Expression) {
		switch x := x.(type) {
		case *hclsyntax.LiteralValueExpr:
			fmt.Fprintf(&out, "literal %#v %s ", x.Val, r(x.SrcRange))
		case *hclsyntax.TemplateExpr:
			fmt.Fprintf(&out, "template %s (", r(x.SrcRange))
			for _, p := range x.Parts {
				value(p)
			}
			out.WriteString(") ")
		case *hclsyntax.ScopeTraversalExpr:
			s, _ := dotted(x)
			fmt.Fprintf(&out, "name %s %d %s ", s, len(x.Traversal), r(x.SrcRange))
			if x.Traversal.RootName() == "given" {
				out.WriteString(r(x.Traversal.SourceRange()))
				for _, step := range x.Traversal {
					out.WriteString(" " + r(step.SourceRange()))
				}
			}
		case *hclsyntax.TupleConsExpr:
			fmt.Fprintf(&out, "list %s %s (", r(x.SrcRange), r(x.OpenRange))
			for _, e := range x.Exprs {
				value(e)
			}
			out.WriteString(") ")
		case *hclsyntax.ObjectConsExpr:
			fmt.Fprintf(&out, "group %s %s (", r(x.SrcRange), r(x.OpenRange))
			for _, item := range x.Items {
				k := item.KeyExpr.(*hclsyntax.ObjectConsKeyExpr)
				fmt.Fprintf(&out, "%s %s %t: ", keyOf(k), r(k.Range()), k.ForceNonLiteral)
				value(item.ValueExpr)
			}
			out.WriteString(") ")
		default:
			fmt.Fprintf(&out, "%T ", x)
		}
	}
	var body func(b *hclsyntax.Body)
	body = func(b *hclsyntax.Body) {
		var names []string
		for name := range b.Attributes {
			names = append(names, name)
		}
		sort.Strings(names)
		for _, name := range names {
			a := b.Attributes[name]
			fmt.Fprintf(&out, "%s %s %s %s %s = ", name, a.Name, r(a.SrcRange), r(a.NameRange), r(a.EqualsRange))
			value(a.Expr)
			out.WriteString("\n")
		}
		for _, in := range b.Blocks {
			fmt.Fprintf(&out, "block %s %q %s %s %s {\n", in.Type, in.Labels, r(in.TypeRange), r(in.OpenBraceRange), r(in.CloseBraceRange))
			for _, g := range in.LabelRanges {
				fmt.Fprintf(&out, "label %s\n", r(g))
			}
			body(in.Body)
			out.WriteString("}\n")
		}
	}
	body(b)
	return out.String()
}

func TestPlain(t *testing.T) {
	tests := []struct {
		name, src string
		plain     bool
	}{
		{"nothing", "", true},
		{"blank lines and comments", "\n# a\n\n// b\n  \t\n# end", true},
		{"attributes", "a = 1\nb=\"x\"\nc = true\nd = unknown\ne = frame.cab-42 # why\nf = rack.a.b\n", true},
		{"numbers", "a = 0\nb = 40.5\nc = 007\nd = 12345678901234567890\ne = 1.000\n", true},
		{"texts", "a = \"\"\nb = \"schränk $5 100 % # no comment\"\nc = \"e\u0301\"\n", true},
		{"lists", "a = []\nb = [1]\nc = [1, 2,]\nd = [\n  feed.a,\n  feed.b\n]\ne = [[1], {a = 1}]\n", true},
		{"groups", "a = {}\nb = { c = 1, d = \"x\" }\ne = {\n  f = 1\n  g = 2,\n\n  h = [1,\n 2]\n}\ni = { j = 1, }\n", true},
		{"blocks", "rack \"a\" {\n  b = 1\n  blank { at = 3 }\n  mount \"m\" { # why\n    at = 3\n  }\n  empty {}\n}\nrow \"x\" {\n}\ngiven {\n  a = 1\n} // end\n", true},
		{"no newline at the end", "row \"a\" {\n  front = \"cold\"\n}", true},
		{"escape", "a = \"x\\n\"\n", false},
		{"template", "a = \"${b}\"\n", false},
		{"arithmetic", "a = 1 + 2\n", false},
		{"negative", "a = -1\n", false},
		{"exponent", "a = 1e5\n", false},
		{"given", "a = given.b\nc = [given.d.e, { f = given.g }]\nh = given\n", true},
		{"call", "a = min(1, 2)\n", false},
		{"index", "a = b[0]\n", false},
		{"several labels", "a \"b\" \"c\" {\n}\n", false},
		{"carriage returns", "a = 1\r\n# b\r\n\r\nc {\r\n  d = [1,\r\n 2]\r\n  e = {\r\n f = 1\r\n}\r\n} // g\r\n", true},
		{"carriage return alone", "a = 1\rb = 2\n", false},
		{"byte order mark", "\ufeffa = 1\n", false},
		{"block comment", "/* a */\n", false},
		{"heredoc", "a = <<E\nx\nE\n", false},
		{"twice", "a = 1\na = 2\n", false},
		{"two on a line", "a { b = 1, c = 2 }\n", false},
		{"block after block", "a {\n} b {\n}\n", false},
		{"unclosed", "a {\n", false},
		{"closed twice", "a {\n}\n}\n", false},
		{"for", "a = [for x in y : x]\n", false},
		{"colon in a group", "a = { b : 1 }\n", false},
		{"letters of other alphabets in a name", "a = frame.schränk\n", false},
		{"not UTF-8", "# \xff\n", false},
		{"equality", "a == 1\n", false},
		{"zero byte", "a = 1\x00\n", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := sameAsLibrary(t, tt.src); got != tt.plain {
				t.Errorf("%q is plain: %t, want %t", tt.src, got, tt.plain)
			}
		})
	}
}

// The files that people write are plain nearly all; else the parser is there
// for nothing.
func TestUsualFilesArePlain(t *testing.T) {
	if !sameAsLibrary(t, bulk.Files(40)[bulk.Path(7)]) {
		t.Error("a made-up rack is not plain")
	}
	plain, all := 0, 0
	err := filepath.WalkDir("../examples", func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".hcl" {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		all++
		if sameAsLibrary(t, string(src)) {
			plain++
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if plain*10 < all*6 {
		t.Errorf("%d of %d example files are plain, want six of ten", plain, all)
	}
}

func TestPlainIsWhatTheLibraryReads(t *testing.T) {
	words := []string{
		"a", "b-1", "rack", " ", "\t", "\n", "=", " = ", "{", "}", " { ", " }\n", "\"x\"", "\"y z\"", "1", "40.5", ".", ",", "[", "]", "# c\n", "// d\n",
		"true", "null", "unknown", "x.y", "given.a", "for", ":", "==", "=>", "\"\"", "é", "\\", "${", "0", "-", "_", "(", ")", "\r\n", "/", "\x00", "a = 1\n", "b { c = 2 }\n", "{ d = 3, e = 4 }",
	}
	rapid.Check(t, func(t *rapid.T) {
		sameAsLibrary(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 0, 25).Draw(t, "words"), ""))
	})
}

func FuzzPlain(f *testing.F) {
	paths, _ := filepath.Glob("testdata/*.txtar")
	for _, path := range paths {
		a, err := txtar.ParseFile(path)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range a.Files {
			f.Add(string(file.Data))
		}
	}
	f.Add("rack \"r\" {\n  feeds = [feed.a, feed.b]\n  blank { at = \"3-4\" }\n  draw = { typical = \"1 W\", maximum = 2 }\n}\n")
	f.Fuzz(func(t *testing.T, text string) { sameAsLibrary(t, text) })
}
