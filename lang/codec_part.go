package lang

import (
	"crypto/sha256"
	"encoding/binary"
	"hash/crc32"
	"reflect"
	"slices"
	"unsafe"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"cagenut/lang/estate"
)

// codecVersion names the form in which parts are written. Any change of the
// model or of the language changes it.
func codecVersion() [sha256.Size]byte {
	const form = "parts with racks and their ties at their head, summed; outlines of folders\n"
	return sha256.Sum256(append([]byte(form), codecs().shape...))
}

// keepable reports whether all of a part can be written. A file with mistakes
// is read again each time.
func (p *part) keepable() bool { return len(p.diags) == 0 && !p.broken }

// A keptExpr is an expression that waits for figures of other files, or is such
// a figure: its text, as a syntax tree has too many forms to be written.
type keptExpr struct {
	owner      any // nil for a figure
	attr       *attr
	other      string // the block whose other reads it
	name       string
	nameAt, at estate.Span
	text       string
}

// expressions gives what waits in a part, figures first. It reports false where
// the text of one is not known, or does not stand for itself.
func (p *part) expressions() ([]keptExpr, bool) {
	if len(p.givens)+len(p.deferred) == 0 {
		return nil, true
	}
	var all []keptExpr
	for i := range p.givens {
		g := &p.givens[i]
		all = append(all, keptExpr{name: g.name, at: span(g.at), text: g.text})
	}
	for i := range p.deferred {
		d := &p.deferred[i]
		k := keptExpr{owner: d.owner, attr: d.attr, name: d.name, at: span(d.x.Range()), text: d.text}
		if d.block != nil {
			k.other, k.nameAt = d.block.name, span(d.raw.NameRange)
		}
		all = append(all, k)
	}
	for i := range all {
		if all[i].parse(p.path) == nil {
			return nil, false
		}
	}
	return all, true
}

// parse gives the expression again, or nil.
func (k *keptExpr) parse(path string) hclsyntax.Expression {
	if k.text == "" {
		return nil
	}
	x, diags := hclsyntax.ParseExpression([]byte(k.text), path, hcl.Pos{Line: 1, Column: 1, Byte: int(k.at.Start)})
	if diags.HasErrors() {
		return nil
	}
	return x
}

// wait puts expressions back into a part. It reports false where one means
// nothing.
func (p *part) wait(all []keptExpr) bool {
	for i := range all {
		k := &all[i]
		x := k.parse(p.path)
		if x == nil {
			return false
		}
		if k.owner == nil {
			p.givens = append(p.givens, givenExpr{part: p, name: k.name, at: x.Range(), x: x, text: k.text})
			continue
		}
		d := deferred{owner: k.owner, attr: k.attr, name: k.name, x: x, text: k.text}
		if k.other != "" {
			if d.block = blockNamed(k.other); d.block == nil || d.block.other == nil {
				return false
			}
			d.raw = &hclsyntax.Attribute{Name: k.name, Expr: x, NameRange: hcl.Range{
				Start: hcl.Pos{Byte: int(k.nameAt.Start)}, End: hcl.Pos{Byte: int(k.nameAt.End)},
			}}
		} else if d.attr == nil {
			return false
		}
		p.deferred = append(p.deferred, d)
	}
	return true
}

// newPartWriter makes a writer of parts; a worker has one.
func newPartWriter() *partWriter {
	return &partWriter{seen: map[unsafe.Pointer]int{}, lists: map[*refList]int{}}
}

// part gives a part as bytes of its own. It reports false where the part
// cannot be kept.
func (w *partWriter) part(p *part) ([]byte, bool) {
	if !p.keepable() {
		return nil, false
	}
	waiting, ok := p.expressions()
	if !ok {
		return nil, false
	}
	pl := codecs()
	w.out, w.path, w.last, w.bad = w.out[:0], p.path, 0, false
	clear(w.seen)
	clear(w.lists)
	w.skim(p)
	w.uint(uint64(p.headers))
	w.uint(uint64(p.size))
	pl.plans[reflect.TypeFor[estate.Estate]()].put(w, unsafe.Pointer(&p.estate))
	pl.plans[reflect.TypeFor[[]*stack]()].put(w, unsafe.Pointer(&p.stacks))
	pl.plans[reflect.TypeFor[[]link]()].put(w, unsafe.Pointer(&p.links))
	pl.plans[reflect.TypeFor[[]keptExpr]()].put(w, unsafe.Pointer(&waiting))
	if w.bad {
		return nil, false
	}
	return slices.Clone(w.out), true
}

// A keptReader reads parts from bytes; a worker has one.
type keptReader struct {
	r       partReader
	estate  *typePlan
	stacks  *typePlan
	linking *typePlan
	waiting *typePlan
}

func newKeptReader(own *reader) *keptReader {
	pl := codecs()
	return &keptReader{
		r:       partReader{own: own, slabs: map[reflect.Type]*slab{}},
		estate:  pl.plans[reflect.TypeFor[estate.Estate]()],
		stacks:  pl.plans[reflect.TypeFor[[]*stack]()],
		linking: pl.plans[reflect.TypeFor[[]link]()],
		waiting: pl.plans[reflect.TypeFor[[]keptExpr]()],
	}
}

// part reads a part that a partWriter wrote, for the file at path. The bytes
// must not change afterwards. It gives nil where they do not hold a part.
func (k *keptReader) part(path string, data []byte) *part {
	r := &k.r
	r.in, r.path, r.last, r.bad = data, path, 0, false
	r.objects, r.lists = r.objects[:0], r.lists[:0]
	if _, ok := r.skim(); !ok && r.bad {
		return nil
	}
	p := &part{path: path}
	p.headers = int(r.uint())
	p.size = int(r.uint())
	k.estate.get(r, unsafe.Pointer(&p.estate))
	k.stacks.get(r, unsafe.Pointer(&p.stacks))
	k.linking.get(r, unsafe.Pointer(&p.links))
	var waiting []keptExpr
	k.waiting.get(r, unsafe.Pointer(&waiting))
	if r.bad || len(r.in) != 0 || !p.wait(waiting) {
		return nil
	}
	return p
}

// A skim is what can be told of a part without reading it.
type skim struct {
	onlyRacks bool     // it declares racks and nothing else
	racks     []string // its racks: "rack.hq-a"
	ties      []string // what they share with other racks, as written: "feed.a", "row.hq-1"
}

// skim writes what can be told of the part at its head.
func (w *partWriter) skim(p *part) {
	if !onlyRacks(p) {
		w.uint(0)
		return
	}
	w.uint(1)
	w.uint(uint64(len(p.estate.Racks)))
	for _, r := range p.estate.Racks {
		w.text(r.Ref())
	}
	ties := tiesOfRacks(p)
	w.uint(uint64(len(ties)))
	for _, name := range ties {
		w.text(name)
	}
	w.out = binary.LittleEndian.AppendUint32(w.out, crc32.Checksum(w.out, castagnoli))
}

func (r *partReader) skim() (skim, bool) {
	all := r.in
	if r.uint() != 1 {
		return skim{}, false
	}
	s := skim{onlyRacks: true}
	if n := r.count(); n > 0 {
		s.racks = make([]string, n)
		for i := range s.racks {
			s.racks[i] = r.text()
		}
	}
	if n := r.count(); n > 0 {
		s.ties = make([]string, n)
		for i := range s.ties {
			s.ties[i] = r.text()
		}
	}
	head := all[:len(all)-len(r.in)]
	if len(r.in) < 4 || binary.LittleEndian.Uint32(r.in) != crc32.Checksum(head, castagnoli) {
		r.fail()
		return skim{}, false
	}
	r.in = r.in[4:]
	return s, true
}

// skimPart reads the head of a part, which has a sum of its own: the rest need
// not be looked at.
func skimPart(data []byte) skim {
	r := partReader{in: data}
	s, _ := r.skim()
	if r.bad {
		return skim{}
	}
	return s
}

// onlyRacks reports whether a part declares racks and nothing else.
func onlyRacks(p *part) bool {
	if p.headers > 0 || len(p.estate.Racks) == 0 || len(p.givens) > 0 {
		return false
	}
	v := reflect.ValueOf(&p.estate).Elem()
	for i := range v.NumField() {
		switch f := v.Field(i); {
		case f.Type() == reflect.TypeFor[[]*estate.Rack]():
		case !f.IsZero():
			return false
		}
	}
	for i := range p.deferred {
		if p.deferred[i].name == "cords" {
			return false // where they lead is not known yet
		}
	}
	return true
}
