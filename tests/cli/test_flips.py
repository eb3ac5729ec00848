"""STEP files with one byte changed, and with a coordinate that has no end: the kernel that reads them may crash or run
for ever, `check` may not."""
import math
import os
import pathlib
import random
import re
import resource
import subprocess
import unittest

from support import PROGRAM, InFolder

FLIPS = max(12, math.ceil(24 * float(os.environ.get("LINERWRIGHT_CASES", "1"))))
JOB = """[job]
units = "mm"
[[fitting]]
tag = "S"
kind = "straight"
diameter = 250
length = 600
thickness = 25
[[fitting]]
tag = "W"
kind = "straight"
diameter = 315
length = 400
thickness = 25
"""


class Flips(InFolder):
    def made(self):
        self.write("job.toml", JOB)
        subprocess.run([PROGRAM, "make", "job.toml", "--no-pages", "--out", "out"], cwd=self.folder, check=True, capture_output=True)
        return pathlib.Path(self.folder) / "out" / "S" / "S.step"

    def checked(self, step, content):
        """The check of both fittings: the broken one may pass (a changed comment), the other one has to."""
        step.write_bytes(content)
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        result = subprocess.run([PROGRAM, "check", "out"], cwd=self.folder, capture_output=True, text=True, timeout=300)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        self.assertIn(result.returncode, (0, 1), result.stderr[:2000])
        self.assertIn(" checks passed, ", result.stdout)
        other = result.stdout.split("\nW\n")[1]
        self.assertNotIn("FAIL", other)
        self.assertEqual(result.returncode, 1 if "FAIL" in result.stdout else 0)
        self.assertLess(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, 15.0)
        return result.stdout

    def test_one_byte_changed(self):
        step = self.made()
        good = step.read_bytes()
        dice = random.Random(20261128)
        failed = 0
        for _ in range(FLIPS):
            at, bit = dice.randrange(len(good)), dice.randrange(8)
            with self.subTest(at=at, bit=bit):
                spoilt = bytearray(good)
                spoilt[at] ^= 1 << bit
                failed += "FAIL" in self.checked(step, bytes(spoilt))
        self.assertGreater(failed, FLIPS // 3)

    def test_a_coordinate_without_end(self):
        step = self.made()
        good = step.read_bytes()
        places = list(re.finditer(rb"CARTESIAN_POINT\('',\((-?[\d.E+-]+)", good))
        for place in (places[0], places[len(places) // 2], places[-1]):
            with self.subTest(at=place.start()):
                self.checked(step, good[: place.start(1)] + b"1.E308" + good[place.end(1) :])


if __name__ == "__main__":
    unittest.main()
