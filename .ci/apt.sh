#!/usr/bin/env bash
# Installs a Debian package, as root or through sudo; without either it says what is missing: apt.sh PACKAGE "what to do then".
set -euo pipefail

as_root=()
if [ "$(id -u)" -ne 0 ]; then
	if ! sudo -n true 2>/dev/null; then
		echo "$2" >&2
		exit 1
	fi
	as_root=(sudo -n)
fi
export DEBIAN_FRONTEND=noninteractive
"${as_root[@]}" apt-get update -qq </dev/null >&2
"${as_root[@]}" apt-get install -y -qq --no-install-recommends "$1" </dev/null >&2
