package lang

import (
	"sort"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
)

// A block is a kind of block of the language: what it is called, what may
// stand in it, and where in the model it goes.
type block struct {
	name    string
	label   string // what its label is, such as "NAME"; "" where it has none
	rule    bool   // the label names a rule, as in adjust "load/heavy-high"
	doc     string // one sentence
	example string // a whole block
	attrs   []attr
	blocks  []*block // what may stand inside

	// open makes the thing that the block declares and puts it into its parent,
	// which is the *estate.Estate for a block at the top of a file.
	open func(r *reader, parent any) any
	// head gives where the thing keeps its name (nil: nowhere) and its source.
	head func(owner any) (*string, *estate.Source)
	// all lists the things of this kind that may be referred to; nil where none.
	all func(e *estate.Estate, yield func(name string, thing any))
	// owner gives the name of a thing of this kind; false for other things.
	owner func(thing any) (string, bool)
	// done checks what concerns several attributes; nil for nothing.
	done func(r *reader, owner any, b *hclsyntax.Block)
	// other reads an attribute that has no line in attrs; nil: there are none.
	other    func(r *reader, owner any, a *hclsyntax.Attribute)
	otherRaw bool // other computes nothing
	// otherDoc says what other takes.
	otherDoc *AttributeDoc

	index map[string]*attr
	inner map[string]*block
}

// top makes a block that stands at the top of a file and is named by a label.
// list says where the model keeps such things, head where one keeps its name
// and its source.
func top[T any](name, doc string, list func(*estate.Estate) *[]*T, head func(*T) (*string, *estate.Source), attrs ...attr) *block {
	return &block{
		name: name, label: "NAME", doc: doc, attrs: attrs,
		open: in(list),
		head: func(owner any) (*string, *estate.Source) { return head(owner.(*T)) },
		all: func(e *estate.Estate, yield func(string, any)) {
			for _, t := range *list(e) {
				name, _ := head(t)
				yield(*name, t)
			}
		},
		owner: func(thing any) (string, bool) {
			t, ok := thing.(*T)
			if !ok {
				return "", false
			}
			name, _ := head(t)
			return *name, true
		},
	}
}

// in gives an open that appends a new T to a slice of its parent.
func in[P, T any](list func(*P) *[]*T) func(*reader, any) any {
	return func(_ *reader, parent any) any {
		t := new(T)
		all := list(parent.(*P))
		*all = append(*all, t)
		return t
	}
}

// with sets an example, the blocks that may stand inside, and a last check.
func (b *block) with(example string, done func(*reader, any, *hclsyntax.Block), inside ...*block) *block {
	b.example, b.done, b.blocks = example, done, inside
	return b
}

// root holds the blocks that may stand at the top of a file.
var root = &block{name: "file"}

// blockNamed finds a block at the top of a file.
func blockNamed(name string) *block { return root.inner[name] }

func init() {
	root.blocks = []*block{
		estateBlock, givenBlock,
		siteBlock, roomBlock, rowBlock, barBlock, routeBlock,
		frameBlock, equipmentBlock,
		sourceBlock, breakerBlock, feedBlock, rackBlock, layoutBlock, groupBlock, sequenceBlock,
		policyBlock, trialBlock, adjustBlock, waiveBlock,
		windowBlock, freezeBlock, paceBlock, benchBlock,
	}
	root.prepare()
}

// prepare makes the indexes of a block and of those inside it.
func (b *block) prepare() {
	if b.index != nil {
		return
	}
	b.index = make(map[string]*attr, len(b.attrs))
	for i := range b.attrs {
		b.index[b.attrs[i].name] = &b.attrs[i]
	}
	b.inner = make(map[string]*block, len(b.blocks))
	for _, in := range b.blocks {
		b.inner[in.name] = in
		in.prepare()
	}
}

// attrNames lists the names of a block's attributes.
func (b *block) attrNames() []string {
	names := make([]string, len(b.attrs))
	for i := range b.attrs {
		names[i] = b.attrs[i].name
	}
	return names
}

// blockNames lists the names of the blocks that may stand inside.
func (b *block) blockNames() []string {
	names := make([]string, len(b.blocks))
	for i, in := range b.blocks {
		names[i] = in.name
	}
	return names
}

// parents lists the blocks in which a block of that name may stand.
func parents(name string) []string {
	var out []string
	var walk func(b *block)
	walk = func(b *block) {
		for _, in := range b.blocks {
			if in.name == name && b != root {
				out = append(out, b.name)
			}
			walk(in)
		}
	}
	walk(root)
	sort.Strings(out)
	return out
}

// A BlockDoc describes a kind of block, for a language reference, completion
// and whatever else must know the language.
type BlockDoc struct {
	Name       string
	Label      string   // what its label is, such as "NAME"; "" where it has none
	In         []string // blocks in which it stands; none for the top of a file
	Doc        string   // one sentence
	Example    string   // HCL, a whole block; "" where another's example shows it
	Attributes []AttributeDoc
	Blocks     []string // what may stand inside
}

// An AttributeDoc describes an attribute.
type AttributeDoc struct {
	Name     string
	Kind     string   // what it takes: "length", "one of", "feed list", ...
	Words    []string // the words to choose from, where there are such
	Refers   string   // the kind of thing that it refers to, or ""
	Doc      string   // one sentence
	Example  string   // a value, as HCL
	Default  string   // what holds where it is not written, or ""
	Required bool
}

// Schema describes the whole language, block by block, outer ones first, in
// the order in which an estate is usually written.
func Schema() []BlockDoc {
	var out []BlockDoc
	seen := map[*block]bool{}
	var walk func(b *block)
	walk = func(b *block) {
		for _, in := range b.blocks {
			if seen[in] || inList(out, in) {
				continue
			}
			seen[in] = true
			out = append(out, in.describe())
			walk(in)
		}
	}
	walk(root)
	return out
}

// inList reports whether a block of the same name and attributes is described
// already: a mount is the same in a rack and in a layout.
func inList(docs []BlockDoc, b *block) bool {
	for i := range docs {
		if docs[i].Name == b.name {
			return true
		}
	}
	return false
}

func (b *block) describe() BlockDoc {
	d := BlockDoc{
		Name: b.name, Label: b.label, In: parents(b.name),
		Doc: b.doc, Example: b.example, Blocks: b.blockNames(),
	}
	for i := range b.attrs {
		a := &b.attrs[i]
		d.Attributes = append(d.Attributes, AttributeDoc{
			Name: a.name, Kind: a.kind, Words: a.words, Refers: a.refers,
			Doc: a.doc, Example: a.example, Default: a.usual, Required: a.must,
		})
	}
	if b.otherDoc != nil {
		d.Attributes = append(d.Attributes, *b.otherDoc)
	}
	return d
}
