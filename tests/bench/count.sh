#!/bin/sh
# Instructions of one warm solve of eleven rows: sh tests/bench/count.sh BUILD. BUILD is optimised and without sanitizers;
# bench_count has been built in it, by gcc (valgrind 3.19 cannot read the debug information of clang 14). Needs valgrind. The count is the same on every run of the same program.
set -eu
program=$1/tests/bench_count
if ! command -v valgrind >/dev/null 2>&1; then
    echo "count.sh: valgrind is not installed" >&2
    exit 77
fi
log=$(mktemp)
trap 'rm -f "$log"' EXIT
valgrind --tool=callgrind --callgrind-out-file=/dev/null --toggle-collect=mech_run_solve "$program" 2>"$log" || {
    cat "$log" >&2
    exit 1
}
sed -n 's/.*Collected : \([0-9]*\).*/\1 instructions for one warm solve of 11 rows/p' "$log"
