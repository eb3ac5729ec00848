"""A whole job by the folders of the library that know no kernel and no folder of results, against the program's."""
import json
import os
import subprocess
import unittest

from board_jobs import elbow, fitting, metric_job, straight, tee
from support import InFolder

ALONE = os.environ["LINERWRIGHT_JOB_ALONE"]
RUN = '\n[air]\nflow = "0.4 m3/s"\n[[run]]\nname = "main"\npath = ["S", "N"]\n'


class Alone(InFolder):
    def alone(self, job, code=0):
        result = subprocess.run([ALONE, job, "alone"], cwd=self.folder, capture_output=True, text=True, timeout=300)
        self.assertEqual(result.returncode, code, result.stdout + result.stderr)
        return result.stdout

    def same(self, *names):
        for name in names:
            theirs = (self.folder / "models-out" / name).read_bytes()
            self.assertTrue(theirs, name)
            self.assertEqual((self.folder / "alone" / name).read_bytes(), theirs, name)

    def boards(self):
        return [f"boards/{path.name}" for path in sorted((self.folder / "models-out/boards").iterdir())
                if path.name != "remnants.json"]

    def test_totals_boards_and_bore_are_the_programs(self):
        # how the reducers are divided is the boards' choice
        self.write("job.toml", metric_job(straight("S", 400, 800), straight("N", 400, 600), elbow(), tee(),
                                          fitting("R", "reducer", diameter=800, to_diameter=500, length=600, count=4))
                   + '[boards]\ndivide = "if it saves"\n' + RUN)
        self.alone("job.toml")
        self.made("nest", "job.toml", "--effort", "fill")
        names = self.boards()
        self.assertGreater(len([name for name in names if name.endswith(".dxf")]), 2)
        self.assertIn("boards/division.toml", names)
        self.same("totals.json", "totals.csv", *names)
        made = self.made("make", "job.toml", "--no-pages", "--patterns-only")
        self.same("totals.json")  # of the pieces as nest divided them
        self.assertEqual((self.folder / "alone/bore.csv").read_text(), self.made("bore", "job.toml", "--csv").stdout)
        self.assertIn("along run main", made.stdout)

    def test_one_bad_fitting_in_five(self):
        bad = fitting("X", "elbow", diameter=300, angle=90, pieces=2, centreline_radius=160, thickness=150)
        self.write("job.toml", metric_job(straight("S", 300, 600), elbow(), bad, tee(), straight("Z", 250, 400)))
        told = self.alone("job.toml", code=2)
        result = self.run_program("nest", "job.toml", "--effort", "fill")
        self.assertEqual(result.returncode, 2, result.stderr)
        self.assertEqual(told, "".join(line + "\n" for line in result.stderr.splitlines() if "X" in line))
        self.same("totals.json", "totals.csv", *self.boards())
        totals = json.loads((self.folder / "alone/totals.json").read_text())
        self.assertEqual([row["tag"] for row in totals["fittings"]], ["S", "E", "T", "Z"])


if __name__ == "__main__":
    unittest.main()
