#!/bin/sh
# Sets up, builds and runs all tests. From any folder, on a fresh Debian 12: sh tests/run.sh
# Extra arguments go to ctest, e.g. sh tests/run.sh -R balance
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
sh "$root/third_party/install.sh"
cd "$root"
echo "evenspit: building into build/release" >&2
cmake --preset release
cmake --build --preset release
. tests/support/scratch.sh
ctest --preset release "$@"
