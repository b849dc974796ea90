#!/bin/sh
# Lints the racks of a checkout and writes the review of what it changes.
#
# It is a plain shell script, for any pipeline. It needs git, and cagenut on the
# PATH or named by CAGENUT. What it is told comes from the environment:
#
#   ESTATE    folder of the estate in the checkout (default: .)
#   BASE      what the checkout is compared with: a commit, or a branch of the
#             remote. Empty: the first parent where HEAD is a merge, as in the
#             checkout of a pull request; otherwise nothing is compared.
#   FAIL_ON   error (default), warning or note: what fails the run
#   OUT       folder for what it writes (default: racks-out)
#   REMOTE    where a missing base is fetched from (default: origin)
#   LINKS     template of links to lines, for the review
#
# It writes OUT/lint.txt, OUT/lint.sarif, OUT/lint.xml (JUnit), and with a base
# OUT/review.md and OUT/review.html. The exit status is that of the lint: 0
# nothing to report, 1 reported, 2 called wrongly, 3 could not do its work.
#
# The checkout may be shallow: of the base only one commit is fetched.
set -eu

cagenut=${CAGENUT:-cagenut}
estate=${ESTATE:-.}
base=${BASE:-}
fail_on=${FAIL_ON:-error}
out=${OUT:-racks-out}
remote=${REMOTE:-origin}

say() { printf 'racks: %s\n' "$*" >&2; }

command -v "$cagenut" >/dev/null || {
  say "$cagenut is not on the PATH; build it with: go build -o cagenut ./cmd/cagenut"
  exit 3
}

# have tells whether a commit is here with its files.
have() { git cat-file -e "$1^{tree}" 2>/dev/null; }

# The parents that the commit names, whether they have been fetched or not:
# git hides them at the edge of a shallow clone.
if [ -z "$base" ]; then
  parents=$(git cat-file -p HEAD | sed -n '/^$/q; s/^parent //p')
  if [ "$(printf '%s\n' "$parents" | wc -l)" -gt 1 ]; then
    base=$(printf '%s\n' "$parents" | head -n 1)
  fi
fi

# A push of a new branch names a commit of zeros as what was there before.
case $base in
*[!0]*) ;;
*) base= ;;
esac

if [ -n "$base" ] && ! have "$base"; then
  if have "$remote/$base"; then
    base=$remote/$base
  else
    say "fetching $base from $remote"
    git fetch --quiet --no-tags --depth=1 "$remote" "$base" || {
      say "$base could not be fetched from $remote"
      exit 3
    }
    base=$(git rev-parse FETCH_HEAD)
  fi
fi

mkdir -p "$out"
set -- --root "$estate" --fail-on "$fail_on"
if [ -n "$base" ]; then
  set -- "$@" --base "$base"
fi

status=0
"$cagenut" lint "$@" >"$out/lint.txt" || status=$?
cat "$out/lint.txt"
[ "$status" -le 1 ] || exit "$status"

# The same findings for machines; only a failure of the tool counts here.
for form in sarif:lint.sarif junit:lint.xml; do
  "$cagenut" lint "$@" --format "${form%%:*}" >"$out/${form#*:}" || [ $? -eq 1 ] || exit 3
done

if [ -n "$base" ]; then
  set -- --root "$estate" "$base..HEAD"
  if [ -n "${LINKS:-}" ]; then
    set -- "$@" --links "$LINKS"
  fi
  "$cagenut" review "$@" --format markdown >"$out/review.md"
  "$cagenut" review "$@" --format html >"$out/review.html"
fi
exit "$status"
