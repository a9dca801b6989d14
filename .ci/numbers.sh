#!/usr/bin/env bash
# Runs the tests of calc and gathers the worst error of each comparison with a reference table. "numbers.sh write" puts them into
# docs/numbers.md, "numbers.sh" fails if the page says something else.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
page=docs/numbers.md
mkdir -p .cache

go test -count=1 -v ./calc/... >.cache/calc.log || { grep -vE '^(=== |--- PASS|PASS)' .cache/calc.log; exit 1; }
awk '
	/worst error of / {
		sub(/.*worst error of /, "")
		if (seen[$0]++) next
		what = $0; sub(/: [-0-9].*/, "", what)
		rest = substr($0, length(what) + 3)
		error = rest; sub(/ (at|\().*/, "", error)
		cases = match($0, /[0-9]+ cases/) ? substr($0, RSTART, RLENGTH - 6) : ""
		allowed = match($0, /allowed [-0-9.e+]+( %)?/) ? substr($0, RSTART + 8, RLENGTH - 8) : ""
		if (allowed != "") { percent = allowed ~ /%/ ? " %" : ""; allowed = sprintf("%.3g", allowed + 0) percent }
		rows = rows "| " what " | " error " | " allowed " | " cases " |\n"
	}
	/^ok[ \t]+torchside\/calc\// {
		if (rows != "") printf "\n**%s**\n\n| compared | worst error | allowed | cases |\n|---|---|---|---|\n%s", substr($2, 11), rows
		rows = ""
	}' .cache/calc.log >.cache/worst.md
awk -v table=.cache/worst.md '
	/^<!-- measured -->$/ { print; while ((getline line <table) > 0) print line; print ""; skip = 1 }
	/^<!-- end of measured -->$/ { skip = 0 }
	!skip' "$page" | awk '!(/^<!-- measured -->$/ && last ~ /^<!-- measured -->$/) { print } { last = $0 }' >.cache/numbers.md
if [ "${1:-}" = write ]; then
	cp .cache/numbers.md "$page"
elif ! diff -u "$page" .cache/numbers.md; then
	echo "$page does not say what the tests measure: bash .ci/numbers.sh write" >&2
	exit 1
fi
grep '^| ' .cache/worst.md | grep -vc '^| compared' | sed 's/$/ comparisons with reference tables, as docs\/numbers.md has them/'
