#!/usr/bin/env bash
# Holds the browser program to its size, and shows it beside the smallest go-app program.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

budget=1900000 # bytes, brotli: each 100 kB more costs half a second on a slow phone connection

field() { sed -E "s/.*$1=([0-9]+).*/\1/" <<<"$2"; }

app=$(cat web/dist/sizes)
floor=$(go run ./web/pack size ./.ci/floor)
size=$(field brotli "$app")
echo "app    $app"
echo "floor  $floor   (one-line go-app program)"
awk -v a="$size" -v f="$(field brotli "$floor")" -v b="$budget" \
	'BEGIN { printf "brotli %.3f MB = %.2f x floor, %.0f %% of the budget of %.1f MB\n", a/1e6, a/f, 100*a/b, b/1e6 }'
if [ "$size" -gt "$budget" ]; then
	echo "the app is $((size - budget)) bytes over its budget" >&2
	exit 1
fi
