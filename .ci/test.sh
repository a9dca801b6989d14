#!/usr/bin/env bash
# The gate: what must hold before anything is committed.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

say() { printf '\n=== %s\n' "$*"; }

say check
bash .ci/check.sh

say build, size
make --no-print-directory build
bash .ci/size.sh

say one program for handing out, started alone
go run ./deploy/dist -only "$(go env GOOS)/$(go env GOARCH)" -out .cache/dist

say go test -race
go test -race ./...
go test -C .ci/tools ./...

say simulated phones, vault and network
go test -count=1 -v ./storage/replicate/simtest | grep -E '^(---|FAIL|ok)|found by|orders of'

say worst errors against the reference tables
bash .ci/numbers.sh

say tests in the browser
bash .ci/browser.sh
bash .ci/jstest.sh
go test -tags browser -count=1 -timeout 5m ./pwa
bash .ci/journeys.sh

say some of them by the keyboard alone
TORCHSIDE_KEYS=1 bash .ci/journeys.sh -run '^(TestFirstTenMinutes|TestSheetFromTheCard|TestLanguageIsKeptOnThePhone|TestLeakIsFoundAndTestedAgain|TestOrderChoiceOfTheTorch|TestUpkeepOfARig)$'

say all passed
