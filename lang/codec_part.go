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
	const form = "parts with what they declare and are tied to at their head, summed; outlines of folders\n"
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
	r.skim()
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
	sort  skimSort
	racks []string // its racks, where it declares racks alone: "rack.hq-a"
	ties  []string // what they share with other racks, as written: "feed.a", "row.hq-1"
	names []string // what it declares, where that is supplies alone: "feed.a"
	refs  []string // supplies that it refers to, where it declares anything but racks
}

func (s *skim) onlyRacks() bool { return s.sort == racksAlone }

// A skimSort says what a part declares.
type skimSort uint8

const (
	untold       skimSort = iota // nobody knows
	otherThings                  // anything at all
	racksAlone                   // racks and nothing else
	suppliesOnly                 // rooms, rows and what carries current, and nothing else
)

// suppliesOf gives what a part declares that others refer to by place or feed,
// by the word of the references. Things of these kinds matter only to those who
// refer to them.
func suppliesOf(e *estate.Estate) map[string]any {
	return map[string]any{"room": e.Rooms, "row": e.Rows, "feed": e.Feeds, "breaker": e.Breakers, "source": e.PowerSources}
}

// supplyKinds are the words of references to supplies.
var supplyKinds = []string{"room", "row", "feed", "breaker", "source"}

// skim writes what can be told of the part at its head, with a sum of its own.
func (w *partWriter) skim(p *part) {
	s := skimOf(p)
	w.uint(uint64(s.sort))
	for _, names := range [][]string{s.racks, s.ties, s.names, s.refs} {
		w.texts(names)
	}
	w.out = binary.LittleEndian.AppendUint32(w.out, crc32.Checksum(w.out, castagnoli))
}

func (r *partReader) skim() skim {
	all := r.in
	s := skim{sort: skimSort(r.uint())}
	for _, names := range []*[]string{&s.racks, &s.ties, &s.names, &s.refs} {
		*names = r.texts(nil)
	}
	head := all[:len(all)-len(r.in)]
	if len(r.in) < 4 || binary.LittleEndian.Uint32(r.in) != crc32.Checksum(head, castagnoli) {
		r.fail()
		return skim{}
	}
	r.in = r.in[4:]
	return s
}

func (w *partWriter) texts(all []string) {
	w.uint(uint64(len(all)))
	for _, s := range all {
		w.text(s)
	}
}

// texts appends texts to into, which may be nil.
func (r *partReader) texts(into []string) []string {
	n := r.count()
	if n > 0 {
		into = slices.Grow(into, n)
	}
	for range n {
		into = append(into, r.text())
	}
	return into
}

// skimPart reads the head of a part, which has a sum of its own: the rest need
// not be looked at.
func skimPart(data []byte) skim {
	r := partReader{in: data}
	s := r.skim()
	if r.bad {
		return skim{}
	}
	return s
}

// skimOf tells what is at the head of a part.
func skimOf(p *part) skim {
	if onlyRacks(p) {
		s := skim{sort: racksAlone, ties: tiesOfRacks(p)}
		for _, r := range p.estate.Racks {
			s.racks = append(s.racks, r.Ref())
		}
		return s
	}
	s := skim{sort: otherThings}
	seen := map[string]bool{}
	refer := func(name string) {
		if !seen[name] {
			seen[name] = true
			s.refs = append(s.refs, name)
		}
	}
	for i := range p.links {
		if l := p.links[i].list; slices.Contains(supplyKinds, l.kind) {
			for _, name := range l.names {
				refer(name)
			}
		}
	}
	for _, f := range p.estate.Feeds {
		if f.Origin != "" {
			refer("source." + f.Origin) // named as a text
		}
	}
	if onlySupplies(p) {
		s.sort = suppliesOnly
		supplies := suppliesOf(&p.estate)
		for _, kind := range supplyKinds {
			things := reflect.ValueOf(supplies[kind])
			for i := range things.Len() {
				s.names = append(s.names, kind+"."+things.Index(i).Elem().FieldByName("Name").String())
			}
		}
	}
	return s
}

// onlySupplies reports whether a part declares rooms, rows and what carries
// current, and nothing else, each with its figures written out.
func onlySupplies(p *part) bool {
	if p.headers+len(p.givens)+len(p.deferred)+len(p.stacks) > 0 {
		return false
	}
	supplies := suppliesOf(&p.estate)
	types := map[reflect.Type]bool{}
	some := false
	for _, things := range supplies {
		types[reflect.TypeOf(things)] = true
		some = some || reflect.ValueOf(things).Len() > 0
	}
	v := reflect.ValueOf(&p.estate).Elem()
	for i := range v.NumField() {
		if f := v.Field(i); !types[f.Type()] && !f.IsZero() {
			return false
		}
	}
	return some
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
