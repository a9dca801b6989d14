#!/usr/bin/env bash
# Runs Lighthouse (pinned in .ci/lighthouse) on pages of the app as a phone sees them, and prints its scores; of performance the median
# of five runs (make build first). Accessibility, best practices and SEO must be 100; performance is told only: it does not see when
# the program answers.
#
#	bash .ci/lighthouse.sh [RUNS] [PATH ...]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

runs=${1:-5}
shift || true
paths=("$@")
(cd .ci/lighthouse && { cmp -s package-lock.json node_modules/.torchside-lock || { npm ci --silent --cache "$PWD/../../.cache/npm" </dev/null >&2; cp package-lock.json node_modules/.torchside-lock; }; })

data=$(mktemp -d)
port=$((20000 + RANDOM % 20000))
./bin/torchside serve --addr "127.0.0.1:$port" --data "$data/vault" >/dev/null 2>&1 &
server=$!
trap 'kill "$server" 2>/dev/null; rm -rf "$data"' EXIT
for _ in $(seq 100); do curl -sf -o /dev/null "http://127.0.0.1:$port/" && break || sleep 0.1; done

if [ ${#paths[@]} -eq 0 ]; then # all pages there are
	./bin/torchside export-site "$data/site" >/dev/null
	mapfile -t paths < <(cd "$data/site" && find . -name index.html | sed -E 's|^\.||; s|/index\.html$||; s|^$|/|' | sort)
fi

failed=0
export CHROME_PATH=${CHROME:-$(bash .ci/browser.sh)}
flags='--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync'
for path in "${paths[@]}"; do
	for run in $(seq "$runs"); do
		.ci/lighthouse/node_modules/.bin/lighthouse "http://127.0.0.1:$port$path" --quiet --chrome-flags="$flags" \
			--throttling-method=devtools --output=json --output-path="$data/$run.json" </dev/null >/dev/null 2>"$data/log" || { cat "$data/log" >&2; exit 1; }
	done
	node .ci/lighthouse/scores.js "$path" "$data"/[0-9]*.json || failed=1
	rm -f "$data"/[0-9]*.json
done
exit "$failed"
