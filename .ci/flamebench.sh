#!/usr/bin/env bash
# Times the sweep behind the flame's slider in a browser: 60 flames, from a cold start each. The figure at a quarter of the speed
# is four times that, as a browser's CPU throttle does it.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

sh .ci/wasmtest.sh -run '^$' -bench 'sweep_of_60' ./calc/flame/ |
	awk '{ print }
		/^BenchmarkSolver_sweep_of_60/ { ms = $3 / 1e6; found = 1 }
		END { if (!found) exit 1; printf "60 flames in the browser %.2f ms; at a quarter of the speed %.1f ms, %.0f %% of the 16 ms of one picture\n", ms, 4*ms, 100*4*ms/16 }'
