package source

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"cagenut/lang/near"
	"cagenut/lang/quantity"
)

// Resolve gives the commit that a revision names, in the words of git:
//
//	HEAD @ main v1.2 origin/main refs/heads/main heads/main   names, tags of tags included
//	3157ad400                    a hash, whole or four digits and more
//	v1.2-3-g3157ad4              what git describe prints
//	X~3 X^2 X^0 X^{} X^{commit}  ancestors and parents
//	@{u} main@{upstream} @{push} the branch that a branch follows
//	main@{2} @{-1}               where a branch was, and the branch before
//	:/text X^{/text}             the youngest commit whose message matches
//
// What is no commit (HEAD:path, HEAD^{tree}) and what names several (A..B,
// X^@) is refused by name. Dates such as main@{yesterday} are left to the
// installed git.
func (r *Repository) Resolve(ctx context.Context, rev string) (Hash, error) {
	if err := refuse(rev); err != nil {
		return "", err
	}
	s := resolving{repo: r, whole: rev, rest: rev}
	h, err := s.base(ctx)
	for err == nil && s.rest != "" {
		h, err = s.step(ctx, h)
	}
	if err != nil {
		return "", err
	}
	return s.commit(ctx, h)
}

// A RevisionError says why a revision names no commit.
type RevisionError struct {
	Rev  string // as the user wrote it
	text string
}

func (e *RevisionError) Error() string { return e.text }

func revErrorf(rev, format string, args ...any) error {
	return &RevisionError{rev, fmt.Sprintf(format, args...)}
}

// refuse answers forms that name something other than one commit.
func refuse(rev string) error {
	outside := rev // without what stands in braces, or behind :/
	if strings.HasPrefix(rev, ":/") {
		return nil
	}
	for {
		i := strings.IndexByte(outside, '{')
		if i < 0 {
			break
		}
		j := strings.IndexByte(outside[i:], '}')
		if j < 0 {
			return revErrorf(rev, "the revision %q opens a brace and does not close it", rev)
		}
		outside = outside[:i] + outside[i+j+1:]
	}
	switch {
	case rev == "":
		return revErrorf(rev, "an empty revision names nothing; write a branch, a tag or a commit, such as HEAD")
	case rev[0] == '-':
		return revErrorf(rev, "%q is no revision: none begins with a dash", rev)
	case strings.Contains(outside, ".."):
		return revErrorf(rev, "%q is a range of two revisions where one is wanted", rev)
	case rev[0] == '^':
		return revErrorf(rev, "%q takes commits away and names none; write %q", rev, rev[1:])
	case strings.HasSuffix(outside, "^@"), strings.HasSuffix(outside, "^!"), strings.Contains(outside, "^-"):
		return revErrorf(rev, "%q names several commits where one is wanted", rev)
	case rev[0] == ':':
		return revErrorf(rev, "%q names a file in the index, not a commit", rev)
	}
	if name, path, ok := strings.Cut(outside, ":"); ok {
		return revErrorf(rev, "%q names %s in a commit, not the commit itself; write %q", rev, orTop(path), name)
	}
	return nil
}

// A resolving reads a revision from left to right.
type resolving struct {
	repo  *Repository
	whole string
	rest  string // what is not read yet
	done  string // what is, for messages
	at    string // the reference that the base named, if any
}

// base reads the name that a revision begins with.
func (s *resolving) base(ctx context.Context) (Hash, error) {
	if pattern, ok := strings.CutPrefix(s.rest, ":/"); ok {
		s.rest = ""
		tips, err := s.repo.tips()
		if err != nil {
			return "", err
		}
		return s.search(ctx, tips, pattern)
	}
	end := len(s.rest)
	for _, sign := range []string{"~", "^", "@{"} {
		if i := strings.Index(s.rest, sign); i >= 0 && i < end {
			end = i
		}
	}
	name := s.rest[:end]
	s.rest, s.done = s.rest[end:], name
	if inner, ok := strings.CutPrefix(s.rest, "@{"); ok {
		inner, rest, _ := strings.Cut(inner, "}")
		s.done, s.rest = name+"@{"+inner+"}", rest
		return s.braces(ctx, name, inner)
	}
	if name == "@" {
		name = "HEAD"
	}
	return s.named(ctx, name)
}

// named resolves a name without signs: a hash, a reference, a short hash or
// the output of git describe, in this order, as git does.
func (s *resolving) named(ctx context.Context, name string) (Hash, error) {
	r := s.repo
	if h, ok := ParseHash(name); ok && len(h) == int(r.bits) {
		return h, nil
	}
	h, at, err := r.expand(ctx, name)
	if err == nil {
		s.at = at
		return h, nil
	}
	if !errors.Is(err, errNoRef) {
		return "", err
	}
	if i := strings.LastIndex(name, "-g"); i > 0 {
		if h, err := s.abbreviated(ctx, name[i+2:]); err == nil {
			return h, nil
		}
	}
	h, err = s.abbreviated(ctx, name)
	if err == nil || !errors.Is(err, errNoRef) {
		return h, err
	}
	return "", s.unknown(name)
}

// places are where git looks for a name, in order.
var places = []string{"%s", "refs/%s", "refs/tags/%s", "refs/heads/%s", "refs/remotes/%s", "refs/remotes/%s/HEAD"}

// expand finds the reference that a short name means, and where it points.
func (r *Repository) expand(ctx context.Context, name string) (Hash, string, error) {
	if r.why != "" {
		out, err := r.ask(ctx, "rev-parse", "--verify", "--quiet", "--end-of-options", name)
		if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
			return "", "", errNoRef // it has nothing to say: there is no such name
		}
		if err != nil {
			return "", "", err
		}
		h, ok := ParseHash(strings.TrimSpace(string(out)))
		if !ok {
			return "", "", errNoRef
		}
		at := ""
		if out, err := r.ask(ctx, "rev-parse", "--symbolic-full-name", "--end-of-options", name); err == nil {
			lines := strings.Fields(string(out))
			if len(lines) > 0 {
				at = lines[len(lines)-1]
			}
		}
		return h, at, nil
	}
	for _, place := range places {
		full := fmt.Sprintf(place, name)
		h, at, err := r.ref(full)
		if err == nil {
			return h, at, nil
		}
		if !errors.Is(err, errNoRef) {
			return "", "", err
		}
		if full == "HEAD" {
			return "", "", r.unborn(at)
		}
	}
	return "", "", errNoRef
}

// unborn says that HEAD names a branch without commits.
func (r *Repository) unborn(at string) error {
	branch := strings.TrimPrefix(at, "refs/heads/")
	return revErrorf("HEAD", "the branch %s has no commit yet; commit something first, or leave the revision out to read the folder", branch)
}

// abbreviated resolves the first digits of a hash. Where several objects begin
// so, commits are meant.
func (s *resolving) abbreviated(ctx context.Context, digits string) (Hash, error) {
	lower := strings.ToLower(digits)
	if len(lower) < 4 || len(lower) >= 2*int(s.repo.bits) || strings.Trim(lower, "0123456789abcdef") != "" {
		return "", errNoRef
	}
	o, err := s.repo.acquire()
	if err != nil {
		return "", err
	}
	found, err := o.prefix(lower)
	s.repo.release(o)
	if err != nil {
		return "", err
	}
	sort.Slice(found, func(i, j int) bool { return found[i] < found[j] })
	switch len(found) {
	case 0:
		return "", errNoRef
	case 1:
		return found[0], nil
	}
	var commits []Hash
	var names []string
	for _, h := range found {
		k, _, err := s.repo.object(ctx, h)
		if err != nil {
			return "", err
		}
		if k == commitKind || k == tagKind {
			commits = append(commits, h)
		}
		names = append(names, fmt.Sprintf("%s %s", k, h))
	}
	if len(commits) == 1 {
		return commits[0], nil
	}
	return "", revErrorf(s.whole, "%q begins the names of several objects: %s; write more digits", digits, strings.Join(names, ", "))
}

// orTop names what a path in a commit is, which may be a file or a folder.
func orTop(path string) string {
	if path == "" {
		return "the top folder"
	}
	return Quote(path)
}

// unknown says that nothing has a name, with the nearest that is known.
func (s *resolving) unknown(name string) error {
	r := s.repo
	var known []string
	for _, prefix := range []string{"refs/heads/", "refs/tags/", "refs/remotes/"} {
		refs, err := r.refs(prefix)
		if err != nil {
			break
		}
		for _, f := range refs {
			known = append(known, strings.TrimPrefix(f.name, prefix))
		}
	}
	meant := near.Name(name, known)
	text := fmt.Sprintf("there is no branch, tag or commit %q", name)
	fetch, remote := "", r.remote()
	if len(r.config.Section("remote").Subsections) > 0 {
		fetch = r.fetchOf(remote, name)
	}
	switch {
	case meant != "" && fetch != "" && strings.HasPrefix(name, remote+"/"):
		// All branches of one remote resemble each other by its name, and a
		// clone of one branch has no other: what was meant may not be here yet.
		return revErrorf(s.whole, "%s here; did you mean %q? If %s has it, fetch it with: %s", text, meant, remote, fetch)
	case meant != "":
		return revErrorf(s.whole, "%s; did you mean %q?", text, meant)
	case fetch != "" && shortHash(name):
		return revErrorf(s.whole, "%s here; if it begins a hash, write it whole, since a remote gives commits by no less; if it is a branch of %s, fetch it with: %s",
			text, remote, fetch)
	case fetch != "":
		return revErrorf(s.whole, "%s here; if %s has it, fetch it with: %s", text, remote, fetch)
	}
	return revErrorf(s.whole, "%s", text)
}

// shortHash reports whether a name may be the beginning of a hash, as git
// shortens them.
func shortHash(name string) bool {
	return len(name) >= 7 && len(name) < 40 && strings.Trim(strings.ToLower(name), "0123456789abcdef") == ""
}

// fetchOf says how to bring here what a remote calls by a name, and what to
// write then where the name itself still means nothing.
func (r *Repository) fetchOf(remote, name string) string {
	depth := ""
	if r.Shallow() {
		depth = "--depth=1 "
	}
	what, then := name, ", and write FETCH_HEAD"
	if short, ok := strings.CutPrefix(name, remote+"/"); ok {
		what, then = fmt.Sprintf("%s:refs/remotes/%s/%s", short, remote, short), ""
	} else if _, ok := ParseHash(name); ok {
		then = ""
	} else if name == "FETCH_HEAD" {
		what, then = "BRANCH", ""
	}
	return fmt.Sprintf("git fetch %s%s %s%s", depth, remote, what, then)
}

// step reads one sign and applies it.
func (s *resolving) step(ctx context.Context, h Hash) (Hash, error) {
	before := s.done
	sign, rest := s.rest[0], s.rest[1:]
	take := func(n int) { s.done, s.rest = s.done+s.rest[:n], s.rest[n:] }
	switch {
	case sign == '^' && strings.HasPrefix(rest, "{"):
		inner, _, ok := strings.Cut(rest[1:], "}")
		if !ok {
			return "", revErrorf(s.whole, "the revision %q opens a brace and does not close it", s.whole)
		}
		take(len("^{}") + len(inner))
		return s.peel(ctx, h, before, inner)
	case sign == '~' || sign == '^':
		digits := 0
		for digits < len(rest) && rest[digits] >= '0' && rest[digits] <= '9' {
			digits++
		}
		n := 1
		if digits > 0 {
			var err error
			if n, err = strconv.Atoi(rest[:digits]); err != nil {
				return "", revErrorf(s.whole, "%q counts further back than any history reaches", s.whole)
			}
		}
		take(1 + digits)
		if sign == '^' {
			return s.parent(ctx, h, before, n)
		}
		for i := range n {
			c, err := s.commitOf(ctx, h)
			if err != nil {
				return "", err
			}
			if len(c.Parents) == 0 {
				return "", s.ends(c, before, fmt.Sprintf("%s back from %s", quantity.Count(n, "commit"), before), i)
			}
			h = c.Parents[0]
		}
		if n == 0 {
			return s.commit(ctx, h)
		}
		return h, nil
	}
	return "", revErrorf(s.whole, "the revision %q cannot be read from %q on; write a branch, a tag or a hash, with ~N or ^N behind it", s.whole, s.rest)
}

// parent gives the nth parent of a commit; none at all is the commit itself.
func (s *resolving) parent(ctx context.Context, h Hash, before string, n int) (Hash, error) {
	c, err := s.commitOf(ctx, h)
	if err != nil {
		return "", err
	}
	if n == 0 {
		return c.Hash, nil
	}
	if n > len(c.Parents) {
		if len(c.Parents) == 0 {
			return "", s.ends(c, before, "a parent of "+before, 0)
		}
		return "", revErrorf(s.whole, "%s has %s, so there is no %s^%d", called(c.Hash, before), quantity.Count(len(c.Parents), "parent"), before, n)
	}
	return c.Parents[n-1], nil
}

// ends says that history stops before the commit that is asked for.
func (s *resolving) ends(c *Commit, before, wanted string, steps int) error {
	if c.Boundary {
		return &ShallowError{fmt.Sprintf("this clone is shallow and ends at %s, before %s; fetch more history with: git fetch --deepen=100 %s",
			c.Hash.Short(), wanted, s.repo.remote())}
	}
	if steps == 0 {
		return revErrorf(s.whole, "%s is the first commit of its history; it has no parent", called(c.Hash, before))
	}
	return revErrorf(s.whole, "history begins %s before %s, so there is no %q", quantity.Count(steps, "commit"), before, s.whole)
}

// A ShallowError says that a shallow clone lacks the history that is asked
// for, and what to run.
type ShallowError struct{ text string }

func (e *ShallowError) Error() string { return e.text }

// peel applies ^{WHAT}.
func (s *resolving) peel(ctx context.Context, h Hash, before, what string) (Hash, error) {
	if pattern, ok := strings.CutPrefix(what, "/"); ok {
		c, err := s.commit(ctx, h)
		if err != nil {
			return "", err
		}
		return s.search(ctx, []Hash{c}, pattern)
	}
	switch what {
	case "", "commit":
		return s.commit(ctx, h)
	case "object":
		return h, nil
	case "tag":
		k, _, err := s.repo.object(ctx, h)
		if err != nil {
			return "", err
		}
		if k != tagKind {
			return "", revErrorf(s.whole, "%s is a %s, not an annotated tag", before, k)
		}
		return h, nil
	case "tree", "blob":
		word := map[string]string{"tree": "tree", "blob": "file"}[what]
		return "", revErrorf(s.whole, "%q names a %s, not a commit; write %q", s.whole, word, before)
	}
	return "", revErrorf(s.whole, "%q asks for a %q; git knows commit, tag and a text to search as in %s^{/text}", s.whole, what, before)
}

// commit follows tags, and tags of tags, to the commit.
func (s *resolving) commit(ctx context.Context, h Hash) (Hash, error) {
	for {
		k, data, err := s.repo.object(ctx, h)
		if err != nil {
			if e := (*MissingError)(nil); errors.As(err, &e) && strings.HasPrefix(h.String(), s.done) && !s.repo.Partial() && !s.repo.Shallow() {
				return "", s.unknown(s.done)
			}
			return "", fmt.Errorf("reading %s: %w", s.whole, err)
		}
		switch k {
		case commitKind:
			return h, nil
		case tagKind:
			line, _, _ := strings.Cut(string(data), "\n")
			to, ok := ParseHash(strings.TrimPrefix(line, "object "))
			if !ok {
				return "", fmt.Errorf("the tag %s is damaged; see what is damaged with: git fsck", h.Short())
			}
			h = to
		default:
			return "", revErrorf(s.whole, "%s is a %s, not a commit", called(h, s.done), k)
		}
	}
}

func (s *resolving) commitOf(ctx context.Context, h Hash) (*Commit, error) {
	h, err := s.commit(ctx, h)
	if err != nil {
		return nil, err
	}
	return s.repo.Commit(ctx, h)
}

// search gives the youngest commit reachable from tips whose message matches.
func (s *resolving) search(ctx context.Context, tips []Hash, pattern string) (Hash, error) {
	negate := false
	switch {
	case strings.HasPrefix(pattern, "!-"):
		negate, pattern = true, pattern[2:]
	case strings.HasPrefix(pattern, "!!"):
		pattern = pattern[1:]
	case strings.HasPrefix(pattern, "!"):
		return "", revErrorf(s.whole, "%q: write !- before a text that must not occur, and !! for an exclamation mark", s.whole)
	}
	re, err := regexp.Compile(pattern)
	if err != nil {
		re = regexp.MustCompile(regexp.QuoteMeta(pattern))
	}
	var found Hash
	err = s.repo.youngest(ctx, tips, func(c *Commit) (bool, error) {
		data, err := s.repo.typed(ctx, c.Hash, commitKind)
		if err != nil {
			return false, err
		}
		_, message, _ := strings.Cut(string(data), "\n\n")
		if re.MatchString(message) != negate {
			found = c.Hash
			return false, nil
		}
		return true, nil
	})
	if err != nil {
		return "", err
	}
	if found == "" {
		return "", revErrorf(s.whole, "no commit has a message that matches %q", pattern)
	}
	return found, nil
}

// tips gives the commits that references name.
func (r *Repository) tips() ([]Hash, error) {
	refs, err := r.refs("refs/")
	if err != nil {
		return nil, err
	}
	var tips []Hash
	if h, _, err := r.expand(context.Background(), "HEAD"); err == nil {
		tips = append(tips, h)
	}
	for _, f := range refs {
		s := resolving{repo: r, whole: f.name, done: f.name}
		if h, err := s.commit(context.Background(), f.hash); err == nil {
			tips = append(tips, h)
		}
	}
	return tips, nil
}

// braces resolves NAME@{INNER}.
func (s *resolving) braces(ctx context.Context, name, inner string) (Hash, error) {
	r := s.repo
	if n, err := strconv.Atoi(inner); err == nil {
		if n < 0 {
			if name != "" {
				return "", revErrorf(s.whole, "%q: @{-%d} is the branch before; nothing stands in front of it", s.whole, -n)
			}
			return s.previous(ctx, -n)
		}
		return s.reflog(ctx, name, n)
	}
	switch strings.ToLower(inner) {
	case "u", "upstream", "push":
		return s.upstream(ctx, name, strings.ToLower(inner) == "push")
	case "":
		return "", revErrorf(s.whole, "%q says nothing between the braces; write main@{1}, @{u} or @{-1}", s.whole)
	}
	if findGit() == "" {
		return "", revErrorf(s.whole, "%q asks where a branch was at a date, which takes the installed git; git is not installed", s.whole)
	}
	out, err := r.ask(ctx, "rev-parse", "--verify", "--end-of-options", s.done)
	if err != nil {
		return "", revErrorf(s.whole, "%q names no commit: %v", s.whole, err)
	}
	h, _ := ParseHash(strings.TrimSpace(string(out)))
	return h, nil
}

// branch gives the whole name of a branch; "" and "@" are the one that is
// checked out.
func (s *resolving) branch(ctx context.Context, name string) (string, error) {
	if name == "" || name == "@" || name == "HEAD" {
		_, at, err := s.repo.expand(ctx, "HEAD")
		if err != nil {
			return "", err
		}
		if !strings.HasPrefix(at, "refs/heads/") {
			return "", revErrorf(s.whole, "%q asks about the branch that is checked out, and none is", s.whole)
		}
		return at, nil
	}
	_, at, err := s.repo.expand(ctx, name)
	if errors.Is(err, errNoRef) {
		return "", s.unknown(name)
	}
	if err != nil {
		return "", err
	}
	return at, nil
}

// upstream resolves the branch that a branch follows.
func (s *resolving) upstream(ctx context.Context, name string, push bool) (Hash, error) {
	r := s.repo
	full, err := s.branch(ctx, name)
	if err != nil {
		return "", err
	}
	branch, ok := strings.CutPrefix(full, "refs/heads/")
	if !ok {
		return "", revErrorf(s.whole, "%q: %s is no branch of this clone, so it follows none", s.whole, name)
	}
	remote := r.setting("branch", branch, "remote")
	merge := r.setting("branch", branch, "merge")
	if push {
		if p := r.setting("branch", branch, "pushremote"); p != "" {
			remote, merge = p, full
		} else if p := r.setting("remote", "", "pushdefault"); p != "" {
			remote, merge = p, full
		}
	}
	if remote == "" || merge == "" {
		return "", revErrorf(s.whole, "the branch %s follows no other; give it one with: git branch --set-upstream-to=origin/%s %s", branch, branch, branch)
	}
	target := merge
	if remote != "." {
		target = ""
		for _, spec := range r.fetchSpecs(remote) {
			if to, ok := mapRef(spec, merge); ok {
				target = to
				break
			}
		}
		if target == "" {
			return "", revErrorf(s.whole, "the branch %s follows %s of %s, which is not among what is fetched from there; fetch it with: git fetch %s %s, and write FETCH_HEAD",
				branch, merge, remote, remote, merge)
		}
	}
	h, at, err := r.expand(ctx, target)
	if errors.Is(err, errNoRef) {
		return "", revErrorf(s.whole, "the branch %s follows %s, which is not here; fetch it with: git fetch %s", branch, strings.TrimPrefix(target, "refs/remotes/"), remote)
	}
	s.at = at
	return h, err
}

func (r *Repository) fetchSpecs(remote string) []string {
	for _, sub := range r.config.Section("remote").Subsections {
		if sub.IsName(remote) {
			return sub.Options.GetAll("fetch")
		}
	}
	return nil
}

// mapRef says where a fetch puts a reference: +refs/heads/*:refs/remotes/origin/*.
func mapRef(spec, name string) (string, bool) {
	from, to, ok := strings.Cut(strings.TrimPrefix(spec, "+"), ":")
	if !ok {
		return "", false
	}
	head, tail, star := strings.Cut(from, "*")
	if !star {
		return to, from == name
	}
	if len(name) < len(head)+len(tail) || !strings.HasPrefix(name, head) || !strings.HasSuffix(name, tail) {
		return "", false
	}
	return strings.Replace(to, "*", name[len(head):len(name)-len(tail)], 1), true
}

// reflog resolves where a reference was n steps ago.
func (s *resolving) reflog(ctx context.Context, name string, n int) (Hash, error) {
	r := s.repo
	full := ""
	switch name {
	case "":
		_, at, err := r.expand(ctx, "HEAD")
		if err != nil {
			return "", err
		}
		full = at
	case "@", "HEAD":
		full, name = "HEAD", "HEAD"
	default:
		_, at, err := r.expand(ctx, name)
		if errors.Is(err, errNoRef) {
			return "", s.unknown(name)
		}
		if err != nil {
			return "", err
		}
		full = at
	}
	if n == 0 {
		h, _, err := r.expand(ctx, full)
		return h, err
	}
	lines, err := r.reflogLines(full)
	if err != nil {
		return "", err
	}
	short := strings.TrimPrefix(full, "refs/heads/")
	if n > len(lines) || n == len(lines) && lines[0].old.IsZero() {
		return "", revErrorf(s.whole, "%q: this clone remembers %s of %s; a reflog is kept where the work was done, and a fresh clone has none",
			s.whole, quantity.Count(max(len(lines)-1, 0), "earlier place"), short)
	}
	if n == len(lines) {
		return lines[0].old, nil
	}
	return lines[len(lines)-1-n].new, nil
}

type reflogLine struct {
	old, new Hash
	message  string
}

func (r *Repository) reflogLines(full string) ([]reflogLine, error) {
	if r.why != "" {
		return r.reflogInstalled(full)
	}
	dir := r.common
	if !strings.HasPrefix(full, "refs/") {
		dir = r.git
	}
	data, err := os.ReadFile(filepath.Join(dir, "logs", filepath.FromSlash(full)))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("reading the reflog of %s: %w", full, reason(err))
	}
	var lines []reflogLine
	for line := range strings.Lines(string(data)) {
		head, message, _ := strings.Cut(strings.TrimRight(line, "\n"), "\t")
		fields := strings.Fields(head)
		if len(fields) < 2 {
			continue
		}
		old, okOld := ParseHash(fields[0])
		neu, okNew := ParseHash(fields[1])
		if okOld && okNew {
			lines = append(lines, reflogLine{old, neu, message})
		}
	}
	return lines, nil
}

// reflogInstalled gives the reflog as the installed git tells it, which has
// only the newer hash of each line.
func (r *Repository) reflogInstalled(full string) ([]reflogLine, error) {
	out, err := r.ask(context.Background(), "log", "-g", "--format=%H%x09%gs", full, "--")
	if err != nil {
		return nil, err
	}
	var lines []reflogLine
	for line := range strings.Lines(string(out)) {
		hash, message, _ := strings.Cut(strings.TrimRight(line, "\n"), "\t")
		if h, ok := ParseHash(hash); ok {
			lines = append([]reflogLine{{new: h, message: message}}, lines...)
		}
	}
	for i := 1; i < len(lines); i++ {
		lines[i].old = lines[i-1].new
	}
	return lines, nil
}

// previous resolves the branch that was checked out n changes ago.
func (s *resolving) previous(ctx context.Context, n int) (Hash, error) {
	lines, err := s.repo.reflogLines("HEAD")
	if err != nil {
		return "", err
	}
	seen := 0
	for i := len(lines) - 1; i >= 0; i-- {
		rest, ok := strings.CutPrefix(lines[i].message, "checkout: moving from ")
		if !ok {
			continue
		}
		if seen++; seen == n {
			from, _, _ := strings.Cut(rest, " to ")
			return s.named(ctx, from)
		}
	}
	return "", revErrorf(s.whole, "%q: this working tree remembers %s of branch", s.whole, quantity.Count(seen, "change"))
}
