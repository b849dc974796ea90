package source

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// ErrNoEstate is wrapped by the error of [Locate] where no estate was found.
var ErrNoEstate = errors.New("no estate here")

// A Place is where an estate lies: its root folder, and the repository around
// it, if there is one.
type Place struct {
	Root   string      // the folder that holds estate.hcl; "" in a bare repository
	Prefix string      // the root below the top of the repository, slash-separated; "" for the top
	Repo   *Repository // nil outside repositories, and where the repository cannot be read

	repoErr error  // why it cannot
	absent  string // the root file that the last commit has, and the folder has not
	forget  bool
}

// Locate finds the estate that dir belongs to: the nearest folder at or above
// dir that holds estate.hcl, or its JSON form, or that held it in the last commit. In a bare
// repository it is the estate of the last commit. The error wraps [ErrNoEstate] where there is none; any other error is
// that of a repository that cannot be read.
func Locate(dir string) (*Place, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(abs); err != nil {
		return nil, fmt.Errorf("the folder %s cannot be opened (%w): %w", dir, reason(err), ErrNoEstate)
	}
	repo, repoErr := Open(abs)
	for at := abs; ; {
		if hasRootFile(at) {
			p := &Place{Root: at}
			if repoErr != nil {
				if errors.Is(repoErr, ErrNoRepository) {
					return p, nil
				}
				// The folder can still be read; what needs the repository says why it cannot.
				p.repoErr = repoErr
				return p, nil
			}
			p.Repo = repo
			p.Prefix, err = below(repo.Top(), at)
			if err != nil {
				return nil, err
			}
			return p, nil
		}
		up := filepath.Dir(at)
		if up == at {
			break
		}
		at = up
	}
	if repoErr == nil {
		if p, err := locateInHead(repo, abs); p != nil || err != nil {
			return p, err
		}
	}
	if repoErr != nil && !errors.Is(repoErr, ErrNoRepository) {
		return nil, repoErr
	}
	return nil, fmt.Errorf("%s holds no %s, nor does any folder above it: %w; begin one with: cagenut new", dir, RootFile, ErrNoEstate)
}

// hasRootFile reports whether a folder is the root of an estate.
func hasRootFile(dir string) bool {
	return slices.ContainsFunc(RootFiles, func(name string) bool {
		info, err := os.Stat(filepath.Join(dir, name))
		return err == nil && info.Mode().IsRegular()
	})
}

// locateInHead finds the estate in the last commit, where the disk has no
// estate.hcl: in a bare repository, and in a working tree that is checked out
// in part or not at all.
func locateInHead(repo *Repository, dir string) (*Place, error) {
	ctx := context.Background()
	head, err := repo.Resolve(ctx, "HEAD")
	if err != nil {
		if repo.Top() == "" {
			return nil, err
		}
		return nil, nil
	}
	c, err := repo.Commit(ctx, head)
	if err != nil {
		return nil, err
	}
	if repo.Top() == "" {
		return locateBare(ctx, repo, c)
	}
	prefix, err := below(repo.Top(), dir)
	if err != nil {
		return nil, nil
	}
	for {
		for _, name := range RootFiles {
			h, _, err := repo.lookup(ctx, c.Tree, path.Join(prefix, name))
			if err != nil {
				return nil, err
			}
			if h != "" {
				return &Place{Root: filepath.Join(repo.Top(), filepath.FromSlash(prefix)), Prefix: prefix, Repo: repo, absent: name}, nil
			}
		}
		if prefix == "" {
			return nil, nil
		}
		prefix = prefix[:max(strings.LastIndexByte(prefix, '/'), 0)]
	}
}

// locateBare takes the estate at the top of a bare repository, or the only one
// below it.
func locateBare(ctx context.Context, repo *Repository, c *Commit) (*Place, error) {
	var found []string
	err := repo.walk(ctx, c.Tree, "", func(path string, e *entry) bool {
		if root := strings.TrimSuffix(strings.TrimSuffix(path, string(e.name)), "/"); e.isRegular() && IsRootFile(string(e.name)) && !slices.Contains(found, root) {
			found = append(found, root)
		}
		return !hostile(e.name)
	})
	if err != nil {
		return nil, err
	}
	if slices.Contains(found, "") {
		return &Place{Repo: repo}, nil
	}
	switch len(found) {
	case 0:
		return nil, fmt.Errorf("the last commit of %s holds no %s: %w", repo.GitDir(), RootFile, ErrNoEstate)
	case 1:
		return &Place{Prefix: found[0], Repo: repo}, nil
	}
	return nil, fmt.Errorf("the bare repository %s holds several estates (%s); clone it, and choose one with --root", repo.GitDir(), strings.Join(found, ", "))
}

// below gives the slash path of dir inside top.
func below(top, dir string) (string, error) {
	real, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return "", err
	}
	rel, err := filepath.Rel(top, real)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return "", fmt.Errorf("the estate in %s lies outside the working tree %s of its repository", dir, top)
	}
	if rel == "." {
		return "", nil
	}
	return filepath.ToSlash(rel), nil
}

// Folder gives the estate as it lies on the disk.
func (p *Place) Folder() (Tree, error) {
	if p.Root == "" {
		return nil, errors.New("a bare repository has no folder to read; name a commit with --at, such as --at HEAD")
	}
	if p.absent != "" {
		return nil, fmt.Errorf("%s is in the last commit and not in the folder; bring it back with: git checkout --ignore-skip-worktree-bits HEAD -- %s, or read the commit with --at HEAD",
			p.absent, path.Join(p.Prefix, p.absent))
	}
	t := &folder{root: p.Root}
	if dir := p.Store(); dir != "" {
		t.memo = readMemo(memoFile(dir, p.Root))
	}
	if p.Repo != nil {
		var err error
		if t.left, t.lost, err = p.left(context.Background()); err != nil {
			return nil, err
		}
		t.repo = p.Repo
	}
	return t, nil
}

// Store gives the folder in the git directory in which results may be kept
// from run to run, or "" where there is none, or [Place.Forget] was called.
func (p *Place) Store() string {
	if p.Repo == nil || p.forget {
		return ""
	}
	return filepath.Join(p.Repo.GitDir(), "cagenut")
}

// Forget makes the place neither use nor keep results of other runs.
func (p *Place) Forget() { p.forget = true }

// At gives the estate as it is in the commit that rev names.
func (p *Place) At(ctx context.Context, rev string) (Tree, error) {
	if err := p.needRepo(); err != nil {
		return nil, err
	}
	h, err := p.Repo.Resolve(ctx, rev)
	if err != nil {
		return nil, err
	}
	return p.Commit(ctx, h, rev)
}

func (p *Place) needRepo() error {
	if p.repoErr != nil {
		return p.repoErr
	}
	if p.Repo == nil {
		return fmt.Errorf("%s is in no git repository: there are no commits to read; make one with: git init", p.Root)
	}
	return nil
}
