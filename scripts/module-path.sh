#!/bin/sh
# module-path.sh NEW/PATH : gives the module a path under which it can be
# fetched, in every file that names the present one. Run it in the root of a
# clean tree, look at the difference, and commit it.
set -eu
new=${1:?give the new path, such as example.org/boltplate}
case $new in
*[!A-Za-z0-9._~/-]* | /* | */ | *//*)
	echo "module-path.sh: $new is no path of a module" >&2
	exit 2
	;;
esac
old=$(go list -m)
[ "$old" != "$new" ] || exit 0
dot=$(printf '%s' "$old" | sed 's/[.]/\\./g')
# Imports and the module line; and in the docs what a reader types.
git ls-files '*.go' | while read -r f; do
	sed -e "s#\"$dot/#\"$new/#g" -e "s#\"$dot\"#\"$new\"#g" "$f" >"$f.new" && cat "$f.new" >"$f" && rm "$f.new"
done
go mod edit -module "$new"
git ls-files '*.md' '*.go' | while read -r f; do
	sed -e "s#require $dot v#require $new v#" -e "s#replace $dot =>#replace $new =>#" "$f" >"$f.new" && cat "$f.new" >"$f" && rm "$f.new"
done
gofmt -w $(git ls-files '*.go')
go build ./...
