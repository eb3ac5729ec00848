"""Fittings as binary glTF: a node for each body, named, closed, in metres with y up."""
import json

import numpy

from glb import Glb
from support import InFolder

JOB = """[job]
units = "mm"
[liner]
thickness = 25
[[fitting]]
tag = "E-1"
kind = "elbow"
diameter = 400
angle = 90
pieces = 3
[[fitting]]
tag = "T-1"
kind = "tee"
diameter = 500
length = 1200
branch_diameter = 300
branch_length = 600
"""


class FittingGlb(InFolder):
    def test_bodies_have_names_and_the_volumes_of_the_solids(self):
        self.write("job.toml", JOB)
        self.made("make", "job.toml", "--glb", "--no-pages", "--mesh", "0.05mm")
        for tag, names in [("E-1", ["metal", "liner 1", "liner 2", "liner 3"]), ("T-1", ["metal", "liner body", "liner branch"])]:
            folder = self.folder / "models-out" / tag
            glb = Glb((folder / f"{tag}.glb").read_bytes())
            place, = glb.places()
            stated = json.loads((folder / "fitting.json").read_text())
            found, liner = [], 0.0
            for name, points, corners in glb.bodies(place):
                found.append(name)
                a, b, c = (points[corners[:, k]] for k in range(3))
                volume = numpy.einsum("ij,ij->i", a, numpy.cross(b, c)).sum() / 6.0
                edges = numpy.sort(numpy.r_[corners[:, :2], corners[:, 1:], corners[:, ::2]], axis=1)
                self.assertTrue((numpy.unique(edges, axis=0, return_counts=True)[1] == 2).all(), name)
                if name.endswith("metal"):
                    self.assertAlmostEqual(volume * 1e9 / stated["volumes"]["metal"], 1.0, delta=2e-2)
                    continue
                liner += volume * 1e9
            self.assertAlmostEqual(liner / stated["volumes"]["liner"], 1.0, delta=2e-3)
            self.assertEqual(found, [f"{tag} {name}" for name in names])
        # the tee stands along y, as it stands along z in the other files
        low, high = points.min(axis=0), points.max(axis=0)
        self.assertLess(high[1], 1.2)
        self.assertGreater(low[1], 0.0)

    def test_a_later_run_keeps_them_and_check_knows_them(self):
        self.write("job.toml", JOB)
        self.made("make", "job.toml", "--glb", "--no-pages")
        told = self.made("make", "job.toml", "--no-pages").stdout
        self.assertIn("0 made, 2 unchanged", told)
        self.made("check", "job.toml")
        (self.folder / "models-out" / "T-1" / "T-1.glb").unlink()
        self.assertIn("T-1.glb", self.made("check", "job.toml", code=1).stdout)
