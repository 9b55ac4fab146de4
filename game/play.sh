#!/bin/sh
# Installs what is missing, builds, and runs tautrow with the words given here: sh game/play.sh [ARGS...]
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
. "$root/game/setup.sh"
need $build_packages
build="$root/build"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
if ! { cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DTAUTROW_TESTS=OFF &&
    cmake --build "$build"; } >"$log" 2>&1; then
    cat "$log" >&2
    exit 2
fi
"$build/tautrow" "$@"
