"""What suits the boards to a table: layers, corners, zero and turn, by the real binary and an independent reader."""
import json
import unittest

import ezdxf
from shapely.geometry import LineString, Polygon

from board_jobs import elbow, metric_job, straight, table, tee
from support import InFolder, drawn

FITTINGS = (straight("S", 300, 600, count=3), elbow(), tee())
LAYERS = table("[dxf.layers]", CUT="BLADE, 5", MARK="PEN", order="LABEL, MARK, CUT")


class Table(InFolder):
    def job(self, *tables, **stock):
        self.write("job.toml", metric_job(*FITTINGS, **{"gap": 4, "edge_trim": 6, **stock}) + "".join(tables))

    def make(self, out="models-out", proved=True):
        self.made("make", "job.toml", "--nest", "--effort", "fill", "--no-pages", "--patterns-only", "--out", out)
        if proved:
            self.assertIn(" 0 failed", self.made("check", "job.toml", "--out", out).stdout)
        return self.folder / out

    def board(self, out):
        return ezdxf.readfile(out / "boards" / "board-1.dxf")

    def test_layers_of_the_users_own(self):
        self.job(LAYERS)
        out = self.make()
        for file in [*(out / "boards").glob("board-*.dxf"), *(out / "T").glob("*.dxf")]:
            document = ezdxf.readfile(file)
            self.assertFalse(document.audit().errors)
            names = [layer.dxf.name for layer in document.layers]
            self.assertIn("BLADE", names)
            self.assertNotIn("CUT", names)
            self.assertNotIn("MARK", names)
            self.assertEqual(document.layers.get("BLADE").color, 5)
        layers = [line.dxf.layer for line in self.board(out).modelspace().query("LWPOLYLINE")]
        order = [layers.index(name) for name in ("LABEL", "PEN", "BLADE")]
        self.assertEqual(order, sorted(order))
        self.assertEqual(layers[-1 - layers[::-1].index("LABEL")], "LABEL")
        self.assertLess(len(layers) - 1 - layers[::-1].index("LABEL"), layers.index("PEN"))
        # the same job without the table: our own names, and files that know nothing of the others
        self.job()
        plain = self.make("plain")
        self.assertNotIn(b"BLADE", (plain / "boards" / "board-1.dxf").read_bytes())
        self.assertNotIn('"layers": [', (plain / "S" / "fitting.json").read_text())
        self.assertIn('"layers": [', (out / "S" / "fitting.json").read_text())

    def test_corners(self):
        self.job()
        whole = self.outlines(self.make("whole", proved=False))
        for corner, past in drawn((("stop", 0.0), ("run past 3mm", 3.0))):
            self.job(table("[knife]", corner=corner))
            out = self.make("cornered")
            for outline in self.board(out).modelspace().query("LWPOLYLINE"):
                if outline.dxf.layer == "CUT" and not outline.closed:
                    way = LineString([p[:2] for p in outline.get_points("xy")])
                    inside = max(way.intersection(piece.buffer(-0.02)).length for piece in whole)
                    if inside < way.length - 0.1:  # cuts across a blank lie in it
                        self.assertLess(inside, 0.01)
            json_ = json.loads((out / "boards" / "boards.json").read_text())
            self.assertEqual(json_["knife"].get("past", 0.0), past)

    def outlines(self, out):
        lines = self.board(out).modelspace().query("LWPOLYLINE")
        return [Polygon([p[:2] for p in line.get_points("xy")]) for line in lines if line.dxf.layer == "CUT" and line.closed]

    def test_zero_and_turn(self):
        self.job()
        straight_ = self.board(self.make("straight", proved=False))
        for zero, turn, box in drawn((("upper right", "0", (-3050, -1220, 0, 0)), ("lower left", "90", (-1220, 0, 0, 3050)),
                                      ("lower right", "180", (0, -1220, 3050, 0)), ("upper left", "270", (-1220, -3050, 0, 0)))):
            self.job(table("[boards]", zero=zero, turn=turn))
            out = self.make("turned")
            document = self.board(out)
            stock = next(line for line in document.modelspace().query("LWPOLYLINE")
                         if line.dxf.layer == "STOCK" and line.closed)
            self.assertEqual(Polygon([p[:2] for p in stock.get_points("xy")]).bounds, box)
            self.assertEqual(len(document.modelspace()), len(straight_.modelspace()))

    def test_mistakes(self):
        for tables, words in ((table("[knife]", corner="jump"), "none, stop or run past 3mm"),
                              (table("[knife]", corner="run past 9mm"), "would run into the next piece"),
                              (table("[knife]", corner="run past"), "corner"),
                              (table("[dxf.layers]", CUT="MARK"), "is the name of another layer"),
                              (table("[boards]", turn="45"), "turn"), (table("[boards]", zero="middle"), "zero")):
            self.job(tables)
            result = self.made("nest", "job.toml", "--effort", "fill", code=2)
            self.assertIn(words, result.stderr)
            self.assertIn("job.toml", result.stderr)
            self.assertFalse((self.folder / "models-out").exists())


if __name__ == "__main__":
    unittest.main()
