"""Good caps, openings and square-to-rounds spoilt on disk, one thing at a time: check must fail, and name what is wrong."""
import json
import math
import shutil
import unittest

import ezdxf

from spoilt import Spoilt
from support import drawn

JOB = """
[job]
name = "plant"
units = "mm"
[liner]
thickness = 25
[[fitting]]
tag = "C"
kind = "cap"
diameter = 400
length = 300
seat = "mitre"
openings = "test hole at 120mm around 60 diameter 80mm bevel straight metal yes"
[[fitting]]
tag = "P"
kind = "cap"
diameter = 400
length = 300
seat = "mitre"
[[fitting]]
tag = "Q"
kind = "square_to_round"
width = 600
height = 400
diameter = 400
length = 400
pieces = 4
[[fitting]]
tag = "R"
kind = "square_to_round"
width = 600
height = 400
diameter = 398
length = 400
pieces = 4
[[fitting]]
tag = "S"
kind = "square_to_round"
width = 600
height = 400
diameter = 400
length = 400
pieces = 1
square_collar = 150
"""


class Kinds(Spoilt):
    JOB = JOB
    MAKE = ("--no-pages", "--no-sync")

    def setUp(self):
        super().setUp()
        self.spoilt = self.out / "C"

    def fails_here(self, word):
        self.fails(word, self.spoilt)

    def redrawn(self, name, change):
        """Each polyline's layer, whether it is closed and points to new points; None leaves it out."""
        path = self.spoilt / name
        document = ezdxf.readfile(path)
        space = document.modelspace()
        changed = 0
        for line in list(space.query("LWPOLYLINE")):
            points = [tuple(p) for p in line.get_points("xy")]
            new = change(line.dxf.layer, line.closed, points)
            if new is None:
                space.delete_entity(line)
            elif new != points:
                line.set_points(new, format="xy")
            changed += new != points
        self.assertGreater(changed, 0)
        document.saveas(path)

    def each_spoils(self, name, *changes):
        """Every (change, word) alone."""
        good = (self.spoilt / name).read_bytes()
        for change, word in drawn(changes):
            with self.subTest(file=name, word=word):
                self.redrawn(name, change)
                self.fails_here(word)
            (self.spoilt / name).write_bytes(good)

    def test_good_passes(self):
        self.passes(self.out)

    # ---- a cap's disc ----

    def test_disc(self):
        def wider(layers):
            def change(layer, closed, points):
                if layer not in layers or not closed:
                    return points
                x, y = (sum(p[k] for p in points) / len(points) for k in (0, 1))
                return [(x + (p[0] - x) * 1.005, y + (p[1] - y) * 1.005) for p in points]
            return change
        self.each_spoils("C-disc.dxf",
                         (wider(["CUT"]), "asked cuts"),
                         (wider(["DUCT_FACE"]), "asked faces"),
                         (wider(["AIR_FACE"]), "asked faces"),
                         (wider(["CUT", "DUCT_FACE", "AIR_FACE"]), "asked"),
                         (lambda layer, closed, points: None if layer == "AIR_FACE" else points, "air face"))

    # ---- an opening's hole ----

    @staticmethod
    def is_hole(closed, points):
        """The hole is under 200 mm wide, the piece 1256."""
        return closed and max(p[0] for p in points) - min(p[0] for p in points) < 200.0

    def test_hole(self):
        cutting = ("CUT", "DUCT_FACE", "AIR_FACE")

        def moved(layers, dx, dy):
            return lambda layer, closed, points: ([(x + dx, y + dy) for x, y in points]
                                                  if layer in layers and self.is_hole(closed, points) else points)

        def missing(layers):
            return lambda layer, closed, points: None if layer in layers and self.is_hole(closed, points) else points
        self.each_spoils("C-ring.dxf",
                         (moved(cutting, 1.0, 0.0), "asked faces"),
                         (moved(cutting, 0.0, 1.0), "asked faces"),
                         (moved(["CUT"], 1.0, 0.0), "asked cuts"),
                         (moved(["AIR_FACE"], 0.0, 1.0), "asked faces"),
                         (missing(cutting), "asked contours"),
                         (missing(["CUT"]), "asked contours"))

    def test_no_hole_in_the_meshes_or_solids(self):
        for ending, word in drawn((("-liner.stl", "asked mesh volumes"), ("-metal.stl", "stl"), (".step", "asked volumes"))):
            shutil.copy(self.out / "P" / f"P{ending}", self.spoilt / f"C{ending}")
            self.fails_here(word)
            shutil.copy(self.good / "models-out" / "C" / f"C{ending}", self.spoilt / f"C{ending}")

    def test_hole_of_another_request(self):
        self.edit_json(lambda data: data["written"].update(openings=data["written"]["openings"].replace("120mm", "121mm")))
        self.fails_here("asked faces")

    # ---- a square-to-round ----

    def test_square_to_round_drawn(self):
        self.spoilt = self.out / "Q"

        def carve_moved(layer, closed, points):
            return [(x + 1.0, y) for x, y in points] if layer == "MARK" and len(points) > 6 else points

        def no_carve(layer, closed, points):
            return None if layer == "MARK" and len(points) > 6 else points

        def bend_moved(layer, closed, points):
            long = len(points) == 2 and math.dist(*points) > 200.0
            return [(x + 1.0, y) for x, y in points] if layer == "MARK" and long else points

        def face_fork_moved(layer, closed, points):
            if layer != "AIR_FACE":
                return points
            middle = len(points) // 3
            return points[:middle] + [(points[middle][0] + 1.0, points[middle][1])] + points[middle + 1:]

        def scaled(layer, closed, points):
            return [(1.002 * x, 1.002 * y) for x, y in points]
        self.each_spoils("Q-1.dxf", (carve_moved, "asked carved lines"), (no_carve, "asked carved lines"),
                         (bend_moved, "asked bend lines"), (face_fork_moved, "asked face"), (scaled, "asked"))

    def test_square_to_round_of_another_size(self):
        """All files of one whose circle is 2 mm smaller, and the words of the other."""
        self.spoilt = self.out / "Q"
        for ending, word in drawn((("-1.dxf", "asked face"), ("-liner.stl", "asked mesh"), ("-bore.stl", "asked mesh"),
                                   (".step", "asked"))):
            shutil.copy(self.out / "R" / f"R{ending}", self.spoilt / f"Q{ending}")
            self.fails_here(word)
            shutil.copy(self.good / "models-out" / "Q" / f"Q{ending}", self.spoilt / f"Q{ending}")

    def test_square_to_round_figures(self):
        self.spoilt = self.out / "Q"
        good = (self.spoilt / "fitting.json").read_text()
        places = {fact["key"]: i for i, fact in enumerate(json.loads(good)["facts"])}
        for key, word in drawn((("fork", "asked mitre lengths"), ("bend_line_first", "asked true lengths"), ("kerf_to", "asked kerfs"))):
            self.edit_json(lambda data: data["facts"][places[key]].update(value=data["facts"][places[key]]["value"] + 0.5))
            self.fails_here(word)
            (self.spoilt / "fitting.json").write_text(good)
        self.edit_json(lambda data: data["volumes"].update(liner=data["volumes"]["liner"] * 1.0001))
        self.fails_here("asked volume figures")
        (self.spoilt / "fitting.json").write_text(good)
        self.edit_json(lambda data: data["pieces"][0]["ordinates"][5].update(
            air_high=data["pieces"][0]["ordinates"][5]["air_high"] + 0.01))
        self.fails_here("asked heights")

    # ---- its rectangular collar's panels ----

    def test_panel_drawn(self):
        self.spoilt = self.out / "S"

        def taller(layers):
            """The upper half 0.1 mm higher."""
            def change(layer, closed, points):
                if layer not in layers or not closed:
                    return points
                middle = sum(p[1] for p in points) / len(points)
                return [(x, y + 0.1 if y > middle else y) for x, y in points]
            return change

        def missing(layer_left_out):
            return lambda layer, closed, points: None if layer == layer_left_out else points

        def ears_left_on(layer, closed, points):
            """The air face as a whole rectangle: without what the flats beside take of its upper corners."""
            if layer != "AIR_FACE" or not closed:
                return points
            (left, right), (low, high) = ((f(p[k] for p in points) for f in (min, max)) for k in (0, 1))
            return [(left, low), (right, low), (right, high), (left, high)]
        self.each_spoils("S-panel2.dxf", (taller(["CUT"]), "asked panel cuts"), (taller(["DUCT_FACE"]), "asked panel faces"),
                         (taller(["AIR_FACE"]), "asked panel faces"), (missing("AIR_FACE"), "asked panel contours"),
                         (missing("CUT"), "asked panel contours"), (ears_left_on, "asked panel faces"))

    def test_panels_of_others(self):
        """A panel of another side, bodies of a transition without a collar, the words of a collar of another length."""
        self.spoilt = self.out / "S"
        other = self.out / "Q"
        for ending, source, word in drawn((("-panel1.dxf", self.spoilt / "S-panel2.dxf", "asked panel"),
                                           ("-liner.stl", other / "Q-liner.stl", "asked mesh"),
                                           ("-metal.stl", other / "Q-metal.stl", "asked mesh"),
                                           (".step", other / "Q.step", "asked"), ("", None, "asked panel faces"))):
            if source is None:
                self.edit_json(lambda data: data["written"].update(square_collar="149.9"))
            else:
                shutil.copy(source, self.spoilt / f"S{ending}")
            self.fails_here(word)
            if source is not None:
                shutil.copy(self.good / "models-out" / "S" / f"S{ending}", self.spoilt / f"S{ending}")

    def test_panel_tilts(self):
        """Of panel 2: half a degree more of lean, and what is left beside an ear not told."""
        self.spoilt = self.out / "S"
        good = (self.spoilt / "S-tilt.csv").read_text()

        def changed(column, change):
            lines = good.splitlines(keepends=True)
            for i, line in enumerate(lines):
                if line.startswith("panel2,"):
                    cells = line.rstrip("\n").split(",")
                    cells[column] = change(cells[column])
                    lines[i] = ",".join(cells) + "\n"
            return "".join(lines)
        head = next(line for line in good.splitlines() if line.startswith("piece,")).split(",")
        for column, change in drawn((("tilt_deg", lambda cell: f"{float(cell) + 0.5:.4f}"), ("left_mm", lambda cell: "0.0000"))):
            text = changed(head.index(column), change)
            self.assertNotEqual(text, good)
            (self.spoilt / "S-tilt.csv").write_text(text)
            self.fails_here("tilt panel2")


if __name__ == "__main__":
    unittest.main()
