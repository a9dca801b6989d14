#!/usr/bin/env bash
# Looks at the worker, and plays whole journeys through the app, in a browser.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

mapfile -t packages < <(go list -tags browser -f '{{if or .TestGoFiles .XTestGoFiles}}{{.ImportPath}}{{end}}' ./pwa ./pwa/journeys/... 2>/dev/null)
go test -tags browser -count=1 -timeout 10m "${packages[@]}"
