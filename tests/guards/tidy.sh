#!/bin/sh
# Runs clang-tidy over what changed, by the commands of preset `clang`: precompiled headers of another compiler are
# none to it. From any folder.
#
# tests/guards/tidy.sh            the sources changed since $EVENSPIT_SINCE (a commit), else in the last 20
#                                 commits, or as many as a shallow clone has: the newest first, at most
#                                 $EVENSPIT_TIDY_FILES (default 12); says which were left
# tests/guards/tidy.sh --long     all sources
#
# Exit status: 0 nothing found, 1 something is wrong.
set -eu
cd "$(dirname "$0")/../.."
cmake --preset clang >&2

if [ "${1:-}" = --long ]; then
    files=$(git ls-files 'src/*.cpp' 'tests/*.cpp')
else
    most=${EVENSPIT_TIDY_FILES:-12}
    since=${EVENSPIT_SINCE:-$(git rev-list --max-count=21 HEAD | tail -n 1)} # in a shallow clone the oldest there is
    if [ "$(git rev-parse "$since")" = "$(git rev-parse HEAD)" ]; then
        # A single commit does not tell what changed: others each time, as its name has it.
        head=$(git rev-parse HEAD)
        all=$(git ls-files 'src/*.cpp' 'tests/*.cpp' | while read -r file; do
            echo "$(echo "$head $file" | sha1sum | cut -d ' ' -f 1) $file"
        done | sort | cut -d ' ' -f 2)
    else
        # Newest commit first, each file once, only what is still there.
        all=$(git log --format= --name-only --diff-filter=d "$since..HEAD" -- 'src/*.cpp' 'tests/*.cpp' |
            awk '!seen[$0]++' | while read -r file; do [ ! -f "$file" ] || echo "$file"; done)
    fi
    files=$(echo "$all" | head -n "$most")
    left=$(echo "$all" | tail -n +"$((most + 1))")
    [ -z "$left" ] || echo "tidy: left for --long: $(echo "$left" | wc -l) files," $(echo "$left" | head -n 40) >&2
fi
# What this machine does not build (benchmarks, fuzz targets of another compiler) has no command to go by.
files=$(for file in $files; do grep -qF "/$file\"" build/clang/compile_commands.json && echo "$file"; done || true)
if [ -z "$files" ]; then
    echo "tidy: nothing changed" >&2
    exit 0
fi
echo "tidy: $(echo "$files" | wc -l) files" >&2
echo "$files" | xargs -n 1 -P 2 clang-tidy-14 --quiet -p build/clang 2>/dev/null
