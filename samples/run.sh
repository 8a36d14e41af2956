#!/bin/sh
# Sets up, builds, and checks one load of the demo. From any folder, on a fresh Debian 12: sh samples/run.sh
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
sh "$root/third_party/install.sh"
cd "$root"
echo "evenspit: building into build/release" >&2
cmake --preset release >&2
cmake --build --preset release --target evenspit >&2
echo "evenspit: build/release/evenspit check samples/harvest-turkey.toml" >&2
exec build/release/evenspit check samples/harvest-turkey.toml
