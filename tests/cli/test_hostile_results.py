"""Results that somebody spoilt beyond reading: check says so in one line a file, within 10 s of one core and 1 GiB."""
import resource
import struct
import subprocess
import unittest

from support import NEST, PROGRAM, InFolder, drawn

GIB = 1 << 30
SECONDS = 10
MB = 1_000_000

JOB = """
[job]
units = "mm"
[liner]
thickness = 25
[[stock]]
width = 1250
length = 3000
[[fitting]]
tag = "S"
kind = "straight"
diameter = 250
length = 600
"""


def limits():
    resource.setrlimit(resource.RLIMIT_AS, (GIB, GIB))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


class HostileResults(InFolder):
    def setUp(self):
        super().setUp()
        self.write("job.toml", JOB)
        self.made("make", "job.toml", *NEST)
        self.out = self.folder / "models-out"

    def refused(self, path, contents, word=""):
        """Every content in the place of the file (or some, as LINERWRIGHT_CASES has it); a number stands for that many bytes of
        nothing, a function for what it returns."""
        good = path.read_bytes()
        for name, content in drawn(contents.items()):
            with self.subTest(f"{path.name}: {name}"):
                content = content() if callable(content) else content
                if isinstance(content, int):
                    with path.open("wb") as file:
                        file.truncate(content)
                else:
                    path.write_bytes(content if isinstance(content, bytes) else content.encode())
                result = subprocess.run([PROGRAM, "check", str(self.out)], cwd=self.folder, capture_output=True, text=True,
                                        errors="replace", timeout=300, preexec_fn=limits)
                self.assertEqual(result.returncode, 1, (result.stdout[-500:], result.stderr[-500:]))
                failing = [line for line in result.stdout.splitlines() if line.startswith("  FAIL")]
                self.assertTrue(failing)
                self.assertTrue(any(word in line for line in failing), failing)
                self.assertTrue(all(len(line) < 2000 for line in failing))
                self.assertTrue(all(line.startswith(("  pass", "  FAIL", "  note")) for line in result.stdout.splitlines()
                                    if line.startswith("  ")))
                self.assertEqual(result.stderr, "")
        path.write_bytes(good)

    def broken_text(self, good):
        return {"empty": "", "cut short": good[:len(good) // 2], "not UTF-8": good[:40] + b"\xe9" + good[40:],
                "NUL": good[:40] + b"\0" + good[40:], "5 GB": 5 * GIB}

    def test_json(self):
        for path in (self.out / "S" / "fitting.json", self.out / "boards" / "boards.json", self.out / "totals.json"):
            self.refused(path, {**self.broken_text(path.read_bytes()),
                                "nested": lambda: "[" * (20 * MB), "objects": '{"a":' * MB, "many": lambda: "[" + "1," * (25 * MB) + "1]",
                                "keys": lambda: "{" + ",".join(f'"k{i}":{{}}' for i in range(1_200_000)) + "}",
                                "too large a number": '{"format": 1e400}', "not a number": '{"format": NaN}',
                                "large": '{"format": 1e308, "boards": [1e308], "count": 1e308}', "a list": "[]"})

    def test_dxf(self):
        for path in (self.out / "S" / "S-1.dxf", self.out / "boards" / "board-1.dxf"):
            good = path.read_bytes()
            head = good[:good.index(b"  2\nENTITIES\n")] + b"  2\nENTITIES\n"
            tail = b"  0\nENDSEC\n  0\nEOF\n"
            numbers = {name: good.replace(b" 10\n0.0000\n", b" 10\n" + value + b"\n")
                       for name, value in (("1e308", b"1e308"), ("-1e308", b"-1e308"), ("nan", b"nan"), ("inf", b"inf"),
                                           ("1e999", b"1e999"), ("words", b"one"))}
            line = b"  0\nLWPOLYLINE\n  8\nCUT\n 70\n1\n"
            points = b"".join(b" 10\n%d\n 20\n%d\n" % (i % 977, i % 1009) for i in range(1000))
            self.refused(path, {"empty": b"", "cut short": good[:len(good) // 2], "NUL": 3 * MB, "5 GB": 5 * GIB, **numbers,
                                "lines": lambda: head + b"  0\nLINE\n" * (10 * MB) + tail,
                                "points": lambda: head + line + points * 2000 + tail,
                                "others": lambda: head + b"  0\nX\n" * (10 * MB) + tail,
                                "long line": lambda: head + b"  8\n" + b"x" * (90 * MB),
                                "comments": lambda: b"999\n\n" * (8 * MB) + good})

    def test_stl(self):
        for name in ("liner", "bore"):
            path = self.out / "S" / f"S-{name}.stl"
            good = path.read_bytes()
            facet = struct.pack("<12fH", *range(12), 0)

            def random_facets():
                return b"".join(struct.pack("<12fH", *((i * 7 + k * k) % 1013 for k in range(12)), 0)
                                for i in range(20_000)) * 70
            self.refused(path, {"empty": b"", "cut short": good[:len(good) // 2], "header alone": good[:84],
                                "4 billion facets": good[:80] + b"\xff" * 4 + good[84:], "5 GB": 5 * GIB,
                                "NaN": good[:96] + struct.pack("<f", float("nan")) + good[100:],
                                "1e38": good[:96] + struct.pack("<f", 1e38) + good[100:],
                                "one facet": good[:80] + struct.pack("<I", MB) + facet * MB,
                                "many facets": lambda: good[:80] + struct.pack("<I", 1_400_000) + random_facets(),
                                "text": b"solid x\n" + b"facet normal 0 0 0\n" * (10 * MB),
                                "a long word": b"solid x\n" + b"f" * (100 * MB)}, word=name)

    def test_tables(self):
        for path in (self.out / "S" / "S-ordinates.csv", self.out / "boards" / "cutlist.csv", self.out / "boards" / "boards.csv",
                     self.out / "totals.csv"):
            good = path.read_bytes()
            rows = good.splitlines()
            self.refused(path, {**self.broken_text(good), "open quote": good + b'"', "cells": rows[0] + b"," * (30 * MB),
                                "rows": good + b"\n" * (60 * MB), "another head": b"a,b\n1,2\n",
                                "NaN": rows[0] + b"\n" + b",".join([b"nan"] * (rows[0].count(b",") + 1)) + b"\n",
                                "1e308": rows[0] + b"\n" + b",".join([b"1e308"] * (rows[0].count(b",") + 1)) + b"\n"},
                         word=path.name)

    def test_pictures(self):
        for name in ("S-1.svg", "S.svg", "S.html"):
            path = self.out / "S" / name
            good = path.read_bytes()
            self.refused(path, {"empty": b"", "cut short": good[:len(good) // 2], "5 GB": 5 * GIB}, word=name)
        path = self.out / "S" / "S-1.svg"
        good = path.read_bytes()
        self.refused(path, {"numbers": good.replace(b'd="M', b'd="M1e999 nan L'), "1e308": good.replace(b'd="M', b'd="M1e308 1e308L'),
                            "no size": good.replace(b"viewBox", b"view", 1)}, word="S-1.svg")


if __name__ == "__main__":
    unittest.main()
