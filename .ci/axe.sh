#!/usr/bin/env bash
# Makes sure that the checker of accessibility is there for the tests in the browser: the version that .ci/package-lock.json
# pins, with the hash it names. It is never part of the app. TORCHSIDE_AXE=/path/axe.min.js names another copy.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"

if [ -n "${TORCHSIDE_AXE:-}" ]; then
	[ -f "$TORCHSIDE_AXE" ] || { echo "TORCHSIDE_AXE=$TORCHSIDE_AXE is not a file" >&2; exit 1; }
	exit
fi
if cmp -s package-lock.json node_modules/.torchside-lock; then
	exit
fi
if ! command -v npm >/dev/null; then
	bash apt.sh npm "The tests in the browser need npm to fetch axe-core: install it (apt-get install npm), or set TORCHSIDE_AXE=/path/axe.min.js."
fi
npm ci --silent --cache "$PWD/../.cache/npm" </dev/null >&2
cp package-lock.json node_modules/.torchside-lock
