# SPDX-License-Identifier: MIT
"""Holds the JSON Schemas of models/schemas against load files and against what the program prints.

schema_test.py PROGRAM SOURCES load|results FOUND

FOUND holds what check and plan said of the samples, as tests/golden left it.
"""
import copy
import json
import math
import os
import pathlib
import struct
import subprocess
import sys
import tempfile
import tomllib

import jsonschema

PROGRAM, SOURCES, FOUND = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[4])
SCHEMAS = SOURCES / "models" / "schemas"
LONG = bool(os.environ.get("EVENSPIT_LONG_TESTS"))
os.environ["EVENSPIT_CACHE"] = "none"  # for the programs that are started here
failures = []


def expect(true, what):
    if not true:
        failures.append(what)


def printed(*words, folder=SOURCES):
    """What a run prints; its verdict may be a stop."""
    run = subprocess.run([PROGRAM, *words], cwd=folder, capture_output=True, text=True)
    expect(run.returncode in (0, 1), f"{' '.join(map(str, words))} ended with {run.returncode}: {run.stderr}")
    return run.stdout


def validator(schema):
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def shortened(value):
    """A result with little of its curves, whose points are all alike: a validator in Python takes seconds for them."""
    if isinstance(value, dict):
        return {key: shortened(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [shortened(inner) for inner in (value if len(value) <= 20 else value[:6] + value[-6:])]
    return value


def told(error):
    return f"{'/'.join(map(str, error.absolute_path))}: {error.message[:200]}"


def loads():
    yield from sorted((SOURCES / "samples").rglob("*.toml"))


# --- load files ---

def broken(load):
    """The load with one thing wrong, and what that is."""
    def changed(what, change):
        wrong = copy.deepcopy(load)
        change(wrong)
        return what, wrong

    yield changed("an unknown section", lambda l: l.update(stok={}))
    yield changed("an unknown key", lambda l: l["rod"].update(girth="8 mm"))
    yield changed("no rod", lambda l: l.pop("rod"))
    yield changed("no item", lambda l: l.update(item=[]))
    yield changed("a bare number", lambda l: l["item"][0].update(at=340))
    yield changed("a number without a unit", lambda l: l["item"][0].update(at="340"))
    yield changed("a weight below zero", lambda l: l["item"][0].update(mass="-5 kg"))
    yield changed("a word that is none of the list", lambda l: l["item"][0].update(facing="left"))
    yield changed("a text for yes or no", lambda l: l["item"][0].update(trussed="yes"))
    yield changed("a scan beside a shape", lambda l: l["item"][0].update(scan="a.ply"))
    yield changed("neither scan nor shape", lambda l: l["item"][0].pop("shape"))
    yield changed("a scan's key beside a shape", lambda l: l["item"][0].update(scan_unit="mm"))
    yield changed("a direction of two numbers", lambda l: l["item"][0].update(axis=[1, 0]))
    yield changed("no time of the day", lambda l: l.setdefault("cook", {}).update(serve="half past six"))
    yield changed("a plane with a box's keys", lambda l: l.setdefault("cooker", {}).update(
        surface=[{"name": "lid", "shape": "plane", "min": ["0 mm"] * 3}]))


def load_schema():
    shipped = (SCHEMAS / "load.schema.json").read_text()
    expect(shipped == printed("keys", "--schema"),
           "models/schemas/load.schema.json is not what evenspit keys --schema prints: write it anew")
    check = validator(json.loads(shipped))
    count = 0
    for file in loads():
        load = tomllib.loads(file.read_text())
        for error in check.iter_errors(load):
            expect(False, f"{file.name}: {told(error)}")
        count += 1
    expect(count >= 8, f"only {count} samples were found")
    sample = tomllib.loads((SOURCES / "samples" / "harvest-turkey.toml").read_text())
    for what, wrong in broken(sample):
        expect(not check.is_valid(wrong), f"passes the schema: {what}")


# --- results ---

def raw_scan(folder):
    """A turkey's skin as points, on a board of points under it."""
    printed("shape", "turkey", "--mass", "13 lb", "-o", folder / "turkey.ply")
    lines = (folder / "turkey.ply").read_bytes()
    head, _, body = lines.partition(b"end_header\n")
    vertices, offset, wide = 0, 0, 0
    kinds = {"double": 8, "float": 4}
    for line in head.decode().splitlines():
        words = line.split()
        if words[:2] == ["element", "vertex"]:
            vertices = int(words[2])
        elif words[:1] == ["element"]:
            break
        elif words[:1] == ["property"]:
            wide += kinds[words[1]]
    each = "<3d" if wide == 24 else "<3f"
    points = [struct.unpack_from(each, body, i * wide) for i in range(vertices)]
    floor = min(p[2] for p in points)
    seen = [p for p in points if p[2] > floor + 0.02]
    step = 0.005
    for i in range(-60, 61):
        for j in range(-50, 51):
            x, y = i * step, j * step
            if math.hypot(x / 0.2, y / 0.13) > 1:
                seen.append((x, y, floor))
    (folder / "raw.xyz").write_text("".join(f"{x} {y} {z}\n" for x, y, z in seen))
    return folder / "raw.xyz"


def results():
    """Every kind of result: what it is called in the schema, a name for messages, and the result itself."""
    def run(verb, *words, folder=SOURCES):
        return verb, " ".join(map(str, words)), json.loads(printed(*words, "--json", folder=folder))

    few = ("--mountings", "16")
    found = {tuple(path.name.split(".")[:2]): path for path in sorted(FOUND.glob("*.json"))}
    expect(len(found) >= 20, f"{FOUND} holds only {len(found)} results: run the tests golden.* first")
    for (sample, verb), path in found.items():
        yield verb, f"{verb} {sample}", json.loads(path.read_text())
    for load in loads():
        if (load.stem, "check") not in found or load.parent.name != "samples":
            yield run("check", "check", load.relative_to(SOURCES), *few)
    turkey = "samples/harvest-turkey.toml"
    yield run("check", "check", turkey, "--mountings", "0")
    yield run("compare", "compare", turkey, "samples/everything-wrong.toml", *few)
    yield run("sweep", "compare", turkey, "--sweep", "fork.1.at=180mm:240mm:60mm", *few)
    if LONG:  # three quarters of a minute
        yield run("fit", "fit", "samples/lopsided-roast.toml", "--mountings", "0")
    for load in (turkey, "samples/cook/slippery-shoulder.toml"):
        yield run("roast", "roast", load, "--spacing", "12 mm", *few)
    rolled = "samples/roll-test/turkey.toml"
    yield run("roll", "roll", rolled, "--down", "210 deg", *few)
    yield run("shape", "shape", "turkey", "--mass", "13 lb", "--trussing", "loose", "--stuffing", "400 g")
    yield run("shape", "shape", "leg of lamb", "--mass", "2 kg")
    yield run("models", "models")
    yield run("keys", "keys")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        beside = (SOURCES / "samples/leg-of-lamb.toml").read_text().replace('radius = "50 mm"', 'radius = "150 mm"')
        (folder / "tine-beside.toml").write_text(beside)
        yield run("check", "check", folder / "tine-beside.toml", "--mountings", "0")
        raw = raw_scan(folder)
        yield run("scan", "scan", raw, "--scan-unit", "m", "--mass", "13 lb", "-o", folder / "body.ply")
        yield run("scan", "scan", raw, folder / "turkey.ply", "--scan-unit", "m", "-o", folder / "both.ply")


def properties(schema, path=()):
    """Where the schema names keys that results have often; a comment says of others when they have them."""
    if isinstance(schema, dict):
        for key, value in schema.get("properties", {}).items():
            if "$comment" not in value:
                yield (*path, key)
            yield from properties(value, (*path, key))
        for key, value in schema.items():
            if key == "$defs":
                for name, definition in value.items():
                    yield from properties(definition, ("$defs", name))
            elif key != "properties":
                yield from properties(value, path)
    elif isinstance(schema, list):
        for value in schema:
            yield from properties(value, path)


class Used:
    """Which keys of a schema results have had: follows a result along the schema."""

    def __init__(self, schema):
        self.schema = schema
        self.seen = set()

    def follow(self, value, schema, path):
        if "$ref" in schema:
            steps = schema["$ref"].removeprefix("#/").split("/")
            if steps[-2] == "properties":
                self.seen.add(path)
            target = self.schema
            for step in steps:
                target = target[step]
            path = tuple(step for step in steps if step != "properties")
            self.seen.add(path)
            return self.follow(value, target, path)
        for more in schema.get("allOf", []):
            self.follow(value, more, path)
        if isinstance(value, dict):
            for key, inner in value.items():
                if key in schema.get("properties", {}):
                    self.seen.add((*path, key))
                    self.follow(inner, schema["properties"][key], (*path, key))
        if isinstance(value, list) and isinstance(schema.get("items"), dict):
            for inner in value:
                self.follow(inner, schema["items"], path)


def result_schema():
    schema = json.loads((SCHEMAS / "result.schema.json").read_text())
    validator(schema)
    used = Used(schema)
    verbs = set()
    for verb, name, whole in results():
        result = whole if verb in ("keys", "models") else shortened(whole)
        verbs.add(verb)
        definition = {"$ref": f"#/$defs/{verb}", "$defs": schema["$defs"]}
        for error in jsonschema.Draft202012Validator(definition).iter_errors(result):
            expect(False, f"{name}: {told(error)}")
        used.follow(result, {"$ref": f"#/$defs/{verb}"}, ())
    named = set(properties(schema))
    expect(len(named) > 200, f"only {len(named)} keys are named")
    for path in sorted(named - used.seen):
        if path[:2] == ("$defs", "fit") and not LONG:
            continue
        expect(False, f"no result has {'/'.join(path)}, which the schema names")
    expect(verbs <= {each["$ref"].rsplit("/", 1)[1] for each in schema["anyOf"]},
           "a kind of result stands apart from the others")


if sys.argv[3] == "load":
    load_schema()
else:
    result_schema()
for failure in failures:
    print(failure)
sys.exit(1 if failures else 0)
