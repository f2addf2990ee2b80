#!/usr/bin/env bash
# fuzz.sh TIME: run every fuzz target of the project for TIME, one after the other.
set -euo pipefail
cd "$(dirname "$0")/.."
time=${1:-30s}
grep -rlE '^func Fuzz' --include='*_test.go' . | while read -r file; do
  room=$(dirname "$file")
  sed -nE 's/^func (Fuzz[A-Za-z0-9]+)\(.*/\1/p' "$file" | while read -r target; do
    echo "fuzz $room $target $time"
    go test "$room" -run '^$' -fuzz "^${target}\$" -fuzztime "$time"
  done
done
