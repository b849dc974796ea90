package source

import (
	"bytes"
	"crypto/sha1"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// A memo remembers what the files of a folder looked like when their content
// was last read, and the hash of the content, so that files which look the same
// need not be read again. It does for us what the index does for git, and is
// as careful: a file that changed so shortly before it was read that another
// change might not show is not remembered.
type memo struct {
	file  string
	known []remembered // sorted by path
	fresh []remembered // as of this run, in the order of Files
	dirty bool
}

// A look is what the file system says about a file.
type look struct {
	size         int64
	mtime, ctime int64 // nanoseconds
	inode        uint64
}

type remembered struct {
	path string
	look look
	hash Hash
}

// settled is how old a change must be before the clocks of file systems are
// trusted to tell it from the next one.
const settled = 2 * time.Second

const memoMagic = "cagenut looks 1\n"

// memoFile names the memo of a folder within a store: several working trees
// may share one repository.
func memoFile(store, root string) string {
	sum := sha1.Sum([]byte(root))
	return filepath.Join(store, "looks-"+hex.EncodeToString(sum[:8]))
}

// readMemo reads a memo; one that cannot be read is empty.
func readMemo(file string) *memo {
	m := &memo{file: file}
	data, err := os.ReadFile(file)
	if err != nil || len(data) < len(memoMagic)+4 {
		return m
	}
	sum := binary.LittleEndian.Uint32(data[len(data)-4:])
	data = data[:len(data)-4]
	if !bytes.HasPrefix(data, []byte(memoMagic)) || crc32.Checksum(data, crc32.MakeTable(crc32.Castagnoli)) != sum {
		return m
	}
	text := string(data[len(memoMagic):]) // paths share its memory
	for len(text) > 0 {
		const fixed = 4*8 + 2
		if len(text) < fixed {
			return &memo{file: file}
		}
		b := data[len(data)-len(text):]
		f := remembered{look: look{
			size:  int64(binary.LittleEndian.Uint64(b)),
			mtime: int64(binary.LittleEndian.Uint64(b[8:])),
			ctime: int64(binary.LittleEndian.Uint64(b[16:])),
			inode: binary.LittleEndian.Uint64(b[24:]),
		}}
		n := int(binary.LittleEndian.Uint16(b[32:]))
		if len(text) < fixed+n+sha1.Size {
			return &memo{file: file}
		}
		f.path = text[fixed : fixed+n]
		f.hash = Hash(text[fixed+n : fixed+n+sha1.Size])
		text = text[fixed+n+sha1.Size:]
		m.known = append(m.known, f)
	}
	return m
}

// recall fills in the hashes of files that look as they did. Both are sorted.
func (m *memo) recall(files []File, looks []look) {
	m.fresh = make([]remembered, len(files))
	j := 0
	for i := range files {
		m.fresh[i] = remembered{path: files[i].Path, look: looks[i]}
		for j < len(m.known) && m.known[j].path < files[i].Path {
			j++
		}
		if j < len(m.known) && m.known[j].path == files[i].Path && m.known[j].look == looks[i] && looks[i] != (look{}) {
			files[i].Hash = m.known[j].hash
			m.fresh[i].hash = m.known[j].hash
		}
	}
	m.dirty = len(files) != len(m.known)
}

// learn notes the hash of a file that was read.
func (m *memo) learn(path string, h Hash) {
	i, ok := slices.BinarySearchFunc(m.fresh, path, func(f remembered, path string) int { return strings.Compare(f.path, path) })
	if !ok || len(h) != sha1.Size {
		return
	}
	f := &m.fresh[i]
	if now := time.Now().Add(-settled).UnixNano(); f.look == (look{}) || f.look.mtime > now || f.look.ctime > now {
		return
	}
	f.hash = h
	m.dirty = true
}

// save writes what is known of the files that the folder has now.
func (m *memo) save() error {
	if !m.dirty {
		return nil
	}
	b := make([]byte, 0, 128*len(m.fresh)+64)
	b = append(b, memoMagic...)
	for i := range m.fresh {
		f := &m.fresh[i]
		if f.hash == "" || len(f.path) > 1<<16-1 {
			continue
		}
		b = binary.LittleEndian.AppendUint64(b, uint64(f.look.size))
		b = binary.LittleEndian.AppendUint64(b, uint64(f.look.mtime))
		b = binary.LittleEndian.AppendUint64(b, uint64(f.look.ctime))
		b = binary.LittleEndian.AppendUint64(b, f.look.inode)
		b = binary.LittleEndian.AppendUint16(b, uint16(len(f.path)))
		b = append(b, f.path...)
		b = append(b, f.hash...)
	}
	b = binary.LittleEndian.AppendUint32(b, crc32.Checksum(b, crc32.MakeTable(crc32.Castagnoli)))
	dir := filepath.Dir(m.file)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, "tmp-*")
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), m.file)
	}
	if err != nil {
		os.Remove(f.Name())
		return err
	}
	m.dirty = false
	return nil
}
