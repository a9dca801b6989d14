#!/usr/bin/env bash
# Makes everything that is handed out here and once more in a clone elsewhere, with nothing from a cache of compiled packages or of packed
# wasm, and compares the checksums. All platforms take about ten minutes; "dist.sh linux/arm64" does one.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

if [ -n "$(git status --porcelain)" ]; then
	echo "there are changes that a clone does not have: commit them first" >&2
	exit 1
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
make --no-print-directory dist ONLY="${1:-}"
git clone -q . "$work/a place elsewhere"
GOCACHE="$work/cache" make --no-print-directory -C "$work/a place elsewhere" dist ONLY="${1:-}"
cat bin/dist/SHA256SUMS
cmp bin/dist/SHA256SUMS "$work/a place elsewhere/bin/dist/SHA256SUMS"
(cd bin/dist && sha256sum -c --quiet SHA256SUMS)
echo "both builds are the same, byte for byte"
