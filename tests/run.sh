#!/bin/sh
# Installs what is missing, builds everything with warnings as errors by gcc (with sanitizers) and by clang, and runs
# every test: sh tests/run.sh. Closes with ctest's own summary.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
. "$root/game/setup.sh"
need $build_packages libcmocka-dev clang clang-format clang-tidy python3 python3-jsonschema xvfb xdotool calculix-ccx poppler-utils

build() { # build FOLDER COMPILER OPTIONS...
    folder=$1
    compiler=$2
    shift 2
    cmake -S "$root" -B "$folder" -G Ninja -DCMAKE_C_COMPILER="$compiler" -DTAUTROW_WERROR=ON "$@" >/dev/null
    cmake --build "$folder" | tail -n 1
}

jobs=$(nproc 2>/dev/null || echo 2)
echo "== building with clang"
build "$root/build-clang" clang -DCMAKE_BUILD_TYPE=RelWithDebInfo
echo "== building with gcc"
build "$root/build-plain" gcc -DCMAKE_BUILD_TYPE=RelWithDebInfo
echo "== building with gcc, address and undefined-behaviour sanitizers"
build "$root/build-tests" gcc -DCMAKE_BUILD_TYPE=Debug -DTAUTROW_SANITIZE=ON \
    -DTAUTROW_OTHER_BUILDS="$root/build-plain;$root/build-clang"
cd "$root/build-tests"
exec ctest --output-on-failure -j "$jobs"
