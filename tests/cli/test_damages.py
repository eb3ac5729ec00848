"""Good output spoilt on disk, one thing at a time: check must fail, and name what is wrong. Then changes by other
programs that harm nothing: check must pass, and say so."""
import csv
import io
import json
import random
import re
import shutil
import struct
import unittest

import ezdxf

from spoilt import Spoilt
from support import NEST, drawn

JOB = """
[job]
name = "plant"
units = "mm"
[liner]
thickness = 25
[[stock]]
name = "S"
width = 1250
length = 3000
[[fitting]]
tag = "S"
kind = "straight"
diameter = 250
length = 600
[[fitting]]
tag = "T"
kind = "tee"
diameter = 300
branch_diameter = 150
length = 700
position = 280
branch_length = 300
cut = "tilt"
"""


class Damages(Spoilt):
    JOB = JOB
    MAKE = (*NEST, "--templates", "a4", "--png")

    def setUp(self):
        super().setUp()
        self.tee = self.spoilt = self.out / "T"

    def edit_table(self, name, column, change, folder=None):
        def changed(text):
            rows = list(csv.reader(io.StringIO(text)))
            head = next(i for i, row in enumerate(rows) if column in row)
            at = rows[head].index(column)
            for row in rows[head + 2:]:
                if len(row) > at and row[at]:
                    row[at] = change(row[at])
                    break
            out = io.StringIO()
            csv.writer(out, lineterminator="\n").writerows(rows)
            return out.getvalue()
        self.edit(name, changed, folder)

    def edit_labels(self, change):
        """Rewrites the stroke lines on LABEL: records begin with group 0."""
        def changed(text):
            records = re.split(r"(?m)^(?=  0\n)", text)
            labels = [i for i, r in enumerate(records) if r.startswith("  0\nLWPOLYLINE\n") and "\nLABEL\n" in r]
            self.assertGreater(len(labels), 50)
            return "".join(change(records, labels))
        self.edit("T-body.dxf", changed)

    # ---- the drawing's header and words ----

    def test_good_passes(self):
        self.passes(self.out)
        self.passes("job.toml")

    def test_measurement(self):
        self.edit("T-body.dxf", lambda t: t.replace("$MEASUREMENT\n 70\n1", "$MEASUREMENT\n 70\n0"))
        self.fails("D121")

    def test_comments(self):
        for before, after, word in drawn([("units: millimetres", "units: inches", "D122"),
                                          ("liner 25 mm,", "liner 50 mm,", "liner 50 mm"),
                                          ("duct face up", "air face up", "air face up")]):
            self.edit("T-body.dxf", lambda t: t.replace(before, after, 1))
            self.fails(word)
            self.edit("T-body.dxf", lambda t: t.replace(after, before, 1))

    def test_labels(self):
        good = (self.tee / "T-body.dxf").read_text()

        def one_less(records, labels):
            del records[labels[20]]
            return records

        def none(records, labels):
            return [r for i, r in enumerate(records) if i not in labels]

        def mirrored(records, labels):
            for i in labels:
                records[i] = re.sub(r"(?m)^ 10\n(.*)$", lambda m: f" 10\n{920 - float(m[1]):.4f}", records[i])
            return records

        for change in drawn((one_less, none, mirrored)):
            self.edit_labels(change)
            self.fails("labels body")
            (self.tee / "T-body.dxf").write_text(good)

    # ---- fitting.json ----

    def figure(self, change, word, sealed=True):
        good = (self.tee / "fitting.json").read_text()
        self.edit_json(change, sealed)
        self.fails(word)
        (self.tee / "fitting.json").write_text(good)

    def test_figures(self):
        def put(*path):
            *keys, value = path

            def change(data):
                for key in keys[:-1]:
                    data = data[key]
                data[keys[-1]] = value(data[keys[-1]]) if callable(value) else value
            return change
        for figure in drawn((
                (put("parameters", "thickness", 50), "parameters.thickness is 50, not 25"),
                (put("volumes", "liner", lambda v: v * 1.01), "volumes.liner"),
                (put("bore", "body", 0, "free_area", lambda v: v / 2), "free_area"),
                (put("pieces", 0, "count", 2), "pieces[0].count is 2, not 1"),
                (put("pieces", 0, "stretch_out", lambda v: v + 10), "stretch_out"),
                (put("count", 5), "count"),
                (put("checks", 0, "pass", False), "the recorded check 'fill' did not pass"),
                (lambda data: data["files"].remove("T-body.dxf"), "T-body.dxf is not in the list of files"),
                (put("format", 99), "format is 99"),
                (put("dxf", "cut_only", True), "holds more than the cuts"),
                (put("mesh", "deflection", 10), "fitting.json was changed since it was made", False))):
            self.figure(*figure)

    # ---- tables, paper, pages ----

    def test_tables(self):
        self.edit_table("T-ordinates.csv", "duct_high_mm", lambda v: f"{float(v) + 10:.4f}")
        self.fails("duct_high_mm")
        self.edit_table("T-tilt.csv", "tilt_deg", lambda v: f"{float(v) + 10:.4f}")
        self.fails("tilt")

    def test_files_left_out(self):
        for name in drawn(("T-tilt.csv", "T-ordinates.csv", "T-templates.pdf", "T.html", "T-body.svg", "T-body.png")):
            good = (self.tee / name).read_bytes()
            (self.tee / name).unlink()
            self.fails(name)
            (self.tee / name).write_bytes(good)

    def test_pictures(self):
        self.edit("T-body.svg", lambda t: re.sub(r' width="([\d.]+)mm"', lambda m: f' width="{float(m[1]) / 2}mm"', t, 1))
        self.fails("T-body.svg is not to scale")

    def test_paper_and_page_changed(self):
        for name in drawn(("T-templates.pdf", "T.html", "T-body.png")):
            good = (self.tee / name).read_bytes()
            spoilt = bytearray(good)
            spoilt[len(good) // 2] ^= 1
            (self.tee / name).write_bytes(bytes(spoilt))
            self.fails(name + " was changed since it was made")
            (self.tee / name).write_bytes(good)

    # ---- the STEP ----

    def test_step_point_moved(self):
        """Every kind of point that a solid hangs on, a millimetre off."""
        text = (self.tee / "T.step").read_text()
        points = list(re.finditer(r"(#\d+) *= *CARTESIAN_POINT\('[^']*',\(([^,()]*),([^,()]*),([^,()]*)\)\)", text))
        random.seed(3)
        for kind in drawn(("VERTEX_POINT", "AXIS2_PLACEMENT_3D", "B_SPLINE_CURVE_WITH_KNOTS")):
            used = "".join(re.findall(kind + r"\([^;]*;", text))
            of_kind = [p for p in points if re.search(re.escape(p[1]) + r"\b", used)]
            if kind == "AXIS2_PLACEMENT_3D":  # of surfaces; those of the products' frames say nothing of solids
                surfaces = "".join(re.findall(r"(?:CYLINDRICAL_SURFACE|PLANE)\([^;]*;", text))
                placed = re.findall(r"(#\d+) *= *AXIS2_PLACEMENT_3D\('[^']*',(#\d+)", text)
                of_kind = [p for p in points if any(point == p[1] and re.search(name + r"\b", surfaces)
                                                    for name, point in placed)]
            if not of_kind:
                continue
            point = random.choice(of_kind)
            # all three ways: along its own axis a cylinder's place says nothing
            moved = ",".join(f"{float(point[k]) + 1.0!r}" for k in (2, 3, 4))
            (self.tee / "T.step").write_text(text[:point.start(2)] + moved + text[point.end(4):])
            self.fails("step")

    def test_step_assembly_in_metres(self):
        def change(text):
            units = list(re.finditer(r"SI_UNIT\(\.MILLI\.,\.METRE\.\)", text))
            last = units[-1]
            return text[:last.start()] + "SI_UNIT($,.METRE.)" + text[last.end():]
        self.edit("T.step", change)
        self.fails("step")

    # ---- boards and totals ----

    def test_board_mirrored(self):
        def mirror(text):
            head, entities = text.split("  2\nENTITIES\n")
            entities = re.sub(r"(?m)^ 10\n(.*)$", lambda m: f" 10\n{3000 - float(m[1]):.4f}", entities)
            return head + "  2\nENTITIES\n" + entities
        self.edit("board-1.dxf", mirror, self.out / "boards")
        self.fails("board 1 cuts", self.out)

    def test_board_left_out(self):
        (self.out / "boards" / "board-1.dxf").unlink()
        self.fails("board-1.dxf is not there", self.out)

    def test_boards_of_an_older_job(self):
        self.write("job.toml", JOB.replace("thickness = 25", "thickness = 50"))
        self.made("nest", "job.toml", "--out", "thick")
        shutil.rmtree(self.out / "boards")
        shutil.copytree(self.folder / "thick" / "boards", self.out / "boards")
        self.fails("it is for liner 50 mm, but", self.out)

    def test_pieces_nearer_than_the_gap_and_beyond_the_trim(self):
        self.edit("boards.json", lambda text: re.sub(r'"gap": [\d.]+', '"gap": 900', text), self.out / "boards")
        self.fails("board 1 apart", self.out)
        self.edit("boards.json", lambda text: re.sub(r'"gap": 900', '"gap": 0', text), self.out / "boards")
        self.edit("boards.json", lambda text: re.sub(r'"usable": \[\s*[\d.]+', '"usable": [300', text), self.out / "boards")
        self.fails("board 1 apart", self.out)

    def test_boards_of_a_version_that_stated_less_pass_with_a_note(self):
        def older(text):
            data = json.loads(text)
            for key in ("gap", "sequence", "written"):
                del data[key]
            for board in data["boards"]:
                del board["usable"]
            return json.dumps(data)
        self.edit("boards.json", older, self.out / "boards")
        said = self.passes(self.out)
        self.assertIn("did not state gap, trim and order", said)
        self.assertIn("did not state what was asked", said)

    def test_boards_planned_otherwise_than_asked(self):
        text = (self.out / "boards" / "boards.json").read_text()
        cases = [("boards' choices", lambda words: words.update(boards={"sequence": "by fitting"})),
                 ("boards' choices", lambda words: words.update(boards={"zero": "upper right"})),
                 ("boards' choices", lambda words: words.update(boards={"turn": "180"})),
                 ("boards' sizes", lambda words: words.update(units="in")),
                 ("boards' sizes", lambda words: words.update(flags={"gap": "11mm"})),
                 ("boards' sizes", lambda words: words.update(knife={"cut_speed": "100 fpm"})),
                 ("boards' sizes", lambda words: [row.update(trim_top="17") for row in words["stock"]]),
                 ("boards' sizes", lambda words: [row.update(name="another") for row in words["stock"]]),
                 ("boards' figures", lambda words: [row.update(mass="9 kg/m2") for row in words["stock"]]),
                 ("boards' figures", lambda words: [row.update(mass="1 lb/ft2") for row in words["stock"]])]
        for failing, change in drawn(cases, lambda case: case[0]):
            data = json.loads(text)
            change(data["written"])
            self.edit("boards.json", lambda _: json.dumps(data), self.out / "boards")
            self.fails(failing, self.out)

    def test_a_bound_that_a_nest_betters(self):
        text = (self.out / "boards" / "boards.json").read_text()
        for key, factor in drawn((("bound", 0.5), ("bound", 0.999), ("bound", 1.5), ("least_boards", 2))):
            data = json.loads(text)
            data[key] *= factor
            self.edit("boards.json", lambda _: json.dumps(data), self.out / "boards")
            self.fails("boards' bound", self.out)

    def test_a_line_beside_a_board(self):
        path = self.out / "boards" / "board-1.dxf"
        document = ezdxf.readfile(path)
        document.modelspace().add_lwpolyline([(-5, 10), (-5, 50)], dxfattribs={"layer": "STOCK"})
        document.saveas(path)
        self.fails("something on STOCK runs off the board", self.out)

    def test_board_lists(self):
        self.edit_table("cutlist.csv", "x_mm", lambda v: f"{float(v) + 1:.2f}", self.out / "boards")
        self.fails("cutlist.csv:3: x_mm", self.out)
        self.edit_table("boards.csv", "board", lambda v: "7", self.out / "boards")
        self.fails("boards.csv", self.out)

    def test_totals_doubled(self):
        self.edit_table("totals.csv", "board_area_m2", lambda v: str(2 * float(v)), self.out)
        self.fails("totals.csv:3: board_area_m2", self.out)

    def test_job_changed_after_make(self):
        self.write("job.toml", JOB.replace("diameter = 250", "diameter = 260"))
        failing = self.fails("diameter is 260 in the job, 250 when it was made", "job.toml")
        self.assertEqual(len([line for line in failing if "as in the job" in line]), 1)

    # ---- what harms nothing ----

    def test_saved_again_by_ezdxf(self):
        for name in ("T-body.dxf", "T-branch.dxf"):
            ezdxf.readfile(self.tee / name).saveas(self.tee / name)
        said = self.passes()
        self.assertIn("changed by another program, same contours: a layer Defpoints", said)

    def test_contour_begins_elsewhere_and_runs_the_other_way(self):
        document = ezdxf.readfile(self.tee / "T-body.dxf")
        for line in document.modelspace().query('LWPOLYLINE[layer=="CUT"]'):
            points = list(line.get_points("xy"))
            points = points[3:] + points[:3]
            line.set_points(points[::-1], format="xy")
        document.saveas(self.tee / "T-body.dxf")
        self.assertIn("contours on CUT begin elsewhere", self.passes())

    def test_facets_in_another_order(self):
        for name in ("T-liner.stl", "T-metal.stl"):
            data = (self.tee / name).read_bytes()
            count = struct.unpack("<I", data[80:84])[0]
            facets = [data[84 + 50 * i:134 + 50 * i] for i in range(count)]
            random.Random(5).shuffle(facets)
            (self.tee / name).write_bytes(data[:84] + b"".join(facets))
        self.passes()

    def test_job_in_inches_is_not_changed(self):
        """48 in is 1219.2 mm but for the last digits: no change of the job."""
        self.write("inches.toml", JOB.replace('"mm"', '"in"').replace("thickness = 25", "thickness = 1").replace(
            "width = 1250", "width = 48").replace("length = 3000", "length = 120").split('[[fitting]]\ntag = "T"')[0].replace(
            "diameter = 250", "diameter = 10").replace("length = 600", "length = 24"))
        self.made("make", "inches.toml", "--no-pages", "--out", "inches")
        said = self.passes("inches.toml", "--out", "inches")
        self.assertIn("made of what the job asks for now", said)
        self.assertNotIn("note", said)


class Rolls(Spoilt):
    """A job that is cut from a roll with a price."""
    JOB = JOB.replace('length = 3000', 'length = 30000\nform = "roll"\ncost = 640', 1)
    MAKE = NEST

    def test_a_roll_costs_what_is_taken_of_it(self):
        boards = json.loads((self.out / "boards" / "boards.json").read_text())["boards"]
        for board in boards:
            self.assertAlmostEqual(board["cost"], 640 * board["length"] / 30000, places=6)
        self.passes(self.out)

        def dearer(text):
            data = json.loads(text)
            data["boards"][0]["cost"] *= 1.001
            return json.dumps(data)
        self.edit("boards.json", dearer, self.out / "boards")
        self.fails("boards' sizes", self.out)


if __name__ == "__main__":
    unittest.main()
