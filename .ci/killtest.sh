#!/bin/sh
# Kills the browser N times (default 5) right after a write was reported as
# saved, and checks on the same profile that every such write is there:
#
#	sh .ci/killtest.sh 10
#	sh .ci/killtest.sh 100 -busy
#
# With -busy the browser is killed in the middle of further writes. Chromium
# 156 then empties the whole database about once in some hundred kills: a kill
# between the two parts of one record of its log is not noticed by the next
# start, which writes on behind it, and the start after that takes the log for
# damaged. No page can prevent that, so this is for looking, not for the gate.
set -eu
cd "$(dirname "$0")/.."
tool=$(mktemp -d)
trap 'rm -rf "$tool"' EXIT
go build -o "$tool/wasmrun" ./.ci/wasmrun
GOOS=js GOARCH=wasm go test -c -o "$tool/idb.wasm" ./storage/idb/
"$tool/wasmrun" -kill "${1:-5}" ${2:-} "$tool/idb.wasm"
