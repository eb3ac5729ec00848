"""The STEP files as text, by a reader of our own: every other STEP reader in Debian is the kernel that made the solids."""
import json
import math
import unittest

import numpy as np
import step_entities
from support import InFolder

JOB = """[job]
name = "Test"
units = "mm"
[liner]
thickness = 25
[[fitting]]
tag = "S"
kind = "straight"
diameter = 250
length = 600
[[fitting]]
tag = "E"
kind = "elbow"
diameter = 315
angle = 90
pieces = 5
radius_ratio = 1.5
[[fitting]]
tag = "R"
kind = "reducer"
diameter = 400
to_diameter = 250
length = 350
collar = 100
to_collar = 80
[[fitting]]
tag = "W"
kind = "reducer"
diameter = 250
to_diameter = 400
length = 200
to_collar = 60
[[fitting]]
tag = "X"
kind = "reducer"
diameter = 400
to_diameter = 300
length = 350
offset = 30
collar = 50
[[fitting]]
tag = "T"
kind = "tee"
diameter = 300
branch_diameter = 200
length = 700
branch_length = 300
angle = 60
[[fitting]]
tag = "D"
kind = "reducer"
diameter = 900
to_diameter = 600
length = 700
board_width = 500
board_length = 1200
"""
CONICS = {"LINE": 1e-9, "CIRCLE": 1e-9, "ELLIPSE": 1e-9, "B_SPLINE_CURVE_WITH_KNOTS": 2e-5}  # mm off a surface


class Step(InFolder):

    def setUp(self):
        super().setUp()
        self.made("make", self.write("job.toml", JOB), "--out", "out", "--no-pages", "--no-sync")

    def file(self, tag):
        return step_entities.File((self.folder / "out" / tag / f"{tag}.step").read_text())

    def test_every_edge_lies_on_both_its_faces_and_ends_at_its_vertices(self):
        for tag in "SERWXTD":
            file = self.file(tag)
            for name, shell in file.solids():
                used = {}
                for face in file.faces(shell):
                    surface = step_entities.Surface(file, face[2])
                    for loop in file.loops(face):
                        for (number, forward), (after, after_forward) in zip(loop, loop[1:] + loop[:1]):
                            used.setdefault(number, []).append(forward)
                            curve, next_one = file.curve(number), file.curve(after)
                            tail = curve.end if forward else curve.start
                            head = next_one.start if after_forward else next_one.end
                            self.assertLess(np.linalg.norm(tail - head), 1e-9, (tag, name, number))
                            for end, t in ((curve.start, curve.first), (curve.end, curve.last)):
                                self.assertLess(np.linalg.norm(curve.at(t)[0] - end), 1e-9, (tag, name, number))
                            for t in curve.places(3 if surface.name.startswith("B_SPLINE") else 7)[1:-1]:
                                self.assertLess(surface.off(curve.at(t)[0]), CONICS[curve.name],
                                                (tag, name, number, curve.name, surface.name))
                self.assertTrue(used)
                for number, ways in used.items():
                    self.assertEqual(sorted(ways), [False, True], (tag, name, number))

    def test_volumes(self):
        for tag in "SERWXTD":
            file = self.file(tag)
            stated = json.loads((self.folder / "out" / tag / "fitting.json").read_text())["volumes"]
            found = {"liner": 0.0}
            for name, shell in file.solids():
                key = "liner" if name.startswith("liner") else name
                found[key] = found.get(key, 0.0) + step_entities.volume(file, shell)
            for key in ("metal", "liner", "bore"):
                self.assertAlmostEqual(found[key] / stated[key], 1.0, delta=1e-8, msg=(tag, key))

    def test_sizes_of_a_straight_length_and_of_an_elbow(self):
        """Rings of radii R, R + gauge and R - t; an elbow's mitres are half the turn of a gore, each an ellipse with
        axes r and r / cos (the bisecting plane of two equal cylinders)."""
        volumes = {name: step_entities.volume(self.file("S"), shell) for name, shell in self.file("S").solids()}
        self.assertAlmostEqual(volumes["metal"], math.pi * (125.8**2 - 125**2) * 600, delta=1e-3)
        self.assertAlmostEqual(volumes["bore"], math.pi * 100**2 * 600, delta=1e-3)
        mitre = math.radians(90 / 8)
        ellipses = [args for name, args in self.file("E").all.values() if name == "ELLIPSE"]
        self.assertTrue(ellipses)
        for _, _, major, minor in ellipses:
            self.assertAlmostEqual(major, minor / math.cos(mitre), delta=1e-9)
            self.assertTrue(any(abs(minor - r) < 1e-9 for r in (157.5, 158.3, 132.5)), minor)

    def test_a_concentric_reducer_is_circles_lines_planes_cylinders_and_cones(self):
        for tag in "RWD":
            names = {name for name, _ in self.file(tag).all.values()}
            self.assertFalse({name for name in names if "SPLINE" in name}, tag)
            self.assertIn("CONICAL_SURFACE", names)

    def test_names_and_colours(self):
        file = self.file("E")
        self.assertEqual([name for name, _ in file.solids()],
                         ["metal", "liner 1", "liner 2", "liner 3", "liner 4", "liner 5", "bore"])
        styled = [args[2] for name, args in file.all.values() if name == "STYLED_ITEM"]
        solids = [("#", number) for number, (name, _) in file.all.items() if name == "MANIFOLD_SOLID_BREP"]
        self.assertEqual(sorted(styled), sorted(solids))
        products = [args[1] for name, args in file.all.values() if name == "PRODUCT"]
        self.assertIn("'E'", products)
        self.assertIn("'liner 3'", products)


if __name__ == "__main__":
    unittest.main()
