"""Guide bands: the real binary, its drawings and sheets read by independent readers."""
import csv
import math
import re
import shutil
import subprocess
import unittest

import ezdxf

from support import InFolder

JOB = """[job]
units = "mm"
[liner]
thickness = 25
[[fitting]]
tag = "E"
kind = "elbow"
diameter = 400
angle = 90
pieces = 5
[[fitting]]
tag = "F"
kind = "elbow"
diameter = 400
angle = 45
pieces = 3
[[fitting]]
tag = "T"
kind = "tee"
diameter = 600
length = 1500
branch_diameter = 250
branch_length = 600
"""
MITRE = "mitre-400-11.25"
SADDLE = "saddle-250-on-600-90"


class Bands(InFolder):
    def setUp(self):
        super().setUp()
        self.write("job.toml", JOB)

    def outline(self, name):
        drawing = ezdxf.readfile(self.folder / "bands" / f"{name}.dxf")
        cuts = [[tuple(p[:2]) for p in line.get_points()] for line in drawing.modelspace().query("LWPOLYLINE[layer=='CUT']")]
        self.assertEqual(len(cuts), 5)  # four bolt holes and the outline
        return max(cuts, key=len)

    def test_one_for_each_size_and_angle(self):
        said = self.made("bands", "job.toml", "--sheet", "1mm").stdout
        self.assertEqual(sorted(p.name for p in (self.folder / "bands").iterdir()),
                         sorted(["bands.csv", "bands.pdf", f"{MITRE}.dxf", f"{SADDLE}.dxf"]))
        self.assertEqual(len(re.findall(r"[EF]/\d (?:upper|lower) end", said)), 8 + 4)
        self.assertIn("2 bands in bands", said)
        for name, radius, swing in ((MITRE, 200, 400 * math.tan(math.pi / 16)),
                                    (SADDLE, 125, 300 - math.sqrt(300**2 - 125**2))):
            points = self.outline(name)
            width = max(x for x, _ in points) - min(x for x, _ in points)
            height = max(y for _, y in points) - min(y for _, y in points)
            self.assertAlmostEqual(width, 2 * math.pi * (radius + 0.5) + 40, 2)
            self.assertAlmostEqual(height, 60 + swing, 1)

    def test_the_table_says_how_the_blade_leans(self):
        self.made("bands", "job.toml")
        with open(self.folder / "bands" / "bands.csv", newline="") as file:
            rows = [row for row in csv.DictReader(file) if row["band"] == MITRE]
        self.assertEqual(len(rows), 12)
        # a plane of 11.25 degrees: atan(tan(11.25) cos) at a station, 0 to 90 degrees from the heel
        leans = sorted(abs(float(row["lean_deg"])) for row in rows)
        want = sorted(math.degrees(math.atan(math.tan(math.pi / 16) * abs(math.cos(math.radians(30 * k)))))
                      for k in range(12))
        for lean, wanted in zip(leans, want):
            self.assertAlmostEqual(lean, wanted, 2)

    def test_full_size_on_paper(self):
        if not shutil.which("pdfinfo"):
            self.skipTest("pdfinfo is not installed here")
        self.made("bands", "job.toml", "--paper", "roll=36in")
        said = subprocess.run(["pdfinfo", "-l", "-1", self.folder / "bands" / "bands.pdf"], capture_output=True, text=True).stdout
        sizes = [(float(x) / 72 * 25.4, float(y) / 72 * 25.4) for x, y in re.findall(r"size:\s+([\d.]+) x ([\d.]+) pts", said)]
        self.assertGreaterEqual(len(sizes), 3)  # the map, and a sheet at least for each band
        for across, along in sizes:
            self.assertAlmostEqual(across, 914.4, 0)
        # the longer band at full size: its girth outside the liner and the lap
        self.assertGreater(max(along for _, along in sizes), 2 * math.pi * 200.4 + 40)

    def test_nothing_is_written_over(self):
        self.made("bands", "job.toml")
        before = (self.folder / "bands" / "bands.csv").read_bytes()
        again = self.made("bands", "job.toml", "--sheet", "2mm", code=2)
        self.assertIn("is there already", again.stderr)
        self.assertEqual((self.folder / "bands" / "bands.csv").read_bytes(), before)
        self.made("bands", "job.toml", "--sheet", "2mm", "--force")
        self.assertNotEqual((self.folder / "bands" / "bands.csv").read_bytes(), before)

    def test_what_cannot_be(self):
        for flags, words in ((("--sheet", "9mm"), "--sheet = 9mm"), (("--width", "1mm"), "--width = 1mm"),
                             (("--lap", "wide"), "--lap = wide"), (("--bolt", "20mm"), "two holes have to find room"),
                             (("--paper", "b7"), "--paper = b7"), (("--lap", "290mm"), "more than a quarter")):
            result = self.made("bands", "job.toml", *flags, code=2)
            self.assertIn(words, result.stderr)
            self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)
            self.assertFalse((self.folder / "bands").exists())
        self.write("straight.toml", JOB.partition("[[fitting]]")[0] + '[[fitting]]\ntag = "S"\nkind = "straight"\ndiameter = 300\nlength = 900\n')
        self.assertIn("no band is needed", self.made("bands", "straight.toml").stdout)


if __name__ == "__main__":
    unittest.main()
