#!/usr/bin/env bash
# Reports accidental breaks of the library's public API: compares every package
# that others import with the newest tag, and fails where something that a
# program may use is gone or has changed. Where there is no tag there is nothing
# to compare with.
set -euo pipefail
cd "$(dirname "$0")/.."

tag=$(git describe --tags --abbrev=0 --match 'v*' 2>/dev/null || true)
if [ -z "$tag" ]; then
	echo "no tag to compare the API with"
	exit 0
fi
work=$(mktemp -d)
trap 'git worktree remove --force "$work/old" 2>/dev/null; rm -rf "$work"' EXIT
git worktree add -q --detach "$work/old" "$tag"
go build -o "$work/apidiff" golang.org/x/exp/cmd/apidiff

status=0
for package in $(cd "$work/old" && go list ./... | grep -v -e /internal -e /cmd/ -e /examples/); do
	(cd "$work/old" && "$work/apidiff" -w "$work/old.export" "$package")
	broken=$("$work/apidiff" -incompatible "$work/old.export" "$package" 2>&1) || broken="$package is gone"
	if [ -n "$broken" ]; then
		printf '%s since %s:\n%s\n' "$package" "$tag" "$broken"
		status=1
	fi
done
exit $status
