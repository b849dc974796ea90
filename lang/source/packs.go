package source

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"github.com/go-git/go-git/v5/plumbing/format/objfile"
	"github.com/go-git/go-git/v5/plumbing/format/packfile"
)

// packs reads objects out of packs that are mapped into memory, and loose ones.
// It looks an object up in the index as the file has it, where the library
// reads the whole index into memory first: for a single difference that took
// longer than the difference. Whatever it does not find, or finds damaged, it
// leaves to the library, which has the last word.
type packs struct {
	repo    *Repository
	dir     string // of the objects
	all     []pack
	inflate io.ReadCloser // used again and again
	bases   map[base][]byte
	budget  int     // bytes in bases
	library objects // opened when it is needed first
}

// baseBudget bounds what is kept of objects that others were told from.
const baseBudget = 16 << 20

// A base names an object that another one is told from.
type base struct {
	pack   int
	offset int
}

// A pack is one file of objects with its index, in the form that git has
// written since 2006.
type pack struct {
	fanout []byte // for each first byte, how many objects there are up to it
	names  []byte // of the objects, sorted
	where  []byte // four bytes for each
	far    []byte // eight bytes for each that lies beyond two gigabytes
	data   []byte // the pack itself
	index  []byte // the whole index, which the others are parts of
}

const (
	nameSize   = 20
	indexMagic = "\xfftOc\x00\x00\x00\x02"
	packMagic  = "PACK\x00\x00\x00\x02"
)

// openPacks gives a reader of packs, or reports false where the repository is
// one for the library: it borrows objects elsewhere, or has an old index.
func (r *Repository) openPacks() (objects, bool) {
	p := &packs{repo: r, dir: filepath.Join(r.common, "objects"), bases: map[base][]byte{}}
	if _, err := os.Stat(filepath.Join(p.dir, "info", "alternates")); err == nil || !canMap || r.bits != nameSize {
		return nil, false
	}
	names, err := filepath.Glob(filepath.Join(p.dir, "pack", "*.idx"))
	if err != nil {
		return nil, false
	}
	for _, name := range names {
		k, err := openPack(name)
		if errors.Is(err, os.ErrNotExist) {
			continue // taken away meanwhile: what was in it is in another
		}
		if err != nil {
			p.close()
			return nil, false
		}
		p.all = append(p.all, k)
	}
	return p, true
}

func openPack(name string) (k pack, err error) {
	defer func() {
		if err != nil {
			UnmapFile(k.index)
			UnmapFile(k.data)
		}
	}()
	if k.index, err = MapFile(name); err != nil {
		return k, err
	}
	if k.data, err = MapFile(name[:len(name)-len("idx")] + "pack"); err != nil {
		return k, err
	}
	const head = len(indexMagic) + 256*4
	if len(k.index) < head || string(k.index[:len(indexMagic)]) != indexMagic || !bytes.HasPrefix(k.data, []byte(packMagic)) {
		return k, errors.New("not of the usual form")
	}
	k.fanout = k.index[len(indexMagic):head]
	n := int(binary.BigEndian.Uint32(k.fanout[255*4:]))
	rest := k.index[head:]
	if len(rest)/(nameSize+4+4) < n {
		return k, errors.New("cut short")
	}
	k.names, rest = rest[:n*nameSize], rest[n*(nameSize+4):] // sums of the packed bytes between
	k.where, k.far = rest[:n*4], rest[n*4:]
	return k, nil
}

// from gives the number of the first object whose name is not before a prefix
// of names.
func (k *pack) from(prefix string) int {
	lo, hi := 0, len(k.names)/nameSize
	if len(prefix) > 0 {
		if prefix[0] > 0 {
			lo = int(binary.BigEndian.Uint32(k.fanout[(int(prefix[0])-1)*4:]))
		}
		hi = min(hi, int(binary.BigEndian.Uint32(k.fanout[int(prefix[0])*4:])))
	}
	lo = min(lo, hi)
	return lo + sort.Search(hi-lo, func(i int) bool { return string(k.name(lo+i)) >= prefix })
}

func (k *pack) name(i int) []byte { return k.names[i*nameSize:][:nameSize] }

// offset gives where an object lies in the pack.
func (k *pack) offset(h Hash) (int, bool) {
	i := k.from(string(h))
	if i*nameSize >= len(k.names) || string(k.name(i)) != string(h) {
		return 0, false
	}
	at := binary.BigEndian.Uint32(k.where[i*4:])
	if at < 1<<31 {
		return int(at), true
	}
	if i = int(at&(1<<31-1)) * 8; i+8 > len(k.far) {
		return 0, false
	}
	return int(binary.BigEndian.Uint64(k.far[i:])), true
}

func (p *packs) object(h Hash) (kind, []byte, error) {
	if len(h) == nameSize {
		for i := range p.all {
			if at, ok := p.all[i].offset(h); ok {
				if k, data, err := p.at(i, at, 0); err == nil {
					return k, data, nil
				}
			}
		}
		if k, data, err := p.loose(h); err == nil {
			return k, data, nil
		}
	}
	if p.library == nil {
		p.library = p.repo.openLibrary()
	}
	return p.library.object(h)
}

// errPacked says that a pack does not hold what it should. Nobody sees it: the
// library is asked then, and says what is wrong.
var errPacked = errors.New("damaged pack")

// Kinds of packed objects that are told from another one.
const (
	fromOffset = 6
	fromName   = 7
)

// at reads the object at an offset of a pack; depth is of how many it was told
// from already. What it gives must not be written to.
func (p *packs) at(which, offset, depth int) (kind, []byte, error) {
	const deepest = 5000
	data := p.all[which].data
	if offset < len(packMagic) || offset >= len(data)-nameSize || depth > deepest {
		return noKind, nil, errPacked
	}
	rest := data[offset : len(data)-nameSize]
	c := rest[0]
	size, shift := int(c&15), 4
	typ := c >> 4 & 7
	n := 1
	for ; c&0x80 != 0; n++ {
		if n >= len(rest) || shift > 50 {
			return noKind, nil, errPacked
		}
		c = rest[n]
		size |= int(c&0x7f) << shift
		shift += 7
	}
	rest = rest[n:]
	switch typ {
	case fromOffset:
		back, n := 0, 0
		for more := true; more; n++ {
			if n >= len(rest) || back > offset {
				return noKind, nil, errPacked
			}
			if n > 0 {
				back++
			}
			back = back<<7 | int(rest[n]&0x7f)
			more = rest[n]&0x80 != 0
		}
		if back <= 0 {
			return noKind, nil, errPacked
		}
		return p.from(base{which, offset - back}, rest[n:], size, depth)
	case fromName:
		if len(rest) < nameSize {
			return noKind, nil, errPacked
		}
		at, ok := p.all[which].offset(Hash(rest[:nameSize]))
		if !ok {
			return noKind, nil, errPacked
		}
		return p.from(base{which, at}, rest[nameSize:], size, depth)
	case 1, 2, 3, 4:
		out, err := p.unpack(rest, size)
		return [...]kind{noKind, commitKind, treeKind, blobKind, tagKind}[typ], out, err
	}
	return noKind, nil, errPacked
}

// from reads an object that is told from another one.
func (p *packs) from(b base, packed []byte, size, depth int) (kind, []byte, error) {
	delta, err := p.unpack(packed, size)
	if err != nil {
		return noKind, nil, err
	}
	// The kind goes in front of what is kept.
	kept, ok := p.bases[b]
	if !ok {
		k, data, err := p.at(b.pack, b.offset, depth+1)
		if err != nil {
			return noKind, nil, err
		}
		kept = append([]byte{byte(k)}, data...)
		if p.budget += len(kept); p.budget > baseBudget {
			clear(p.bases)
			p.budget = len(kept)
		}
		p.bases[b] = kept
	}
	out, err := packfile.PatchDelta(kept[1:], delta)
	return kind(kept[0]), out, err
}

// unpack inflates an object of a known size.
func (p *packs) unpack(packed []byte, size int) ([]byte, error) {
	if size > len(packed)*1100+64 { // deflate makes no more of less
		return nil, errPacked
	}
	in := bytes.NewReader(packed)
	var err error
	if p.inflate == nil {
		p.inflate, err = zlib.NewReader(in)
	} else {
		err = p.inflate.(zlib.Resetter).Reset(in, nil)
	}
	if err != nil {
		return nil, err
	}
	out := make([]byte, size)
	if _, err := io.ReadFull(p.inflate, out); err != nil {
		return nil, err
	}
	// Its sum stands behind it, and is checked at the end.
	if n, err := p.inflate.Read(make([]byte, 1)); n != 0 || err != io.EOF {
		return nil, errPacked
	}
	return out, nil
}

// loose reads an object that has a file of its own.
func (p *packs) loose(h Hash) (k kind, data []byte, err error) {
	name := h.String()
	packed, err := os.ReadFile(filepath.Join(p.dir, name[:2], name[2:]))
	if err != nil {
		return noKind, nil, err
	}
	in, err := objfile.NewReader(bytes.NewReader(packed))
	if err != nil {
		return noKind, nil, err
	}
	defer in.Close()
	typ, size, err := in.Header()
	if err != nil {
		return noKind, nil, err
	}
	if size < 0 || size > int64(len(packed))*1100+64 {
		return noKind, nil, errPacked
	}
	data = make([]byte, size)
	if _, err := io.ReadFull(in, data); err != nil {
		return noKind, nil, err
	}
	i := slices.Index(libraryKinds[:], typ)
	if i <= 0 {
		return noKind, nil, fmt.Errorf("an object of the kind %s", typ)
	}
	return kind(i), data, nil
}

// prefix lists the objects whose name begins with some digits.
func (p *packs) prefix(digits string) ([]Hash, error) {
	whole, err := hex.DecodeString(digits[:len(digits)&^1]) // an odd last digit is compared below
	if err != nil || len(whole) == 0 {
		return nil, err
	}
	var found []Hash
	take := func(h Hash) {
		if strings.HasPrefix(h.String(), digits) && !slices.Contains(found, h) {
			found = append(found, h)
		}
	}
	for _, k := range p.all {
		for i := k.from(string(whole)); i*nameSize < len(k.names) && bytes.HasPrefix(k.name(i), whole); i++ {
			take(Hash(k.name(i)))
		}
	}
	entries, err := os.ReadDir(filepath.Join(p.dir, digits[:2]))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, err
	}
	for _, e := range entries {
		if h, ok := ParseHash(digits[:2] + e.Name()); ok {
			take(h)
		}
	}
	return found, nil
}

func (p *packs) close() {
	for _, k := range p.all {
		UnmapFile(k.index)
		UnmapFile(k.data)
	}
	p.all = nil
	if p.library != nil {
		p.library.close()
	}
}
