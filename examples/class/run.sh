#!/bin/sh
# Sets the plate to the class, stands in for forty students, and marks what they
# hand in: run.sh DIR
set -e
here=$(dirname "$0")
out=${1:?give a folder for the sheets and the marks}
mkdir -p "$out"
out=$(cd "$out" && pwd)
boltplate=${BOLTPLATE:-"go run ./cmd/boltplate"}
cd "$here/../.."
$boltplate handout examples/class/class.csv examples/class/plate.toml --seed "spring term" -o "$out/handout" --force
go run ./examples/class/submissions "$out/handout" "$out/back"
$boltplate mark --all "$out/back" --class examples/class/class.csv --plate examples/class/plate.toml --seed "spring term" -o "$out/marked" --force
