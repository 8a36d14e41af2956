#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""golden.py sees what differs, and only that."""
import pathlib
import sys
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
sys.dont_write_bytecode = True
import golden  # noqa: E402


class Golden(unittest.TestCase):
    STORED = {"verdict": "care", "balance": {"mass_kg": 6.7, "curve": [[0, 1e-17], [1, 0.3]]},
              "findings": [{"level": "care", "topic": "rod", "value": 0.65}],
              "uncertainty": {"stall_probability": 0.25}}

    def lines(self, change, verb="check"):
        found = {**self.STORED, **change}
        return list(golden.differences(self.STORED, found, verb))

    def test_nothing_differs(self):
        self.assertEqual(self.lines({}), [])

    def test_numbers(self):
        mass = lambda kg: {"balance": {**self.STORED["balance"], "mass_kg": kg}}  # noqa: E731
        self.assertEqual(self.lines(mass(6.7 * (1 + 0.9e-9))), [])
        self.assertEqual(len(self.lines(mass(6.7 * (1 + 1.1e-9)))), 1)
        self.assertEqual(self.lines(mass(6.7 * (1 + 0.9e-6)), "plan"), [])
        self.assertEqual(len(self.lines(mass(6.7 * (1 + 1.1e-6)), "plan")), 1)
        self.assertEqual(len(self.lines(mass(float("nan")))), 1)
        self.assertEqual(len(self.lines(mass("6.7"))), 1)
        self.assertEqual(len(self.lines(mass(True))), 1)

    def test_what_is_zero_but_for_rounding(self):
        curve = lambda v: {"balance": {"mass_kg": 6.7, "curve": [[0, v], [1, 0.3]]}}  # noqa: E731
        self.assertEqual(self.lines(curve(-1e-15)), [])
        self.assertEqual(self.lines(curve(1e-11)), ["balance.curve.0.1: 1e-17 stored, 1e-11 found"])

    def test_counts_of_random_loads(self):
        self.assertEqual(self.lines({"uncertainty": {"stall_probability": 0.2505}}), [])
        self.assertEqual(len(self.lines({"uncertainty": {"stall_probability": 0.2515}})), 1)

    def test_findings_and_words(self):
        finding = self.STORED["findings"][0]
        self.assertEqual(len(self.lines({"findings": [{**finding, "level": "stop"}]})), 1)
        self.assertEqual(len(self.lines({"findings": [{**finding, "topic": "grip"}]})), 1)
        self.assertEqual(len(self.lines({"findings": []})), 1)
        self.assertEqual(golden.kept({"findings": [{**finding, "message": "words"}]}), {"findings": [finding]})

    def test_keys(self):
        self.assertEqual(self.lines({"more": 1}), ["more: not stored, 1 found"])
        found = dict(self.STORED)
        del found["verdict"]
        self.assertEqual(list(golden.differences(self.STORED, found, "check")), ["verdict: 'care' stored, absent now"])


if __name__ == "__main__":
    unittest.main()
