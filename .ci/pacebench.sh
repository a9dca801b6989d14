#!/usr/bin/env bash
# Times a key press in Setup until the new card is painted, in a browser that is slowed down four times (make build first). Each
# figure is the median of seven rounds; nothing is decided by it.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

go test -tags browser -count=1 -run '^$' -bench 'key_press' -benchtime 7x ./pwa/journeys/ |
	awk '{ print }
		/^BenchmarkSetup_key_press/ { for (i = 3; i < NF; i += 2) if ($(i + 1) == "painted-p95-ms") p = $i; else if ($(i + 1) == "painted-ms") m = $i
			printf "key press to painted card, 4 times slower: median %.0f ms, p95 %.0f ms; the bar is 50 ms at p95\n", m, p }'
