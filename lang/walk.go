package lang

import (
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
	"cagenut/lang/text"
)

// read reads one file into a part of a model.
func (r *reader) read(path string, src []byte) *part {
	r.part = &part{path: path, size: len(src)}
	r.src, r.evaluated, r.foreign = src, false, nil
	defer func() { r.src = nil }()
	body := r.parse(src)
	if body != nil {
		syntax := len(r.part.diags)
		r.body(root, &r.part.estate, body, nil)
		if syntax > 0 {
			r.beside(syntax)
		}
	}
	return r.part
}

// parse gives the body of a file, or as much of it as can be read.
func (r *reader) parse(src []byte) *hclsyntax.Body {
	if len(src) > maxFile {
		r.part.broken = true
		r.report(hcl.Range{}, "", "the file has %d MB; a file of an estate has at most %d MB: spread it over several", len(src)>>20, maxFile>>20)
		return nil
	}
	if !isJSON(r.part.path) {
		if body := r.plain.parse(src); body != nil {
			return body
		}
	}
	if at, found := deep(r.part.path, src); found {
		r.part.broken = true
		r.report(hcl.Range{Start: hcl.Pos{Byte: at}, End: hcl.Pos{Byte: at + 1}}, "", "the text is nested deeper here than anything in an estate needs to be; the file is not read")
		return nil
	}
	if isJSON(r.part.path) {
		return r.parseJSON(src)
	}
	file, diags := hclsyntax.ParseConfig(src, r.part.path, hcl.InitialPos)
	if misread(src, diags) {
		r.src = r.encoding(src)
		r.part.broken = true
		file, diags = hclsyntax.ParseConfig(r.src, r.part.path, hcl.InitialPos)
	}
	if diags.HasErrors() {
		r.part.broken = true
		r.syntax(diags)
	}
	if file == nil {
		return nil
	}
	body, _ := file.Body.(*hclsyntax.Body)
	return body
}

// isJSON reports whether a file is in the JSON form.
func isJSON(path string) bool { return strings.HasSuffix(path, ".json") }

// body reads the attributes and blocks of a block's body into its owner.
// source is where the owner keeps its source, or nil.
func (r *reader) body(b *block, owner any, body *hclsyntax.Body, source *estate.Source) {
	var room [16]*hclsyntax.Attribute
	attrs := room[:0]
	for _, a := range body.Attributes {
		attrs = append(attrs, a)
	}
	// The parser keeps attributes in a map; they are read in the order written.
	slices.SortFunc(attrs, func(a, b *hclsyntax.Attribute) int { return a.NameRange.Start.Byte - b.NameRange.Start.Byte })
	if source != nil {
		source.Attrs = r.attrSpans(len(attrs))
	}
	for i, a := range attrs {
		line := b.index[a.Name]
		name := a.Name
		if line != nil {
			name = line.name
		} else if source != nil {
			name = r.intern(name)
		}
		if source != nil {
			source.Attrs[i] = estate.AttrSpan{Name: name, Value: span(a.Expr.Range())}
		}
		switch {
		case line != nil:
			r.attribute(owner, line, name, a.Expr)
		case b.other != nil:
			r.otherAttribute(b, owner, a)
		default:
			r.unknownAttribute(b, a)
		}
	}
	for _, in := range body.Blocks {
		kind := b.inner[in.Type]
		if kind == nil {
			r.unknownBlock(b, in)
			continue
		}
		r.block(kind, owner, in)
	}
}

// notParsed reports whether an expression stands for one that the parser could
// not read.
func notParsed(x hclsyntax.Expression) bool {
	l, ok := x.(*hclsyntax.LiteralValueExpr)
	return ok && !l.Val.IsKnown()
}

// attribute reads one attribute, at once where that needs no computing.
func (r *reader) attribute(owner any, line *attr, name string, x hclsyntax.Expression) {
	if line.raw {
		r.attr, r.attrName, r.owner = line, name, owner
		line.read(r, owner, x)
		return
	}
	if r.part.broken && notParsed(x) {
		return // reported as a mistake of syntax
	}
	if !ready(x) {
		r.part.deferred = append(r.part.deferred, deferred{owner: owner, attr: line, name: name, x: x, text: r.asWritten(x)})
		return
	}
	r.attr, r.attrName, r.owner = line, name, owner
	line.read(r, owner, x)
}

// otherAttribute reads an attribute that the block's table does not list.
func (r *reader) otherAttribute(b *block, owner any, a *hclsyntax.Attribute) {
	if !ready(a.Expr) && !b.otherRaw {
		r.part.deferred = append(r.part.deferred, deferred{owner: owner, name: r.intern(a.Name), x: a.Expr, text: r.asWritten(a.Expr), block: b, raw: a})
		return
	}
	r.attr, r.attrName = nil, r.intern(a.Name)
	b.other(r, owner, a)
}

// block reads one block into a new thing of its kind.
func (r *reader) block(kind *block, parent any, in *hclsyntax.Block) {
	if kind.rule && len(in.Labels) > 0 && in.Labels[0] == "language" {
		r.report(in.LabelRanges[0], "", "mistakes of the language are mended where they stand; take this block out")
		return
	}
	owner := kind.open(r, parent)
	if owner == nil {
		return
	}
	name, source := kind.head(owner)
	label, named := r.label(kind, in)
	if name != nil {
		*name = label
	}
	*source = estate.Source{
		File:  r.part.path,
		Name:  span(named),
		Block: estate.Span{Start: int32(in.TypeRange.Start.Byte), End: int32(in.CloseBraceRange.End.Byte)},
	}
	r.body(kind, owner, in.Body, source)
	// What a broken file seems to lack may stand where it could not be read.
	if !r.part.broken {
		for i := range kind.attrs {
			if a := &kind.attrs[i]; a.must && !source.Has(a.name) {
				r.lacks(kind, label, named, a)
			}
		}
	}
	if kind.done != nil {
		r.attr, r.attrName = nil, ""
		kind.done(r, owner, in)
	}
}

// lacks reports that a block needs an attribute it does not have.
func (r *reader) lacks(kind *block, label string, at hcl.Range, a *attr) {
	r.report(at, a.doc, "%s lacks %s; write %s = %s", title(kind.name, label), a.name, a.name, a.example)
}

// title names a block in a message: frame "cab-42", or blank.
func title(kind, label string) string {
	if label == "" {
		return kind
	}
	return kind + " \"" + clip(label) + "\""
}

// label gives the label of a block and the place of its name.
func (r *reader) label(kind *block, in *hclsyntax.Block) (string, hcl.Range) {
	if kind.label == "" {
		if len(in.Labels) > 0 {
			r.report(in.LabelRanges[0], "", "%s takes no name; write %s {", kind.name, kind.name)
		}
		return "", in.TypeRange
	}
	if len(in.Labels) == 0 {
		r.report(in.TypeRange, "", "%s needs a name; write %s \"%s\" {", kind.name, kind.name, kind.sampleLabel())
		return "", in.TypeRange
	}
	if len(in.Labels) > 1 {
		r.report(in.LabelRanges[1], "", "%s takes one name; take %q out", kind.name, clip(in.Labels[1]))
	}
	label := r.intern(in.Labels[0])
	at := in.LabelRanges[0]
	if kind.rule {
		if !RuleName(label) {
			r.report(at, "", "%q names no rule; a rule is written as in %s \"load/heavy-high\"", clip(label), kind.name)
		}
		return r.intern(text.Printable(label)), at
	}
	if !goodLabel(label) {
		r.report(at, "", "the name %q cannot be referred to; a name begins with a letter and has letters, digits, \"-\" and \"_\"%s", clip(label), suggestLabel(label))
		label = r.intern(text.Printable(label))
	}
	return label, at
}

func (b *block) sampleLabel() string {
	if b.rule {
		return "load/heavy-high"
	}
	return strings.ReplaceAll(b.name, "_", "-") + "-1"
}

// goodLabel reports whether a label can stand in a reference.
func goodLabel(s string) bool {
	if plainLabel(s) {
		return true // HCL's own test runs its scanner
	}
	return hclsyntax.ValidIdentifier(s) && s[0] != '_' && s[0] != '-'
}

// plainLabel reports whether s is a label of ASCII letters, digits, - and _.
func plainLabel(s string) bool {
	for i := range len(s) {
		c := s[i]
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		if !letter && (i == 0 || c != '-' && c != '_' && (c < '0' || c > '9')) {
			return false
		}
	}
	return s != ""
}

// suggestLabel gives the nearest label that can stand in a reference, as the
// end of a message.
func suggestLabel(s string) string {
	if t := Label(s); t != "" {
		return "; write \"" + clip(t) + "\""
	}
	return ""
}

// RuleName reports whether s has the form of a rule's identifier. What has not
// is a mistake that [Load] reports.
func RuleName(s string) bool {
	group, name, ok := strings.Cut(s, "/")
	return ok && goodLabel(group) && goodLabel(name)
}

// unknownAttribute reports an attribute that its block does not have.
func (r *reader) unknownAttribute(b *block, a *hclsyntax.Attribute) {
	switch {
	case b.inner[a.Name] != nil:
		in := b.inner[a.Name]
		r.report(a.NameRange, "", "%s is a block; write %s", a.Name, in.opening())
	case b == root:
		r.report(a.NameRange, "", "%s = ... stands in no block; put it into the block it belongs to%s", clip(a.Name), perhaps(a.Name, b.blockNames()))
	default:
		n := perhaps(a.Name, append(b.attrNames(), b.blockNames()...))
		detail := ""
		if n == "" {
			n = elsewhere(b, a.Name)
		}
		if n == "" {
			detail = b.name + " has " + listed(b.attrNames())
		}
		r.report(a.NameRange, detail, "%s has no attribute %s%s", b.name, clip(a.Name), n)
	}
}

// elsewhere says which blocks have an attribute of that name, where its own has
// not, or gives "". Figures of a kind of thing are often written with the thing.
func elsewhere(b *block, name string) string {
	var has []string
	for _, other := range root.blocks {
		if other != b && other.index[name] != nil {
			has = append(has, other.name)
		}
	}
	switch {
	case len(has) == 0 || len(has) > 3:
		return ""
	case b.name == "mount" && slices.Contains(has, "equipment"):
		return "; it belongs to the equipment"
	}
	return "; it belongs to " + choice(has)
}

// opening shows how a block begins.
func (b *block) opening() string {
	if b.label == "" {
		return b.name + " { ... }"
	}
	return b.name + " \"" + b.sampleLabel() + "\" { ... }"
}

// unknownBlock reports a block that does not belong where it stands.
func (r *reader) unknownBlock(b *block, in *hclsyntax.Block) {
	where := "at the top of a file"
	if b != root {
		where = "in " + b.name
	}
	if a := b.index[in.Type]; a != nil {
		r.report(in.TypeRange, "", "%s is an attribute of %s; write %s = %s", in.Type, b.name, in.Type, a.example)
		return
	}
	if places := parents(in.Type); len(places) > 0 {
		r.report(in.TypeRange, "", "%s does not stand %s; it belongs into %s", in.Type, where, choice(places))
		return
	}
	if root.inner[in.Type] != nil {
		r.report(in.TypeRange, "", "%s does not stand %s; it belongs at the top of a file", in.Type, where)
		return
	}
	known := append(b.blockNames(), b.attrNames()...)
	n := perhaps(in.Type, known)
	detail := ""
	if n == "" && len(b.blocks) > 0 {
		detail = "here may stand " + listed(b.blockNames())
	}
	r.report(in.TypeRange, detail, "there is no block %s %s%s", clip(in.Type), where, n)
}

// span slabs: many small slices are cut from few large ones.

func (r *reader) attrSpans(n int) []estate.AttrSpan {
	if n == 0 {
		return nil
	}
	if len(r.attrs) < n {
		r.attrs = make([]estate.AttrSpan, max(1024, n))
	}
	s := r.attrs[:n:n]
	r.attrs = r.attrs[n:]
	return s
}

func (r *reader) spanSlice(n int) []estate.Span {
	if len(r.spans) < n {
		r.spans = make([]estate.Span, max(1024, n))
	}
	s := r.spans[:n:n]
	r.spans = r.spans[n:]
	return s
}

func (r *reader) newMount() *estate.Mount {
	if len(r.mounts) == 0 {
		r.mounts = make([]estate.Mount, 64)
	}
	m := &r.mounts[0]
	r.mounts = r.mounts[1:]
	return m
}
