package lang

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"cagenut/lang/source"
)

// A Store keeps what files were parsed to, by the hash of their content, so
// that a file is parsed once as long as it stays the same, in whatever folder,
// commit or branch it is met.
//
// It is a folder of segments, each written once, whole, under a name of its
// own: two processes never write the same file, and a reader never sees half
// of one. A segment names the program and the language it was written by;
// others are passed over. All of it may be deleted at any time.
type Store struct {
	dir      string
	key      [sha256.Size]byte
	segments []segment
	used     atomic.Int64 // bytes of kept parts that were asked for

	mu  sync.Mutex
	new map[source.Hash][]byte
}

// A segment is one file of a store, mapped into memory: of forty megabytes a
// run may need a few thousand bytes.
type segment struct {
	name  string
	index []byte // entries of fixed size, sorted by hash
	data  []byte
}

const (
	segmentMagic = "cagenut parts 2\n"
	segmentHead  = len(segmentMagic) + sha256.Size + 4 + 4 // how many entries, and the sum of head and index
	entryHash    = 33                                      // length of the hash, and the hash, padded
	entrySize    = entryHash + 4 + 4 + 4                   // where the part begins, its length, and its sum
	mostSegments = 4
	mostUnused   = 64 << 20 // what a store may hold beyond what is used
	staleAfter   = 7 * 24 * time.Hour
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// OpenStore opens the store in a folder, which need not exist yet. It never
// fails: what cannot be read is not there.
func OpenStore(dir string) *Store {
	s := &Store{dir: dir, key: storeKey(), new: map[source.Hash][]byte{}}
	names, _ := filepath.Glob(filepath.Join(dir, s.prefix()+"*"))
	for _, name := range names {
		if seg, ok := s.read(name); ok {
			s.segments = append(s.segments, seg)
		}
	}
	return s
}

// Prepare begins to work out what stores and loads need, so that it is ready when
// they ask for it: how every kind of thing is written takes half a millisecond.
func Prepare() { go storeKey() }

// prefix begins the names of the segments that this program writes.
func (s *Store) prefix() string { return "parts-" + hex.EncodeToString(s.key[:6]) + "-" }

// storeKey names the program and the language: what one writes the other must
// not read. A program built from a working tree is told by its file.
var storeKey = sync.OnceValue(func() [sha256.Size]byte {
	h := sha256.New()
	v := codecVersion()
	h.Write(v[:])
	exact := false
	if info, ok := debug.ReadBuildInfo(); ok {
		fmt.Fprintln(h, info.Main.Version, info.Main.Sum)
		exact = info.Main.Sum != ""
		for _, d := range info.Deps {
			fmt.Fprintln(h, d.Path, d.Version)
		}
	}
	if !exact {
		if name, err := os.Executable(); err == nil {
			if info, err := os.Stat(name); err == nil {
				fmt.Fprintln(h, info.Size(), info.ModTime().UnixNano())
			}
		}
	}
	return [sha256.Size]byte(h.Sum(nil))
})

// Stamp names the program and the language: what one version keeps another
// must not read.
func Stamp() [sha256.Size]byte { return storeKey() }

// read opens one segment, and checks its head and index. Each part has a sum
// of its own, which is checked when the part is asked for.
func (s *Store) read(name string) (segment, bool) {
	b, err := source.MapFile(name)
	if err != nil || len(b) < segmentHead {
		return segment{}, false
	}
	count := int(binary.LittleEndian.Uint32(b[segmentHead-8:]))
	if string(b[:len(segmentMagic)]) != segmentMagic || !bytes.Equal(b[len(segmentMagic):segmentHead-8], s.key[:]) ||
		count < 0 || count > (len(b)-segmentHead)/entrySize {
		return segment{}, false
	}
	end := segmentHead + count*entrySize
	if headSum(b[:end]) != binary.LittleEndian.Uint32(b[segmentHead-4:]) {
		return segment{}, false
	}
	return segment{name: name, index: b[segmentHead:end], data: b[end:]}, true
}

// headSum gives the sum of head and index, but for the sum itself.
func headSum(b []byte) uint32 {
	return crc32.Update(crc32.Checksum(b[:segmentHead-4], castagnoli), castagnoli, b[segmentHead:])
}

// get gives what a content was parsed to, or nil. It may be called from any
// number of goroutines.
func (s *Store) get(h source.Hash) []byte {
	if s == nil || h == "" {
		return nil
	}
	key := entryKey(h)
	for i := range s.segments {
		if data := s.segments[i].find(key[:]); data != nil {
			return data
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.new[h]
}

// peek is [Store.get] without a look at what it gives: only heads, which have a
// sum of their own, may be read from it.
func (s *Store) peek(h source.Hash) []byte {
	if s == nil || h == "" {
		return nil
	}
	key := entryKey(h)
	for i := range s.segments {
		if e := s.segments[i].entry(key[:]); e != nil {
			data := s.segments[i].bytes(e)
			s.count(len(data))
			return data
		}
	}
	return nil
}

func entryKey(h source.Hash) (key [entryHash]byte) {
	key[0] = byte(len(h))
	copy(key[1:], h)
	return key
}

func (g *segment) find(key []byte) []byte {
	e := g.entry(key)
	if e == nil {
		return nil
	}
	return g.at(e)
}

// entry gives the entry of the index for a key, or nil.
func (g *segment) entry(key []byte) []byte {
	n := len(g.index) / entrySize
	i := sort.Search(n, func(i int) bool { return bytes.Compare(g.index[i*entrySize:i*entrySize+entryHash], key) >= 0 })
	if i == n {
		return nil
	}
	e := g.index[i*entrySize:][:entrySize]
	if !bytes.Equal(e[:entryHash], key) {
		return nil
	}
	return e
}

// at gives the part of an entry, or nil where it is damaged.
func (g *segment) at(e []byte) []byte {
	data := g.bytes(e)
	if data == nil || crc32.Checksum(data, castagnoli) != binary.LittleEndian.Uint32(e[entryHash+8:]) {
		return nil
	}
	return data
}

func (g *segment) bytes(e []byte) []byte {
	from := uint64(binary.LittleEndian.Uint32(e[entryHash:]))
	to := from + uint64(binary.LittleEndian.Uint32(e[entryHash+4:]))
	if to > uint64(len(g.data)) {
		return nil
	}
	return g.data[from:to:to]
}

// put remembers what a content was parsed to, for [Store.Save].
func (s *Store) put(h source.Hash, data []byte) {
	if s == nil || len(h) > entryHash-1 {
		return
	}
	s.mu.Lock()
	s.new[h] = data
	s.mu.Unlock()
}

// count adds to what this run has asked for.
func (s *Store) count(bytes int) {
	if s != nil {
		s.used.Add(int64(bytes))
	}
}

// Save writes what is new. Many small segments are made one, and then what was
// not asked for this time is left out if there is much of it. An error means
// only that the next run is slower.
func (s *Store) Save() error {
	if s == nil || len(s.new) == 0 {
		return nil
	}
	if err := os.MkdirAll(s.dir, 0o777); err != nil {
		return err
	}
	all := s.new
	old, left := s.segments, []segment(nil)
	if len(old) < mostSegments {
		old, left = nil, old
	} else {
		old, left = s.toMerge()
		all = s.merged(old)
	}
	written, err := s.write(all)
	if err != nil {
		return err
	}
	for _, g := range old {
		if g.name != written.name {
			os.Remove(g.name) // another process may have done so already
		}
	}
	s.segments = append(left, written)
	s.new = map[source.Hash][]byte{}
	s.sweep()
	return nil
}

// toMerge gives the segments to be made one, and those that stay: a segment far
// larger than all smaller ones is written anew only once these have grown, so
// that a change of one file does not write what ten thousand were parsed to.
func (s *Store) toMerge() (merge, stay []segment) {
	merge = slices.Clone(s.segments)
	slices.SortFunc(merge, func(a, b segment) int { return cmp.Compare(len(a.data), len(b.data)) })
	for len(merge) > 1 {
		last := merge[len(merge)-1]
		smaller := 0
		for _, g := range merge[:len(merge)-1] {
			smaller += len(g.data)
		}
		if len(last.data) < 8*smaller || s.unused(&last) {
			break
		}
		merge, stay = merge[:len(merge)-1], append(stay, last)
	}
	return merge, stay
}

// unused reports whether a segment holds far more than a run needs.
func (s *Store) unused(g *segment) bool { return len(g.data) > mostUnused+2*int(s.used.Load()) }

// merged gives all entries of some segments and what is new, those left out that
// hold far more than a run needs.
func (s *Store) merged(segments []segment) map[source.Hash][]byte {
	all := map[source.Hash][]byte{}
	for h, data := range s.new {
		all[h] = data
	}
	for i := range segments {
		g := &segments[i]
		if s.unused(g) {
			continue
		}
		for e := range slices.Chunk(g.index, entrySize) {
			h := source.Hash(e[1 : 1+min(int(e[0]), entryHash-1)])
			if data := g.at(e); data != nil && all[h] == nil {
				all[h] = data
			}
		}
	}
	return all
}

// write writes a segment, whose name follows from its content.
func (s *Store) write(parts map[source.Hash][]byte) (segment, error) {
	hashes := make([]source.Hash, 0, len(parts))
	size := 0
	for h, data := range parts {
		hashes = append(hashes, h)
		size += len(data)
	}
	slices.SortFunc(hashes, func(a, b source.Hash) int {
		x, y := entryKey(a), entryKey(b)
		return bytes.Compare(x[:], y[:])
	})
	b := make([]byte, 0, segmentHead+len(hashes)*entrySize+size)
	b = append(append(b, segmentMagic...), s.key[:]...)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(hashes)))
	b = append(b, 0, 0, 0, 0)
	at := 0
	for _, h := range hashes {
		key := entryKey(h)
		b = append(b, key[:]...)
		b = binary.LittleEndian.AppendUint32(b, uint32(at))
		b = binary.LittleEndian.AppendUint32(b, uint32(len(parts[h])))
		b = binary.LittleEndian.AppendUint32(b, crc32.Checksum(parts[h], castagnoli))
		at += len(parts[h])
	}
	binary.LittleEndian.PutUint32(b[segmentHead-4:], headSum(b))
	for _, h := range hashes {
		b = append(b, parts[h]...)
	}
	sum := sha256.Sum256(b)
	end := segmentHead + len(hashes)*entrySize
	g := segment{
		name:  filepath.Join(s.dir, s.prefix()+hex.EncodeToString(sum[:8])),
		index: b[segmentHead:end], data: b[end:len(b):len(b)],
	}
	return g, ReplaceFile(g.name, b)
}

// ReplaceFile writes a file so that nobody sees a part of it. It is not forced
// to the disk: a segment that a crash has cut short is told by its sum.
func ReplaceFile(name string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), "tmp-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// sweep removes what other versions, and processes that died, have left.
func (s *Store) sweep() {
	entries, err := os.ReadDir(s.dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		mine := strings.HasPrefix(e.Name(), s.prefix())
		ours := strings.HasPrefix(e.Name(), "parts-") || strings.HasPrefix(e.Name(), "tmp-")
		if mine || !ours {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > staleAfter {
			os.Remove(filepath.Join(s.dir, e.Name()))
		}
	}
}
