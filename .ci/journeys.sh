#!/usr/bin/env bash
# Plays whole journeys through the app in a browser, against the real program.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

if [ ! -d pwa/journeys ]; then
	echo "there are no journeys"
	exit
fi
go test -tags browser -count=1 -timeout 10m ./pwa/journeys/...
