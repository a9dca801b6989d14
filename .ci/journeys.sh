#!/usr/bin/env bash
# Plays whole journeys through the app in a browser, against the real program (make build). Arguments go to go test.
#
# A browser on a busy machine now and then loses a touch or a frame. So up to three journeys that fail are named and played once
# more; what fails twice, or together with more, fails the gate.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

play() { go test -tags browser -count=1 -timeout 25m "$@" ./pwa/journeys/...; }

bash .ci/axe.sh
mkdir -p .cache
if play "$@" 2>&1 | tee .cache/journeys.log; then
	exit
fi
mapfile -t failed < <(sed -nE 's/^--- FAIL: (Test[A-Za-z0-9_]+) .*/\1/p' .cache/journeys.log | sort -u)
if [ ${#failed[@]} -eq 0 ] || [ ${#failed[@]} -gt 3 ]; then
	exit 1
fi
echo "played once more: ${failed[*]}"
play "$@" -v -run "^($(IFS='|'; echo "${failed[*]}"))\$"
