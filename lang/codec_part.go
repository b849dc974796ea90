package lang

import (
	"crypto/sha256"
	"reflect"
	"slices"
	"unsafe"

	"cagenut/lang/estate"
)

// codecVersion names the form in which parts are written. Any change of the
// model or of the language changes it.
func codecVersion() [sha256.Size]byte { return sha256.Sum256(codecs().shape) }

// keepable reports whether all of a part can be written: what waits for
// figures of other files holds syntax trees, and a file with mistakes is read
// again each time.
func (p *part) keepable() bool {
	return len(p.deferred) == 0 && len(p.givens) == 0 && len(p.diags) == 0 && !p.broken
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
	pl := codecs()
	w.out, w.path, w.last, w.bad = w.out[:0], p.path, 0, false
	clear(w.seen)
	clear(w.lists)
	w.uint(uint64(p.headers))
	pl.plans[reflect.TypeFor[estate.Estate]()].put(w, unsafe.Pointer(&p.estate))
	pl.plans[reflect.TypeFor[[]*stack]()].put(w, unsafe.Pointer(&p.stacks))
	pl.plans[reflect.TypeFor[[]link]()].put(w, unsafe.Pointer(&p.links))
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
}

func newKeptReader(own *reader) *keptReader {
	pl := codecs()
	return &keptReader{
		r:       partReader{own: own, slabs: map[reflect.Type]*slab{}},
		estate:  pl.plans[reflect.TypeFor[estate.Estate]()],
		stacks:  pl.plans[reflect.TypeFor[[]*stack]()],
		linking: pl.plans[reflect.TypeFor[[]link]()],
	}
}

// part reads a part that a partWriter wrote, for the file at path. The bytes
// must not change afterwards. It gives nil where they do not hold a part.
func (k *keptReader) part(path string, data []byte) *part {
	r := &k.r
	r.in, r.path, r.last, r.bad = data, path, 0, false
	r.objects, r.lists = r.objects[:0], r.lists[:0]
	p := &part{path: path}
	p.headers = int(r.uint())
	k.estate.get(r, unsafe.Pointer(&p.estate))
	k.stacks.get(r, unsafe.Pointer(&p.stacks))
	k.linking.get(r, unsafe.Pointer(&p.links))
	if r.bad || len(r.in) != 0 {
		return nil
	}
	return p
}
