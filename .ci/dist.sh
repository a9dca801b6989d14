#!/usr/bin/env bash
# Makes everything that is handed out twice, in two clones at different places, the second with nothing from a cache of compiled
# packages or of packed wasm, and compares the checksums. Takes about ten minutes.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
git clone -q . "$work/one"
make --no-print-directory -C "$work/one" dist
git clone -q . "$work/a/second/place"
GOCACHE="$work/cache" make --no-print-directory -C "$work/a/second/place" dist
cat "$work/one/bin/dist/SHA256SUMS"
cmp "$work/one/bin/dist/SHA256SUMS" "$work/a/second/place/bin/dist/SHA256SUMS"
(cd "$work/one/bin/dist" && sha256sum -c --quiet SHA256SUMS)
echo "both builds are the same, byte for byte"
mkdir -p bin && rm -rf bin/dist && cp -r "$work/one/bin/dist" bin/dist
