#!/usr/bin/env bash
# Times the start of the app and of the smallest go-app program, in a browser that is slowed down four times: a first visit over a
# poor connection, and a later one with the network off (make build first). Medians of three rounds; nothing is decided by them.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

mkdir -p .cache
go run ./web/pack brotli ./.ci/floor .cache/floor.wasm.br
TORCHSIDE_FLOOR=$PWD/.cache/floor.wasm.br go test -tags browser -count=1 -run '^$' -bench 'Start' -benchtime 3x ./pwa/journeys/
