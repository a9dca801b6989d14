#!/usr/bin/env bash
# Makes everything that is handed out twice, in two clones at different places and with nothing from a cache of compiled packages, and
# compares the checksums. Takes about ten minutes.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for clone in one a/second/place; do
	git clone -q . "$work/$clone"
	GOCACHE="$work/cache-$(basename "$clone")" make --no-print-directory -C "$work/$clone" dist
	rm -rf "$work/cache-$(basename "$clone")"
done
cat "$work/one/bin/dist/SHA256SUMS"
cmp "$work/one/bin/dist/SHA256SUMS" "$work/a/second/place/bin/dist/SHA256SUMS"
(cd "$work/one/bin/dist" && sha256sum -c --quiet SHA256SUMS)
echo "both builds are the same, byte for byte"
