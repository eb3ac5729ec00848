"""Boards: the real binary, its files read by an independent reader."""
import csv
import json
import re
import subprocess
import unittest

import ezdxf
from shapely.geometry import Polygon

from board_jobs import elbow, fitting, inch_job, metric_job, straight, table, tee
from support import InFolder, drawn, long

JOB = metric_job(straight("S", 300, 600, count=3), elbow(), tee(), gap=4, cost=30)


class Nest(InFolder):
    def setUp(self):
        super().setUp()
        self.write("job.toml", JOB)
        self.boards = self.folder / "models-out" / "boards"

    def test_boards_by_an_independent_reader(self):
        for version, text in drawn((version, text) for version in ("r2000", "r12") for text in ("strokes", "entities")):
            self.made("nest", "job.toml", "--dxf", version, "--text", text, "--effort", "fill", "--qr")
            files = sorted(self.boards.glob("board-*.dxf"))
            self.assertTrue(files)
            self.assertEqual(sum(self.check_board(file) for file in files), 6)

    def check_board(self, file):
        """Returns the number of pieces' outlines."""
        document = ezdxf.readfile(file)
        self.assertFalse(document.audit().errors)
        outlines, stock = [], None
        for line in document.modelspace().query("LWPOLYLINE POLYLINE"):
            points = [(p[0], p[1]) for p in (line.get_points("xy") if line.dxftype() == "LWPOLYLINE" else line.points())]
            closed = line.closed if line.dxftype() == "LWPOLYLINE" else line.is_closed
            if line.dxf.layer == "STOCK" and closed:
                stock = Polygon(points)
            if line.dxf.layer == "CUT" and closed:
                outlines.append(Polygon(points))
        self.assertEqual(stock.bounds, (0.0, 0.0, 3050.0, 1220.0))
        outer = [a for a in outlines if not any(b is not a and b.contains(a) for b in outlines)]
        for i, a in enumerate(outer):
            self.assertTrue(stock.buffer(0.01).contains(a))
            for b in outer[i + 1:]:
                self.assertGreater(a.distance(b), 4 - 0.01)
        return len(outer)

    def test_tables_and_totals(self):
        result = self.made("nest", "job.toml", "--effort", "fill")
        self.assertIn("these pieces need at least 1 board", result.stdout)
        rows = list(csv.DictReader((self.boards / "cutlist.csv").read_text().splitlines()))
        self.assertEqual(sorted((r["tag"], r["piece"], r["copy"]) for r in rows),
                         [("E", "blank", "1"), ("S", "1", "1"), ("S", "1", "2"), ("S", "1", "3"), ("T", "body", "1"),
                          ("T", "branch", "1")])
        data = json.loads((self.boards / "boards.json").read_text())
        self.assertEqual(len(data["boards"]), len(list(self.boards.glob("board-*.dxf"))))
        totals = json.loads((self.folder / "models-out" / "totals.json").read_text())
        self.assertEqual(totals["boards"]["boards"], len(data["boards"]))
        self.assertAlmostEqual(totals["boards"]["yield"], data["yield"], places=6)
        self.assertAlmostEqual(totals["boards"]["cost"], 30.0 * len(data["boards"]))
        self.assertAlmostEqual(totals["sums"]["board_area"], data["piece_area"], delta=1.0)
        shown = json.loads(self.made("nest", "job.toml", "--effort", "fill", "--json").stdout)
        for key in ("of", "files", "digests", "own_digest"):  # what the folder holds, beside what is shown
            del data[key]
        self.assertEqual(shown, data)

    def test_make_with_boards_and_its_page(self):
        self.made("make", "job.toml", "--patterns-only", "--nest", "--effort", "fill")
        page = (self.folder / "models-out" / "index.html").read_text()
        self.assertIn("board 1 of ", page)
        self.assertIn("boards/board-1.dxf", page)
        before = {p.name: p.read_bytes() for p in self.boards.iterdir()}
        self.made("nest", "job.toml", "--effort", "fill")
        self.assertEqual({p.name: p.read_bytes() for p in self.boards.iterdir()}, before)

    def test_what_was_divided_to_fit_is_proved(self):
        self.write("job.toml", JOB.replace("width = 1220", "width = 500"))
        self.made("make", "job.toml", "--nest", "--effort", "fill", "--no-pages")
        self.made("check", "models-out")

    def test_stock_by_flags(self):
        text = re.sub(r"\[\[stock\]\]\n(?:[a-z]+ = \d+\n)+", "", JOB)
        self.write("bare.toml", text)
        result = self.made("nest", "bare.toml", code=2)
        self.assertIn("--stock-width", result.stderr)
        self.assertFalse((self.folder / "models-out").exists())
        self.made("nest", "bare.toml", "--stock-width", "1220mm", "--stock-length", "3050mm", "--effort", "fill")
        self.assertTrue((self.boards / "board-1.dxf").exists())

    def test_bad_input_leaves_nothing(self):
        for flags, words in [(["--stock-width", "48", "--stock-length", "3m"], "without unit"),
                             (["--stock-width", "1m"], "--stock-length"),
                             (["--effort", "1e9"], "effort"),
                             (["--effort", "much"], "effort"),
                             (["--gap", "-1mm"], "gap"),
                             (["--stock-width", "1m", "--stock-length", "3m", "--stock-edge-trim", "499mm",
                               "--stock-form", "slab"], "sheet")]:
            result = self.made("nest", "job.toml", *flags, code=2)
            self.assertIn(words, result.stderr)
            self.assertFalse(self.boards.exists(), flags)

    def test_what_fits_no_stock_is_named_and_the_rest_is_cut(self):
        self.write("job.toml", JOB.replace("quantity", "").replace("cost = 30", "cost = 30\nquantity = 1"))
        result = self.made("nest", "job.toml", "--effort", "fill", code=2)
        self.assertIn("the stock is used up", result.stderr)
        self.assertTrue((self.boards / "board-1.dxf").exists())

    def test_too_many_pieces_for_one_nest_leave_what_was_made(self):
        self.write("job.toml", JOB.replace("count = 3", "count = 6000"))
        result = self.made("make", "job.toml", "--patterns-only", "--no-pages", "--nest", "--effort", "fill", code=2)
        self.assertIn("too many pieces", result.stderr)
        self.assertTrue((self.folder / "models-out" / "S" / "fitting.json").exists())
        self.assertEqual(json.loads((self.folder / "models-out" / "totals.json").read_text())["sums"]["pieces"], 6007)

    def test_division_is_chosen_by_the_boards(self):
        # by hand 10 boards without panels, 8 with: 48 in straights on boards with 47 1/2 in of room
        job = inch_job(straight("S-24", 24, 48, count=6), straight("S-18", 18, 48, count=6))
        self.write("two.toml", job)
        quick = ("--effort", "0.1")
        self.made("nest", "two.toml", *quick, "--divide", "evenly")
        self.assertEqual(len(list(self.boards.glob("board-*.dxf"))), 18)
        self.assertFalse((self.boards / "division.toml").exists())
        result = self.made("nest", "two.toml", *quick)
        self.assertIn("instead of 18", result.stderr)
        self.assertLessEqual(len(list(self.boards.glob("board-*.dxf"))), 8)
        planned = (self.boards / "division.toml").read_bytes()
        self.made("make", "two.toml", "--nest", *quick, "--no-pages", "--patterns-only")
        self.assertLessEqual(len(list(self.boards.glob("board-*.dxf"))), 8)
        self.assertEqual((self.boards / "division.toml").read_bytes(), planned)
        self.assertIn(" 0 failed", self.made("check", "two.toml").stdout)
        self.made("nest", "two.toml", *quick)
        self.assertEqual((self.boards / "division.toml").read_bytes(), planned)

    @long
    def test_what_is_made_evenly_and_nested_since_is_older(self):
        job = inch_job(straight("S-24", 24, 48, count=6), straight("S-18", 18, 48, count=6))
        self.write("two.toml", job)
        quick = ("--effort", "0.1")
        self.made("make", "two.toml", "--no-pages", "--patterns-only", "--out", "later")
        self.made("nest", "two.toml", *quick, "--out", "later")
        told = self.run_program("check", "two.toml", "--out", "later").stdout
        failed = [line for line in told.splitlines() if line.startswith("  FAIL")]
        self.assertEqual(len(failed), 2, told)
        self.assertTrue(all("as in the job" in line for line in failed))
        self.made("make", "two.toml", "--no-pages", "--patterns-only", "--out", "later")
        self.assertIn(" 0 failed", self.made("check", "two.toml", "--out", "later").stdout)

        for rules, boards in (('divide = "evenly"', 18), ("seam_cost = 10", 10)):
            self.write("ruled.toml", job + f"[boards]\n{rules}\n")
            self.made("nest", "ruled.toml", *quick, "--out", "ruled")
            self.assertEqual(len(list((self.folder / "ruled" / "boards").glob("board-*.dxf"))), boards, rules)
        self.write("ruled.toml", job + '[boards]\ndivide = "never"\n')
        self.assertIn("fits no stock", self.made("nest", "ruled.toml", *quick, "--out", "never", code=2).stderr)

        # a fitting that is of another size now is divided evenly, and the other as it was planned
        self.write("two.toml", job.replace("diameter = 18", "diameter = 16"))
        result = self.made("make", "two.toml", "--no-pages", "--patterns-only")
        self.assertIn("S-18: divided evenly until the job is nested again", result.stderr)
        self.assertIn("1 made, 1 unchanged", result.stdout)

    @long
    def test_tapers_come_in_panels_where_that_saves_boards(self):
        # a board holds one sector of 2263 by 904 mm; by area two boards would do for four
        reducer = fitting("R", "reducer", diameter=800, to_diameter=500, length=600, count=4)
        self.write("tapers.toml", metric_job(reducer, gap=3, edge_trim=6))
        self.made("nest", "tapers.toml", "--effort", "0.1")
        self.assertEqual(len(list(self.boards.glob("board-*.dxf"))), 4)
        self.made("nest", "tapers.toml", "--effort", "0.1", "--divide", "if it saves")
        boards = len(list(self.boards.glob("board-*.dxf")))
        self.assertLess(boards, 4)
        self.assertIn("taper: ", (self.boards / "division.toml").read_text())
        self.made("make", "tapers.toml", "--no-pages", "--patterns-only")
        self.assertTrue(list((self.folder / "models-out" / "R").glob("*taperp2.dxf")))
        self.assertIn(" 0 failed", self.made("check", "tapers.toml").stdout)

    def test_a_roll_is_cut_shorter(self):
        self.write("roll.toml", metric_job(straight("A", 630, 1500, count=2), width=1200, length=30000, form="roll", gap=3))
        lengths = []
        for divide in ("evenly", "if needed"):
            self.made("nest", "roll.toml", "--divide", divide, "--effort", "0.1")
            lengths.append(sum(b["length"] for b in json.loads((self.boards / "boards.json").read_text())["boards"]))
        # the area alone needs 2 x 1.5 m of 1.9 m around: 4.8 m of the roll; even halves of 750 mm take 7.7 m
        self.assertGreater(lengths[0], 7600)
        self.assertLess(lengths[1], 5400)

    def test_job_sheet_names_every_piece(self):
        self.made("nest", "job.toml", "--effort", "fill")
        sheet = self.boards / "jobsheet.pdf"
        boards = len(list(self.boards.glob("board-*.dxf")))
        info = subprocess.run(["pdfinfo", sheet], capture_output=True, text=True, check=True).stdout
        self.assertIn(f"Pages:           {boards + 1}\n", info)
        self.assertRegex(info, r"Page size: +841\.89 x 595\.2\d+ pts \(A4\)")
        rows = list(csv.DictReader((self.boards / "cutlist.csv").read_text().splitlines()))
        for board in range(1, boards + 1):
            page = subprocess.run(["pdftotext", "-layout", "-f", str(board + 1), "-l", str(board + 1), sheet, "-"],
                                  capture_output=True, text=True, check=True).stdout
            self.assertIn(f"board {board} of {boards}", page)
            for row in rows:
                if int(row["board"]) == board:
                    # in its place on the board, and in the list below it
                    self.assertGreaterEqual(page.count(f"{row['tag']}/{row['piece']}"), 2, row)
        words = subprocess.run(["pdftotext", "-bbox", sheet, "-"], capture_output=True, text=True, check=True).stdout
        for low, high in re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)"', words):
            self.assertGreater(float(high) - float(low), 6.0)

    def test_pieces_are_cut_again(self):
        self.made("nest", "job.toml", "--effort", "fill")
        before = {file.name: file.read_bytes() for file in self.boards.iterdir()}
        result = self.made("nest", "job.toml", "--effort", "fill", "--again", "E/3", "--again", "S/1 x 2")
        self.assertIn("1 board in models-out/again/boards", result.stdout)
        again = self.folder / "models-out" / "again" / "boards"
        rows = list(csv.DictReader((again / "cutlist.csv").read_text().splitlines()))
        self.assertEqual(sorted((row["tag"], row["piece"]) for row in rows), [("E", "3"), ("S", "1"), ("S", "1")])
        self.assertEqual({file.name: file.read_bytes() for file in self.boards.iterdir()}, before)
        for piece, why in (("E/9", "the fitting has no piece of this name"), ("E", "names no piece"),
                           ("E/3 x 0", "names no piece"), ("X/1", "no fitting has this tag")):
            self.assertIn(why, self.made("nest", "job.toml", "--again", piece, code=2).stderr)

    def test_a_piece_of_a_planned_division_is_cut_again(self):
        self.write("long.toml", inch_job(straight("S", 24, 60, count=8)))
        self.made("nest", "long.toml", "--effort", "0.4")
        self.assertIn("/ 2", (self.boards / "division.toml").read_text())
        rows = list(csv.DictReader((self.boards / "cutlist.csv").read_text().splitlines()))
        piece = next(row["piece"] for row in rows if "p2" in row["piece"])
        self.made("nest", "long.toml", "--effort", "0.4", "--again", "S/" + piece)

    def test_a_division_that_cannot_be_is_refused(self):
        job = table("[liner]", thickness="1in") + straight("S", "24in", "60in", division="%s")
        for stated, why in (("1: 40in + 10in", "its rings are 50 in together, the piece is 60 in long"),
                            ("1: 58in + 2in", "leaves a ring under"), ("1: 60", "names no unit"),
                            ("2: 60in", "no piece 2"), ("60in", "names no piece"),
                            ("1: 30in / 2.5 + 30in", "whole number"), ("1: 60in; 1: 60in", "twice")):
            self.write("one.toml", job % stated)
            result = self.run_program("make", "one.toml")
            self.assertEqual(result.returncode, 2, stated)
            self.assertIn("one.toml:8: S: division = " + stated, result.stderr)
            self.assertIn(why, result.stderr)

    def test_a_folder_of_somebody_else_is_not_replaced(self):
        self.boards.mkdir(parents=True)
        (self.boards / "precious.txt").write_text("mine")
        result = self.run_program("nest", "job.toml", "--effort", "fill")
        self.assertEqual(result.returncode, 3)
        self.assertEqual([p.name for p in self.boards.iterdir()], ["precious.txt"])


if __name__ == "__main__":
    unittest.main()
