#!/usr/bin/env bash
# Plays whole journeys through the app in a browser, against the real program (make build). Arguments go to go test.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

bash .ci/axe.sh
go test -tags browser -count=1 -timeout 15m "$@" ./pwa/journeys/...
