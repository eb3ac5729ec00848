"""Good guide bands beside their fittings spoilt on disk, one thing at a time: check must fail, and name what is wrong."""
import csv
import io
import shutil
import unittest

import ezdxf

from spoilt import Spoilt
from support import drawn

JOB = """[job]
units = "mm"
[liner]
thickness = 25
[[fitting]]
tag = "E"
kind = "elbow"
diameter = 400
angle = 90
pieces = 3
[[fitting]]
tag = "F"
kind = "elbow"
diameter = 400
angle = 92
pieces = 3
[[fitting]]
tag = "T"
kind = "tee"
diameter = 600
length = 1500
branch_diameter = 250
branch_length = 600
angle = 60
offset = 40
[[fitting]]
tag = "U"
kind = "tee"
diameter = 600
length = 1500
branch_diameter = 252
branch_length = 600
angle = 60
offset = 40
"""
MITRE = "E-band-mitre-400-22.5.dxf"
SADDLE = "T-band-saddle-250-on-600-60.dxf"
HOLE = "T-band-hole-250-in-600-60.dxf"


class Bands(Spoilt):
    JOB = JOB
    MAKE = ("--no-pages", "--no-sync", "--patterns-only", "--bands")

    def folder_of(self, name):
        self.spoilt = self.out / name[0]
        return self.spoilt / name

    def each_spoils(self, name, *changes):
        """Every (change of the drawing, word) alone; a change gets the file's modelspace."""
        path = self.folder_of(name)
        good = path.read_bytes()
        for change, word in drawn(changes):
            with self.subTest(file=name, change=change.__name__, word=word):
                document = ezdxf.readfile(path)
                change(document.modelspace())
                document.saveas(path)
                self.assertNotEqual(path.read_bytes(), good)
                self.fails(word)
            path.write_bytes(good)
        self.passes()

    @staticmethod
    def lines(space, layer="CUT"):
        """From the shortest to the longest."""
        return sorted(space.query(f"LWPOLYLINE[layer=='{layer}']"),
                      key=lambda line: max(p[0] for p in line.get_points()) - min(p[0] for p in line.get_points()))

    @classmethod
    def moved(cls, space, way, layers=("CUT", "MARK", "SCALE")):
        for layer in layers:
            for line in cls.lines(space, layer):
                line.set_points([way(*p) for p in line.get_points("xy")], format="xy")

    def test_good_passes(self):
        self.passes(self.out)

    def test_drawings(self):
        def mirrored(space):
            across = max(p[0] for line in self.lines(space) for p in line.get_points())
            self.moved(space, lambda x, y: (across - x, y))

        def turned_end_for_end(space):
            along = max(p[1] for line in self.lines(space) for p in line.get_points())
            self.moved(space, lambda x, y: (x, along - y))

        def a_little_larger(space):
            self.moved(space, lambda x, y: (1.0005 * x, 1.0005 * y))

        def in_inches(space):
            self.moved(space, lambda x, y: (x / 25.4, y / 25.4))

        def a_bolt_hole_moved(space):
            hole = self.lines(space)[0]
            hole.set_points([(x + 0.1, y) for x, y in hole.get_points("xy")], format="xy")

        def all_bolt_holes_larger(space):
            for hole in self.lines(space)[:4]:
                x0, y0 = (sum(p[k] for p in hole.get_points()) / len(hole.get_points()) for k in (0, 1))
                hole.set_points([(x0 + 1.1 * (x - x0), y0 + 1.1 * (y - y0)) for x, y in hole.get_points("xy")], format="xy")

        def no_bolt_hole(space):
            space.delete_entity(self.lines(space)[0])

        def no_outline(space):
            space.delete_entity(self.lines(space)[-1])

        def narrower(space):
            """Its plain side moved toward its cut one: what is cut along stays."""
            outline = self.lines(space)[-1]
            points = outline.get_points("xy")
            for side in (min(y for _, y in points), max(y for _, y in points)):
                if sum(abs(y - side) < 1e-6 for _, y in points) > 1:
                    inward = 1.0 if side == min(y for _, y in points) else -1.0
                    outline.set_points([(x, y + inward * (abs(y - side) < 1e-6)) for x, y in points], format="xy")
                    return
            self.fail("no plain side")

        def cut_short(space):
            outline = self.lines(space)[-1]
            end = max(x for x, _ in outline.get_points("xy")) - 5.0
            outline.set_points([(min(x, end), y) for x, y in outline.get_points("xy")], format="xy")

        def marks_moved(space):
            self.moved(space, lambda x, y: (x + 1.0, y), ("MARK",))

        def open_outline(space):
            self.lines(space)[-1].closed = False

        self.each_spoils(MITRE, (mirrored, "cut"), (turned_end_for_end, "band"), (a_little_larger, "band"), (in_inches, "cut"),
                         (a_bolt_hole_moved, "clamp"), (all_bolt_holes_larger, "cut"), (no_bolt_hole, "clamp"),
                         (no_outline, "cut"), (narrower, "cut"), (cut_short, "cut"), (marks_moved, "marks"), (open_outline, "cut"))
        self.each_spoils(SADDLE, (mirrored, "band"), (a_little_larger, "band"), (a_bolt_hole_moved, "clamp"), (narrower, "cut"))
        self.each_spoils(HOLE, (mirrored, "cut"), (a_little_larger, "band"), (no_outline, "band"), (cut_short, "cut"))

    def test_a_window_moved(self):
        def window_moved(space):
            window = self.lines(space)[-2]
            window.set_points([(x + 0.2, y) for x, y in window.get_points("xy")], format="xy")

        def no_window(space):
            space.delete_entity(self.lines(space)[-2])
        self.each_spoils(HOLE, (window_moved, "band"), (no_window, "band"))

    def test_drawings_of_another_size(self):
        for name, other in drawn(((MITRE, "F-band-mitre-400-23.dxf"), (SADDLE, "U-band-saddle-252-on-600-60.dxf"),
                                  (HOLE, "U-band-hole-252-in-600-60.dxf"), (SADDLE, HOLE), (HOLE, SADDLE))):
            path = self.folder_of(name)
            good = path.read_bytes()
            shutil.copy(self.out / other[0] / other, path)
            self.fails("band")
            path.write_bytes(good)

    def test_missing_or_empty(self):
        for name in drawn((MITRE, SADDLE, HOLE, "E-bands.csv", "E-bands.pdf")):
            path = self.folder_of(name)
            good = path.read_bytes()
            path.unlink()
            self.fails(name)
            path.write_bytes(b"")
            self.fails("band")
            path.write_bytes(good)
        self.passes(self.out)

    def test_stations(self):
        path = self.folder_of("E-bands.csv")
        good = path.read_text()
        rows = list(csv.reader(io.StringIO(good)))
        for column in drawn(range(len(rows[0]))):
            changed = [list(row) for row in rows]
            cell = changed[3][column]
            changed[3][column] = f"{float(cell) + 0.01:.3f}" if cell.replace(".", "").replace("-", "").isdigit() else cell + " too"
            out = io.StringIO()
            csv.writer(out, lineterminator="\n").writerows(changed)
            path.write_text(out.getvalue())
            self.fails("bands")
        for text in drawn((good.replace("around_deg", "around"), good[:good.rstrip().rfind("\n") + 1],
                           good + good.splitlines()[-1] + "\n", (self.out / "T" / "T-bands.csv").read_text())):
            path.write_text(text)
            self.fails("bands")
        path.write_text(good)
        self.passes()

    def test_paper(self):
        path = self.folder_of("T-bands.pdf")
        good = path.read_bytes()
        for spoilt in drawn((good[:-200], good.replace(b"0", b"1", 1), (self.out / "E" / "E-bands.pdf").read_bytes())):
            path.write_bytes(spoilt)
            self.fails("T-bands.pdf")
        path.write_bytes(good)
        self.passes()

    def test_no_longer_listed(self):
        """Files and options that fitting.json no longer speaks of."""
        self.spoilt = self.out / "T"
        good = (self.spoilt / "fitting.json").read_text()
        self.edit_json(lambda data: data["files"].remove(SADDLE))
        self.fails(SADDLE)
        (self.spoilt / "fitting.json").write_text(good)
        (self.spoilt / SADDLE).unlink()
        self.edit_json(lambda data: data["files"].remove(SADDLE))
        self.fails("band")


    def test_not_spoken_of_and_spoilt(self):
        """Bands that were not asked for are proved by nothing but their digests."""
        path = self.folder_of(MITRE)
        self.edit_json(lambda data: data.pop("bands"))
        self.passes()
        text = path.read_text()
        path.write_text(text.replace("40.0", "41.0", 1) if "40.0" in text else text[:-1] + " ")
        self.fails("files unchanged")


if __name__ == "__main__":
    unittest.main()
