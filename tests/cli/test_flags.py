import json
import unittest

from support import InFolder

JOB = """[job]
units = "mm"
[liner]
thickness = 25
[[fitting]]
tag = "A"
kind = "straight"
diameter = 400
length = 1000
[[fitting]]
tag = "B"
kind = "straight"
diameter = 400
length = 1000
thickness = 13
"""


class Flags(InFolder):
    """A flag does what it says, says so, or is refused; none is taken and forgotten."""

    def bores(self, *arguments):
        result = self.run_program("bore", "job.toml", "--json", *arguments)
        self.assertEqual(result.returncode, 0, result.stderr)
        return [row["lined_diameter"] for row in json.loads(result.stdout)["rows"]], result.stderr

    def test_liner_wins_over_the_job_and_says_so(self):
        self.write("job.toml", JOB)
        self.assertEqual(self.bores()[0], [350.0, 374.0])
        bores, told = self.bores("--liner", "2in")
        self.assertEqual(bores, [298.4, 298.4])
        self.assertIn("--liner 2in", told)
        self.assertIn("2 fittings", told)
        self.assertEqual(self.bores("--liner", "50")[0], [300.0, 300.0])
        made = self.run_program("make", "job.toml", "--liner", "2in", "--patterns-only", "--no-pages")
        self.assertEqual(made.returncode, 0, made.stderr)
        for tag in ("A", "B"):
            figures = json.loads((self.folder / "models-out" / tag / "fitting.json").read_text())
            self.assertEqual(figures["parameters"]["thickness"], 50.8)

    def test_liner_for_a_job_that_names_none_says_nothing(self):
        self.write("job.toml", JOB.replace("[liner]\nthickness = 25\n", "").replace("thickness = 13\n", ""))
        bores, told = self.bores("--liner", "25")
        self.assertEqual(bores, [350.0, 350.0])
        self.assertEqual(told, "")

    def refused(self, *arguments):
        result = self.run_program(*arguments)
        self.assertEqual(result.returncode, 2, result.stdout + result.stderr)
        self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)
        self.assertFalse((self.folder / "models-out").exists())
        return result.stderr

    def test_stock_divides_with_boards_or_without(self):
        self.write("job.toml", JOB)
        board = ["--stock-width", "600mm", "--stock-length", "2000mm"]
        self.made("make", "job.toml", "--patterns-only", "--no-pages", "--only", "A", *board)
        self.assertEqual(len(list((self.folder / "models-out" / "A").glob("A-1?.dxf"))), 2)
        told = self.made("make", "job.toml", "--patterns-only", "--no-pages", *board, "--nest").stdout
        self.assertIn("1 made, 1 unchanged", told)

    def test_flags_of_the_boards_need_boards(self):
        self.write("job.toml", JOB)
        for flag in (["--seed", "3"], ["--effort", "quick"], ["--scatter"], ["--qr"], ["--gap", "5mm"]):
            told = self.made("make", "job.toml", *flag, code=2).stderr
            self.assertIn(f"{flag[0]} requires --nest", told)
        self.assertFalse((self.folder / "models-out").exists())

    def test_only_needs_a_job(self):
        for command in ("make", "bore"):
            told = self.refused(command, "--only", "3", "straight", "--diameter", "300mm", "--length", "1m", "--liner",
                                "25mm")
            self.assertIn("--only", told)

    def test_limit_and_series_need_a_step_up(self):
        self.write("job.toml", JOB)
        self.assertIn("--limit", self.refused("bore", "job.toml", "--limit", "0.1 m2"))
        self.assertIn("--series", self.refused("bore", "job.toml", "--series", "inch"))
        for form in ["--json", "--csv"]:
            self.assertIn("--along", self.refused("bore", "job.toml", "--along", form))
        for flag in [["--json"], ["--csv"], ["--along"], ["--more"], ["--step-up", "area"], ["--limit", "1"],
                     ["--series", "inch"], ["--out", "x"]]:
            self.assertIn(flag[0], self.refused("bore", "--explain", "loss", *flag))

    def test_step_up_without_a_flow_names_the_fittings(self):
        self.write("job.toml", JOB + 'flow = "0.5 m3/s"\n')
        for by in ("velocity", "friction"):
            result = self.run_program("bore", "job.toml", "--step-up", by)
            self.assertEqual(result.returncode, 2, result.stderr)
            self.assertIn("A: ", result.stderr)
            self.assertNotIn("B: ", result.stderr)
            self.assertIn("step up by " + by, result.stdout)
        self.write("job.toml", '[air]\nflow = "0.5 m3/s"\n' + JOB)
        self.assertEqual(self.run_program("bore", "job.toml", "--step-up", "velocity").returncode, 0)

    def test_lengths_that_all_name_inches_are_printed_in_inches(self):
        self.write("job.toml", '[[fitting]]\ntag = "A"\nkind = "straight"\ndiameter = "24\\""\nlength = "4\'"\n'
                   'thickness = "1in"\n')
        result = self.run_program("bore", "job.toml")
        self.assertIn("bare in", result.stdout)
        self.assertIn("22.00", result.stdout)
        result = self.run_program("bore", "job.toml", "--units", "mm")
        self.assertIn("bare mm", result.stdout)

    def test_not_made_counts_fittings(self):
        wrong = '[[fitting]]\ntag = "{}"\nkind = "elbow"\ndiameter = "x"\nangle = "y"\npieces = "z"\nthickness = "q"\n'
        self.write("job.toml", JOB + wrong.format("C") + wrong.format("D"))
        result = self.run_program("make", "job.toml", "--patterns-only", "--no-pages")
        self.assertEqual(result.returncode, 2)
        lines = result.stderr.splitlines()
        self.assertEqual(len([line for line in lines if "(and 1 more: line" in line]), 4)
        self.assertEqual(len(lines), 5)
        self.assertIn("linerwright: 2 not made", result.stderr.splitlines())


if __name__ == "__main__":
    unittest.main()
