#!/bin/sh
# Sets up, builds and runs all tests. From any folder, on a fresh Debian 12: sh tests/run.sh
# Extra arguments go to ctest, e.g. sh tests/run.sh -R balance
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
sh "$root/third_party/install.sh"
cd "$root"
echo "evenspit: building into build/release" >&2
# From nothing, several sources at a time: two thirds of the time. For edits one by one: -DCMAKE_UNITY_BUILD=OFF.
[ -f build/release/CMakeCache.txt ] || cmake --preset release -DCMAKE_UNITY_BUILD=ON
cmake --preset release
cmake --build --preset release
. tests/support/scratch.sh
ctest --preset release "$@"
