#!/bin/sh
# Runs the tests of packages for GOOS=js in a real browser:
#
#	sh .ci/wasmtest.sh ./storage/idb/
#	sh .ci/wasmtest.sh -run 'contract' -v ./storage/idb/
#
# SLOW=4 lets the page run four times slower. Arguments go to go test. The browser is $CHROME, else chromium on PATH.
set -eu
cd "$(dirname "$0")/.."
tool=$(mktemp -d)
trap 'rm -rf "$tool"' EXIT
go build -o "$tool/wasmrun" ./.ci/wasmrun
GOOS=js GOARCH=wasm go test -exec "$tool/wasmrun -slow ${SLOW:-1}" "$@"
