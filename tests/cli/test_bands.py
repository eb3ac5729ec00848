"""Guide bands: the real binary, its drawings and sheets read by independent readers."""
import csv
import math
import re
import shutil
import subprocess
import unittest

import ezdxf

from support import InFolder, drawn

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
HOLE = "hole-250-in-600-90"


class Bands(InFolder):
    def setUp(self):
        super().setUp()
        self.write("job.toml", JOB)

    def outline(self, name):
        drawing = ezdxf.readfile(self.folder / "bands" / f"{name}.dxf")
        cuts = [[tuple(p[:2]) for p in line.get_points()] for line in drawing.modelspace().query("LWPOLYLINE[layer=='CUT']")]
        self.assertEqual(len(cuts), 6 if name == HOLE else 5)  # four bolt holes, the outline, a window
        return max(cuts, key=len)

    def test_one_for_each_size_and_angle(self):
        said = self.made("bands", "job.toml", "--sheet", "1mm").stdout
        self.assertEqual(sorted(p.name for p in (self.folder / "bands").iterdir()),
                         sorted(["bands.csv", "bands.pdf", f"{MITRE}.dxf", f"{SADDLE}.dxf", f"{HOLE}.dxf"]))
        self.assertEqual(len(re.findall(r"[EF]/\d (?:upper|lower) end", said)), 8 + 4)
        self.assertIn("3 bands in bands", said)
        self.assertIn("T/body hole 1", said)
        for name, radius, swing in ((MITRE, 200, 400 * math.tan(math.pi / 16)),
                                    (SADDLE, 125, 300 - math.sqrt(300**2 - 125**2))):
            points = self.outline(name)
            width = max(x for x, _ in points) - min(x for x, _ in points)
            height = max(y for _, y in points) - min(y for _, y in points)
            self.assertAlmostEqual(width, 2 * math.pi * (radius + 0.5) + 40, 2)
            self.assertAlmostEqual(height, 60 + swing, 1)

    def test_a_window_around_the_body(self):
        """A branch of radius r square on a body of radius R: the hole is 2 r long and 2 R asin(r / R) around on
        its liner, and wider by half a sheet where the band's middle lies."""
        self.made("bands", "job.toml", "--sheet", "1mm")
        drawing = ezdxf.readfile(self.folder / "bands" / f"{HOLE}.dxf")
        cuts = [[tuple(p[:2]) for p in line.get_points()] for line in drawing.modelspace().query("LWPOLYLINE[layer=='CUT']")]
        cuts.sort(key=lambda ring: max(x for x, _ in ring) - min(x for x, _ in ring))
        sizes = [[max(p[k] for p in ring) - min(p[k] for p in ring) for k in (0, 1)] for ring in cuts]
        self.assertAlmostEqual(sizes[-1][0], 2 * math.pi * 300.5 + 40, 2)
        self.assertAlmostEqual(sizes[-1][1], 250 + 60, 2)
        self.assertAlmostEqual(sizes[-2][0], 2 * 300.5 * math.asin(125 / 300), 1)
        self.assertAlmostEqual(sizes[-2][1], 250, 1)
        with open(self.folder / "bands" / "bands.csv", newline="") as file:
            rows = [row for row in csv.DictReader(file) if row["band"] == HOLE]
        # layer by layer the branch is as much thinner as deep: 45 degrees on the body's axis, less on its sides
        leans = sorted(float(row["lean_deg"]) for row in rows)
        outer, inner = math.asin(125 / 300), math.asin(100 / 275)
        self.assertAlmostEqual(leans[0], math.degrees(math.atan(300 * (outer - inner) / 25)), 2)
        self.assertAlmostEqual(leans[-1], 45, 2)

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

    def test_beside_the_fittings(self):
        self.made("make", "job.toml", "--bands", "--band-sheet", "1mm", "--no-pages")
        out = self.folder / "models-out"
        found = sorted(p.name for p in out.glob("*/*-band*"))
        self.assertEqual(found, ["E-band-mitre-400-11.25.dxf", "E-bands.csv", "E-bands.pdf",
                                 "F-band-mitre-400-11.25.dxf", "F-bands.csv", "F-bands.pdf",
                                 f"T-band-{HOLE}.dxf", f"T-band-{SADDLE}.dxf", "T-bands.csv", "T-bands.pdf"])
        told = self.made("check", "job.toml").stdout
        for name in (MITRE, SADDLE, HOLE):
            self.assertRegex(told, rf"pass  band {re.escape(name)} ")
            self.assertRegex(told, rf"pass  clamp {re.escape(name)} ")
        # a run that does not ask for them leaves them; the sheet's thickness changes them
        self.assertIn("0 made, 3 unchanged", self.made("make", "job.toml", "--no-pages").stdout)
        before = (out / "E" / "E-band-mitre-400-11.25.dxf").read_bytes()
        self.made("make", "job.toml", "--bands", "--no-pages")
        self.assertNotEqual((out / "E" / "E-band-mitre-400-11.25.dxf").read_bytes(), before)

    def test_a_spoilt_band_is_found(self):
        self.made("make", "job.toml", "--bands", "--no-pages", "--patterns-only")
        for name, tag in drawn(((MITRE, "E"), (SADDLE, "T"), (HOLE, "T"))):
            path = self.folder / "models-out" / tag / f"{tag}-band-{name}.dxf"
            good = path.read_bytes()
            drawing = ezdxf.readfile(path)
            lines = [line for line in drawing.modelspace().query("LWPOLYLINE[layer=='CUT']")]
            lines.sort(key=lambda line: max(p[0] for p in line.get_points()) - min(p[0] for p in line.get_points()))
            line = lines[-2 if name == HOLE else -1]
            points = [tuple(p) for p in line.get_points()]
            at = max(range(len(points)), key=lambda i: points[i][1])
            points[at] = (points[at][0], points[at][1] + 0.4, *points[at][2:])
            line.set_points(points)
            drawing.saveas(path)
            self.assertRegex(self.made("check", "job.toml", code=1).stdout, rf"FAIL  band {re.escape(name)} ")
            path.unlink()
            self.assertIn("FAIL", self.made("check", "job.toml", code=1).stdout)
            path.write_bytes(good)
        self.assertNotIn("FAIL", self.made("check", "job.toml").stdout)

    def test_flags_of_make(self):
        for flags in (("--band-sheet", "1mm"), ("--bands", "--band-sheet", "9mm"), ("--bands", "--band-bolt", "20mm")):
            self.assertEqual(len(self.made("make", "job.toml", *flags, code=2).stderr.splitlines()), 1)
        self.assertFalse((self.folder / "models-out").exists())

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
