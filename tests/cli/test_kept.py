"""What stays from run to run: people's files, pictures and templates of earlier runs, totals of the whole job; and what is told of
results that the job has left behind."""
import csv
import hashlib
import json
import shutil
import unittest

from support import InFolder

HEAD = '[job]\nname = "Hall"\nunits = "mm"\n[liner]\nthickness = 25\n[[stock]]\nwidth = 1220\nlength = 3050\n'


def straight(tag, length=500):
    return f'[[fitting]]\ntag = "{tag}"\nkind = "straight"\ndiameter = 300\nlength = {length}\n'


class Kept(InFolder):
    def setUp(self):
        super().setUp()
        self.out = self.folder / "models-out"

    def job(self, *fittings, head=HEAD):
        self.write("job.toml", head + "".join(fittings))

    def make(self, *flags, code=0):
        return self.made("make", "job.toml", "--patterns-only", *flags, code=code)

    def totals(self):
        return json.loads((self.out / "totals.json").read_text())

    def files(self, stem):
        return {path.name for path in (self.out / stem).iterdir()}

    def test_digests_are_those_of_another_program(self):
        self.job(straight("A"))
        self.make("--nest", "--effort", "fill")
        for folder, proof in (("A", "fitting.json"), ("boards", "boards.json")):
            text = (self.out / folder / proof).read_text()
            data = json.loads(text)
            files = self.files(folder) - {"remnants.json"}  # in which other jobs note what they take
            self.assertEqual(set(data["files"]), files)
            self.assertEqual(set(data["digests"]), files - {proof})
            for name, digest in data["digests"].items():
                self.assertEqual(hashlib.blake2b((self.out / folder / name).read_bytes(), digest_size=32).hexdigest(), digest)
            blank = text.replace(data["own_digest"], "0" * 64)
            self.assertEqual(hashlib.blake2b(blank.encode(), digest_size=32).hexdigest(), data["own_digest"])

    def test_pictures_and_templates_of_an_earlier_run(self):
        self.job(straight("A"), straight("B", 600))
        self.make("--png", "--templates", "a4")
        before = self.files("A")
        self.assertIn("A-templates.pdf", before)
        self.assertIn("A-1.png", before)
        self.assertIn("0 made, 2 unchanged", self.make().stdout)
        self.assertEqual(self.files("A"), before)
        pdf = (self.out / "A" / "A-templates.pdf").read_bytes()
        self.job(straight("A", 510), straight("B", 600))
        self.assertIn("1 made, 1 unchanged", self.make().stdout)
        self.assertEqual(self.files("A"), before)
        self.assertNotEqual((self.out / "A" / "A-templates.pdf").read_bytes(), pdf)
        self.assertEqual(set(json.loads((self.out / "A" / "fitting.json").read_text())["files"]), before)
        # another paper, and a page that is not wanted, are changes
        self.assertIn("2 made", self.make("--templates", "letter").stdout)
        self.assertIn("2 made", self.make("--no-pages").stdout)
        self.assertIn("A-1.png", self.files("A"))
        self.assertNotIn("A.html", self.files("A"))

    def test_a_text_option_that_was_forgotten_once(self):
        """Every option of the DXF is a change."""
        self.job(straight("A"))
        self.make()
        self.assertIn("1 made", self.make("--text", "entities").stdout)
        self.assertIn("1 unchanged", self.make("--text", "entities").stdout)
        self.assertIn("1 made", self.make("--cut-only").stdout)

    def test_a_changed_result_is_kept_under_another_name(self):
        self.job(straight("A"))
        self.make()
        for text in ("first", "second"):
            edited = self.out / "A" / "A-tilt.csv"
            edited.write_text(text)
            result = self.make("--force")
            self.assertIn("A-tilt.csv was changed since it was made", result.stderr)
        self.assertEqual((self.out / "A" / "kept-A-tilt.csv").read_text(), "first")
        self.assertEqual((self.out / "A" / "kept-2-A-tilt.csv").read_text(), "second")
        # the list of the folder itself
        proof = self.out / "A" / "fitting.json"
        proof.write_text(proof.read_text().replace('"count": 1', '"count": 2'))
        self.make("--force")
        self.assertIn('"count": 2', (self.out / "A" / "kept-fitting.json").read_text())

    def test_boards_keep_own_files_and_stay_alone_if_nothing_changed(self):
        self.job(straight("A"))
        self.made("nest", "job.toml", "--effort", "fill")
        (self.out / "boards" / "run.nc").write_text("G0")
        inode = (self.out / "boards").stat().st_ino
        self.made("nest", "job.toml", "--effort", "fill")
        self.assertEqual((self.out / "boards").stat().st_ino, inode)
        self.job(straight("A", 700))
        self.made("nest", "job.toml", "--effort", "fill")
        self.assertNotEqual((self.out / "boards").stat().st_ino, inode)
        self.assertEqual((self.out / "boards" / "run.nc").read_text(), "G0")

    def test_folders_that_only_look_like_results(self):
        self.job(straight("A"))
        self.make()
        good = (self.out / "A" / "fitting.json").read_text()
        for text in ("{}", "", "[1]", '{"format": 1, "tag": "A", "kind": "straight", "files": []}', "not json",
                     good.replace('"tag": "A"', '"tag": "B"')):
            shutil.rmtree(self.out / "A")
            (self.out / "A").mkdir()
            (self.out / "A" / "fitting.json").write_text(text)
            result = self.make("--force", code=3)
            self.assertIn("models-out/A: is in the way", result.stderr)
            self.assertEqual((self.out / "A" / "fitting.json").read_text(), text)

    def test_files_of_other_origin_beside_the_fittings(self):
        self.out.mkdir()
        for name in ("index.html", "totals.csv", "totals.json"):
            (self.out / name).write_text("a person's " + name)
        self.job(straight("A"))
        result = self.make(code=3)
        lines = [line for line in result.stderr.splitlines() if "is not of this program" in line]
        self.assertEqual(len(lines), 3, result.stderr)
        self.assertTrue(all("move it elsewhere" in line for line in lines))
        for name in ("index.html", "totals.csv", "totals.json"):
            self.assertEqual((self.out / name).read_text(), "a person's " + name)
            (self.out / name).unlink()
        self.assertTrue((self.out / "A" / "fitting.json").is_file())
        self.make()
        # ours, but changed since
        with open(self.out / "totals.csv", "a") as file:
            file.write("a remark\n")
        self.job(straight("A", 800))
        self.assertIn("totals.csv: is not of this program or was changed", self.make(code=3).stderr)
        self.assertIn("a remark", (self.out / "totals.csv").read_text())
        # the list itself
        (self.out / "totals.csv").unlink()
        (self.out / "made.json").write_text("{}")
        self.assertIn("made.json: is not the list that this program writes", self.make(code=2).stderr)
        self.assertEqual((self.out / "made.json").read_text(), "{}")

    def test_join_leaves_files_of_other_origin(self):
        self.job(straight("A"))
        self.make()
        (self.folder / "joined").mkdir()
        (self.folder / "joined" / "totals.csv").write_text("mine")
        result = self.made("join", "models-out", "--out", "joined", code=3)
        self.assertIn("joined/totals.csv: is not of this program", result.stderr)
        self.assertEqual((self.folder / "joined" / "totals.csv").read_text(), "mine")
        self.assertTrue((self.folder / "joined" / "totals.json").is_file())
        (self.folder / "joined" / "totals.csv").unlink()
        for _ in range(2):
            self.made("join", "models-out", "--out", "joined")

    def test_totals_and_page_are_of_the_whole_job(self):
        self.job(straight("A", 500), straight("B", 600), straight("C", 700))
        self.make("--only", "B")
        totals = self.totals()
        self.assertEqual([row["tag"] for row in totals["fittings"]], ["B"])
        self.assertEqual(totals["missing"], 2)
        self.assertIn("not made: nobody has asked for it yet", (self.out / "index.html").read_text())
        self.make()
        whole = (self.out / "totals.csv").read_bytes()
        self.assertAlmostEqual(self.totals()["sums"]["tape"], 1800)
        self.make("--only", "B")
        self.assertEqual((self.out / "totals.csv").read_bytes(), whole)
        # the job goes on, and only one of it is made again: the others are counted as made, and told to be older
        self.job(straight("A", 500), straight("B", 650), straight("C", 750))
        result = self.make("--only", "B")
        self.assertIn("with one fitting as made before the job was changed", result.stdout)
        totals = self.totals()
        self.assertEqual((totals["older"], totals["missing"], totals["left_out"]), (1, 0, 0))
        self.assertAlmostEqual(totals["sums"]["tape"], 500 + 650 + 700)
        self.assertEqual((self.out / "index.html").read_text().count("older than the job"), 1)
        self.make()
        self.assertEqual(self.totals()["older"], 0)
        self.assertNotIn("older than the job", (self.out / "index.html").read_text())
        rows = list(csv.DictReader((self.out / "totals.csv").read_text().splitlines()))
        self.assertAlmostEqual(float(rows[-1]["tape_m"]), 1.9)

    def test_check_names_what_the_job_has_left_behind(self):
        self.job(straight("A"), straight("B"))
        self.made("make", "job.toml", "--no-pages", "--nest", "--effort", "fill")
        self.assertNotIn("note:", self.made("check", "models-out").stdout)
        self.job(straight("A", 520), straight("C"))
        result = self.made("make", "job.toml", "--no-pages", "--only", "C")
        self.assertIn("B: is not of the job any more; its folder stays", result.stderr)
        self.assertIn("the boards are of another state of the job", result.stdout)
        text = self.run_program("check", "models-out").stdout
        self.assertIn("note: A: its files are of an older state of the job", text)
        self.assertIn("note: B: is no fitting of the job that was made here last", text)
        self.assertIn("note: boards: of another state of the job (changed since: A; not on them: C; not of the job any more: B)", text)
        self.assertTrue(self.totals()["boards_older"])
        self.made("make", "job.toml", "--no-pages", "--nest", "--effort", "fill")
        shutil.rmtree(self.out / "B")
        self.assertNotIn("note:", self.made("check", "models-out").stdout)
        # a thicker liner: every fitting and all boards are older
        self.job(straight("A", 520), straight("C"), head=HEAD.replace("25", "50"))
        self.made("make", "job.toml", "--no-pages")
        self.assertIn("note: boards: of another state", self.made("check", "models-out", code=1).stdout)

    def test_boards_of_a_part_of_the_job(self):
        self.job(straight("A"), straight("B"))
        self.made("nest", "job.toml", "--effort", "fill")
        before = {path: path.read_bytes() for path in (self.out / "boards").iterdir()}
        result = self.made("nest", "job.toml", "--effort", "fill", "--only", "A", code=2)
        self.assertIn("boards of a part of the job need a folder of their own", result.stderr)
        self.assertEqual({path: path.read_bytes() for path in (self.out / "boards").iterdir()}, before)
        self.made("nest", "job.toml", "--effort", "fill", "--only", "A", "--out", "again")
        self.assertTrue((self.folder / "again" / "boards" / "board-1.dxf").is_file())

    def test_fittings_by_flags(self):
        flags = ["--diameter", "300mm", "--length", "1m", "--liner", "25mm", "--patterns-only", "--no-pages"]
        self.made("make", "straight", "--tag", "X", *flags)
        self.made("make", "straight", "--tag", "Y", *flags)
        self.assertEqual([row["tag"] for row in self.totals()["fittings"]], ["X", "Y"])
        shutil.rmtree(self.out)
        self.job(straight("A"))
        self.make("--no-pages")
        before = (self.out / "totals.csv").read_bytes()
        result = self.made("make", "straight", "--tag", "X", *flags)
        self.assertIn("models-out holds the job job.toml", result.stderr)
        self.assertEqual((self.out / "totals.csv").read_bytes(), before)
        self.assertTrue((self.out / "X" / "fitting.json").is_file())

    def test_one_bad_fitting_ends_no_nest(self):
        bad = '[[fitting]]\ntag = "bad"\nkind = "straight"\ndiameter = 40\nlength = 500\n'
        self.job(straight("A"), bad)
        for command in (["nest", "job.toml", "--effort", "fill"],
                        ["make", "job.toml", "--patterns-only", "--nest", "--effort", "fill"]):
            result = self.made(*command, code=2)
            self.assertIn("bad", result.stderr)
            self.assertIn("linerwright: 1 not made", result.stderr)
            self.assertTrue((self.out / "boards" / "board-1.dxf").is_file())
            self.assertEqual(self.totals()["left_out"], 1)


if __name__ == "__main__":
    unittest.main()
