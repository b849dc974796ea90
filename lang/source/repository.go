package source

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"github.com/go-git/go-git/v5/plumbing/format/config"
)

// ErrNoRepository is wrapped by the error of [Open] outside repositories.
var ErrNoRepository = errors.New("not a git repository")

// A Repository is a git repository, opened for reading. Its methods are safe
// for concurrent use.
type Repository struct {
	top    string // top of the working tree, without symbolic links; "" where bare
	git    string // this working tree's own folder: .git, or .git/worktrees/x
	common string // the folder that working trees share: objects, refs, config
	config *config.Config
	bits   hashKind

	grafts  map[Hash][]Hash // parents by decree; shallow boundaries have none
	shallow map[Hash]bool
	replace map[Hash]Hash

	mu      sync.Mutex
	why     string    // why the installed git reads, or ""
	idle    []objects // handles that nobody uses just now
	packed  map[string]Hash
	commits map[Hash]*Commit
	trees   map[Hash][]byte // trees read so far, up to treeBudget bytes
	budget  int
}

// treeBudget bounds what the cache of raw trees holds.
const treeBudget = 64 << 20

type hashKind int // bytes of a hash

// Open opens the repository that dir lies in: a working tree or a folder of
// one, a linked working tree, a submodule, or a bare repository. As git does,
// it heeds GIT_DIR, GIT_WORK_TREE and GIT_CEILING_DIRECTORIES. The error wraps
// [ErrNoRepository] where there is none.
func Open(dir string) (*Repository, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	if abs, err = filepath.EvalSymlinks(abs); err != nil {
		return nil, fmt.Errorf("the folder %s cannot be opened: %w", dir, reason(err))
	}
	r := &Repository{
		bits:    20,
		commits: map[Hash]*Commit{},
		trees:   map[Hash][]byte{},
	}
	if err := r.find(abs); err != nil {
		return nil, err
	}
	if err := r.setUp(); err != nil {
		return nil, err
	}
	return r, nil
}

// find sets top, git and common.
func (r *Repository) find(dir string) error {
	if env := os.Getenv("GIT_DIR"); env != "" {
		git, err := filepath.Abs(env)
		if err != nil {
			return err
		}
		if !isGitDir(git) {
			return fmt.Errorf("GIT_DIR names %s, which holds no repository: %w", env, ErrNoRepository)
		}
		r.git = git
		if r.top, err = filepath.Abs(os.Getenv("GIT_WORK_TREE")); err != nil {
			return err
		}
		r.top, _ = filepath.EvalSymlinks(r.top)
		return r.findCommon()
	}
	ceilings := map[string]bool{}
	for _, c := range filepath.SplitList(os.Getenv("GIT_CEILING_DIRECTORIES")) {
		if c != "" {
			ceilings[filepath.Clean(c)] = true
		}
	}
	for at := dir; ; {
		name := filepath.Join(at, ".git")
		if info, err := os.Stat(name); err == nil {
			git := name
			if !info.IsDir() {
				if git, err = gitFile(name); err != nil {
					return err
				}
			}
			if isGitDir(git) {
				r.git, r.top = git, at
				return r.findCommon()
			}
			if !info.IsDir() {
				return fmt.Errorf("%s points to %s, which holds no repository; if the repository was moved, run there: git worktree repair", name, git)
			}
		}
		if isGitDir(at) {
			r.git = at
			return r.findCommon()
		}
		up := filepath.Dir(at)
		if up == at || ceilings[up] {
			return fmt.Errorf("%s: %w", dir, ErrNoRepository)
		}
		at = up
	}
}

// gitFile reads the file that stands in place of .git in linked working trees
// and submodules.
func gitFile(name string) (string, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return "", fmt.Errorf("reading %s: %w", name, reason(err))
	}
	path, ok := strings.CutPrefix(strings.TrimRight(string(data), "\r\n"), "gitdir: ")
	if !ok {
		return "", fmt.Errorf("%s does not say \"gitdir: FOLDER\", as the file in place of a repository must", name)
	}
	path = filepath.FromSlash(path)
	if !filepath.IsAbs(path) {
		path = filepath.Join(filepath.Dir(name), path)
	}
	return path, nil
}

func isGitDir(dir string) bool {
	if _, err := os.Lstat(filepath.Join(dir, "HEAD")); err != nil {
		return false
	}
	if _, err := os.Stat(filepath.Join(dir, "commondir")); err == nil {
		return true
	}
	for _, name := range []string{"objects", "refs"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || !info.IsDir() {
			return false
		}
	}
	return true
}

func (r *Repository) findCommon() error {
	r.common = r.git
	data, err := os.ReadFile(filepath.Join(r.git, "commondir"))
	if err != nil {
		return nil // a main working tree
	}
	common := filepath.FromSlash(strings.TrimRight(string(data), "\r\n"))
	if !filepath.IsAbs(common) {
		common = filepath.Join(r.git, common)
	}
	r.common = common
	return nil
}

// setUp reads the configuration and decides who reads objects.
func (r *Repository) setUp() error {
	r.config = config.New()
	for _, name := range []string{filepath.Join(r.common, "config"), filepath.Join(r.git, "config.worktree")} {
		data, err := os.ReadFile(name)
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			return fmt.Errorf("reading %s: %w", name, reason(err))
		}
		if err := config.NewDecoder(bytes.NewReader(data)).Decode(r.config); err != nil {
			return fmt.Errorf("the configuration %s cannot be read (%v); see what git makes of it: git config --list --show-origin", name, err)
		}
		if !isTrue(r.setting("extensions", "", "worktreeconfig")) {
			break
		}
	}
	if bare := isTrue(r.setting("core", "", "bare")); bare && r.git == r.common {
		r.top = ""
	}
	if tree := r.setting("core", "", "worktree"); tree != "" && r.git == r.common && os.Getenv("GIT_WORK_TREE") == "" {
		if tree = filepath.FromSlash(tree); !filepath.IsAbs(tree) {
			tree = filepath.Join(r.git, tree)
		}
		if real, err := filepath.EvalSymlinks(tree); err == nil {
			r.top = real
		}
	}
	if err := r.checkFormat(); err != nil {
		return err
	}
	if err := r.checkAlternates(); err != nil {
		return err
	}
	return r.readGrafts()
}

// checkFormat refuses repositories that nobody can read, and leaves those that
// the library cannot read to the installed git.
func (r *Repository) checkFormat() error {
	version := 0
	if text := r.setting("core", "", "repositoryformatversion"); text != "" {
		v, err := strconv.Atoi(text)
		if err != nil || v < 0 || v > 1 {
			return fmt.Errorf("the repository %s has format version %s; versions 0 and 1 are known: a newer git wrote it", r.git, text)
		}
		version = v
	}
	for _, section := range r.config.Sections {
		if !section.IsName("extensions") {
			continue
		}
		for _, o := range section.Options {
			switch strings.ToLower(o.Key) {
			case "noop", "preciousobjects", "partialclone", "worktreeconfig", "relativeworktrees":
				// They change nothing that is read here.
			case "objectformat":
				switch strings.ToLower(o.Value) {
				case "sha1":
				case "sha256":
					r.bits = 32
					r.why = "its objects are named by SHA-256"
				default:
					return fmt.Errorf("the repository %s names its objects by %s; sha1 and sha256 are known", r.git, o.Value)
				}
			case "refstorage":
				if !strings.EqualFold(o.Value, "files") {
					r.why = "its references are kept as " + o.Value
				}
			default:
				if version > 0 {
					r.why = "it uses the extension " + o.Key
				}
			}
		}
	}
	if r.why != "" {
		return r.needInstalled()
	}
	if os.Getenv("GIT_OBJECT_DIRECTORY") != "" || os.Getenv("GIT_ALTERNATE_OBJECT_DIRECTORIES") != "" {
		r.why = "the environment moves its objects elsewhere"
		return r.needInstalled()
	}
	return nil
}

// checkAlternates leaves repositories that borrow objects along a relative
// path to the installed git: the library looks for them in the wrong place.
func (r *Repository) checkAlternates() error {
	data, err := os.ReadFile(filepath.Join(r.common, "objects", "info", "alternates"))
	if err != nil || r.why != "" {
		return nil
	}
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		if !filepath.IsAbs(filepath.FromSlash(line)) {
			r.why = "it borrows objects by a relative path"
			return r.needInstalled()
		}
		if _, err := os.Stat(line); err != nil {
			return fmt.Errorf("the repository %s borrows objects from %s, which is not there; put it back, or correct %s",
				r.git, line, filepath.Join(r.common, "objects", "info", "alternates"))
		}
	}
	return nil
}

// readGrafts reads what replaces parents and objects: grafts, the boundary of
// a shallow clone, and replacement references.
func (r *Repository) readGrafts() error {
	r.grafts, r.shallow = map[Hash][]Hash{}, map[Hash]bool{}
	if data, err := os.ReadFile(filepath.Join(r.common, "info", "grafts")); err == nil {
		for line := range strings.Lines(string(data)) {
			fields := strings.Fields(line)
			if len(fields) == 0 || fields[0][0] == '#' {
				continue
			}
			var hashes []Hash
			for _, f := range fields {
				h, ok := ParseHash(f)
				if !ok {
					return fmt.Errorf("%s holds %q, which is no hash", filepath.Join(r.common, "info", "grafts"), f)
				}
				hashes = append(hashes, h)
			}
			r.grafts[hashes[0]] = hashes[1:]
		}
	}
	if data, err := os.ReadFile(filepath.Join(r.common, "shallow")); err == nil {
		for line := range strings.Lines(string(data)) {
			if h, ok := ParseHash(strings.TrimSpace(line)); ok {
				r.shallow[h] = true
			}
		}
	}
	if os.Getenv("GIT_NO_REPLACE_OBJECTS") != "" || r.why != "" {
		return nil // the installed git replaces by itself
	}
	refs, err := r.refs("refs/replace/")
	if err != nil {
		return err
	}
	r.replace = map[Hash]Hash{}
	for _, ref := range refs {
		if h, ok := ParseHash(strings.TrimPrefix(ref.name, "refs/replace/")); ok {
			r.replace[h] = ref.hash
		}
	}
	return nil
}

// Top gives the top of the working tree, or "" in a bare repository.
func (r *Repository) Top() string { return r.top }

// GitDir gives the folder that the working trees of the repository share:
// commonly .git.
func (r *Repository) GitDir() string { return r.common }

// Shallow reports whether the clone lacks older history.
func (r *Repository) Shallow() bool { return len(r.shallow) > 0 }

// Partial reports whether the clone fetches objects only when they are needed.
func (r *Repository) Partial() bool {
	if r.setting("extensions", "", "partialclone") != "" {
		return true
	}
	for _, s := range r.config.Section("remote").Subsections {
		if isTrue(s.Option("promisor")) {
			return true
		}
	}
	return false
}

// Via says which way objects are read, for people: "the built-in reader", or
// the installed git and why.
func (r *Repository) Via() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.why == "" {
		return "the built-in reader"
	}
	return "the installed git, because " + r.why
}

// Plain reports whether the repository is of the form that the built-in reader
// knows: objects named by SHA-1, and references in files.
func (r *Repository) Plain() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.why == ""
}

// Close lets go of files and child processes. The repository can be used
// afterwards; it opens them anew.
func (r *Repository) Close() error {
	r.mu.Lock()
	idle := r.idle
	r.idle = nil
	r.mu.Unlock()
	for _, o := range idle {
		o.close()
	}
	return nil
}

// setting gives the last value of a key, which counts; names without case.
func (r *Repository) setting(section, subsection, key string) string {
	value := ""
	for _, s := range r.config.Sections {
		if !s.IsName(section) {
			continue
		}
		if subsection == "" {
			if v := s.Options.Get(key); s.Options.Has(key) {
				value = v
			}
			continue
		}
		for _, sub := range s.Subsections {
			if sub.IsName(subsection) && sub.Options.Has(key) {
				value = sub.Options.Get(key)
			}
		}
	}
	return value
}

// isTrue reads a truth value as git does. A key without "=" means true; the
// decoder gives it as "true" already.
func isTrue(value string) bool {
	switch strings.ToLower(value) {
	case "true", "yes", "on":
		return true
	}
	n, err := strconv.Atoi(value)
	return err == nil && n != 0
}
