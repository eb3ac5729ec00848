"""The sheets of a whole job: what comes out of a printer, read and measured by other programs."""
import re
import subprocess
import zlib

from support import InFolder

JOB = """[job]
name = "Boathouse"
date = "2026-11-29"
units = "{units}"
[liner]
thickness = "1in"
[[stock]]
width = "48in"
length = "120in"
[[fitting]]
tag = "E-1"
kind = "elbow"
diameter = "24in"
angle = 90
pieces = 5
[[fitting]]
tag = "S-1"
kind = "elbow"
diameter = "6in"
angle = 45
pieces = 3
thickness = "0.5in"
[[fitting]]
tag = "L-1"
kind = "tee"
diameter = "24in"
length = "60in"
branch_diameter = "16in"
branch_length = "40in"
angle = 45
[[fitting]]
tag = "N-1"
kind = "reducer"
diameter = "24in"
to_diameter = "20in"
length = "18in"
collar = "4in"
pattern = "notched"
"""


class Sheets(InFolder):
    @classmethod
    def setUpClass(cls):
        """The sheets of the job on boards, which several tests read, are made once."""
        super().setUpClass()
        maker = cls()
        maker.setUp()
        cls.addClassCleanup(maker.doCleanups)
        cls.nested = maker.sheets("--nest", "--effort", "fill")

    def sheets(self, *arguments, units="in"):
        (self.folder / "job.toml").write_text(JOB.format(units=units))
        self.made("make", "job.toml", *arguments)
        return self.folder / "models-out" / "sheets.pdf"

    def text_of(self, pdf):
        return subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True).stdout

    def test_letters_are_seven_points_at_least(self):
        packed = self.nested.read_bytes()
        # pages are packed by deflate (ISO 32000-1, 7.4.4)
        pdf = b"\n".join(zlib.decompress(stream) for stream in re.findall(rb"stream\n(.*?)\n?endstream", packed, re.S))
        # Tf sets font and size of what follows (ISO 32000-1, 9.3.1); nothing scales the page
        self.assertNotIn(b" cm\n", pdf)
        sizes = [float(size) for size in re.findall(rb"/[RB] ([\d.]+) Tf", pdf)]
        self.assertGreater(len(sizes), 500)
        self.assertGreaterEqual(min(sizes), 7.0)

    def test_words_stay_on_the_page_and_clear_of_each_other(self):
        out = subprocess.run(["pdftotext", "-bbox", self.nested, "-"], capture_output=True, text=True, check=True).stdout
        seen = 0
        for page in re.split(r"<page ", out)[1:]:
            width, height = map(float, re.match(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
            boxes = []
            for found in re.finditer(r'xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)<', page):
                x0, y0, x1, y1 = map(float, found.groups()[:4])
                self.assertTrue(0 <= x0 and x1 <= width and 0 <= y0 and y1 <= height, found.group(0))
                # from the capitals' height to the baseline, without the font's room above and below
                boxes.append((x0 + 0.3, y0 + 0.3 * (y1 - y0), x1 - 0.3, y1 - 0.3 * (y1 - y0), found.group(5)))
            seen += len(boxes)
            for i, a in enumerate(boxes):
                for b in boxes[i + 1:]:
                    over = min(a[2], b[2]) > max(a[0], b[0]) and min(a[3], b[3]) > max(a[1], b[1])
                    self.assertFalse(over, f"{a} covers {b}")
        self.assertGreater(seen, 800)

    def test_a_fitting_takes_one_page(self):
        names = {"Boathouse": 0, "E-1": 0, "S-1": 0, "L-1": 0, "N-1": 0}
        pages = self.text_of(self.nested).split("\f")
        for page in pages:
            first = page.split(None, 1)[:1]
            if first and first[0] in names:
                names[first[0]] += 1
                # all of it stands on the page
                if first[0] != "Boathouse":
                    for words in ["How it goes in", "What is asked on site", "Patterns, to scale", "dust mask"]:
                        self.assertIn(words, page, first)
        self.assertEqual(set(names.values()), {1}, names)

    def test_it_holds_the_whole_job(self):
        text = self.text_of(self.nested)
        for words in ["Boathouse", "2026-11-29", "E-1", "S-1", "L-1", "N-1", "How it goes in", "board 1", "Totals",
                      "first end", "far end"]:
            self.assertIn(words, text)
        self.assertNotIn("no source", text)
        # the sharp lateral is told of, as everywhere else
        self.assertIn("67.5", text)

    def test_paper_and_units_are_as_asked_for(self):
        size = lambda pdf: subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
        self.assertIn("612 x 792", size(self.sheets()))
        pdf = self.sheets("--sheet-paper", "a4", "--sheet-units", "mm")
        self.assertRegex(size(pdf), r"595\.\d+ x 841\.\d+ pts")
        text = self.text_of(pdf)
        self.assertIn("diameter 609.6 mm", text)
        for page in text.split("\f"):
            if "How it goes in" in page:
                self.assertNotRegex(page, r"\d in\b")

    def test_a_roll_is_refused(self):
        (self.folder / "job.toml").write_text(JOB.format(units="in"))
        done = self.run_program("make", "job.toml", "--sheet-paper", "roll=36in")
        self.assertEqual(done.returncode, 2)
        self.assertIn("--sheet-paper", done.stderr)
        self.assertFalse((self.folder / "models-out").exists())

    def test_the_same_job_gives_the_same_bytes(self):
        first = self.sheets().read_bytes()
        (self.folder / "models-out" / "sheets.pdf").unlink()
        self.assertEqual(self.sheets("--jobs", "1").read_bytes(), first)
