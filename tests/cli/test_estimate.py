"""The estimate and the workbook: the real binary, its workbook read by an independent reader."""
import csv
import io
import json
import unittest

import openpyxl

from board_jobs import elbow, fitting, metric_job, straight, tee
from support import InFolder

JOB = metric_job(straight("S", 300, 600, count=3), elbow("007"), name="Boathouse", cost=30)
# no search for fewer boards: what it finds is no matter of these tests
FILL = ("--effort", "fill")
RATES = """[rates]
currency = "EUR"
tape_roll = "45m"
tape_roll_price = 12
hour_price = 48
minutes_per_piece = 6
"""


class Estimate(InFolder):
    def setUp(self):
        super().setUp()
        self.write("job.toml", JOB + RATES)
        self.write("bare.toml", JOB)

    def test_figures_by_hand(self):
        result = self.made("estimate", "job.toml", "--json")
        estimate = json.loads(result.stdout)
        rows = {row["tag"]: row for row in estimate["fittings"]}
        # three pieces of one straight, five of the elbow: 6 minutes each at 48 an hour
        self.assertAlmostEqual(rows["S"]["labour"], 3 * 6 / 60 * 48, 6)
        self.assertAlmostEqual(rows["007"]["labour"], 5 * 6 / 60 * 48, 6)
        # a straight's tape is its seam, 600 mm, and a roll of 45 m costs 12
        self.assertAlmostEqual(rows["S"]["tape"], 3 * 0.6 / 45 * 12, 6)
        self.assertEqual(estimate["job"]["tape"], 12)
        self.assertIsNone(rows["S"]["sealant"])
        # all boards' cost is shared out among the fittings
        boards = round(estimate["job"]["board"] / 30)
        self.assertAlmostEqual(sum(row["board"] for row in rows.values()), 30 * boards, 4)
        self.assertFalse((self.folder / "models-out").exists())

    def test_boards_are_divided_as_the_job_says(self):
        self.write("divided.toml", metric_job(straight("S", 400, 800), elbow(), tee(), fitting(
            "R", "reducer", diameter=800, to_diameter=500, length=600, count=4), cost=30)
            + '[boards]\ndivide = "if it saves"\n' + RATES)
        estimate = json.loads(self.made("estimate", "divided.toml", "--effort", "fill", "--json").stdout)
        self.made("nest", "divided.toml", "--effort", "fill")
        boards = json.loads((self.folder / "models-out/boards/boards.json").read_text())["boards"]
        self.assertTrue((self.folder / "models-out/boards/division.toml").exists())
        self.assertEqual(estimate["job"]["board"], 30 * len(boards))

    def test_tables(self):
        table = self.made("estimate", "job.toml", *FILL).stdout
        self.assertIn("price EUR", table)
        self.assertIn("without: sealant, adhesive, pins", table)
        self.assertLessEqual(max(map(len, table.splitlines())), 100)
        rows = list(csv.DictReader(io.StringIO(self.made("estimate", "job.toml", "--csv", *FILL).stdout)))
        self.assertEqual([row["tag"] for row in rows], ["S", "007", "the job in whole units"])
        side = self.made("estimate", "job.toml", "--liner", "25mm", "--liner", "50mm", *FILL).stdout
        self.assertEqual([line.split()[0] for line in side.splitlines()[1:3]], ["25mm", "50mm"])

    def test_rates_that_say_nothing_are_refused(self):
        self.assertIn("an estimate needs the shop's own rates",
                      self.made("estimate", "bare.toml", code=2).stderr)
        for rates, why in (("tape_roll_price = 5", "together with tape_roll"),
                           ("hour_price = 5", "pays for no minutes"),
                           ("minutes_per_m2 = 1\nminutes_per_ft2 = 1", "give only one")):
            self.write("wrong.toml", JOB + "[rates]\n" + rates + "\n")
            result = self.made("estimate", "wrong.toml", code=2)
            self.assertIn(why, result.stderr)
            self.assertIn("wrong.toml:", result.stderr)

    def test_workbook(self):
        self.made("workbook", "job.toml", "--out", "job.xlsx", *FILL)
        book = openpyxl.load_workbook(self.folder / "job.xlsx")
        self.assertEqual(book.sheetnames, ["totals", "cut list", "boards", "estimate", "bore"])
        for sheet in book:
            self.assertEqual(sheet.freeze_panes, "A2", sheet.title)
            self.assertTrue(all(isinstance(cell.value, str) for cell in sheet[1] if cell.value is not None))
        rows = list(csv.reader(io.StringIO(self.made("estimate", "job.toml", "--csv", *FILL).stdout)))
        for cells, row in zip(book["estimate"].iter_rows(values_only=True), rows):
            for cell, text in zip(cells, row):
                if isinstance(cell, (int, float)):
                    self.assertEqual(cell, float(text))
                else:
                    self.assertEqual(cell or "", text)
        self.assertEqual(book["estimate"]["A3"].value, "007")  # a tag stays a tag
        self.assertEqual(book["estimate"]["D2"].number_format, "0.00")
        first = (self.folder / "job.xlsx").read_bytes()
        self.assertIn("is there already", self.made("workbook", "job.toml", "--out", "job.xlsx", code=2).stderr)
        self.made("workbook", "job.toml", "--out", "job.xlsx", "--force", *FILL)
        self.assertEqual((self.folder / "job.xlsx").read_bytes(), first)
        self.made("workbook", "bare.toml", "--out", "nowhere/job.xlsx", code=3)
        self.made("workbook", "bare.toml", "--out", "bare.xlsx", *FILL)
        self.assertNotIn("estimate", openpyxl.load_workbook(self.folder / "bare.xlsx").sheetnames)


if __name__ == "__main__":
    unittest.main()
