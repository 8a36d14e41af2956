#!/bin/sh
# Runs tests under the address and undefined-behaviour sanitizers. From any folder.
#
# tests/guards/sanitize.sh [ROOM…]   tests of rooms, built by clang with its warnings as errors (preset `fuzz`, so that
#                                    the fuzz targets share the build); without any, those of all that reads files,
#                                    computes and decides
# tests/guards/sanitize.sh --long    all tests, built by GCC (preset `sanitize`)
#
# Exit status: 0 nothing found, 1 something is wrong.
set -eu
cd "$(dirname "$0")/../.."
. tests/support/scratch.sh
if [ "${1:-}" = --long ]; then
    cmake --preset sanitize
    cmake --build --preset sanitize
    # The sanitizer opens shared libraries for the program, and does not look where the program would.
    export LD_LIBRARY_PATH="$PWD/build/sanitize${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}"
    exec ctest --preset sanitize
fi
[ $# -gt 0 ] || set -- units files geometry rig load analysis viewer_core
cmake --preset fuzz
cmake --build --preset fuzz --target $(printf '%s_tests ' "$@")
export ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
# Raw scans take minutes here and go through libraries that are not built with the sanitizers: --long has them.
exec ctest --test-dir build/fuzz --output-on-failure --no-tests=error -j 2 -R "^($(echo "$*" | tr ' ' '|'))\\." \
    -E '^load\.RawScanReader\.'
