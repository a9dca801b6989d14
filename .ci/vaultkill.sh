#!/bin/sh
# Kills a process that writes into a vault N times (default 1000) at random
# moments, and checks after each that all it had acknowledged is there and that
# the vault is sound:
#
#	sh .ci/vaultkill.sh 200
set -eu
cd "$(dirname "$0")/.."
go test ./storage/bolt -count=1 -timeout 2h -v -run '^TestKill_' -args -kills "${1:-1000}"
