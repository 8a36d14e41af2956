#!/usr/bin/env python3
"""Runs the benchmarks and prints one table: what each stage takes, as a ratio to a peer or a bound that the same run
measures, beside what is wanted of it.

    cmake --build --preset release --target benchmarks
    python3 tests/bench/table.py                  the table, medians of three runs, on a machine with nothing else to do
    python3 tests/bench/table.py --smoke          each once and briefly: whether they run, and tell what the table asks
    python3 tests/bench/table.py --keep           into tests/bench/README.md as well, with the machine and the date

After it a second table tells how time grows with what is asked: the exponent of a straight line through time over size,
both as logarithms, and what a triangle or a cell takes of memory.

Exit status: 0 all ran, 1 one failed or told no such figure. A figure that is not reached is told, no failure.
"""
import argparse
import datetime
import json
import math
import os
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]

# What, benchmark, its name, the counter, against what, wanted at most. None: no wish was stated.
ROWS = [
    ("volume, centre, inertia: 1.2 M triangles in order", "geometry", "moments/in_order/1200000", "x_plain_loop",
     "a plain loop, no care for rounding", 1 / 3),
    ("… shuffled", "geometry", "moments/shuffled/1200000", "x_plain_loop", "the same", 1 / 3),
    ("… 75 k in order", "geometry", "moments/in_order/75000", "x_plain_loop", "the same", 1 / 3),
    ("… 10 k", "geometry", "moments_against_open_cascade/10000", "x_open_cascade", "Open CASCADE", 1 / 3),
    ("… 1.2 M in order", "peers", "moments_against_memory/1200000", "x_triad", "its bytes alone at the pace of memory",
     1 / 0.6),
    ("… the same", "peers", "moments_against_ode/1200000", "x_ode", "Open Dynamics Engine", 1 / 3),
    ("is it a solid: 1.2 M triangles", "geometry", "solid_gates/1200000", "x_plain_loop", "the plain loop", None),
    ("search tree built: 300 k", "geometry", "build_tree/300000", "x_cgal", "CGAL's tree", 1),
    ("all crossings of a segment: 300 k", "geometry", "segments/300000", "x_cgal", "CGAL's tree", 1),
    ("… 300 k", "peers", "segments_against_embree/300000", "x_embree", "Embree's, in float", 1 / 0.6),
    ("inside or not: 75 k", "geometry", "contained/75000", "x_cgal", "CGAL's tree", 1),
    ("nearest point: 75 k", "geometry", "nearest/75000", "x_cgal", "CGAL's tree", 1),
    ("… 75 k", "peers", "nearest_against_embree/75000", "x_embree", "Embree's, in float", 1),
    ("PLY read and welded: 1.2 M", "read", "read/ply/1200000", "x_faster", "the faster of Open3D and VTK", 1 / 2),
    ("STL, binary", "read", "read/stl/1200000", "x_faster", "the same", 1 / 2),
    ("OBJ", "read", "read/obj/1200000", "x_faster", "the same", 1 / 2),
    ("OFF", "read", "read/off/1200000", "x_faster", "Open3D", 1 / 2),
    ("PLY read and welded: 200 k", "geometry", "read/ply/200000", "x_bytes_alone", "its bytes alone", 8),
    ("STL, binary", "geometry", "read/stl/200000", "x_bytes_alone", "its bytes alone", 8),
    ("OBJ", "geometry", "read/obj/200000", "x_bytes_alone", "its bytes alone", 40),
    ("OFF", "geometry", "read/off/200000", "x_bytes_alone", "its bytes alone", 40),
    ("swept outline", "sweep", "sweep_ordered", "x_bound", "a plain pass over the corners", None),
    ("… shuffled", "sweep", "sweep_shuffled", "x_bound", "the same", None),
    ("a whole analysis: 200 k", "analysis", "bm_analyse", "x_bound", "a plain pass over the corners", None),
    ("one mounting: 200 k", "analysis", "bm_mountings", "ms_each", "ms, both cores", 1),
    ("… against an analysis", "analysis", "bm_mountings", "x_analysis", "a whole analysis", None),
    ("an edit's answer: rod line, 200 k", "viewer", "bm_edit_to_answer/rod_line/iterations:1", "median_ms",
     "ms of processor", 2),
    ("… 99 of 100 within", "viewer", "bm_edit_to_answer/rod_line/iterations:1", "p99_ms", "ms of processor", 5),
    ("… turn", "viewer", "bm_edit_to_answer/turn/iterations:1", "median_ms", "ms of processor", 2),
    ("… fork", "viewer", "bm_edit_to_answer/fork/iterations:1", "median_ms", "ms of processor", 2),
    ("… counterweight", "viewer", "bm_edit_to_answer/counterweight/iterations:1", "median_ms", "ms of processor", 2),
    ("… 99 of 100 within", "viewer", "bm_edit_to_answer/counterweight/iterations:1", "p99_ms", "ms of processor", 5),
    ("a rod line sought", "plan", "line", "x_grid", "all places of a grid", 1 / 200),
    ("a plan of a turkey", "plan", "plan/of_a_turkey", "x_analyses", "one analysis", None),
    ("three hours of a cook, 4 mm cells", "roast", "roast/40/iterations:1", "x_explicit", "plain explicit steps", None),
    ("… against implicit steps", "roast", "roast/40/iterations:1", "x_implicit", "conjugate gradients, as exact", None),
    ("… a stage of it, 2 mm cells", "roast", "roast/20/iterations:1", "x_triad", "its bytes at the pace of memory", 2),
    ("half an hour of a ball in hot air, 6 mm", "fem", "against_finite_elements/60", "x_fem", "CalculiX, as exact", 1 / 100),
]

# What takes too long to see whether it runs, and what is asked in its place.
BRIEFER = {"roast/20/iterations:1": "roast/40/iterations:1", "against_finite_elements/60": "against_finite_elements/80"}

# What, benchmark, its sizes, what a size is, the counter of its memory. A cook's sizes are the spacing of its cells, in
# tenths of a millimetre; how many cells that makes, it tells itself.
GROWTH = [
    ("volume, centre, inertia", "moments", (10_000, 100_000, 1_000_000, 5_000_000), "triangles", None),
    ("is it a solid", "solid", (10_000, 100_000, 1_000_000, 5_000_000), "triangles", None),
    ("search tree built", "tree", (10_000, 100_000, 1_000_000, 5_000_000), "triangles", "bytes_a_triangle"),
    ("a chord through the body", "chord", (10_000, 100_000, 1_000_000), "triangles", None),
    ("PLY read and welded", "read", (10_000, 100_000, 1_000_000, 5_000_000), "triangles", None),
    ("a whole analysis", "items", (1, 10, 50, 200), "items", None),
    ("ten minutes of a cook", "cook", (80, 40, 20, 10), "cells", "bytes_a_cell"),
]


def counters(build, bench, names, smoke):
    """The counters of the benchmarks asked for, by name; medians where they ran more than once."""
    program = build / "tests" / "bench" / f"{bench}_bench"
    asked = {name: (BRIEFER.get(name, name) if smoke else name).removesuffix("/iterations:1") for name in names}
    wanted = "|".join(f"^{name}(/iterations:1)?$" for name in dict.fromkeys(asked.values()))
    words = [program, "--benchmark_format=json", f"--benchmark_filter={wanted}"]
    if smoke:
        words += ["--benchmark_min_time=0.001"]
    else:
        words += ["--benchmark_min_time=0.1", "--benchmark_repetitions=3", "--benchmark_report_aggregates_only=true"]
    told = subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    if told.returncode != 0:
        raise RuntimeError(f"{program.name} ended with {told.returncode}: {told.stderr[-500:]}")
    runs = {run["name"].removesuffix("_median").removesuffix("/iterations:1"): run
            for run in json.loads(told.stdout)["benchmarks"] if run.get("aggregate_name", "median") == "median"}
    return {name: runs[run] for name, run in asked.items() if run in runs}


def machine():
    """What the figures were measured on, in a few words."""
    model = "processor unknown"
    info = pathlib.Path("/proc/cpuinfo")
    if info.exists():
        names = [line.split(":", 1)[1].strip() for line in info.read_text().splitlines()
                 if line.startswith("model name")]
        model = names[0] if names else model
    return f"{model}, {os.cpu_count()} threads, {datetime.date.today().isoformat()}"


def figure(value):
    """Three digits, never as a power of ten."""
    return f"{value:.0f}" if value >= 100 else f"{value:.3g}"


def table(heads, rows):
    """The rows as a table in Markdown, columns as wide as their longest cell."""
    widths = [max(len(str(row[k])) for row in [heads, *rows]) for k in range(len(heads))]
    line = lambda cells: "| " + " | ".join(str(c).ljust(w) for c, w in zip(cells, widths)) + " |"
    return "\n".join([line(heads), line(["-" * w for w in widths]), *map(line, rows)])


def growth(build, smoke):
    """Rows of the second table, and whether all ran."""
    rows, failed = [], False
    for what, name, sizes, of, memory in GROWTH:
        sizes = sizes[:2] if smoke else sizes
        try:
            found = counters(build, "growth", [f"{name}/{size}" for size in sizes], smoke)
            runs = [found[f"{name}/{size}"] for size in sizes]
        except (OSError, RuntimeError, ValueError, KeyError) as error:
            print(f"bench: growth of {name}: {error}", file=sys.stderr)
            failed = True
            continue
        counts = [run["cells"] for run in runs] if of == "cells" else sizes
        slope = exponent(counts, [run["real_time"] for run in runs])
        taken = "" if memory is None else f"{runs[-1][memory]:.0f} bytes each"
        rows.append((what, f"{counts[0]:.0f} to {counts[-1]:.0f} {of}", f"{slope:.2f}", taken))
    return rows, failed


def exponent(sizes, times):
    """Slope of the straight line through (log size, log time), by least squares."""
    x, y = [math.log(size) for size in sizes], [math.log(time) for time in times]
    mean_x, mean_y = sum(x) / len(x), sum(y) / len(y)
    return sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y)) / sum((a - mean_x) ** 2 for a in x)


def ratios(build, smoke):
    """Rows of the first table, and whether all ran."""
    rows, failed, found = [], False, {}
    for bench in dict.fromkeys(row[1] for row in ROWS):
        names = dict.fromkeys(row[2] for row in ROWS if row[1] == bench)
        try:
            found[bench] = counters(build, bench, names, smoke)
        except (OSError, RuntimeError, ValueError) as error:
            print(f"bench: {error}", file=sys.stderr)
            failed = True
    for what, bench, name, counter, against, wanted in ROWS:
        if bench not in found:
            continue
        value = found[bench].get(name, {}).get(counter)
        if value is None:
            print(f"bench: {bench}_bench told no {counter} of {name}", file=sys.stderr)
            failed = True
            continue
        reached = "" if wanted is None else "yes" if value <= wanted else "no"
        rows.append((what, figure(value), against, "" if wanted is None else figure(wanted), reached))
    return rows, failed


def keep(text):
    """Puts the tables in place of those that the page beside this script holds."""
    page = pathlib.Path(__file__).with_name("README.md")
    before, mark, rest = page.read_text().partition("<!-- tables -->\n")
    _, end, after = rest.partition("<!-- end -->\n")
    if not mark or not end:
        raise SystemExit(f"bench: {page} has no place for the tables")
    page.write_text(before + mark + text + end + after)


def main():
    given = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    given.add_argument("--build", type=pathlib.Path, default=ROOT / "build" / "release")
    given.add_argument("--smoke", action="store_true")
    given.add_argument("--keep", action="store_true")
    given = given.parse_args()
    if not given.smoke and os.getloadavg()[0] > 0.5:
        print(f"bench: others are at work here (load {os.getloadavg()[0]:.1f}); times will be off", file=sys.stderr)
    rows, failed = ratios(given.build, given.smoke)
    grown, failed_too = growth(given.build, given.smoke)
    text = (table(("what", "takes", "times, or", "wanted at most", "reached"), rows) + "\n\n" +
            table(("how time grows", "from", "exponent", "memory"), grown) + f"\n\nMeasured on: {machine()}.\n")
    print(text, end="")
    if given.keep:
        keep(text)
    return 1 if failed or failed_too else 0


if __name__ == "__main__":
    sys.exit(main())
