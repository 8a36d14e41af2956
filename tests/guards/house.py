#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Checks what the compiler does not: the order of the rooms, the length of files and functions, and that
nothing tracked names a place on somebody's machine.

house.py [ROOT]    exit status: 0 all in order, 1 something is not, told one a line on standard output
"""
import pathlib
import re
import subprocess
import sys

FILE_LINES = 500
FUNCTION_LINES = 100
PAGE_LINES = {"DEVELOPERS.md": 200, "README.md": 700}
# Homes, scratch folders and work trees of machines.
MACHINE_PATH = re.compile(r"(?<![\w./-])/(?:home|root|Users|work|tmp)/[\w.-]+")
# Text that may speak of such places: paths that a test makes up, or that a user would type.
MAY_NAME_PLACES = re.compile(r"^(tests/guards/house\.py|tests/.*_test\.cpp|tests/fuzz/corpus/.*)$")
TEXT = re.compile(r"(\.(h|cpp|txt|md|sh|py|toml|cmake|json|table)|(^|/)(run|\.clang-(format|tidy)|\.gitignore))$")


def tracked(root):
    """All files under version control, or all there are where there is no repository."""
    listed = subprocess.run(["git", "-C", root, "ls-files", "-z"], capture_output=True, text=True, check=False)
    if listed.returncode == 0:
        names = listed.stdout.split("\0")
    else:
        names = [str(p.relative_to(root)) for p in pathlib.Path(root).rglob("*") if p.is_file()]
    return sorted(n for n in names if n and not n.startswith("build/") and (pathlib.Path(root) / n).is_file())


def rooms(root):
    """The rooms of src/, ground floor first, as src/CMakeLists.txt has them."""
    text = (pathlib.Path(root) / "src/CMakeLists.txt").read_text(encoding="utf-8")
    return re.search(r"foreach\(room ([^)]*)\)", text).group(1).split()


def upward_includes(root, names):
    order = {room: height for height, room in enumerate(rooms(root))}
    for name in names:
        match = re.match(r"src/(\w+)/.*\.(?:h|cpp)$", name)
        if not match:
            continue
        if match.group(1) not in order:
            yield f"{name}: its room is not in src/CMakeLists.txt"
            continue
        for number, line in lines_of(root, name):
            include = re.match(r'\s*#\s*include\s+"(\w+)/', line)
            if include and order.get(include.group(1), -1) > order[match.group(1)]:
                yield f"{name}:{number}: includes {include.group(1)}, a room above its own"
            if include and include.group(1) not in order:
                yield f"{name}:{number}: includes from '{include.group(1)}', which is no room"


def lines_of(root, name):
    text = (pathlib.Path(root) / name).read_text(encoding="utf-8", errors="replace")
    return enumerate(text.split("\n"), 1)


def blanked(text):
    """C++ with comments, literals and preprocessor lines blanked out, line for line."""
    token = re.compile(
        r'//[^\n]*|/\*.*?\*/|R"([^(\s]*)\(.*?\)\1"|"(?:\\.|[^"\\\n])*"'
        r"|(?<![0-9a-fA-F])'(?:\\.|[^'\\\n])+'|^[ \t]*#(?:\\\n|[^\n])*",
        re.S | re.M)
    return token.sub(lambda m: re.sub(r"[^\n]", " ", m.group(0)), text)


def functions(text):
    """(name, first line, last line) of every function; one within another counts with the outer one."""
    code = blanked(text)
    depth_in_function = 0
    head_at = 0
    started = None
    for match in re.finditer(r"[{};]", code):
        at, sign = match.start(), match.group(0)
        if depth_in_function:
            depth_in_function += {"{": 1, "}": -1, ";": 0}[sign]
            if depth_in_function == 0:
                if started:
                    yield started[0], started[1], code.count("\n", 0, at) + 1
                started = None
                head_at = at + 1
            continue
        head = re.sub(r"\b(public|private|protected)\s*:", lambda m: " " * len(m.group(0)), code[head_at:at])
        if sign == "{":
            scope = re.search(r"\b(namespace|extern)\b[^()]*$", head)
            record = re.match(r"\s*(?:template\s*<[^{}]*>\s*)?(?:class|struct|union|enum)\b[^()]*$", head)
            if not scope and not record:
                depth_in_function = 1
                called = re.search(r"([\w:~]+|operator\S+)\s*\(", head)
                is_data = re.search(r"(?<![=!<>])=\s*$", head)
                if called and not is_data:
                    first = head_at + len(head) - len(head.lstrip())
                    started = (called.group(1), code.count("\n", 0, first) + 1)
                continue
        head_at = at + 1


def too_long(root, names):
    for name in names:
        if re.match(r"(src|tests)/.*\.(h|cpp)$", name):
            text = (pathlib.Path(root) / name).read_text(encoding="utf-8")
            if name.startswith("src/") and text.count("\n") > FILE_LINES:
                yield f"{name}: {text.count(chr(10))} lines, at most {FILE_LINES}"
            for function, first, last in functions(text) if name.startswith("src/") else ():
                if last - first + 1 > FUNCTION_LINES:
                    yield f"{name}:{first}: {function}() has {last - first + 1} lines, at most {FUNCTION_LINES}"
        if name in PAGE_LINES:
            count = (pathlib.Path(root) / name).read_text(encoding="utf-8").count("\n")
            if count > PAGE_LINES[name]:
                yield f"{name}: {count} lines, at most {PAGE_LINES[name]}"


def machine_paths(root, names):
    for name in names:
        if not TEXT.search(name) or MAY_NAME_PLACES.match(name):
            continue
        for number, line in lines_of(root, name):
            found = MACHINE_PATH.search(line)
            if found:
                yield f"{name}:{number}: names a place on a machine, {found.group(0)}"


def faults(root):
    names = tracked(root)
    yield from upward_includes(root, names)
    yield from too_long(root, names)
    yield from machine_paths(root, names)


def main():
    root = sys.argv[1] if len(sys.argv) > 1 else str(pathlib.Path(__file__).resolve().parents[2])
    found = list(faults(root))
    for fault in found:
        print(fault)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
