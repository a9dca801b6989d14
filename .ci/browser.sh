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
	bash "$(dirname "${BASH_SOURCE[0]}")/apt.sh" chromium "The browser tests need Chromium: install it (apt-get install chromium), or set CHROME=/path/to/chrome."
	find_browser
fi
