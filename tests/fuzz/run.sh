#!/bin/sh
# Builds the fuzz targets with clang and lets each run for a while; says a line for each, and fails if one found
# something. What is found is kept in build/fuzz/findings: mend it, and put the file into the target's corpus.
#   sh tests/fuzz/run.sh [SECONDS_EACH]   small inputs, 15 s each
#   sh tests/fuzz/run.sh --long           inputs to 1 MB, 10 minutes each
set -eu
seconds=15
largest=4096
case "${1:-}" in
    '') ;;
    --long) seconds=600 largest=1048576 ;;
    *[!0-9]*) echo "usage: run.sh [SECONDS_EACH | --long]" >&2; exit 2 ;;
    *) seconds=$1 ;;
esac
root=$(cd "$(dirname "$0")/../.." && pwd)
cd "$root"
cmake --preset fuzz >&2
cmake --build --preset fuzz >&2

build=build/fuzz
mkdir -p "$build/findings" "$build/logs"
status=0
for corpus in tests/fuzz/corpus/*/; do
    target=$(basename "$corpus")
    grown=$build/corpus/$target
    log=$build/logs/$target.log
    mkdir -p "$grown"
    # 25 s for one input of this size is a fault too; so is more memory than such an input can need.
    if "$build/tests/fuzz/fuzz_$target" "$grown" "$corpus" -max_total_time="$seconds" -max_len="$largest" \
        -timeout=25 -rss_limit_mb=2048 -artifact_prefix="$build/findings/$target-" -print_final_stats=1 \
        >"$log" 2>&1; then
        runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
        echo "$target: nothing found in $runs runs"
    else
        echo "$target: FOUND something, see $log and $build/findings"
        status=1
    fi
done
exit $status
