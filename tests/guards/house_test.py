#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""house.py finds what it is there to find, and nothing else."""
import pathlib
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
sys.dont_write_bytecode = True
import house  # noqa: E402


class House(unittest.TestCase):
    def faults(self, **files):
        with tempfile.TemporaryDirectory() as root:
            files.setdefault("src/CMakeLists.txt", "foreach(room units load app)\nendforeach()\n")
            for name, text in files.items():
                path = pathlib.Path(root) / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(text, encoding="utf-8")
            return list(house.faults(root))

    def test_a_tree_in_order(self):
        self.assertEqual(self.faults(**{"src/load/a.cpp": '#include "units/b.h"\n#include "load/c.h"\nint f() {}\n'}), [])

    def test_an_include_that_runs_upward(self):
        found = self.faults(**{"src/units/a.h": '#include <vector>\n#include "load/c.h"\n'})
        self.assertEqual(found, ["src/units/a.h:2: includes load, a room above its own"])

    def test_a_room_nobody_knows(self):
        self.assertEqual(len(self.faults(**{"src/attic/a.h": ""})), 1)
        self.assertEqual(len(self.faults(**{"src/app/a.h": '#include "attic/a.h"\n'})), 1)

    def test_a_file_too_long(self):
        self.assertEqual(self.faults(**{"src/app/a.cpp": "\n" * 500}), [])
        self.assertEqual(self.faults(**{"src/app/a.cpp": "\n" * 501}), ["src/app/a.cpp: 501 lines, at most 500"])

    def test_a_function_too_long(self):
        # What stands before the function, how it begins, how many lines that is, and what closes the rest.
        for before, head, lines, after in (
                ("", "int f() {", 1, ""),
                ("", "template <class T>\nint f() {", 2, ""),
                ("", "X::X(int a)\n    : a_(a) {", 2, ""),
                ("class C {\n  public:\n", "    int f() const {", 1, "};"),
                ("namespace n {\nnamespace {\n", "auto f() -> int {", 1, "}}")):
            for length, count in ((100, 0), (101, 1)):
                body = "    // {\n" * (length - lines - 1)
                found = self.faults(**{"src/app/a.cpp": before + head + "\n" + body + "}\n" + after})
                self.assertEqual(len(found), count, (head, length, found))

    def test_braces_in_text_and_data_that_is_no_function(self):
        table = "constexpr int table[] = {\n" + "    1,\n" * 200 + "};\n"
        text = table + 'const char* s = "{ f() {";\nchar c = \'{\';\nint f() {\n    return 1\'000;\n}\n'
        self.assertEqual(self.faults(**{"src/app/a.cpp": text}), [])
        two = "int f() {\n" + "\n" * 60 + "}\nint g() {\n" + "\n" * 60 + "}\n"
        self.assertEqual(self.faults(**{"src/app/a.cpp": two}), [])

    def test_a_page_too_long(self):
        self.assertEqual(len(self.faults(**{"DEVELOPERS.md": "\n" * 201})), 1)

    def test_a_place_on_a_machine(self):
        home = "/" + "home/somebody"
        self.assertEqual(len(self.faults(**{"README.md": f"see {home}/x\n"})), 1)
        self.assertEqual(len(self.faults(**{".ci/run": f"cd {home}\n"})), 1)
        self.assertEqual(self.faults(**{"README.md": "see a" + home + "\n"}), [])


if __name__ == "__main__":
    unittest.main()
