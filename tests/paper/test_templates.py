"""Templates at full size: what comes out of a printer, measured."""
import re
import subprocess
import xml.etree.ElementTree

import ezdxf
import numpy

from support import InFolder, drawn

MARGIN, HEAD, OVERLAP = 10.0, 22.0, 10.0  # mm, as the first sheet and src/paper/tiles.hpp state them
PIECE = ["elbow", "--diameter", "400mm", "--angle", "90", "--pieces", "4", "--liner", "25mm"]


def pages_of(pdf):
    """(width, height) of each page in mm."""
    out = subprocess.run(["pdfinfo", "-l", "1000", pdf], capture_output=True, text=True, check=True).stdout
    return [(float(w) / 72 * 25.4, float(h) / 72 * 25.4)
            for w, h in re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+) pts", out)]


def bookmarks_of(pdf):
    """Names of the pages, as a reader's side panel shows them."""
    out = subprocess.run(["pdftohtml", "-xml", "-i", "-stdout", pdf], capture_output=True, check=True).stdout
    outline = xml.etree.ElementTree.fromstring(out.decode()).find("outline")
    return [item.text for item in outline.iter("item")]


def rendered(pdf, page, dpi):
    """Grey values of a page, row 0 at the top; no smoothing, so that colours stay what they are."""
    out = subprocess.run(["pdftoppm", "-gray", "-aaVector", "no", "-aa", "no", "-r", str(dpi), "-f", str(page), "-l",
                          str(page), pdf], capture_output=True, check=True).stdout
    _, size, _, pixels = out.split(b"\n", 3)
    width, height = map(int, size.split())
    return numpy.frombuffer(pixels, numpy.uint8, width * height).reshape(height, width)


def runs(image, shortest, longest):
    """(row, start, length) of the dark runs in the rows that are so long, in pixels."""
    found = []
    for row in numpy.flatnonzero((image < 160).sum(axis=1) >= shortest):
        dark = numpy.concatenate(([0], (image[row] < 160).astype(numpy.int8), [0]))
        edges = numpy.flatnonzero(numpy.diff(dark))
        for start, end in zip(edges[::2], edges[1::2]):
            if shortest <= end - start <= longest:
                found.append((row, start, end - start))
    return found


def distances(image, dpi):
    """Distances in mm between the two long lines of each square on a page, from middle to middle of the lines."""
    mm = dpi / 25.4
    found = []
    lines = {}
    for row, start, length in runs(image, 99.5 * mm, 100.7 * mm):
        # a line is some rows thick
        for (first, begin), rows in lines.items():
            if abs(begin - start) <= 3 and row - rows[-1] <= 1:
                rows.append(row)
                break
        else:
            lines[(row, start)] = [row]
    middles = sorted((begin, sum(rows) / len(rows)) for (_, begin), rows in lines.items())
    for (begin, low), (other, high) in zip(middles, middles[1:]):
        if abs(begin - other) <= 3:
            found.append((high - low) / mm)
    return found


class Templates(InFolder):
    def templates(self, paper, *arguments, tag="E-1"):
        self.made("make", *arguments, "--tag", tag, "--templates", paper, "--patterns-only", "--no-pages")
        folder = self.folder / "models-out" / tag
        return folder / f"{tag}-templates.pdf", folder

    def test_the_square_is_100_mm_both_ways_on_every_sheet(self):
        dpi = 400  # a pixel is 0.0635 mm
        for paper, units in drawn([("a4", "mm"), ("letter", "in")]):
            pdf, _ = self.templates(paper, *PIECE, "--units", units, tag="E-" + units)
            count = len(pages_of(pdf))
            self.assertGreater(count, 8)
            for page in [1, 2, count // 2, count]:
                image = rendered(pdf, page, dpi)
                for way, name in [(image, "high"), (image.T, "wide")]:
                    measured = distances(way, dpi)
                    self.assertEqual(len(measured), 1, f"{paper} page {page} {name}: {measured}")
                    self.assertAlmostEqual(measured[0], 100.0, delta=0.1, msg=f"{paper} page {page} {name}")

    def test_pages_have_the_size_of_the_paper(self):
        for paper, size in drawn([("a4", (210, 297)), ("a3", (297, 420)), ("letter", (215.9, 279.4)), ("tabloid", (279.4, 431.8))]):
            pdf, _ = self.templates(paper, *PIECE)
            for page in pages_of(pdf):
                for got, wanted in zip(sorted(page), size):
                    self.assertAlmostEqual(got, wanted, delta=0.1, msg=paper)

    def test_a_roll_takes_one_sheet_a_piece(self):
        pdf, _ = self.templates("roll=36in", *PIECE)
        pages = pages_of(pdf)
        self.assertEqual(len(pages), 1 + 4)
        for width, _ in pages:
            self.assertAlmostEqual(width, 914.4, delta=0.1)
        # the pieces are pi 400 less 19.05 mm around, laid along the roll
        for _, height in pages[1:]:
            self.assertAlmostEqual(height, 3.14159265 * 400 - 19.05 + 2 * MARGIN + HEAD + OVERLAP, delta=0.1)

    def sheets_of(self, pdf, piece):
        """Column, row, page number of the sheets of a piece, from 0, and the number of columns and rows."""
        sheets = []
        for page, name in enumerate(bookmarks_of(pdf), 1):
            found = re.fullmatch(re.escape(piece) + r", sheet ([A-Z])(\d+)", name)
            if found:
                sheets.append((ord(found[1]) - ord("A"), int(found[2]) - 1, page))
        return sheets, max(s[0] for s in sheets) + 1, max(s[1] for s in sheets) + 1

    def test_sheets_laid_together_are_the_pattern(self):
        dpi = 200
        mm = dpi / 25.4
        cases = [(PIECE, "2"),
                 (["tee", "--diameter", "300mm", "--length", "700mm", "--branch-diameter", "200mm", "--branch-length",
                   "400mm", "--angle", "60", "--liner", "25mm"], "body")]
        for arguments, piece in drawn(cases):
            pdf, folder = self.templates("a4", *arguments, tag="E-" + piece)
            pages = pages_of(pdf)
            sheets, columns, rows = self.sheets_of(pdf, piece)
            width, height = pages[sheets[0][2] - 1]
            cell = (width - 2 * MARGIN - OVERLAP, height - 2 * MARGIN - HEAD - OVERLAP)
            # what the knife would follow, as dense points
            cut = [[point[:2] for point in line.get_points("xy")] for line in
                   ezdxf.readfile(folder / f"E-{piece}-{piece}.dxf").modelspace().query('LWPOLYLINE[layer=="CUT"]')]
            points = []
            for line in cut:
                ring = numpy.array(line + line[:1])
                for a, b in zip(ring, ring[1:]):
                    steps = max(2, int(numpy.hypot(*(b - a)) / 0.05))
                    points.append(a + (b - a) * numpy.linspace(0, 1, steps)[:, None])
            points = numpy.concatenate(points)
            low, high = points.min(axis=0), points.max(axis=0)
            left = (low[0] + high[0] - columns * cell[0]) / 2
            top = (low[1] + high[1] + rows * cell[1]) / 2
            seen = missed = 0
            for column, row, page in sheets:
                black = rendered(pdf, page, dpi) == 0
                origin = (left + column * cell[0] - MARGIN - OVERLAP / 2,
                          top - (row + 1) * cell[1] - MARGIN - OVERLAP / 2)
                inside = points[(points[:, 0] > origin[0] + MARGIN) & (points[:, 0] < origin[0] + width - MARGIN) &
                                (points[:, 1] > origin[1] + MARGIN) &
                                (points[:, 1] < origin[1] + height - MARGIN - HEAD)]
                wanted = numpy.zeros_like(black)
                x = ((inside[:, 0] - origin[0]) * mm).astype(int)
                y = ((height - (inside[:, 1] - origin[1])) * mm).astype(int)
                wanted[numpy.clip(y, 0, black.shape[0] - 1), numpy.clip(x, 0, black.shape[1] - 1)] = True
                # only the pattern's window: words stand above it
                window = numpy.zeros_like(black)
                window[int((MARGIN + HEAD) * mm) + 2:int((height - MARGIN) * mm) - 2,
                       int(MARGIN * mm) + 2:int((width - MARGIN) * mm) - 2] = True
                near = grown(black, 2)
                self.assertTrue(numpy.all(near[wanted & window]), f"{piece} page {page}: a line is missing")
                extra = black & window & ~grown(wanted, 4)
                self.assertEqual(int(extra.sum()), 0, f"{piece} page {page}: ink beside the lines")
                seen += int((wanted & window).sum())
                missed += int((black & window).sum())
            self.assertGreater(seen, 10000)
            self.assertGreater(missed, 10000)
            # every point of the cut lies on some sheet's own cell
            cells = {(column, row) for column, row, _ in sheets}
            for x, y in points[::50]:
                column = min(columns - 1, max(0, int((x - left) / cell[0])))
                row = min(rows - 1, max(0, int((top - y) / cell[1])))
                self.assertIn((column, row), cells)

    def test_tags_are_kept_as_written(self):
        for tag in ['A"1\'', "<b>&amp;<script>", "\u05e9\u05dc\u05d5\u05dd 5", "\u00e9t\u00e9 (2)", ")Tj (("]:
            self.made("make", *PIECE, "--tag", tag, "--templates", "roll=36in", "--patterns-only", "--no-pages", "--out",
                      "tags")
            pdf, = (self.folder / "tags").glob("*/*-templates.pdf")
            out = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
            self.assertEqual(re.search(r"Title: +(.*)", out)[1], tag)
            self.assertEqual(len(pages_of(pdf)), 5)
            self.assertGreater(int((rendered(pdf, 1, 50) < 160).sum()), 1000)
            for path in sorted((self.folder / "tags").rglob("*"), reverse=True):
                path.rmdir() if path.is_dir() else path.unlink()

    def test_the_same_input_gives_the_same_bytes(self):
        first = self.templates("a3", *PIECE)[0].read_bytes()
        self.made("make", *PIECE, "--tag", "E-1", "--templates", "a3", "--patterns-only", "--no-pages", "--force")
        self.assertEqual((self.folder / "models-out/E-1/E-1-templates.pdf").read_bytes(), first)
        # another paper is another result, and stays where a later run asks for none
        second = self.templates("a4", *PIECE)[0].read_bytes()
        self.assertNotEqual(second, first)
        self.made("make", *PIECE, "--tag", "E-1", "--patterns-only", "--no-pages")
        self.assertEqual((self.folder / "models-out/E-1/E-1-templates.pdf").read_bytes(), second)

    def test_too_many_sheets_are_refused_in_one_line(self):
        result = self.made("make", "straight", "--diameter", "3500mm", "--length", "4m", "--tag", "big", "--liner", "25mm",
                           "--templates", "a4", "--patterns-only", "--cut-only", code=2)
        lines = result.stderr.strip().split("\n")
        self.assertIn("--templates = a4", lines[0])
        self.assertIn("at most 400 sheets", lines[0])
        self.assertFalse((self.folder / "models-out" / "big").exists())
        # over 10 m around on a roll: several lengths of it
        pdf, _ = self.templates("roll=36in", "straight", "--diameter", "3500mm", "--length", "800mm", "--liner", "25mm")
        pages = pages_of(pdf)
        self.assertEqual(len(pages), 1 + 3)
        self.assertTrue(all(height < 5080 for _, height in pages))

    def test_paper_that_is_none_is_refused(self):
        for paper in ["a5", "roll=36", "roll=5in"]:
            result = self.made("make", *PIECE, "--tag", "E-1", "--templates", paper, code=2)
            self.assertEqual(len(result.stderr.strip().split("\n")), 1)
            self.assertIn("--templates = " + paper, result.stderr)

    def test_png_on_request(self):
        self.made("make", *PIECE, "--tag", "E-1", "--png")
        folder = self.folder / "models-out/E-1"
        names = {path.stem for path in folder.glob("*.png")}
        self.assertEqual(names, {path.stem for path in folder.glob("*.svg")})
        self.assertEqual(names, {"E-1", "E-1-1", "E-1-2", "E-1-3", "E-1-4", "E-1-blank"})


def grown(mask, pixels):
    """The mask with everything that near to it."""
    for axis in (0, 1):
        wide = mask.copy()
        for step in range(1, pixels + 1):
            wide |= numpy.roll(mask, step, axis) | numpy.roll(mask, -step, axis)
        mask = wide
    return mask


class Fewer(InFolder):
    ELBOW = ["elbow", "--diameter", "24in", "--angle", "90", "--pieces", "5", "--liner", "1in", "--patterns-only"]

    def templates(self, *arguments, out):
        done = self.run_program("make", *self.ELBOW, "--tag", "E-1", "--templates", "letter", "--out", out, *arguments)
        self.assertEqual(done.returncode, 0, done.stderr)
        return self.folder / out / "E-1" / "E-1-templates.pdf", done.stderr

    def test_many_sheets_are_told_before_they_are_written(self):
        pdf, told = self.templates(out="whole")
        sheets = len(pages_of(pdf)) - 1  # beside the map
        self.assertGreater(sheets, 24)
        self.assertIn(f"E-1: note: its templates take {sheets} sheets of Letter; it would be ", told)
        roll = self.run_program("make", *self.ELBOW, "--tag", "E-1", "--templates", "roll=36in", "--out", "roll")
        strips = len(pages_of(self.folder / "roll" / "E-1" / "E-1-templates.pdf")) - 1
        self.assertNotIn("note", roll.stderr)
        self.assertIn(f"{strips} of a roll 36in wide", told)

    def test_pieces_cut_alike_are_drawn_once(self):
        # the second and the fourth gore have the same mitres and the same seam; no other two have both
        pdf, _ = self.templates(out="whole")
        drawn = {name.split(",")[0] for name in bookmarks_of(pdf)[1:]}
        self.assertEqual(drawn, {"1", "2", "3", "5"})

    def test_half_a_gore_is_half_as_wide(self):
        whole, told = self.templates(out="whole")
        half, _ = self.templates("--templates-half", out="half")
        sheets = len(pages_of(half)) - 1
        self.assertIn(f"{sheets} as half patterns", told)
        # 74.65 in around on sheets of 7.1 in by 8.6 in: half of it takes somewhat more than half the sheets
        self.assertLess(sheets, 0.65 * (len(pages_of(whole)) - 1))
        self.assertGreaterEqual(sheets, 0.45 * (len(pages_of(whole)) - 1))
