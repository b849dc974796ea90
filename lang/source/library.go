package source

import (
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/go-git/go-billy/v5/osfs"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/cache"
	"github.com/go-git/go-git/v5/storage/filesystem"
)

// library reads objects with go-git. The storage is used directly: opening a
// repository through the library refuses many that are in good order.
type library struct {
	storage *filesystem.Storage
}

func (r *Repository) openLibrary() objects {
	return &library{filesystem.NewStorageWithOptions(
		osfs.New(r.common, osfs.WithBoundOS()),
		cache.NewObjectLRU(16*cache.MiByte),
		filesystem.Options{
			KeepDescriptors: true, // reading many files is a third quicker so
			AlternatesFS:    osfs.New("/", osfs.WithBoundOS()),
		})}
}

func (l *library) object(h Hash) (k kind, data []byte, err error) {
	if len(h) != len(plumbing.Hash{}) {
		return noKind, nil, errMissing
	}
	defer func() {
		// A truncated pack makes the library index out of its buffers.
		if p := recover(); p != nil {
			err = fmt.Errorf("damaged pack: %v", p)
		}
	}()
	o, err := l.storage.EncodedObject(plumbing.AnyObject, plumbing.Hash([]byte(h)))
	if errors.Is(err, plumbing.ErrObjectNotFound) || errors.Is(err, plumbing.ErrReferenceNotFound) {
		return noKind, nil, errMissing
	}
	if err != nil {
		return noKind, nil, err
	}
	in, err := o.Reader()
	if err != nil {
		return noKind, nil, err
	}
	defer in.Close()
	data = make([]byte, o.Size())
	if _, err := io.ReadFull(in, data); err != nil {
		return noKind, nil, err
	}
	return kind(max(slices.Index(libraryKinds[:], o.Type()), 0)), data, nil
}

// libraryKinds are the kinds of objects as the library has them.
var libraryKinds = [...]plumbing.ObjectType{commitKind: plumbing.CommitObject, treeKind: plumbing.TreeObject, blobKind: plumbing.BlobObject, tagKind: plumbing.TagObject}

func (l *library) prefix(digits string) ([]Hash, error) {
	whole, err := hex.DecodeString(digits[:len(digits)&^1]) // an odd last digit is compared below
	if err != nil {
		return nil, err
	}
	found, err := l.storage.HashesWithPrefix(whole)
	if err != nil {
		return nil, err
	}
	var hashes []Hash
	seen := map[Hash]bool{}
	for _, f := range found {
		h := Hash(f[:])
		if strings.HasPrefix(h.String(), digits) && !seen[h] {
			seen[h] = true
			hashes = append(hashes, h)
		}
	}
	return hashes, nil
}

func (l *library) close() { l.storage.Close() }
