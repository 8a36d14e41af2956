#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Holds what the program says of the samples against what is stored here.

golden.py EVENSPIT VERB SAMPLE [FOLDER]   compares; exit status 1 if anything differs, each told in a line; puts the
                                          whole result into the folder as SAMPLE.VERB.json, for other tests
golden.py --update EVENSPIT               writes all stored results anew and shows what changes

VERB is check or plan. Numbers may differ by the relative and absolute tolerances below, in SI units (what is
zero but for rounding has no relative one); words for people are not compared, everything else is.
"""
import json
import os
import pathlib
import re
import subprocess
import sys

# Nothing is kept for later runs, and nothing of earlier ones counts.
os.environ["EVENSPIT_CACHE"] = "none"
HERE = pathlib.Path(__file__).resolve().parent
SAMPLES = HERE.parents[1] / "samples"
VERBS = ("check", "plan")
# Another compiler's or library's last digits; and what a search makes of them, which ends on whole millimetres
# and degrees.
RELATIVE = {"check": 1e-9, "plan": 1e-6}
ABSOLUTE = {"check": 1e-12, "plan": 1e-9}
# Counts of random loads: one more or less may tip over.
COUNTED = {"stall_probability": 0.001, "chance": 0.001}
# Worded for people, or of this build and place.
NOT_COMPARED = {"message", "why", "steps", "tool", "file", "title"}


def result(program, verb, sample):
    """What the program says, as JSON."""
    run = subprocess.run([program, verb, str(SAMPLES / f"{sample}.toml"), "--json", "--quiet"],
                         capture_output=True, text=True, check=False)
    if run.returncode not in (0, 1):
        raise SystemExit(f"{verb} {sample}: exit status {run.returncode}\n{run.stderr}")
    return run.returncode, json.loads(run.stdout)


def with_status(told):
    """As it is stored."""
    status, found = told
    return {"exit_status": status, **found}


def kept(value):
    """A result without what is not compared."""
    if isinstance(value, dict):
        return {key: kept(inner) for key, inner in value.items() if key not in NOT_COMPARED}
    if isinstance(value, list):
        return [kept(inner) for inner in value]
    return value


def is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def differences(stored, found, verb, path=""):
    """A line for each thing that differs."""
    if is_number(stored) and is_number(found):
        allowed = max(ABSOLUTE[verb], RELATIVE[verb] * max(abs(stored), abs(found)))
        for key, most in COUNTED.items():
            if key in path.split("."):
                allowed = most
        if not abs(stored - found) <= allowed:
            yield f"{path}: {stored!r} stored, {found!r} found"
    elif isinstance(stored, dict) and isinstance(found, dict):
        for key in list(stored) + [k for k in found if k not in stored]:
            inner = f"{path}.{key}" if path else key
            if key not in found:
                yield f"{inner}: {stored[key]!r} stored, absent now"
            elif key not in stored:
                yield f"{inner}: not stored, {found[key]!r} found"
            else:
                yield from differences(stored[key], found[key], verb, inner)
    elif isinstance(stored, list) and isinstance(found, list):
        if len(stored) != len(found):
            yield f"{path}: {len(stored)} stored, {len(found)} found"
        for i, (one, other) in enumerate(zip(stored, found)):
            yield from differences(one, other, verb, f"{path}.{i}")
    elif stored != found or type(stored) is not type(found):
        yield f"{path}: {stored!r} stored, {found!r} found"


def written(result_kept):
    """JSON with each list of numbers on a line of its own."""
    text = json.dumps(result_kept, indent=1, ensure_ascii=False)
    return re.sub(r"\[[^][{}\"]*\]", lambda m: re.sub(r"\s+", " ", m.group(0)), text) + "\n"


def stored_path(verb, sample):
    return HERE / f"{sample}.{verb}.json"


def samples():
    return sorted(path.stem for path in SAMPLES.glob("*.toml"))


def compare(program, verb, sample, folder=None):
    changed = 0
    stored = json.loads(stored_path(verb, sample).read_text(encoding="utf-8"))
    told = result(program, verb, sample)
    if folder:
        pathlib.Path(folder).mkdir(parents=True, exist_ok=True)
        (pathlib.Path(folder) / f"{sample}.{verb}.json").write_text(json.dumps(told[1]), encoding="utf-8")
    for line in differences(stored, kept(with_status(told)), verb):
        print(f"{verb} {sample}: {line}")
        changed = 1
    if changed:
        print("If this is meant, run sh tests/golden/update.sh and tell why in src/CHANGES.md.")
    return changed


def update(program):
    for verb in VERBS:
        for sample in samples():
            path = stored_path(verb, sample)
            found = kept(with_status(result(program, verb, sample)))
            if path.exists():
                for line in differences(json.loads(path.read_text(encoding="utf-8")), found, verb):
                    print(f"{verb} {sample}: {line}")
            else:
                print(f"{verb} {sample}: new")
            path.write_text(written(found), encoding="utf-8")
    for path in HERE.glob("*.json"):
        if path.name.rsplit(".", 2)[0] not in samples():
            print(f"{path.name}: its sample is gone")
            path.unlink()
    return 0


def main(arguments):
    if len(arguments) == 2 and arguments[0] == "--update":
        return update(arguments[1])
    if len(arguments) in (3, 4) and arguments[1] in VERBS:
        return compare(*arguments)
    print(__doc__, file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
