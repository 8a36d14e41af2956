#!/bin/sh
# The other compiler, its warnings as errors. From any folder.
#
# tests/guards/clang.sh FILE…     parses the sources named, which takes half as long as to compile them
# tests/guards/clang.sh           … all of src/
# tests/guards/clang.sh --long    builds everything with preset `clang` and runs the tests
#
# Exit status: 0 nothing found, 1 something is wrong.
set -eu
cd "$(dirname "$0")/../.."
if [ "${1:-}" = --long ]; then
    cmake --preset clang
    cmake --build --preset clang
    exec ctest --preset clang
fi
cmake --preset clang >&2
[ $# -gt 0 ] || set -- $(git ls-files 'src/*.cpp')
exec python3 tests/guards/parse.py build/clang/compile_commands.json "$@"
