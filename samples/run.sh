#!/bin/sh
# Sets up, builds, and checks loads of the demo. From any folder, on a fresh Debian 12: sh samples/run.sh
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
sh "$root/third_party/install.sh"
cd "$root"
echo "evenspit: building into build/release" >&2
cmake --preset release >&2
cmake --build --preset release --target evenspit >&2
for load in harvest-turkey three-chickens; do
    echo "evenspit: build/release/evenspit check samples/$load.toml" >&2
    build/release/evenspit check "samples/$load.toml"
done
echo "evenspit: build/release/evenspit plan samples/harvest-turkey.toml" >&2
build/release/evenspit plan samples/harvest-turkey.toml
