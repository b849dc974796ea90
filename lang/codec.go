package lang

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sort"
	"sync"
	"unsafe"

	"cagenut/lang/estate"
	"cagenut/lang/system"
)

// The codec writes a part as flat bytes and reads it again. It exists because
// ten thousand racks must be read in less time than git takes to look at the
// files: a general format measured six times slower than one that knows the
// types. How a type is written follows from the type itself, so a new field of
// the model needs no line here, and whatever changes the types changes
// [codecVersion], so that old bytes are never read as new ones.
//
// The form: numbers as varints; a struct as a mask of the fields that are not
// zero, and those; texts with their length in front; a thing behind a pointer
// where it is met first, and by its number afterwards; spans relative to the
// one before.

// A typePlan writes and reads the values of one type.
type typePlan struct {
	put func(w *partWriter, p unsafe.Pointer)
	get func(r *partReader, p unsafe.Pointer)
}

// A partWriter appends one part to out.
type partWriter struct {
	out  []byte
	path string
	last int32 // end of the last span
	seen map[unsafe.Pointer]int
	// lists are the reference lists met so far.
	lists map[*refList]int
	bad   bool // the part holds something that cannot be kept
}

// A partReader reads parts from in. Texts share its memory.
type partReader struct {
	in      []byte
	path    string
	last    int32
	objects []unsafe.Pointer
	lists   []*refList
	own     *reader // whose names and lists are shared
	slabs   map[reflect.Type]*slab
	bad     bool
}

// A slab hands out zeroed values of one type. It takes more memory at a time
// the more it was asked for: a difference reads a few racks, and a check all.
type slab struct {
	typ   reflect.Type
	next  unsafe.Pointer
	size  uintptr
	left  int
	bytes int // to take next
}

// How many bytes a slab takes at first, and at most.
const (
	firstSlab = 512
	mostSlab  = 8192
)

// take gives memory for n values in a row, zeroed.
func (s *slab) take(n int) unsafe.Pointer {
	if s.left < n {
		s.bytes = min(max(2*s.bytes, firstSlab), mostSlab)
		s.left = max(n, 1+(s.bytes-1)/int(s.size))
		s.next = reflect.MakeSlice(reflect.SliceOf(s.typ), s.left, s.left).UnsafePointer()
	}
	p := s.next
	s.left -= n
	if s.left > 0 {
		s.next = unsafe.Add(s.next, uintptr(n)*s.size)
	}
	return p
}

func (r *partReader) slab(t reflect.Type) *slab {
	s := r.slabs[t]
	if s == nil {
		s = &slab{typ: t, size: t.Size()}
		r.slabs[t] = s
	}
	return s
}

// The form of a slice and of a text in memory.
type sliceForm struct {
	data     unsafe.Pointer
	len, cap int
}

func (w *partWriter) uint(n uint64) { w.out = binary.AppendUvarint(w.out, n) }
func (w *partWriter) int(n int64)   { w.out = binary.AppendVarint(w.out, n) }

func (r *partReader) uint() uint64 {
	// Most numbers have one byte.
	if len(r.in) > 0 && r.in[0] < 0x80 {
		n := r.in[0]
		r.in = r.in[1:]
		return uint64(n)
	}
	n, size := binary.Uvarint(r.in)
	if size <= 0 {
		r.fail()
		return 0
	}
	r.in = r.in[size:]
	return n
}

func (r *partReader) int() int64 {
	u := r.uint()
	return int64(u>>1) ^ -int64(u&1)
}

// count reads how many things follow, each of at least one byte.
func (r *partReader) count() int {
	n := r.uint()
	if n > uint64(len(r.in)) {
		r.fail()
		return 0
	}
	return int(n)
}

// fail makes the part one that is read from its text instead.
func (r *partReader) fail() { r.bad, r.in = true, nil }

func (w *partWriter) text(s string) {
	switch s {
	case "":
		w.uint(0)
	case w.path:
		w.uint(1)
	default:
		w.uint(uint64(len(s)) + 2)
		w.out = append(w.out, s...)
	}
}

func (r *partReader) text() string {
	switch n := r.uint(); {
	case n == 0:
		return ""
	case n == 1:
		return r.path
	case n-2 > uint64(len(r.in)):
		r.fail()
		return ""
	default:
		s := unsafe.String(unsafe.SliceData(r.in), int(n-2))
		r.in = r.in[n-2:]
		return s
	}
}

func (w *partWriter) span(s estate.Span) {
	w.int(int64(s.Start - w.last))
	w.int(int64(s.End - s.Start))
	w.last = s.End
}

func (r *partReader) span() estate.Span {
	start := r.last + int32(r.int())
	end := start + int32(r.int())
	r.last = end
	return estate.Span{Start: start, End: end}
}

// zero reports whether memory holds only zeros, which is every type's zero
// value.
func zero(p unsafe.Pointer, size uintptr) bool {
	b := unsafe.Slice((*byte)(p), size)
	for len(b) >= 8 {
		if binary.NativeEndian.Uint64(b) != 0 {
			return false
		}
		b = b[8:]
	}
	for _, c := range b {
		if c != 0 {
			return false
		}
	}
	return true
}

// A planner makes the plans of types, once each.
type planner struct {
	plans map[reflect.Type]*typePlan
	ids   map[reflect.Type]int // types of things behind pointers, as "any" names them
	types []reflect.Type
	attrs map[*attr]int
	list  []*attr
	names map[string]int // names of attributes
	words []string
	shape []byte // what codecVersion is made of
}

var codecs = sync.OnceValue(func() *planner {
	pl := &planner{plans: map[reflect.Type]*typePlan{}, ids: map[reflect.Type]int{}, attrs: map[*attr]int{}, names: map[string]int{}}
	pl.tables(root, map[*block]bool{})
	pl.plan(reflect.TypeFor[estate.Estate]())
	pl.plan(reflect.TypeFor[[]*stack]())
	pl.plan(reflect.TypeFor[[]link]())
	pl.plan(reflect.TypeFor[[]keptExpr]())
	return pl
})

// tables numbers the attributes of the language and their names.
func (pl *planner) tables(b *block, seen map[*block]bool) {
	if seen[b] {
		return
	}
	seen[b] = true
	pl.shape = fmt.Appendf(pl.shape, "block %s\n", b.name)
	for i := range b.attrs {
		a := &b.attrs[i]
		if _, ok := pl.attrs[a]; ok {
			continue
		}
		pl.attrs[a] = len(pl.list)
		pl.list = append(pl.list, a)
		if _, ok := pl.names[a.name]; !ok {
			pl.names[a.name] = len(pl.words)
			pl.words = append(pl.words, a.name)
		}
		pl.shape = fmt.Appendf(pl.shape, "%s %s\n", a.name, a.kind)
	}
	for _, in := range b.blocks {
		pl.tables(in, seen)
	}
}

func (pl *planner) plan(t reflect.Type) *typePlan {
	if p := pl.plans[t]; p != nil {
		return p
	}
	p := &typePlan{}
	pl.plans[t] = p
	pl.shape = fmt.Appendf(pl.shape, "type %s %s %d\n", t, t.Kind(), t.Size())
	switch t {
	case reflect.TypeFor[estate.Span]():
		p.put = func(w *partWriter, x unsafe.Pointer) { w.span(*(*estate.Span)(x)) }
		p.get = func(r *partReader, x unsafe.Pointer) { *(*estate.Span)(x) = r.span() }
		return p
	case reflect.TypeFor[estate.AttrSpan]():
		pl.attrSpan(p)
		return p
	case reflect.TypeFor[*system.System]():
		p.put = func(w *partWriter, x unsafe.Pointer) { w.text((*(**system.System)(x)).Name) }
		p.get = func(r *partReader, x unsafe.Pointer) {
			s, ok := system.ByName(r.text())
			if !ok {
				r.fail()
			}
			*(**system.System)(x) = s
		}
		return p
	case reflect.TypeFor[*attr]():
		p.put = func(w *partWriter, x unsafe.Pointer) { w.uint(uint64(pl.attrs[*(**attr)(x)])) }
		p.get = func(r *partReader, x unsafe.Pointer) {
			if n := r.uint(); n < uint64(len(pl.list)) {
				*(**attr)(x) = pl.list[n]
			} else {
				r.fail()
			}
		}
		return p
	case reflect.TypeFor[*refList]():
		p.put, p.get = putList, getList
		return p
	}
	switch t.Kind() {
	case reflect.Bool, reflect.Uint8:
		p.put = func(w *partWriter, x unsafe.Pointer) { w.out = append(w.out, *(*uint8)(x)) }
		p.get = func(r *partReader, x unsafe.Pointer) {
			if len(r.in) == 0 {
				r.fail()
				return
			}
			*(*uint8)(x) = r.in[0]
			r.in = r.in[1:]
		}
	case reflect.Int, reflect.Int64:
		p.put = func(w *partWriter, x unsafe.Pointer) { w.int(*(*int64)(x)) }
		p.get = func(r *partReader, x unsafe.Pointer) { *(*int64)(x) = r.int() }
	case reflect.Int32:
		p.put = func(w *partWriter, x unsafe.Pointer) { w.int(int64(*(*int32)(x))) }
		p.get = func(r *partReader, x unsafe.Pointer) { *(*int32)(x) = int32(r.int()) }
	case reflect.Int16:
		p.put = func(w *partWriter, x unsafe.Pointer) { w.int(int64(*(*int16)(x))) }
		p.get = func(r *partReader, x unsafe.Pointer) { *(*int16)(x) = int16(r.int()) }
	case reflect.Float64:
		p.put = func(w *partWriter, x unsafe.Pointer) {
			w.out = binary.LittleEndian.AppendUint64(w.out, math.Float64bits(*(*float64)(x)))
		}
		p.get = func(r *partReader, x unsafe.Pointer) {
			if len(r.in) < 8 {
				r.fail()
				return
			}
			*(*float64)(x) = math.Float64frombits(binary.LittleEndian.Uint64(r.in))
			r.in = r.in[8:]
		}
	case reflect.String:
		p.put = func(w *partWriter, x unsafe.Pointer) { w.text(*(*string)(x)) }
		p.get = func(r *partReader, x unsafe.Pointer) { *(*string)(x) = r.text() }
	case reflect.Struct:
		pl.structure(p, t)
	case reflect.Slice:
		pl.slice(p, t)
	case reflect.Pointer:
		pl.pointer(p, t)
	case reflect.Map:
		pl.table(p, t)
	case reflect.Interface:
		p.put, p.get = pl.putAny, pl.getAny
	default:
		p.put = func(w *partWriter, _ unsafe.Pointer) { w.bad = true }
		p.get = func(r *partReader, _ unsafe.Pointer) { r.fail() }
	}
	return p
}

// attrSpan writes the place of an attribute, its name by number where the
// language has it.
func (pl *planner) attrSpan(p *typePlan) {
	p.put = func(w *partWriter, x unsafe.Pointer) {
		a := (*estate.AttrSpan)(x)
		if n, ok := pl.names[a.Name]; ok {
			w.uint(uint64(n) + 1)
		} else {
			w.uint(0)
			w.text(a.Name)
		}
		w.span(a.Value)
	}
	p.get = func(r *partReader, x unsafe.Pointer) {
		a := (*estate.AttrSpan)(x)
		switch n := r.uint(); {
		case n == 0:
			a.Name = r.text()
		case n <= uint64(len(pl.words)):
			a.Name = pl.words[n-1]
		default:
			r.fail()
		}
		a.Value = r.span()
	}
}

// structure writes a struct as a mask of its fields that are not zero.
func (pl *planner) structure(p *typePlan, t reflect.Type) {
	type field struct {
		plan         *typePlan
		offset, size uintptr
	}
	fields := make([]field, t.NumField())
	for i := range fields {
		f := t.Field(i)
		pl.shape = fmt.Appendf(pl.shape, ".%s ", f.Name)
		fields[i] = field{pl.plan(f.Type), f.Offset, f.Type.Size()}
	}
	if len(fields) > 64 {
		panic("lang: a struct of the model has more than 64 fields")
	}
	p.put = func(w *partWriter, x unsafe.Pointer) {
		mask := uint64(0)
		for i := range fields {
			if f := &fields[i]; !zero(unsafe.Add(x, f.offset), f.size) {
				mask |= 1 << i
			}
		}
		w.uint(mask)
		for i := range fields {
			if mask&(1<<i) != 0 {
				fields[i].plan.put(w, unsafe.Add(x, fields[i].offset))
			}
		}
	}
	p.get = func(r *partReader, x unsafe.Pointer) {
		mask := r.uint()
		for i := 0; mask != 0; i++ {
			if mask&1 != 0 {
				if i >= len(fields) {
					r.fail()
					return
				}
				fields[i].plan.get(r, unsafe.Add(x, fields[i].offset))
			}
			mask >>= 1
		}
	}
}

func (pl *planner) slice(p *typePlan, t reflect.Type) {
	elem := pl.plan(t.Elem())
	size := t.Elem().Size()
	p.put = func(w *partWriter, x unsafe.Pointer) {
		s := (*sliceForm)(x)
		w.uint(uint64(s.len))
		for i := range s.len {
			elem.put(w, unsafe.Add(s.data, uintptr(i)*size))
		}
	}
	p.get = func(r *partReader, x unsafe.Pointer) {
		n := r.count()
		if n == 0 {
			return
		}
		data := r.slab(t.Elem()).take(n)
		for i := range n {
			elem.get(r, unsafe.Add(data, uintptr(i)*size))
		}
		*(*sliceForm)(x) = sliceForm{data, n, n}
	}
}

// pointer writes what a pointer leads to where it is met first.
func (pl *planner) pointer(p *typePlan, t reflect.Type) {
	to := t.Elem()
	if _, ok := pl.ids[t]; !ok {
		pl.ids[t] = len(pl.types)
		pl.types = append(pl.types, t)
	}
	elem := pl.plan(to)
	p.put = func(w *partWriter, x unsafe.Pointer) {
		at := *(*unsafe.Pointer)(x)
		if at == nil {
			w.uint(0)
			return
		}
		if n, ok := w.seen[at]; ok {
			w.uint(uint64(n) + 2)
			return
		}
		w.seen[at] = len(w.seen)
		w.uint(1)
		elem.put(w, at)
	}
	p.get = func(r *partReader, x unsafe.Pointer) {
		switch n := r.uint(); {
		case n == 0:
		case n == 1:
			at := r.slab(to).take(1)
			r.objects = append(r.objects, at)
			*(*unsafe.Pointer)(x) = at
			elem.get(r, at)
		case n-2 < uint64(len(r.objects)):
			*(*unsafe.Pointer)(x) = r.objects[n-2]
		default:
			r.fail()
		}
	}
}

// table writes a map by its keys in order. Few things have maps, so this goes
// the slow way.
func (pl *planner) table(p *typePlan, t reflect.Type) {
	if t.Key().Kind() != reflect.String {
		p.put = func(w *partWriter, _ unsafe.Pointer) { w.bad = true }
		p.get = func(r *partReader, _ unsafe.Pointer) { r.fail() }
		return
	}
	elem := pl.plan(t.Elem())
	p.put = func(w *partWriter, x unsafe.Pointer) {
		m := reflect.NewAt(t, x).Elem()
		keys := m.MapKeys()
		sort.Slice(keys, func(i, j int) bool { return keys[i].String() < keys[j].String() })
		w.uint(uint64(len(keys)))
		for _, k := range keys {
			w.text(k.String())
			v := reflect.New(t.Elem())
			v.Elem().Set(m.MapIndex(k))
			elem.put(w, v.UnsafePointer())
		}
	}
	p.get = func(r *partReader, x unsafe.Pointer) {
		n := r.count()
		m := reflect.MakeMapWithSize(t, n)
		for range n {
			k := reflect.New(t.Key()).Elem()
			k.SetString(r.text())
			v := reflect.New(t.Elem())
			elem.get(r, v.UnsafePointer())
			m.SetMapIndex(k, v.Elem())
		}
		reflect.NewAt(t, x).Elem().Set(m)
	}
}

// putAny writes a pointer whose type is not known beforehand.
func (pl *planner) putAny(w *partWriter, x unsafe.Pointer) {
	v := *(*any)(x)
	if v == nil {
		w.uint(0)
		return
	}
	t := reflect.TypeOf(v)
	id, ok := pl.ids[t]
	if !ok {
		w.bad = true
		return
	}
	w.uint(uint64(id) + 1)
	at := reflect.ValueOf(v).UnsafePointer()
	pl.plans[t].put(w, unsafe.Pointer(&at))
}

func (pl *planner) getAny(r *partReader, x unsafe.Pointer) {
	n := r.uint()
	if n == 0 {
		return
	}
	if n > uint64(len(pl.types)) {
		r.fail()
		return
	}
	t := pl.types[n-1]
	var at unsafe.Pointer
	pl.plans[t].get(r, unsafe.Pointer(&at))
	switch t { // the kinds that thousands of links belong to
	case reflect.TypeFor[*estate.Mount]():
		*(*any)(x) = (*estate.Mount)(at)
	default:
		*(*any)(x) = reflect.NewAt(t.Elem(), at).Interface()
	}
}

// putList writes a list of references, whole where it is met first.
func putList(w *partWriter, x unsafe.Pointer) {
	l := *(**refList)(x)
	if l == nil {
		w.uint(0)
		return
	}
	if n, ok := w.lists[l]; ok {
		w.uint(uint64(n) + 2)
		return
	}
	w.lists[l] = len(w.lists)
	w.uint(1)
	w.text(l.kind)
	w.uint(uint64(len(l.names)))
	for _, name := range l.names {
		w.text(name)
	}
}

func getList(r *partReader, x unsafe.Pointer) {
	var l *refList
	switch n := r.uint(); {
	case n == 0:
		return
	case n == 1:
		kind := r.text()
		key := append(r.own.scratch[:0], kind...)
		names := make([]string, 0, 2)
		for range r.count() {
			name := r.text()
			names = append(names, name)
			key = append(append(key, ' '), name...)
		}
		r.own.scratch = key
		if l = r.own.lists[string(key)]; l == nil {
			l = &refList{kind: kind, names: slices.Clone(names)}
			r.own.lists[string(key)] = l
		}
		r.lists = append(r.lists, l)
	case n-2 < uint64(len(r.lists)):
		l = r.lists[n-2]
	default:
		r.fail()
	}
	*(**refList)(x) = l
}
