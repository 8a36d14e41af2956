#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Parses sources with clang by the commands of a build, clang's own or another compiler's.

parse.py COMPILE_COMMANDS FILE…    exit status: 0 all parse without a warning, 1 not
"""
import concurrent.futures
import json
import os
import pathlib
import shlex
import subprocess
import sys


def parsed(entry):
    words = shlex.split(entry["command"])
    while pathlib.Path(words[0]).name == "ccache":
        words = words[1:]
    words = ["clang++-14", "-fsyntax-only"] + [w for w in words[1:] if w not in ("-c",)]
    at = words.index("-o")
    del words[at:at + 2]
    return subprocess.run(words, cwd=entry["directory"], capture_output=True, text=True, check=False)


def main(arguments):
    wanted = {os.path.realpath(name): name for name in arguments[1:]}
    entries = [e for e in json.loads(pathlib.Path(arguments[0]).read_text(encoding="utf-8"))
               if os.path.realpath(os.path.join(e["directory"], e["file"])) in wanted]
    missing = set(wanted) - {os.path.realpath(os.path.join(e["directory"], e["file"])) for e in entries}
    for name in sorted(missing):
        print(f"{wanted[name]}: no build compiles it", file=sys.stderr)
    failed = 0
    with concurrent.futures.ThreadPoolExecutor(max_workers=os.cpu_count()) as pool:
        for entry, run in zip(entries, pool.map(parsed, entries)):
            if run.returncode != 0:
                failed += 1
                print(run.stderr, file=sys.stderr)
    print(f"clang: {len(entries)} sources parsed, {failed} with faults", file=sys.stderr)
    return 1 if failed or missing or not entries else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
