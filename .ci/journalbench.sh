#!/usr/bin/env bash
# Times the journal with 20 000 sheets, from a tap until the answer is painted, in a browser that is slowed down four times (make
# build first). Each figure is the median of five rounds; nothing is decided by it.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

echo "load before: $(cut -d' ' -f1-3 /proc/loadavg)"
go test -tags browser -count=1 -run '^$' -bench 'Journal_of' -benchtime 5x ./pwa/journeys/ |
	awk '{ print }
		/^BenchmarkJournal_of/ { for (i = 3; i < NF; i += 2) if ($(i + 1) == "open-ms") m = $i
			printf "journal of 20 000 sheets opened, 4 times slower: median %.0f ms; the bar is 300 ms\n", m }'
