#!/usr/bin/env bash
# Runs every fuzz target for a while (default 2m), one after the other, and prints what each tried. What one finds becomes a file in the
# testdata of its package, which plain tests then run for ever:
#
#	bash .ci/fuzz.sh 30s FuzzParse
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

each=${1:-2m}
only=${2:-.}
failed=0
while IFS=: read -r file name; do
	package=./$(dirname "$file")
	printf '%s %s: ' "$package" "$name"
	# Go's fuzzer now and then fails by the end of its own time alone; what it finds it writes down as a failing input.
	if out=$(go test -run '^$' -fuzz "^$name\$" -fuzztime "$each" "$package" 2>&1) ||
		{ grep -q '^ *context deadline exceeded$' <<<"$out" && ! grep -q -e 'Failing input' -e 'panic' <<<"$out"; }; then
		sed -nE 's/.*execs: ([0-9]+).*/\1/p' <<<"$out" | tail -1 | sed 's/$/ tried, nothing found/'
	else
		echo "FOUND"
		echo "$out"
		failed=1
	fi
done < <(git ls-files '*_test.go' | xargs grep -oE '^func Fuzz[A-Za-z0-9_]+' /dev/null | sed 's/func //' | grep -E "$only")
exit "$failed"
