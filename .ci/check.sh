#!/usr/bin/env bash
# Everything that reads the code without running it.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source .ci/tools.sh

# The server's packages are not made for the browser; all others must hold there too.
browser_packages=(./calc/... ./storage/... ./pwa/... ./cmd/wasm ./web)

say() { printf '== %s\n' "$*"; }

mkdir -p .cache
say gofmt
find . -name '*.go' -not -path './.cache/*' -not -path './.ci/node_modules/*' -print0 | xargs -0 gofmt -d | tee .cache/gofmt.diff
[ ! -s .cache/gofmt.diff ]

say go vet
go vet ./...
go vet -tags browser ./pwa/...
GOOS=js GOARCH=wasm go vet "${browser_packages[@]}"
GOOS=js GOARCH=wasm go vet ./.ci/floor
go vet ./.ci/wasmrun ./.ci/nasa9gen
go vet -C .ci/tools ./...

build_tools honnef.co/go/tools/cmd/staticcheck golang.org/x/vuln/cmd/govulncheck ./importrules

say staticcheck
staticcheck ./...
staticcheck -tags browser ./pwa/...
staticcheck ./.ci/wasmrun ./.ci/nasa9gen
GOOS=js GOARCH=wasm staticcheck "${browser_packages[@]}"

say import rules
importrules .

say govulncheck
if timeout 10 curl -sf -o /dev/null https://vuln.go.dev/index/db.json </dev/null; then
	govulncheck ./...
else
	echo "not run: the vulnerability database (vuln.go.dev) does not answer from here"
fi
