#!/bin/sh
# Kills the browser N times (default 5) right after a write was reported as
# saved, and checks on the same profile that every such write is there:
#
#	sh .ci/killtest.sh 10
set -eu
cd "$(dirname "$0")/.."
tool=$(mktemp -d)
trap 'rm -rf "$tool"' EXIT
go build -o "$tool/wasmrun" ./.ci/wasmrun
GOOS=js GOARCH=wasm go test -c -o "$tool/idb.wasm" ./storage/idb/
"$tool/wasmrun" -kill "${1:-5}" "$tool/idb.wasm"
