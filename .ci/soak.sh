#!/usr/bin/env bash
# Uses the app at random for a while (default 10m), with the network coming and going, and prints what memory and threads come to (make
# build first):
#
#	bash .ci/soak.sh 2m
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

TORCHSIDE_SOAK=${1:-10m} go test -tags browser -count=1 -v -timeout 2h -run '^$' -bench '^BenchmarkSoak$' -benchtime 1x ./pwa/journeys/
