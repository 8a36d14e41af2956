#!/bin/sh
# Builds the program, writes the stored results of all samples anew, and shows what changes. From any folder.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
cd "$root"
cmake --preset release >&2
cmake --build --preset release --target evenspit >&2
exec python3 tests/golden/golden.py --update "$root/build/release/evenspit"
