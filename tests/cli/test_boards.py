"""The board at the table: what lies on it, its sheets and stickers, codes, and going on after a stop."""
import json
import math
import re
import subprocess
import unittest
import zlib

import ezdxf
import numpy

from board_jobs import elbow, inch_job, metric_job, straight, table, tee
from support import InFolder

FITTINGS = (straight("S", 300, 600, count=3), elbow(), tee())


def pdf_text(path, *flags):
    return subprocess.run(["pdftotext", *flags, str(path), "-"], capture_output=True, text=True, check=True).stdout


def lines_of(file, *layers):
    return [line for line in ezdxf.readfile(file).modelspace().query("LWPOLYLINE") if line.dxf.layer in layers]


def cut_lines(pdf):
    """What a board's sheet draws in the knife's colour, in points from the page's lower left corner; closed ones end where they begin."""
    found = []
    for stream in re.findall(rb"stream\n(.*?)\nendstream", pdf.read_bytes(), re.DOTALL):
        for drawn in re.findall(r"0\.122 0\.373 0\.545 RG [\d.]+ w 1 j\n((?:[-\d.]+ [-\d.]+ [ml]\n)+)([sS])", zlib.decompress(stream).decode("latin-1")):
            points = [tuple(map(float, line.split()[:2])) for line in drawn[0].splitlines()]
            found.append(points + points[:1] if drawn[1] == "s" else points)
    return found


def words_of(pdf):
    """Pages as their height and their words, each with left, top, right and bottom in points."""
    for page in pdf_text(pdf, "-bbox").split("<page ")[1:]:
        number = r'="([\d.]+)"'
        yield float(re.search("height" + number, page)[1]), [
            (w[5], tuple(map(float, w.groups()[:4])))
            for w in re.finditer(f"<word xMin{number} yMin{number} xMax{number} yMax{number}>(.*?)</word>", page)]


def meets(a, b, box):
    """Whether the straight piece from a to b has a part in the box (Liang and Barsky's clipping)."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        way = b[axis] - a[axis]
        for toward, room in ((-way, a[axis] - box[axis]), (way, box[axis + 2] - a[axis])):
            if toward == 0.0:
                if room < 0.0:
                    return False
            elif toward < 0.0:
                low = max(low, room / toward)
            else:
                high = min(high, room / toward)
    return low <= high


def has_inside(ring, p):
    return sum((a[1] > p[1]) != (b[1] > p[1]) and p[0] < a[0] + (p[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
               for a, b in zip(ring, ring[1:])) % 2 == 1


class Boards(InFolder):
    def setUp(self):
        super().setUp()
        self.boards = self.folder / "models-out" / "boards"

    def nest(self, *more, job=None):
        self.write("job.toml", job or metric_job(*FITTINGS, gap=4))
        return self.made("nest", "job.toml", "--effort", "fill", *more)

    def listed(self):
        return json.loads((self.boards / "boards.json").read_text())["boards"]

    def test_everything_drawn_lies_on_the_board(self):
        for job in (metric_job(*FITTINGS, gap=4, kerf_pitch=50), inch_job(straight("S", 24, 48, count=2)),
                    metric_job(straight("S", 387, 1219, count=1), gap=0), metric_job(*FITTINGS, edge_trim=40)):
            self.nest(job=job)
            for file, board in zip(sorted(self.boards.glob("board-*.dxf")), self.listed()):
                document = ezdxf.readfile(file)
                for line in document.modelspace().query("LWPOLYLINE"):
                    for x, y in line.get_points("xy"):
                        self.assertTrue(-0.01 <= x <= board["length"] + 0.01 and -0.01 <= y <= board["width"] + 0.01,
                                        (file.name, line.dxf.layer, x, y))
                self.assertIn("zero is the board's lower left corner, x runs along its length", file.read_text())

    def test_the_line_to_measure_keeps_clear_of_pieces_where_there_is_an_offcut(self):
        self.nest()
        for file, board in zip(sorted(self.boards.glob("board-*.dxf")), self.listed()):
            if not board["offcuts"]:
                continue
            for line in lines_of(file, "SCALE"):
                for x, y in line.get_points("xy"):
                    self.assertFalse(any(p["box"][0] < x < p["box"][2] and p["box"][1] < y < p["box"][3]
                                         for p in board["pieces"]), file.name)

    def test_boards_by_fitting_are_proved_to_be(self):
        # two boards complete a fitting each, beside parts of the long one that the last board completes
        job = metric_job(straight("A", 700, 1100, count=1), straight("B", 700, 2200, count=1), straight("C", 700, 1100, count=1),
                         gap=4) + '[boards]\nsequence = "by fitting"\n'
        self.nest(job=job)
        self.made("make", "job.toml", "--no-pages")
        self.made("check", "models-out")
        path = self.boards / "boards.json"
        data = json.loads(path.read_text())
        self.assertGreaterEqual(len(data["boards"]), 3)
        data["boards"].insert(0, data["boards"].pop())
        path.write_text(json.dumps(data))
        result = self.run_program("check", "models-out")
        self.assertEqual(result.returncode, 1)
        self.assertIn("would complete more fittings than board 1", result.stdout)

    def test_a_sheet_for_each_board(self):
        self.nest()
        boards = self.listed()
        for number, board in enumerate(boards, 1):
            page = pdf_text(self.boards / f"board-{number}.pdf", "-layout")
            self.assertIn(f"board {number} of {len(boards)}", page)
            self.assertIn(board["stock"], page)
            self.assertIn("duct face up", page)
            self.assertIn("Zero is the board's lower left corner", page)
            self.assertRegex(page, r"knife [\d.]+ m, about \d+:\d\d min")
            for order, piece in enumerate(board["pieces"], 1):
                self.assertIn(f"{piece['tag']}/{piece['piece']}", page)
        self.assertIn("makes 1, 2, 3, 4, 5", pdf_text(self.boards / "jobsheet.pdf", "-layout"))
        self.assertNotIn(b"Tj ET", (self.boards / "jobsheet.pdf").read_bytes())  # compressed
        self.made("make", "job.toml", "--nest", "--effort", "fill", "--patterns-only")
        page = (self.folder / "models-out" / "index.html").read_text()
        self.assertIn("board-1.pdf", page)
        self.assertIn("x runs along its length", page)

    def test_names_stand_inside_their_pieces(self):
        # strips of a collar's height, of a long name, and a small branch
        self.nest(job=metric_job('[[fitting]]\ntag = "R-1"\nkind = "reducer"\ndiameter = 600\nto_diameter = 500\nlength = 450\ncollar = 90\n'
                                 'thickness = 25\n', tee(), elbow(),
                                 '[[fitting]]\ntag = "T-9"\nkind = "tee"\ndiameter = 400\nlength = 500\nbranch_diameter = 120\nbranch_length = 270\n'
                                 'thickness = 25\n', gap=4))
        inside = 0
        for number, board in enumerate(self.listed(), 1):
            file = self.boards / f"board-{number}.pdf"
            cuts = cut_lines(file)
            names = [f"{piece['tag']}/{piece['piece']}" for piece in board["pieces"]]
            for page_height, words in words_of(file):
                for word, (left, top, right, bottom) in words:
                    if word not in names:  # those of the list below have a comma behind them
                        continue
                    low, high = page_height - bottom, page_height - top
                    crossed = [cut for cut in cuts for a, b in zip(cut, cut[1:]) if meets(a, b, (left, low, right, high))]
                    self.assertEqual(crossed, [], (number, word))
                    inside += any(has_inside(cut, (0.5 * (left + right), 0.5 * (low + high))) for cut in cuts)
        self.assertGreater(inside, 5)
        # a strip too low for its number has it beside it, at the end of a line
        self.nest(job=metric_job(straight("S", 300, 25), gap=4))
        page = b"".join(zlib.decompress(s) for s in re.findall(rb"stream\n(.*?)\nendstream", (self.boards / "board-1.pdf").read_bytes(), re.DOTALL))
        self.assertRegex(page, rb"0 0 0 RG 0\.4 w 1 j\n[-\d. ]+ m\n[-\d. ]+ l\nS\nBT /B 7 Tf [-\d. ]+ Td \(1\) Tj")

    def test_stickers(self):
        self.nest()
        pieces = [p for board in self.listed() for p in board["pieces"]]
        text = pdf_text(self.boards / "stickers.pdf")
        self.assertEqual(len(re.findall(r"board \d+, piece \d+", text)), len(pieces))
        for piece in pieces:
            self.assertIn(f"{piece['tag']}/{piece['piece']}", text)
        # sheets by keys: one below the other on letter, four of 60 mm to a sheet
        self.nest(job=metric_job(*FITTINGS, gap=4) + table("[stickers]", paper="letter", width=200, height=60))
        info = subprocess.run(["pdfinfo", self.boards / "stickers.pdf"], capture_output=True, text=True).stdout
        self.assertIn("(letter)", info)
        self.assertIn(f"Pages:           {math.ceil(len(pieces) / 4)}\n", info)
        self.write("job.toml", metric_job(*FITTINGS) + table("[stickers]", width=215))
        self.assertIn("not one sticker fits", self.made("nest", "job.toml", code=2).stderr)

    def test_going_on_after_a_stop(self):
        self.nest("--text", "entities")
        board = max(range(len(self.listed())), key=lambda b: len(self.listed()[b]["pieces"]))
        pieces = self.listed()[board]["pieces"]
        whole = lines_of(self.boards / f"board-{board + 1}.dxf", "CUT")
        before = {p.name: p.read_bytes() for p in self.boards.iterdir()}
        for piece in (1, len(pieces)):
            self.made("nest", "job.toml", "--go-on", f"{board + 1}/{piece}")
            rest = self.folder / "models-out" / "again" / f"board-{board + 1}-from-{piece}.dxf"
            self.assertFalse(ezdxf.readfile(rest).audit().errors)
            cuts = lines_of(rest, "CUT")
            made = pieces[piece - 2]["cuts"] if piece > 1 else 0
            self.assertEqual([list(c.get_points("xy")) for c in cuts], [list(c.get_points("xy")) for c in whole[made:]])
            self.assertGreaterEqual(len(cuts), 1)
            self.assertFalse(lines_of(rest, "MARK", "LABEL"))
        # what is left holds the last piece's outline, whole
        box = pieces[-1]["box"]
        xs = [x for c in cuts for x, _ in c.get_points("xy")]
        self.assertAlmostEqual(min(xs), box[0], 2)
        self.assertEqual({p.name: p.read_bytes() for p in self.boards.iterdir()}, before)
        for stop, words in (("99/1", "there is no such board"), (f"{board + 1}/99", "no such piece"), ("x", "names no piece")):
            self.assertIn(words, self.made("nest", "job.toml", "--go-on", stop, code=2).stderr)

    def test_codes_read_back_at_every_width_of_pen(self):
        for pen in (0.2, 0.3, 0.5, 0.7, 1.0, 1.5, 2.0):
            self.nest("--qr", job=metric_job(straight("S", 500, 900, count=2), gap=4) + table("[boards]", pen_width=pen))
            found = set()
            for file, board in zip(sorted(self.boards.glob("board-*.dxf")), self.listed()):
                lines = [numpy.array([p[:2] for p in line.get_points("xy")]) for line in lines_of(file, "LABEL")]
                flat = [line for line in lines if len(line) == 2 and line[0][1] == line[1][1]]
                for x0, y0, x1, y1 in (piece["box"] for piece in board["pieces"]):
                    found |= self.read_codes([a for a in flat if x0 < a[0][0] < x1 and y0 < a[0][1] < y1], pen)
            self.assertEqual(found - {""}, {"S|1|1/2", "S|1|2/2"}, f"pen of {pen} mm")

    def read_codes(self, lines, pen, scale=6):
        """The codes that zbar finds where a pen has drawn the lines."""
        scale /= max(1.0, pen)  # pixels to a millimetre
        low = numpy.min([line.min(axis=0) for line in lines], axis=0) - 10 * pen - 5
        high = numpy.max([line.max(axis=0) for line in lines], axis=0) + 10 * pen + 5
        width, height = (numpy.ceil((high - low) * scale)).astype(int)
        image = numpy.full((height, width), 255, dtype=numpy.uint8)
        reach = pen / 2
        for (x0, y), (x1, _) in lines:
            x0, x1 = min(x0, x1), max(x0, x1)
            i0, i1 = int((x0 - reach - low[0]) * scale), int((x1 + reach - low[0]) * scale) + 1
            k0, k1 = int((high[1] - y - reach) * scale), int((high[1] - y + reach) * scale) + 1
            px = low[0] + (numpy.arange(i0, i1) + 0.5) / scale
            py = high[1] - (numpy.arange(k0, k1) + 0.5) / scale
            dx = numpy.maximum(0, numpy.maximum(x0 - px, px - x1))
            inside = dx[None, :] ** 2 + (py[:, None] - y) ** 2 <= reach ** 2
            image[k0:k1, i0:i1][inside] = 0
        path = self.folder / "codes.pgm"
        path.write_bytes(b"P5 %d %d 255\n" % (width, height) + image.tobytes())
        read = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", str(path)],
                              capture_output=True, text=True)
        return set(read.stdout.split("\n"))


if __name__ == "__main__":
    unittest.main()
