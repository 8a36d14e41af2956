#!/bin/sh
# Sets up, builds, and checks one load of the demo. From any folder, on a fresh Debian 12: sh samples/run.sh
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
sh "$root/third_party/install.sh"
cd "$root"
echo "evenspit: building into build/release" >&2
cmake --preset release >&2
cmake --build --preset release --target evenspit >&2
# The scan of samples/lopsided-roast.toml; the turkey does not need it.
sh third_party/sample_data.sh build/data || echo "evenspit: samples/lopsided-roast.toml cannot be checked without its scan" >&2
echo "evenspit: build/release/evenspit check samples/harvest-turkey.toml" >&2
exec build/release/evenspit check samples/harvest-turkey.toml
