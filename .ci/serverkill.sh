#!/usr/bin/env bash
# Kills a whole server under load N times (default 1000) and looks each time whether all it had
# acknowledged is there. make test does it 50 times.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
go test -count=1 -timeout 2h -run '^TestServe_killed' -v ./cmd/torchside -args -kills "${1:-1000}"
