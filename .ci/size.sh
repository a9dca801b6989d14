#!/usr/bin/env bash
# Holds the browser program to its size, and shows it beside the smallest go-app program.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

budget=1900000 # bytes, brotli: each 100 kB more costs half a second on a slow phone connection
limit=2000000  # what the app may never be over

field() { sed -E "s/.*$1=([0-9]+).*/\1/" <<<"$2"; }

app=$(cat web/dist/sizes)
floor=$(go run ./web/pack size ./.ci/floor)
small=$(go run ./web/pack small ./.ci/floor)
size=$(field brotli "$app")
echo "app    $app"
echo "floor  $floor   (one-line go-app program, as go build makes it)"
echo "small  $small   (the same, made smaller as the app is)"
awk -v a="$size" -v f="$(field brotli "$floor")" -v s="$(field brotli "$small")" -v b="$budget" \
	'BEGIN { printf "brotli %.3f MB = %.2f x floor, %.2f x small floor, %.0f %% of the budget of %.1f MB\n", a/1e6, a/f, a/s, 100*a/b, b/1e6 }'
if [ "$size" -gt "$budget" ]; then
	echo "the app is $((size - budget)) bytes over its budget"
fi
if [ "$size" -gt "$limit" ]; then
	echo "the app is $((size - limit)) bytes over its limit" >&2
	exit 1
fi
