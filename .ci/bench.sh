#!/usr/bin/env bash
# Measures, and keeps the output in bench/, at the end as one table beside the bars. Sizes and starts are compared with the smallest
# go-app program.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
mkdir -p bench
bash .ci/size.sh | tee bench/size.txt
go run ./web/pack map >bench/sizemap.txt
head -60 bench/sizemap.txt
go test -run '^$' -bench . -benchmem ./calc/... ./storage/... | tee bench/go.txt
go test -run "^$" -bench . -benchtime 1x ./cmd/torchside | tee bench/server.txt
bash .ci/flamebench.sh | tee bench/flame.txt
bash .ci/heatbench.sh | tee bench/heat.txt
sh .ci/wasmtest.sh -run '^$' -bench . -benchtime 10x ./storage/idb/ | tee bench/idb.txt
bash .ci/pacebench.sh | tee bench/pace.txt
bash .ci/journalbench.sh | tee bench/journal.txt
bash .ci/startbench.sh | tee bench/start.txt
bash .ci/soak.sh "${SOAK:-10m}" | tee bench/soak.txt
{ bash .ci/lighthouse.sh 1 || true; bash .ci/lighthouse.sh 5 / || true; } | tee bench/lighthouse.txt # a score that is below is printed, and does not stop the table
go run -C .ci/tools ./benchtable ../../bench
