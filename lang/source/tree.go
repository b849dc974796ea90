package source

import (
	"context"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// RootFile is the file whose folder is the root of an estate.
const RootFile = "estate.hcl"

// RootFiles are the names of the root file, the JSON form the second.
var RootFiles = []string{RootFile, RootFile + ".json"}

// IsRootFile reports whether a path from the root of an estate is that of its
// root file.
func IsRootFile(path string) bool { return slices.Contains(RootFiles, path) }

// A Tree is the text of one estate at one moment. Its methods are safe for
// concurrent use.
type Tree interface {
	// Name says what the tree is, for people: "folder", "index" or the
	// revision as the user wrote it.
	Name() string
	// Files lists every .hcl and .hcl.json file below the root, sorted by
	// path. What cannot be read as a file, such as a symbolic link, is left
	// out; see [Skipped].
	Files(ctx context.Context) ([]File, error)
	// Read gives the bytes of a file that Files listed. The caller may keep
	// them.
	Read(ctx context.Context, f File) ([]byte, error)
}

// A File is one file of a tree.
type File struct {
	Path string // slash-separated, relative to the root; raw bytes, not always UTF-8
	Hash Hash   // hash of its content as git counts it, or "" where that is not known yet
	Size int64  // in bytes, or -1 where that is not known yet
}

// A Hash names an object of a repository: 20 bytes of SHA-1, or 32 of SHA-256.
// It holds the raw bytes; String gives hexadecimal.
type Hash string

// String gives the hash in hexadecimal.
func (h Hash) String() string { return hex.EncodeToString([]byte(h)) }

// Short gives the first eight digits, for people.
func (h Hash) Short() string {
	if len(h) < 4 {
		return ""
	}
	return hex.EncodeToString([]byte(h[:4]))
}

// IsZero reports whether h is no hash: empty, or all zeros.
func (h Hash) IsZero() bool { return strings.Trim(string(h), "\x00") == "" }

// ParseHash reads a whole hash in hexadecimal.
func ParseHash(s string) (Hash, bool) {
	if len(s) != 2*sha1.Size && len(s) != 2*sha256.Size {
		return "", false
	}
	b, err := hex.DecodeString(s)
	return Hash(b), err == nil
}

// HashOf gives the hash under which git would store data as a file: SHA-1, or
// SHA-256 where like is the hash of a repository that uses it.
func HashOf(data []byte, like Hash) Hash {
	head := make([]byte, 0, 32)
	head = append(head, "blob "...)
	head = strconv.AppendInt(head, int64(len(data)), 10)
	head = append(head, 0)
	if len(like) == sha256.Size {
		d := sha256.New()
		d.Write(head)
		d.Write(data)
		return Hash(d.Sum(nil))
	}
	d := sha1.New()
	d.Write(head)
	d.Write(data)
	var sum [sha1.Size]byte
	return Hash(d.Sum(sum[:0]))
}

// A Note is something below the root that looks like a file of the estate and
// is not read.
type Note struct {
	Path string
	Why  string // "is a symbolic link"
}

// Skipped lists what Files left out of the tree, sorted by path. It is known
// once Files has been called.
func Skipped(t Tree) []Note {
	if t, ok := t.(interface{ skipped() []Note }); ok {
		return t.skipped()
	}
	return nil
}

// IsEstateFile reports whether a file of that name belongs to an estate.
func IsEstateFile(name string) bool {
	return strings.HasSuffix(name, ".hcl") || strings.HasSuffix(name, ".hcl.json")
}

func sortFiles(files []File) {
	sort.Slice(files, func(i, j int) bool { return files[i].Path < files[j].Path })
}

// ReadHashed gives the bytes of a file and the hash of its content.
func ReadHashed(ctx context.Context, t Tree, f File) ([]byte, Hash, error) {
	if t, ok := t.(interface {
		readHashed(context.Context, File) ([]byte, Hash, error)
	}); ok {
		return t.readHashed(ctx, f)
	}
	data, err := t.Read(ctx, f)
	if err != nil || f.Hash != "" {
		return data, f.Hash, err
	}
	return data, HashOf(data, ""), nil
}
