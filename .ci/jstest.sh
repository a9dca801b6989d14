#!/usr/bin/env bash
# Runs in a real browser the packages that have tests for the browser alone.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

test_files() { go list -f '{{$p := .ImportPath}}{{range .TestGoFiles}}{{$p}} {{.}}{{"\n"}}{{end}}{{range .XTestGoFiles}}{{$p}} {{.}}{{"\n"}}{{end}}' "$@" | sort; }

everywhere=$(test_files ./...)
in_browser=$(GOOS=js GOARCH=wasm test_files ./storage/... ./pwa/... ./cmd/wasm)
mapfile -t packages < <(comm -13 <(echo "$everywhere") <(echo "$in_browser") | cut -d' ' -f1 | sort -u)
if [ "${#packages[@]}" -eq 0 ] || [ -z "${packages[0]}" ]; then
	echo "no package has tests for the browser alone"
	exit
fi
sh .ci/wasmtest.sh "${packages[@]}"
