#!/usr/bin/env bash
# Measures, and keeps the output in bench/, at the end as one table beside the bars. Sizes and starts are compared with the smallest
# go-app program. A part that fails is named, and its rows in the table say that they were not measured.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
mkdir -p bench

failed=()
# part NAME COMMAND...: runs it and keeps what it prints in bench/NAME.txt.
part() {
	local name=$1
	shift
	echo "== $name"
	"$@" | tee "bench/$name.txt" || failed+=("$name")
}

part size bash .ci/size.sh
go run ./web/pack map >bench/sizemap || failed+=(sizemap)
head -60 bench/sizemap
part go go test -run '^$' -bench . -benchmem ./calc/... ./storage/...
part server go test -run '^$' -bench . -benchtime 1x ./cmd/torchside
part flame bash .ci/flamebench.sh
part heat bash .ci/heatbench.sh
part idb sh .ci/wasmtest.sh -run '^$' -bench . -benchtime 10x ./storage/idb/
part pace bash .ci/pacebench.sh
part journal bash .ci/journalbench.sh
part start bash .ci/startbench.sh
part soak bash .ci/soak.sh "${SOAK:-10m}"
part lighthouse bash .ci/lighthouse.sh 1
part performance bash .ci/lighthouse.sh 5 /
go run -C .ci/tools ./benchtable ../../bench
if [ ${#failed[@]} -gt 0 ]; then
	echo "failed: ${failed[*]}" >&2
	exit 1
fi
