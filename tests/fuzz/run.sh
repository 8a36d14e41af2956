#!/bin/sh
# Builds the fuzz targets with clang and lets each run for a while, two at a time; says a line for each, and fails if
# one found something. What is found is kept in build/fuzz/findings: mend it, and put the file into the target's corpus.
#   sh tests/fuzz/run.sh [SECONDS_EACH] [TARGET…]   small inputs, 15 s each; all targets where none is named
#   sh tests/fuzz/run.sh --long [TARGET…]           inputs to 1 MB, 10 minutes each
set -eu
cd "$(dirname "$0")/../.."
build=build/fuzz

# One target, for xargs below.
if [ "${1:-}" = --target ]; then
    target=$2 seconds=$3 largest=$4
    corpus=tests/fuzz/corpus/$target
    grown=$build/corpus/$target
    log=$build/logs/$target.log
    mkdir -p "$grown"
    # 25 s for one input of this size is a fault too; so is more memory than such an input can need.
    if "$build/tests/fuzz/fuzz_$target" "$grown" "$corpus" -max_total_time="$seconds" -max_len="$largest" \
        -timeout=25 -rss_limit_mb=2048 -artifact_prefix="$build/findings/$target-" -print_final_stats=1 \
        >"$log" 2>&1; then
        runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
        echo "$target: nothing found in $runs runs"
        exit 0
    fi
    echo "$target: FOUND something, see $log and $build/findings"
    exit 1
fi

seconds=15
largest=4096
case "${1:-}" in
    '') ;;
    --long) seconds=600 largest=1048576 && shift ;;
    *[!0-9]*) ;;
    *) seconds=$1 && shift ;;
esac
[ $# -gt 0 ] || set -- $(for corpus in tests/fuzz/corpus/*/; do basename "$corpus"; done)
for target; do
    if [ ! -d "tests/fuzz/corpus/$target" ]; then
        echo "usage: run.sh [SECONDS_EACH | --long] [TARGET…]; no target is called '$target'" >&2
        exit 2
    fi
done
cmake --preset fuzz >&2
cmake --build --preset fuzz --target $(printf 'fuzz_%s ' "$@") >&2
mkdir -p "$build/findings" "$build/logs"
printf '%s\n' "$@" | xargs -P 2 -I TARGET sh tests/fuzz/run.sh --target TARGET "$seconds" "$largest" || exit 1
