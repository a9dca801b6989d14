#!/usr/bin/env bash
# Makes sure that there is a browser for the tests and prints its path. CHROME=/path names one;
# else chromium or chrome from PATH is taken; else chromium is installed through apt.
set -euo pipefail

if [ -n "${CHROME:-}" ]; then
	[ -x "$CHROME" ] || { echo "CHROME=$CHROME is not a program" >&2; exit 1; }
	echo "$CHROME"
	exit
fi

find_browser() { command -v chromium || command -v google-chrome || command -v chrome; }

if ! find_browser; then
	as_root=()
	if [ "$(id -u)" -ne 0 ]; then
		if ! sudo -n true 2>/dev/null; then
			echo "The browser tests need Chromium: install it (apt-get install chromium), or set CHROME=/path/to/chrome." >&2
			exit 1
		fi
		as_root=(sudo -n)
	fi
	export DEBIAN_FRONTEND=noninteractive
	"${as_root[@]}" apt-get update -qq </dev/null >&2
	"${as_root[@]}" apt-get install -y -qq --no-install-recommends chromium </dev/null >&2
	find_browser
fi
