"""Where pins go is proved from the patterns: each that is gone or moved aside fails."""
import unittest

import ezdxf

from support import InFolder, drawn

JOB = """[job]
units = "mm"
[liner]
thickness = 25
pins_above = 200
[[fitting]]
tag = "S"
kind = "straight"
diameter = 700
length = 1900
board_width = 1200
board_length = 1500
[[fitting]]
tag = "E"
kind = "elbow"
diameter = 500
angle = 90
pieces = 4
face_up = "air"
[[fitting]]
tag = "T"
kind = "tee"
diameter = 600
length = 1500
branch_diameter = 300
branch_length = 700
angle = 60
[[fitting]]
tag = "N"
kind = "straight"
diameter = 190
length = 600
"""


class Pins(InFolder):
    def setUp(self):
        super().setUp()
        self.write("job.toml", JOB)
        self.made("make", "job.toml", "--out", "out", "--no-pages", "--no-sync", "--patterns-only")

    def said(self):
        return self.run_program("check", "out").stdout

    @staticmethod
    def crosses(document):
        """Pairs of lines of a cross, 10 mm each, by their common middle."""
        by_middle = {}
        for line in document.modelspace().query('LWPOLYLINE[layer=="MARK"]'):
            points = list(line.get_points("xy"))
            if len(points) == 2:
                (ax, ay), (bx, by) = points
                if abs(abs(ax - bx) + abs(ay - by) - 10.0) < 0.01:
                    by_middle.setdefault((round(ax + bx, 1), round(ay + by, 1)), []).append(line)
        return [pair for _, pair in sorted(by_middle.items()) if len(pair) == 2]

    def test_each_cross_counts(self):
        self.assertNotIn("FAIL", self.said())
        path = self.folder / "out" / "S" / "S-1ap1.dxf"
        good = path.read_bytes()
        crosses = len(self.crosses(ezdxf.readfile(path)))
        self.assertGreater(crosses, 8)
        for number in drawn(tuple(range(crosses))):
            for change in ("moved", "gone"):
                document = ezdxf.readfile(path)
                for line in self.crosses(document)[number]:
                    if change == "gone":
                        document.modelspace().delete_entity(line)
                    else:
                        line.set_points([(x + 30.0, y) for x, y in line.get_points("xy")], format="xy")
                document.saveas(path)
                self.assertTrue("FAIL  asked pins" in self.said(), (number, change))
                path.write_bytes(good)

    def test_a_narrow_duct_has_none(self):
        path = self.folder / "out" / "N" / "N-1.dxf"
        document = ezdxf.readfile(path)
        self.assertEqual(self.crosses(document), [])
        for line in ([(100, 100), (110, 100)], [(105, 95), (105, 105)]):
            document.modelspace().add_lwpolyline(line, dxfattribs={"layer": "MARK"})
        document.saveas(path)
        self.assertIn("FAIL  asked pins", self.said())


if __name__ == "__main__":
    unittest.main()
