import csv
import json
import math
import re
import subprocess
import unittest

import ezdxf

from support import SOURCE, InFolder, drawn

ELBOW = ["make", "elbow", "--tag", "E-1", "--diameter", "24in", "--angle", "90", "--pieces", "5", "--radius-ratio",
         "1.5", "--liner", "1in"]

KINDS = {
    "straight": ["--diameter", "12in", "--length", "4ft"],
    "elbow": ["--diameter", "315mm", "--angle", "90", "--pieces", "5", "--collar", "50mm"],
    "reducer": ["--diameter", "24in", "--to-diameter", "20in", "--length", "18in", "--collar", "4in", "--to-collar",
                "4in", "--flat"],
    "tee": ["--diameter", "20in", "--length", "48in", "--branch-diameter", "12in", "--branch-length", "22in",
            "--angle", "45", "--offset", "2in"],
}


class Make(InFolder):
    def fitting(self, tag, out="models-out"):
        return json.loads((self.folder / out / tag / "fitting.json").read_text())

    def test_elbow_by_flags(self):
        self.made(*ELBOW)
        folder = self.folder / "models-out" / "E-1"
        expected = {f"E-1-{piece}.{kind}" for piece in ["1", "2", "3", "4", "5", "blank"] for kind in ["dxf", "svg"]}
        expected |= {"E-1-metal.stl", "E-1-liner.stl", "E-1-bore.stl", "E-1.step", "E-1-tilt.csv",
                     "E-1-ordinates.csv", "E-1.html", "E-1.svg", "fitting.json"}
        self.assertEqual({p.name for p in folder.iterdir()}, expected)
        data = self.fitting("E-1")
        # liner volume = pi/4 (D^2 - (D - 2t)^2) 2 (n - 1) R tan theta: truncated cylinders, mean height rule
        theta = math.radians(90 / 8)
        diameter, t, radius = 24 * 25.4, 25.4, 36 * 25.4
        exact = math.pi / 4 * (diameter**2 - (diameter - 2 * t)**2) * 8 * radius * math.tan(theta)
        self.assertAlmostEqual(data["volumes"]["liner"] / exact, 1.0, delta=1e-6)
        # 12 in with 1 in: 0.694444; here 24 in with 1 in: 0.840278 (22^2 / 24^2)
        self.assertAlmostEqual(data["bore"]["through"][0]["share"], (22 / 24)**2, places=9)
        self.assertTrue(data["checks"])
        self.assertTrue(all(check["pass"] for check in data["checks"]))

    def test_every_kind_in_every_dxf_form(self):
        forms = [(version, units) for version in ["r2000", "r12"] for units in ["mm", "in"]]
        # fewer are another form for each kind
        cases = [(kind, forms[(first + i) % len(forms)]) for first, kind in enumerate(KINDS) for i in range(len(forms))]
        for kind, (version, units) in drawn(cases, lambda case: case[0]):
            out = f"{version}-{units}"
            self.made("make", kind, *KINDS[kind], "--liner", "1in", "--dxf", version, "--dxf-units", units, "--out", out)
            files = sorted((self.folder / out / kind).glob("*.dxf"))
            self.assertTrue(files)
            for file in files:
                self.check_dxf(file, version, units)

    def test_totals_are_right_on_every_run(self):
        self.write("job.toml", """[job]
name = "Totals"
units = "mm"
[liner]
thickness = 25
[totals]
inner_gauge = 0.6
[[fitting]]
tag = "S"
kind = "straight"
diameter = 600
length = 1000
count = 3
[[fitting]]
tag = "totals.json"
kind = "straight"
diameter = 300
length = 500
""")
        first = self.made("make", "job.toml", "--patterns-only")
        self.assertIn("spared m2", first.stdout)
        files = [self.folder / "models-out" / name for name in ("totals.json", "totals.csv")]
        before = [file.read_bytes() for file in files]
        totals = json.loads(before[0])
        self.assertAlmostEqual(totals["sums"]["tape"], 3 * 1000 + 500, places=6)
        self.assertAlmostEqual(totals["sums"]["liner_area"], math.pi * (3 * 600 * 1000 + 300 * 500), places=2)
        self.assertAlmostEqual(totals["sums"]["spared_area"], math.pi * (3 * 550 * 1000 + 250 * 500), places=2)
        lines = list(csv.DictReader(before[1].decode().splitlines()))
        self.assertEqual([line["what"] for line in lines], ["S", "totals.json", "all"])
        for key in lines[0]:
            if key not in ("what", "kind"):
                self.assertAlmostEqual(sum(float(line[key]) for line in lines[:-1]), float(lines[-1][key]), places=5)
        second = self.made("make", "job.toml", "--patterns-only")
        self.assertIn("0 made, 2 unchanged", second.stdout)
        self.assertEqual([file.read_bytes() for file in files], before)
        # a part of the job leaves the totals of the whole, and one that fails is counted
        self.made("make", "job.toml", "--patterns-only", "--only", "S")
        self.assertEqual([file.read_bytes() for file in files], before)
        text = (self.folder / "job.toml").read_text()
        self.write("job.toml", text.replace("diameter = 300", "diameter = 40"))
        self.made("make", "job.toml", "--patterns-only", code=2)
        self.assertEqual(json.loads(files[0].read_text())["left_out"], 1)

    def check_dxf(self, file, version, units):
        """An independent reader: ezdxf and its auditor."""
        document = ezdxf.readfile(file)
        auditor = document.audit()
        self.assertFalse(auditor.errors, file)
        self.assertFalse(auditor.fixes, file)
        self.assertEqual(document.dxfversion, "AC1015" if version == "r2000" else "AC1009")
        if version == "r2000":
            self.assertEqual(document.header["$INSUNITS"], 4 if units == "mm" else 1)
            self.assertEqual(document.header["$MEASUREMENT"], 1 if units == "mm" else 0)
        cuts = [e for e in document.modelspace() if e.dxf.layer == "CUT"]
        self.assertTrue(any(e.closed if e.dxftype() == "LWPOLYLINE" else e.is_closed for e in cuts))
        # the check line is as long as its text says
        scale = [e for e in document.modelspace() if e.dxf.layer == "SCALE"]
        length = 0.0
        for entity in scale:
            points = [p[:2] for p in entity.get_points("xy")] if entity.dxftype() == "LWPOLYLINE" else \
                [(v.dxf.location.x, v.dxf.location.y) for v in entity.vertices]
            length = max(length, max(p[0] for p in points) - min(p[0] for p in points))
        inch = 25.4 if units == "in" else 1.0
        self.assertTrue(abs(length * inch - 100) < 1e-3 or abs(length * inch - 101.6) < 1e-3, length)

    def test_stl_is_closed_for_admesh(self):
        for kind, keys in KINDS.items():
            self.made("make", kind, *keys, "--liner", "1in")
            for file in sorted((self.folder / "models-out" / kind).glob("*.stl")):
                # it prints the file's head and what stands in its memory after it
                report = subprocess.run(["admesh", "-fund", str(file)], capture_output=True, text=True, errors="replace")
                self.assertEqual(report.returncode, 0)
                self.assertRegex(report.stdout, r"Total disconnected facets\s*:\s*0\s+0", file)
                self.assertRegex(report.stdout, r"Facets reversed\s*:\s*0", file)

    def test_cut_only_and_single_layer(self):
        self.made(*ELBOW, "--cut-only", "--out", "only")
        layers = {e.dxf.layer for e in ezdxf.readfile(self.folder / "only/E-1/E-1-2.dxf").modelspace()}
        self.assertEqual(layers, {"CUT"})
        self.made(*ELBOW, "--single-layer", "--out", "single")
        layers = {e.dxf.layer for e in ezdxf.readfile(self.folder / "single/E-1/E-1-2.dxf").modelspace()}
        self.assertEqual(layers, {"0"})

    def test_check_proves_what_was_made(self):
        for kind, keys in KINDS.items():
            self.made("make", kind, *keys, "--liner", "1in")
        result = self.made("check", "models-out")
        self.assertIn(", 0 failed", result.stdout)
        # the same file with inches promised instead of millimetres
        file = self.folder / "models-out/straight/straight-1.dxf"
        text = file.read_text()
        wrong = re.sub(r"(\$INSUNITS\n\s*70\n\s*)4\n", r"\g<1>1\n", text)
        self.assertNotEqual(wrong, text)
        file.write_text(wrong)
        self.assertEqual(self.run_program("check", "models-out").returncode, 1)

    def test_check_of_patterns_without_solids(self):
        self.made(*ELBOW, "--patterns-only")
        told = self.made("check", "models-out/E-1").stdout
        self.assertRegex(told, r"note +step +made without solids")
        self.assertRegex(told, r"pass +re-roll 3 ")
        self.assertIn(" 0 failed", told)
        # solids that were asked for must be there
        self.made(*ELBOW, "--force")
        (self.folder / "models-out" / "E-1" / "E-1.step").unlink()
        self.assertRegex(self.run_program("check", "models-out/E-1").stdout, r"FAIL +step ")

    def test_same_input_same_bytes(self):
        job = self.write("job.toml", "".join(
            f'[[fitting]]\ntag = "F-{i}"\nkind = "elbow"\ndiameter = "{300 + 10 * i}mm"\nangle = 90\npieces = 4\n'
            'thickness = "25mm"\n' for i in range(4)))
        outputs = []
        for out, jobs, env in [("a", 1, {}), ("b", 2, {}), ("c", 2, {"LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"})]:
            result = self.run_program("make", job.name, "--out", out, "--jobs", jobs, env=env)
            self.assertEqual(result.returncode, 0, result.stderr)
            outputs.append({p.relative_to(self.folder / out): p.read_bytes()
                            for p in sorted((self.folder / out).rglob("*")) if p.is_file()})
        self.assertEqual(len(outputs[0]), 4 * 19 + 8)
        self.assertEqual(outputs[0], outputs[1])
        self.assertEqual(outputs[0], outputs[2])

    def test_bore_table_json_and_csv(self):
        self.write("job.toml", '[job]\nunits = "in"\n[liner]\nthickness = 1\n[[fitting]]\ntag = "S"\nkind = "straight"\n'
                               "diameter = 12\nlength = 48\n")
        table = self.made("bore", "job.toml").stdout
        self.assertIn("S", table)
        self.assertTrue(all(len(line) <= 100 for line in table.splitlines()))
        data = json.loads(self.made("bore", "job.toml", "--json").stdout)
        self.assertIn("0.694444", json.dumps(data))
        self.assertIn("0.694", self.made("bore", "job.toml", "--csv").stdout)
        # make prints the same in both forms, and nothing beside it
        self.assertEqual(self.made("make", "job.toml", "--json", "--verbose").stdout,
                         self.made("bore", "job.toml", "--json").stdout)
        self.assertEqual(self.made("make", "job.toml", "--csv").stdout, self.made("bore", "job.toml", "--csv").stdout)
        self.assertEqual(self.run_program("make", "job.toml", "--csv", "--json").returncode, 2)

    def test_fitting_json_holds_what_its_page_says(self):
        self.made(*ELBOW)
        data = self.fitting("E-1")
        text = (SOURCE / "src/output/README.md").read_text().split("## fitting.json")[1].split("\n## ")[0]
        named = re.findall(r"^\| `(\w+)` \|", text, re.M)
        self.made("make", "tap", "--tag", "T-1", "--diameter", "24in", "--branch-diameter", "12in", "--branch-length",
                  "30in", "--liner", "1in")
        self.assertEqual(sorted(set(named) - {"bands"}), sorted(self.fitting("T-1")), "no bands were asked for")
        self.assertEqual(sorted(set(named) - {"bands", "holes"}), sorted(data), "other fittings have no holes to cut on site")
        for key in ["id", "role", "count", "stretch_out", "board", "area", "files", "seam", "max_tilt", "gap_square",
                    "overlap_square"]:
            self.assertIn(key, data["pieces"][0])

    def test_explain_needs_no_job(self):
        self.assertIn("Colebrook", self.made("bore", "--explain", "friction factor").stdout)
        self.assertGreater(len(self.made("bore", "--explain").stdout.splitlines()), 40)
        self.assertEqual(self.run_program("bore", "--explain", "no such figure").returncode, 2)


if __name__ == "__main__":
    unittest.main()
