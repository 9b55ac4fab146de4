#!/bin/sh
# Every C file is formatted as .clang-format says, and clang-tidy has nothing to say. Usage: check_style.sh ROOT BUILD format|tidy
set -eu
root=$1
build=$2
cd "$root"
files=$(find game include tests -name '*.c' -o -name '*.h' | sort)
case $3 in
format)
    # shellcheck disable=SC2086 # one word a file
    clang-format --dry-run -Werror $files
    ;;
tidy)
    sources=$(find game tests -name '*.c' | sort)
    # Sanitized builds draw warnings about the instrumentation; -quiet keeps the count lines out.
    printf '%s\n' $sources | xargs -P "$(nproc)" -n 4 clang-tidy -quiet -p "$build" 2>/dev/null
    ;;
esac
