#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Makes each formula of mutants.py wrong in a copy of the tree, and sees whether the tests notice.

run.py [--check] [--only TEXT]…

--check       only whether every formula still stands once in its room
--only TEXT   only mutants whose text contains it

The copy is build/mutation/tree. Exit status: 0 all noticed; 1 a mutant lives, does not compile, or its formula
is not found just once.
"""
import argparse
import os
import pathlib
import shutil
import subprocess
import sys
import time

sys.dont_write_bytecode = True
from mutants import MUTANTS  # noqa: E402

ROOT = pathlib.Path(__file__).resolve().parents[2]
TREE = ROOT / "build/mutation/tree"
MAY_TAKE_S = 600  # a mutant that never ends is noticed too


def places(root, room, text):
    """(file, how often it stands there) for every source of the room that has the text."""
    found = []
    for path in sorted(path for end in ("*.cpp", "*.h") for path in (root / "src" / room).rglob(end)):
        count = path.read_text(encoding="utf-8").count(text)
        if count:
            found.append((path, count))
    return found


def not_found_once(root, mutants):
    faults = []
    for room, text, mutated, _ in mutants:
        found = places(root, room, text)
        if sum(count for _, count in found) != 1:
            where = ", ".join(f"{count} in {path.relative_to(root)}" for path, count in found) or "nowhere"
            faults.append(f"{room}: '{text}' must stand once in src/{room}, it stands {where}")
        if text == mutated:
            faults.append(f"{room}: '{text}' is no mutant of itself")
    return faults


def copy_tree():
    """The tracked files as they stand now; what has not changed keeps its time, so that little is built anew."""
    listed = subprocess.run(["git", "-C", ROOT, "ls-files", "-z"], capture_output=True, text=True, check=True)
    names = {name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()}
    for name in names:
        target = TREE / name
        if target.exists() and target.read_bytes() == (ROOT / name).read_bytes():
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, target)
    for path in TREE.rglob("*"):
        name = path.relative_to(TREE)
        if path.is_file() and name.parts[0] != "build" and str(name) not in names:
            path.unlink()


def quiet(command, **kwargs):
    return subprocess.run(command, cwd=TREE, capture_output=True, text=True, check=False, **kwargs)


def build(room):
    return quiet(["cmake", "--build", "--preset", "release", "--target", f"{room}_tests"])


def tests_there(room, tests):
    """Whether any test goes by these names: of one that was renamed every mutant would count as killed."""
    listed = quiet([f"build/release/tests/{room}/{room}_tests", f"--gtest_filter={tests}", "--gtest_list_tests"])
    return listed.returncode == 0 and "  " in listed.stdout


def tests_pass(room, tests):
    environment = {**os.environ, "RC_PARAMS": "seed=20240229"}
    try:
        run = quiet([f"build/release/tests/{room}/{room}_tests", f"--gtest_filter={tests}"], timeout=MAY_TAKE_S,
                    env=environment)
    except subprocess.TimeoutExpired:
        return False
    return run.returncode == 0 and "[  PASSED  ] 0 tests" not in run.stdout


def tried(mutant):
    """What became of a mutant: "killed", or why not."""
    room, text, mutated, tests = mutant
    path = places(TREE, room, text)[0][0]
    original = path.read_text(encoding="utf-8")
    path.write_text(original.replace(text, mutated), encoding="utf-8")
    try:
        built = build(room)
        if built.returncode != 0:
            return "does not compile"
        return "LIVES" if tests_pass(room, tests) else "killed"
    finally:
        path.write_text(original, encoding="utf-8")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--only", action="append", default=[])
    options = parser.parse_args()
    mutants = [m for m in MUTANTS if not options.only or any(only in m[1] for only in options.only)]
    faults = not_found_once(ROOT, mutants)
    for fault in faults:
        print(fault)
    if options.check or faults:
        return 1 if faults else 0
    if not mutants:
        print("no such mutant")
        return 1

    copy_tree()
    configured = quiet(["cmake", "--preset", "release"])
    if configured.returncode != 0:
        raise SystemExit(configured.stderr)
    lived = 0
    for room in dict.fromkeys(m[0] for m in mutants):
        own = [m for m in mutants if m[0] == room]
        built = build(room)
        if built.returncode != 0 or not tests_pass(room, ":".join(m[3] for m in own)):
            raise SystemExit(f"{room}: the tests fail without any mutant\n{built.stdout[-2000:]}")
        for names in {m[3] for m in own}:
            for name in names.split(":"):
                if not tests_there(room, name):
                    raise SystemExit(f"{room}: no test is called {name}")
        for mutant in own:
            begun = time.monotonic()
            ending = tried(mutant)
            lived += ending != "killed"
            print(f"{ending}  {room}: {mutant[1]}  ->  {mutant[2]}  ({time.monotonic() - begun:.0f} s)", flush=True)
    print(f"{len(mutants) - lived} of {len(mutants)} mutants killed")
    return 1 if lived else 0


if __name__ == "__main__":
    sys.exit(main())
