"""Offcuts of one job as stock of the next, by the real binary."""
import csv
import json
import threading
import unittest

import ezdxf

from board_jobs import metric_job, straight
from support import InFolder


class Remnants(InFolder):
    def setUp(self):
        super().setUp()
        self.write("first.toml", metric_job(straight("A", 300, 600), name="First", edge_trim=6, gap=3))
        self.write("second.toml", metric_job(straight("B", 250, 500), name="Second", edge_trim=6, gap=3))
        self.write("third.toml", metric_job(straight("C", 250, 500), name="Third", edge_trim=6, gap=3))
        self.nest("first")
        self.list = self.folder / "first" / "boards" / "remnants.json"

    def nest(self, job, *more, code=0):
        return self.made("nest", f"{job}.toml", "--out", job, "--effort", "fill", *more, code=code)

    def remnants(self, file=None):
        return json.loads((file or self.list).read_text())["remnants"]

    def boards(self, job):
        return json.loads((self.folder / job / "boards" / "boards.json").read_text())["boards"]

    def files(self, job):
        return {p.name: p.read_bytes() for p in (self.folder / job / "boards").iterdir()}

    def test_offcuts_are_listed_and_labelled(self):
        board = self.boards("first")[0]
        self.assertEqual(len(board["remnants"]), len(board["offcuts"]))
        listed = self.remnants()
        self.assertEqual([r["id"] for r in listed], [r["id"] for r in board["remnants"]])
        for remnant, offcut in zip(listed, board["offcuts"]):
            self.assertAlmostEqual(remnant["length"], offcut[2] - offcut[0], 2)
            self.assertAlmostEqual(remnant["width"], offcut[3] - offcut[1], 2)
            self.assertEqual((remnant["thickness"], remnant["used_by"], remnant["board"]), (25, None, 1))
        self.assertIn("First (first.toml)", listed[0]["job"])
        # by an independent reader: the id stands on its offcut
        self.nest("first", "--text", "entities")
        drawing = ezdxf.readfile(self.folder / "first" / "boards" / "board-1.dxf")
        texts = {t.dxf.text: t.dxf.insert for t in drawing.modelspace().query("TEXT") if t.dxf.layer == "LABEL"}
        for remnant, (x0, y0, x1, y1) in zip(listed, board["offcuts"]):
            at = texts[remnant["id"]]
            self.assertTrue(x0 < at.x < x1 and y0 < at.y < y1)
        self.made("make", "first.toml", "--out", "first", "--no-pages", "--nest", "--effort", "fill")
        self.assertIn(" 0 failed", self.made("check", "first").stdout)
        # an id or a size that is not the board's is told
        whole = self.list.read_text()
        for old, new in ((listed[0]["id"], "R-00000000"), (f'"width": {listed[0]["width"]:g}', '"width": 7777')):
            self.assertIn(old, whole)
            self.list.write_text(whole.replace(old, new))
            self.assertRegex(self.made("check", "first", code=1).stdout, "FAIL  boards remnants")

    def test_one_remnant_is_never_for_two_jobs(self):
        self.nest("second", "--remnants", self.list)
        taken = [r for r in self.remnants() if r["used_by"]]
        self.assertEqual([r["used_by"] for r in taken], ["Second (second.toml)"])
        self.assertEqual([b["stock"] for b in self.boards("second")], ["remnant " + taken[0]["id"]])
        before, listed = self.files("second"), self.list.read_bytes()
        self.nest("second", "--remnants", self.list)  # the same job again: the same boards, the same list
        self.assertEqual((self.files("second"), self.list.read_bytes()), (before, listed))
        self.nest("first")  # nor does the job whose offcut it is forget it
        self.assertEqual(self.list.read_bytes(), listed)
        self.nest("third", "--remnants", self.list)
        self.assertNotIn("remnant " + taken[0]["id"], [b["stock"] for b in self.boards("third")])
        users = [r["used_by"] for r in self.remnants()]
        self.assertEqual(len([u for u in users if u == "Second (second.toml)"]), 1)
        # a job that needs it no more gives it back
        self.write("second.toml", metric_job(straight("B", 900, 1200), name="Second", edge_trim=6, gap=3))
        self.nest("second", "--remnants", self.list)
        self.assertNotIn("Second (second.toml)", [r["used_by"] for r in self.remnants()])
        self.made("make", "third.toml", "--out", "third", "--no-pages", "--nest", "--effort", "fill", "--remnants", self.list)
        self.assertIn(" 0 failed", self.made("check", "third").stdout)

    def test_what_a_remnant_leaves_is_a_remnant(self):
        self.nest("second", "--remnants", self.list, "--min-offcut", "60mm")
        left = self.remnants(self.folder / "second" / "boards" / "remnants.json")
        self.assertTrue(left)
        self.assertTrue(all(r["stock"].startswith("remnant R-") for r in left))
        ids = [r["id"] for r in left + self.remnants()]
        self.assertEqual(len(set(ids)), len(ids))
        self.nest("third", "--remnants", self.list, "--remnants", self.folder / "second" / "boards" / "remnants.json")

    def test_own_offcuts_serve_a_piece_cut_again_and_not_the_job(self):
        self.nest("first", "--remnants", self.list)
        self.assertEqual([r["used_by"] for r in self.remnants() if r["used_by"]], [])
        self.nest("first", "--remnants", self.list, "--again", "A/1")
        self.assertEqual([r["used_by"] for r in self.remnants() if r["used_by"]], ["First (first.toml) again A/1"])
        rows = list(csv.DictReader((self.folder / "first" / "again" / "boards" / "cutlist.csv").read_text().splitlines()))
        self.assertEqual([(row["tag"], row["piece"]) for row in rows], [("A", "1")])

    def test_boards_that_lost_a_taken_offcut_say_so(self):
        self.nest("second", "--remnants", self.list)
        self.write("first.toml", metric_job(straight("A", 310, 640), name="First", edge_trim=6, gap=3))
        self.assertIn("they are not the ones that were cut", self.nest("first").stderr)
        self.assertIn("Second (second.toml)", [r["used_by"] for r in self.remnants()])

    def test_the_flag_may_stand_before_the_job(self):
        self.made("nest", "--remnants", self.list, "second.toml", "--out", "second", "--effort", "fill")
        self.assertEqual([r["used_by"] for r in self.remnants() if r["used_by"]], ["Second (second.toml)"])

    def test_other_liner_takes_no_remnant(self):
        self.write("thick.toml", metric_job(straight("D", 250, 500), name="Thick").replace("thickness = 25", "thickness = 50"))
        self.nest("thick", "--remnants", self.list)
        self.assertEqual([r["used_by"] for r in self.remnants() if r["used_by"]], [])
        self.write("dense.toml", metric_job(straight("D", 250, 500), name="Dense").replace(
            "thickness = 25", 'thickness = 25\ndensity = "96 kg/m3"'))
        self.nest("dense", "--remnants", self.list)
        self.assertEqual([r["used_by"] for r in self.remnants() if r["used_by"]], [])

    def test_two_runs_at_once_share_nothing(self):
        def nested(job):
            # the one that comes second may find that its remnant is gone
            self.assertIn(self.run_program("nest", f"{job}.toml", "--out", job, "--remnants", self.list).returncode, (0, 2))

        runs = [threading.Thread(target=nested, args=(job,)) for job in ("second", "third")]
        for run in runs:
            run.start()
        for run in runs:
            run.join()
        used = [b["stock"] for job in ("second", "third") if (self.folder / job / "boards").exists() for b in self.boards(job)
                if b["stock"].startswith("remnant")]
        self.assertEqual(len(set(used)), len(used))

    def test_lists_that_are_none_are_refused_and_nothing_is_written(self):
        good = json.loads(self.list.read_text())
        def changed(**keys):
            return json.dumps({"remnants": [{**good["remnants"][0], **keys}]})
        for text, words in (("{", "remnants.json"), ('{"a": 1}', "is no list of remnants"),
                            (changed(width=-5), "width = -5"), (changed(thickness="thin"), "thickness = no number"),
                            (changed(id=""), "a remnant: id"), (changed(trim=[1, 2]), "four lengths"),
                            (changed(trim=[1e4, 0, 0, 0]), "nothing is left"), (changed(used_by=7), "is no text"),
                            (json.dumps({"remnants": [good["remnants"][0]] * 2}), "is there twice")):
            path = self.write("remnants.json", text)
            result = self.nest("second", "--remnants", path, code=2)
            self.assertIn(words, result.stderr)
            self.assertEqual(len(result.stderr.strip().splitlines()), 1, result.stderr)
            self.assertEqual(path.read_text(), text)
            self.assertFalse((self.folder / "second" / "boards").exists())
        self.assertIn("there is no such file", self.nest("second", "--remnants", "none.json", code=2).stderr)
        copy = self.write("copy.json", self.list.read_text())
        self.assertIn("in one list alone", self.nest("second", "--remnants", self.list, "--remnants", copy, code=2).stderr)


if __name__ == "__main__":
    unittest.main()
