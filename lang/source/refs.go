package source

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// A ref is a reference and the object that it names.
type ref struct {
	name string
	hash Hash
}

// errNoRef says that there is no reference of a name.
var errNoRef = errors.New("no such reference")

// ref looks up one reference by its whole name, through symbolic ones. At
// tells the name of the last one, as for HEAD the branch.
func (r *Repository) ref(name string) (h Hash, at string, err error) {
	for range 6 { // as deep as git follows
		if !isRefName(name) {
			return "", name, errNoRef
		}
		text, err := os.ReadFile(r.refFile(name))
		if err != nil {
			packed, err := r.packedRefs()
			if err != nil {
				return "", name, err
			}
			if h, ok := packed[name]; ok {
				return h, name, nil
			}
			return "", name, errNoRef
		}
		line, _, _ := strings.Cut(string(text), "\n")
		if to, ok := strings.CutPrefix(line, "ref:"); ok {
			name = strings.TrimSpace(to)
			continue
		}
		// FETCH_HEAD has more behind the hash.
		word, _, _ := strings.Cut(strings.TrimSpace(line), "\t")
		h, ok := ParseHash(strings.TrimSpace(word))
		if !ok {
			return "", name, fmt.Errorf("the reference %s holds %q, which is no hash; see what is damaged with: git fsck", name, line)
		}
		return h, name, nil
	}
	return "", name, fmt.Errorf("the reference %s points to references without end", name)
}

// refFile says where a loose reference lies. HEAD and its like belong to one
// working tree, the others to all.
func (r *Repository) refFile(name string) string {
	dir := r.common
	if !strings.HasPrefix(name, "refs/") || strings.HasPrefix(name, "refs/bisect/") ||
		strings.HasPrefix(name, "refs/worktree/") || strings.HasPrefix(name, "refs/rewritten/") {
		dir = r.git
	}
	return filepath.Join(dir, filepath.FromSlash(name))
}

// isRefName refuses what git would not have as a name, and so whatever would
// reach outside the repository.
func isRefName(name string) bool {
	if name == "" || strings.Contains(name, "..") || strings.Contains(name, "@{") || strings.HasSuffix(name, ".") {
		return false
	}
	for _, c := range []byte(name) {
		if c < ' ' || c == 0x7f || strings.IndexByte(" ~^:?*[\\", c) >= 0 {
			return false
		}
	}
	for part := range strings.SplitSeq(name, "/") {
		if part == "" || part[0] == '.' || strings.HasSuffix(part, ".lock") {
			return false
		}
	}
	if strings.HasPrefix(name, "refs/") {
		return true
	}
	// Beside HEAD lie other files; names of this kind are references.
	return strings.Trim(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ_") == ""
}

func (r *Repository) packedRefs() (map[string]Hash, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.packed != nil {
		return r.packed, nil
	}
	data, err := os.ReadFile(filepath.Join(r.common, "packed-refs"))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("reading packed-refs: %w", reason(err))
	}
	r.packed = map[string]Hash{}
	for line := range strings.Lines(string(data)) {
		hash, name, ok := strings.Cut(strings.TrimRight(line, "\r\n"), " ")
		if !ok || line[0] == '#' || line[0] == '^' {
			continue
		}
		if h, ok := ParseHash(hash); ok {
			r.packed[name] = h
		}
	}
	return r.packed, nil
}

// refs lists the references below a prefix such as "refs/heads/", sorted.
func (r *Repository) refs(prefix string) ([]ref, error) {
	if r.why != "" {
		return r.refsInstalled(prefix)
	}
	found := map[string]Hash{}
	packed, err := r.packedRefs()
	if err != nil {
		return nil, err
	}
	for name, h := range packed {
		if strings.HasPrefix(name, prefix) {
			found[name] = h
		}
	}
	root := filepath.Join(r.common, filepath.FromSlash(prefix))
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return nil // what vanishes meanwhile was deleted
		}
		rel, err := filepath.Rel(r.common, path)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		if h, _, err := r.ref(name); err == nil {
			found[name] = h
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	refs := make([]ref, 0, len(found))
	for name, h := range found {
		refs = append(refs, ref{name, h})
	}
	sort.Slice(refs, func(i, j int) bool { return refs[i].name < refs[j].name })
	return refs, nil
}

func (r *Repository) refsInstalled(prefix string) ([]ref, error) {
	out, err := r.ask(context.Background(), "for-each-ref", "--format=%(objectname) %(refname)", strings.TrimSuffix(prefix, "/"))
	if err != nil {
		return nil, err
	}
	var refs []ref
	for line := range strings.Lines(string(out)) {
		hash, name, _ := strings.Cut(strings.TrimRight(line, "\n"), " ")
		if h, ok := ParseHash(hash); ok {
			refs = append(refs, ref{name, h})
		}
	}
	return refs, nil
}
