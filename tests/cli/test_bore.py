"""The bore report of a whole job against NumPy: areas, air, friction by quadrature, coefficients, sums, and what is refused."""
import csv
import io
import json
import math
import re
import subprocess
import unittest
import zlib

import numpy as np

from support import InFolder, drawn

JOB = """[job]
name = "Slip, supply air"
units = "mm"
date = "3 May, spring tide"
[liner]
thickness = 25
[air]
temperature = "40 C"
altitude = "5000 ft"
humidity = "30 %"
fan_efficiency = 0.6
least_share = "60 %"
flow = "1 m3/s"
[[fitting]]
tag = "S"
kind = "straight"
diameter = 500
length = 3000
count = 4
upstream = "metal"
[[fitting]]
tag = "E"
kind = "elbow"
diameter = 500
angle = 90
pieces = 5
[[fitting]]
tag = "T"
kind = "tee"
diameter = 500
length = 1500
branch_diameter = [250, 200]
branch_length = 500
position = [500, 1000]
around = [0, 180]
branch_flow = ["0.2 m3/s", "-0.1 m3/s"]
surface = "faced"
[[fitting]]
tag = "R"
kind = "reducer"
diameter = 400
to_diameter = 500
length = 400
collar = 100
to_collar = 100
loss_coefficient = 0.5
"""


def air():
    """U.S. Standard Atmosphere 1976, Magnus (WMO-No. 8), Dalton, Sutherland, at 40 C, 5000 ft and 30 %."""
    kelvin, height = 313.15, 5000 * 0.3048
    pressure = 101325 * (1 - 0.0065 * height / 288.15)**(9.80665 * 28.9644 / (8314.32 * 0.0065))
    vapour = 0.3 * 611.2 * math.exp(17.62 * 40 / (243.12 + 40))
    density = ((pressure - vapour) * 28.9644 + vapour * 18.01528) / (8314.32 * kelvin)
    return density, 1.458e-6 * kelvin**1.5 / (kelvin + 110.4) / density


DENSITY, VISCOSITY = air()


def friction(diameter, flow, roughness):
    """Pa per metre, arrays allowed: Colebrook by iteration, Darcy and Weisbach. Metres."""
    velocity = flow / (np.pi / 4 * diameter**2)
    reynolds = velocity * diameter / VISCOSITY
    x = np.full_like(np.asarray(diameter, float), 7.0)
    for _ in range(100):
        x = -2 * np.log10(roughness / diameter / 3.7 + 2.51 * x / reynolds)
    return DENSITY * velocity**2 / 2 / diameter / x**2


def dynamic(diameter, flow):
    return DENSITY / 2 * (flow / (math.pi / 4 * diameter**2))**2


class Bore(InFolder):
    def report(self, *arguments, text=JOB, code=0):
        self.write("job.toml", text)
        result = self.run_program("bore", "job.toml", "--json", *arguments)
        self.assertEqual(result.returncode, code, result.stderr)
        data = json.loads(result.stdout)
        return {(row["tag"], row["passage"]): row for row in data["rows"]}, data

    def test_air(self):
        _, data = self.report()
        self.assertAlmostEqual(data["air"]["density"], DENSITY, delta=2e-5)
        self.assertAlmostEqual(data["air"]["viscosity"] / VISCOSITY, 1, delta=2e-5)
        self.assertIn("5000 ft", data["air"]["basis"])

    def test_every_loss(self):
        rows, _ = self.report()

        def near(found, expected):
            self.assertAlmostEqual(found / expected, 1, delta=5e-5)

        straight = rows["S", "through"]
        entry = 0.5 * (1 - 0.81)**0.75 * dynamic(0.45, 1)
        near(straight["loss"], 3 * friction(0.45, 1, 0.9e-3) + entry)
        near(straight["loss_bare"], 3 * friction(0.5, 1, 0.09e-3))
        self.assertEqual(straight["notes"], [straight["nosing"]])
        self.assertIn("bare metal comes before this lining", straight["nosing"])
        for tag, passage in [("E", "through"), ("T", "body"), ("T", "branch2"), ("R", "through")]:
            self.assertIn("upstream does not say", rows[tag, passage]["nosing"], tag)
        self.assertEqual(rows["T", "branch1"]["nosing"], "", "it comes out of the lined body")

        # four mitres are less in sum than the smooth bend they near, 0.21 / sqrt(R/D) with Re and roughness
        elbow = rows["E", "through"]
        s2 = math.sin(math.radians(90 / 8))**2
        length = 8 * 0.75 * math.tan(math.radians(90 / 8))
        for side, bore, rough in [("loss_bare", 0.5, 0.09e-3), ("loss", 0.45, 0.9e-3)]:
            reynolds = 1 / (math.pi / 4 * bore) / VISCOSITY
            self.assertGreater(reynolds, 4e4)
            self.assertLess(reynolds, 2e5)
            wall = min(2.0, float(friction(bore, 1, rough) / friction(bore, 1, 0.0)))
            smooth = 0.21 / math.sqrt(0.75 / bore) * max(1.0, 11.5 / reynolds**0.19) * wall
            mitres = 4 * (0.9457 * s2 + 2.047 * s2 * s2)
            self.assertGreater(smooth, mitres)
            near(elbow[side], length * friction(bore, 1, rough) + smooth * dynamic(bore, 1))

        # a body of three legs: 1, 0.8 and 0.9 m3/s; run coefficients 0.4 q^2 and 1.55 q - q^2
        for side, bore, rough in [("loss_bare", 0.5, 0.09e-3), ("loss", 0.45, 1.524e-3)]:
            legs = 0.5 * sum(friction(bore, flow, rough) for flow in [1.0, 0.8, 0.9])
            q = 0.1 / 0.9
            near(rows["T", "body"][side],
                 legs + 0.4 * 0.2**2 * dynamic(bore, 1.0) + (1.55 * q - q * q) * dynamic(bore, 0.9))
        leaves = rows["T", "branch1"]
        x = 0.2 / (200 / 450)**2
        near(leaves["losses"]["lined"]["parts"][0]["pressure"], (1 + x * x) * dynamic(0.45, 1))
        joins = rows["T", "branch2"]
        q, ratio = 0.1 / 0.9, (150 / 450)**2
        near(joins["losses"]["lined"]["parts"][0]["pressure"],
             (1 + (q / ratio)**2 - 2 * (1 - q)**2) * dynamic(0.45, 0.9))
        self.assertEqual([station["flow"] for station in rows["T", "body"]["stations"]], [1, 0.8, 0.9, 0.9])

        # the reducer widens: quadrature over its lined cone, the designer's coefficient on p_v where it is narrowest
        reducer = rows["R", "through"]
        half = math.atan(50 / 400)
        walk = 25 * math.tan(half / 2)
        z = np.linspace(0, 1, 20001)
        cone = (350 + (450 - 350) * z) * 1e-3
        values = friction(cone, 1, 0.9e-3)
        taper = (values[:-1] + values[1:]).sum() / 2 * (z[1] - z[0]) * 0.4
        # the air face's corners lie t tan(half angle / 2) further on than the metal's, at either end
        ends = (100 + walk) * 1e-3 * friction(0.35, 1, 0.9e-3) + (100 - walk) * 1e-3 * friction(0.45, 1, 0.9e-3)
        near(reducer["losses"]["lined"]["friction"], taper + ends)
        part = reducer["losses"]["lined"]["parts"]
        self.assertEqual([p["given"] for p in part], [True])
        near(part[0]["pressure"], 0.5 * dynamic(0.35, 1))

    def test_sums(self):
        rows, data = self.report()
        sums = {s["kind"]: s for s in data["sums"]}
        self.assertEqual(list(sums), ["straight", "elbow", "tee", "reducer", ""])
        self.assertAlmostEqual(sums["straight"]["loss"], 4 * rows["S", "through"]["loss"], places=4)
        self.assertAlmostEqual(sums["straight"]["fan_power"], 4 * rows["S", "through"]["loss"] / 0.6, places=4)
        total = sum(row["count"] * row["loss"] for row in rows.values())
        self.assertAlmostEqual(sums[""]["loss"], total, places=4)
        self.assertEqual(sums[""]["fittings"], 7)

    def test_csv_says_the_same(self):
        rows, _ = self.report()
        table = list(csv.DictReader(io.StringIO(self.made("bore", "job.toml", "--csv").stdout)))
        self.assertEqual(len(table), len(rows))
        for line in table:
            row = rows[line["tag"], line["passage"]]
            self.assertAlmostEqual(float(line["loss [Pa]"]), row["loss"], delta=1e-5)
            self.assertAlmostEqual(float(line["loss_bare [Pa]"]), row["loss_bare"], delta=1e-5)
            self.assertAlmostEqual(float(line["roughness [mm]"]), row["roughness"], places=5)
            self.assertIn("5000 ft", line["air_from"])
        self.assertIn("default", table[1]["loss_coefficients"])
        self.assertIn("0.5 (given)", table[-1]["loss_coefficients"])

    def test_table_marks_defaults_and_names_sources(self):
        self.write("job.toml", JOB)
        table = self.made("bore", "job.toml").stdout
        for words in ["* a published formula", "Weisbach", "Idelchik", "as if all stood in one line", "No sum holds",
                      "roughness of the lined bore 1.524 mm: faced", "0.9 mm: default", "under the least of 60 %",
                      "what the figures rest on", "The licensed designer and local codes decide"]:
            self.assertIn(words, table)

    def test_what_contradicts_itself_is_one_line(self):
        for old, new, words in [
            ('humidity = "30 %"', 'density = 1.1', "give only one"),
            ('humidity = "30 %"', 'pressure = "90 kPa"', "give only one"),
            ('humidity = "30 %"', 'humidity = "130 %"', "too large"),
            ('temperature = "40 C"', 'temperature = "90 C"', "-45 to 60 C"),
            ('surface = "faced"', 'surface = "faced"\nroughness = 2', "give only one"),
            ('branch_flow = ["0.2 m3/s", "-0.1 m3/s"]', 'branch_flow = "0.2 m3/s"', "values for 2 branches"),
        ]:
            self.assertIn(old, JOB)
            self.write("job.toml", JOB.replace(old, new))
            result = self.run_program("bore", "job.toml")
            self.assertEqual(result.returncode, 2, words)
            self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)
            self.assertIn(words, result.stderr)
            self.assertIn("job.toml:", result.stderr)

    def test_make_tells_and_makes_all_the_same(self):
        """What contradicts itself in the air ends make with 2, as bore; air over the limit is a warning in the report."""
        self.write("job.toml", JOB.replace('humidity = "30 %"', "density = 1.1"))
        result = self.run_program("make", "job.toml", "--patterns-only", "--no-sync")
        self.assertEqual(result.returncode, 2)
        self.assertIn("give only one", result.stderr)
        self.assertTrue((self.folder / "models-out" / "T" / "fitting.json").exists())
        # a figure that cannot be given is told, and is no failure of what was made
        self.write("rough.toml", '[job]\nname = "Rough"\nunits = "mm"\n[liner]\nthickness = 25\nroughness = 40\n'
                   '[[fitting]]\ntag = "S"\nkind = "straight"\ndiameter = 100\nlength = 1000\nflow = "0.01 m3/s"\n')
        result = self.run_program("make", "rough.toml", "--patterns-only", "--no-sync", "--out", "rough")
        self.assertEqual(result.returncode, 0, result.stderr)
        self.assertIn("no friction can be given", result.stderr)
        self.assertEqual(self.run_program("bore", "rough.toml").returncode, 2)
        self.write("fast.toml", JOB.replace('flow = "1 m3/s"', 'flow = "6 m3/s"'))
        result = self.run_program("make", "fast.toml", "--patterns-only", "--no-sync", "--out", "fast")
        self.assertEqual(result.returncode, 0, result.stderr)
        self.assertIn("OVER LIMIT", result.stdout)
        self.assertIn("its surface may erode", (self.folder / "fast" / "bore.html").read_text())
        self.assertEqual(self.run_program("bore", "fast.toml").returncode, 1)

    def test_both_systems_of_units_say_the_same(self):
        text = JOB.replace('units = "mm"', 'units = "in"').replace("thickness = 25\n", 'thickness = "25mm"\n')
        for key in ["diameter", "length", "branch_length", "to_diameter", "collar", "to_collar"]:
            text = "\n".join(f'{key} = "{line.split()[2]}mm"' if line.startswith(key + " =") and "[" not in line else line
                             for line in text.splitlines())
        text = text.replace("[250, 200]", '["250mm", "200mm"]').replace("[500, 1000]", '["500mm", "1000mm"]')
        inches, _ = self.report(text=text)
        metric, _ = self.report()
        for key, row in metric.items():
            self.assertAlmostEqual(inches[key]["loss"], row["loss"], places=5)
        self.write("job.toml", text)
        table = list(csv.DictReader(io.StringIO(self.made("bore", "job.toml", "--csv").stdout)))
        self.assertAlmostEqual(float(table[0]["loss [in w.g.]"]) * 249.08891, metric["S", "through"]["loss"], places=4)

    def test_heat_in_a_room(self):
        text = JOB.replace('temperature = "40 C"\naltitude = "5000 ft"\nhumidity = "30 %"',
                           'temperature = "55 F"\nroom_temperature = "86 F"\nroom_humidity = "70 %"')
        rows, data = self.report("--more", text=text)
        t_air, t_room = (55 - 32) / 1.8, 30.0
        g = math.log(0.7) + 17.62 * 30 / (243.12 + 30)
        self.assertAlmostEqual(data["room"]["dew_point"], 243.12 * g / (17.62 - g), places=5)
        density, viscosity = data["air"]["density"], data["air"]["viscosity"]
        kelvin = t_air + 273.15
        self.assertAlmostEqual(density, 101325 / (8314.32 / 28.9644 * kelvin), places=4)
        conductivity = 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10**(-12 / kelvin))
        prandtl = viscosity * density * 3.5 * 8314.32 / 28.9644 / conductivity
        bore, outside = 0.45, 0.5016
        inside = 0.023 * (1 / (math.pi / 4 * bore) / viscosity)**0.8 * prandtl**0.4 * conductivity / bore
        inner = math.log(500 / 450) / (2 * math.pi * 0.036) + 1 / (math.pi * bore * inside)
        # what the room gives and what the air takes, on a fine grid of surface temperatures
        t = np.linspace(t_air, t_room - 1e-9, 2_000_001)
        dt = t_room - t
        still = np.where(outside**3 * dt <= 10, 1.25 * (dt / outside)**0.25, 1.21 * np.cbrt(dt))
        film = still + 0.26 * 5.670374e-8 * ((t + 273.15)**2 + 303.15**2) * (t + 273.15 + 303.15)
        at = np.argmin(np.abs(math.pi * outside * film * dt - (t - t_air) / inner))
        heat = rows["S", "through"]["heat"]
        self.assertAlmostEqual(heat["metal_temperature"], t[at], delta=1e-3)
        self.assertAlmostEqual(heat["gain"] / ((t[at] - t_air) / inner), 1, delta=1e-4)
        self.assertGreater(heat["gain_bare"], heat["gain"])
        self.write("job.toml", text)
        self.assertIn("dew point 23.9 C", self.made("bore", "job.toml", "--more").stdout)


class HandedOver(InFolder):
    """bore.html, bore.pdf and bore.csv of a job, and linings side by side."""

    def pdf(self, path, *command):
        return subprocess.run([*command, str(path)], capture_output=True, text=True, check=True).stdout

    def test_documents(self):
        self.write("job.toml", JOB)
        shown = self.made("bore", "job.toml", "--out", "report")
        self.assertIn("bore.html, bore.pdf, bore.csv", shown.stdout)
        self.assertNotIn("step up by", shown.stdout)
        page = (self.folder / "report" / "bore.html").read_text()
        for words in ["Slip, supply air", "3 May, spring tide", "under the least of 60 %", "What to step up to, by area",
                      "metal added by the whole job", "The worst places first", "Weisbach", "5000 ft",
                      "fit metal nosing", "the licensed designer decide", "@page"]:
            self.assertIn(words, page, words)
        self.assertNotIn("<script", page)
        self.assertNotRegex(page, r'(src|href)="(http|//)')
        # worst first: the smaller branch, 150^2 / 200^2
        self.assertLess(page.index("56.2 %"), page.index("81.0 %"))
        info = self.pdf(self.folder / "report" / "bore.pdf", "pdfinfo")
        self.assertIn("A4", info)
        self.assertIn("Slip, supply air", info)
        self.assertEqual((self.folder / "report" / "bore.csv").read_text(),
                         self.made("bore", "job.toml", "--csv", "--step-up", "area").stdout)

    def words(self, path):
        """Every word of a PDF with its left and right edge in points, as poppler sees it."""
        out = path.with_suffix(".words")
        subprocess.run(["pdftotext", "-bbox", str(path), str(out)], check=True, capture_output=True)
        word = re.compile(r'<word xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)" yMax="[\d.]+">(.*?)</word>')
        return [(match[3], float(match[1]), float(match[2])) for match in word.finditer(out.read_text())]

    def test_pdf_is_text(self):
        name = "Fähre ÄÖÜß ½ ° (Łódź) Тест, supply air of the eastern slip and all that hangs below its gallery"
        self.write("job.toml", JOB.replace("Slip, supply air", name))
        self.made("bore", "job.toml", "--out", "report")
        path = self.folder / "report" / "bore.pdf"
        text = " ".join(self.pdf_text(path).split())
        for words in ["Fähre ÄÖÜß ½ ° (Lódz)", "<U+422>", "3 May, spring tide", "The worst places first", "Weisbach",
                      "What to step up to, by area", "56.2 %", "the licensed designer decide", "page 1 of"]:
            self.assertIn(words, text)
        fonts = self.pdf(path, "pdffonts").splitlines()[2:]
        self.assertEqual([line.split()[0] for line in fonts], ["Helvetica", "Helvetica-Bold"])
        self.assertIn("Тест", self.pdf(path, "pdfinfo"))
        words = self.words(path)
        self.assertGreater(len(words), 300)
        self.assertTrue(all(left > 42 and right < 595.3 - 42 for _, left, right in words), "inside the margins")
        # every object lies where the table says, every stream is as long as it says (ISO 32000-1, 7.3.8 and 7.5.4)
        data = path.read_bytes()
        table = data[int(re.search(rb"startxref\n(\d+)", data)[1]):]
        entries = table.split(b"\n")[2:2 + int(re.match(rb"xref\n0 (\d+)", table)[1])]
        self.assertGreater(len(entries), 12)
        for number, entry in enumerate(entries[1:], 1):
            self.assertTrue(data[int(entry[:10]):].startswith(b"%d 0 obj" % number), number)
        streams = list(re.finditer(rb"<< /Length (\d+) /Filter /FlateDecode >>\nstream\n", data))
        self.assertGreater(len(streams), 1)
        for stream in streams:
            end = stream.end() + int(stream[1])
            self.assertTrue(data[end:].startswith(b"\nendstream"))
            self.assertIn(b"Tj ET", zlib.decompress(data[stream.end():end]))
        # poppler has the metrics of the standard fonts itself: without ours it places every word alike
        bare = path.with_name("bare.pdf")
        data, count = re.subn(rb"/FirstChar 32 /LastChar 255\n/Widths \[[^\]]*\]", b"", path.read_bytes())
        self.assertEqual(count, 2)
        bare.write_bytes(data)
        for (word, _, ours), (_, _, theirs) in zip(words, self.words(bare)):
            self.assertAlmostEqual(ours, theirs, places=3, msg=word)

    def pdf_text(self, path):
        return subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True).stdout

    def test_heat_and_sound_stand_in_them_where_asked_for(self):
        self.write("job.toml", JOB.replace('temperature = "40 C"',
                                           'temperature = "16 C"\nroom_temperature = "28 C"\nroom_humidity = "70 %"'))
        self.made("bore", "job.toml", "--out", "report", "--more")
        page = (self.folder / "report" / "bore.html").read_text()
        text = " ".join(self.pdf_text(self.folder / "report" / "bore.pdf").split())
        for words in ["Heat that the air gains", "Sound: what straight lengths take", "25 % open area", "dew point", "the whole job: bare"]:
            self.assertIn(words, page)
            self.assertIn(words, text)
        self.made("bore", "job.toml", "--out", "plain")
        self.assertNotIn("Sound:", (self.folder / "plain" / "bore.html").read_text())

    def test_inch_jobs_print_on_letter(self):
        self.write("job.toml", """[job]
units = "in"
[liner]
thickness = 1
[[fitting]]
tag = "S"
kind = "straight"
diameter = 12
length = 48
""")
        self.made("bore", "job.toml", "--out", "report")
        self.assertIn("letter", self.pdf(self.folder / "report" / "bore.pdf", "pdfinfo"))

    def test_many_fittings_take_many_pages(self):
        self.write("job.csv", "# units = mm\ntag,kind,diameter,length,thickness,flow\n" +
                   "".join(f"S-{i},straight,{300 + 5 * i},1000,25,0.5 m3/s\n" for i in range(150)))
        self.made("bore", "job.csv", "--out", "report")
        pages = int(re.search(r"Pages:\s+(\d+)", self.pdf(self.folder / "report" / "bore.pdf", "pdfinfo"))[1])
        self.assertGreater(pages, 4)
        page = (self.folder / "report" / "bore.html").read_text()
        self.assertTrue(all(f">S-{i}<" in page for i in range(150)))

    def test_same_job_same_bytes_and_nothing_of_others_is_lost(self):
        self.write("job.toml", JOB)
        for folder in ["a", "b"]:
            self.made("bore", "job.toml", "--out", folder)
        for name in ["bore.html", "bore.pdf", "bore.csv"]:
            self.assertEqual((self.folder / "a" / name).read_bytes(), (self.folder / "b" / name).read_bytes())
        self.write("job.toml", JOB.replace("500", "560"))
        self.made("bore", "job.toml", "--out", "a")
        self.assertIn("560.0", (self.folder / "a" / "bore.html").read_text())
        (self.folder / "b" / "bore.csv").write_text("mine\n")
        result = self.run_program("bore", "job.toml", "--out", "b")
        self.assertEqual(result.returncode, 3)
        self.assertIn("bore.csv", result.stderr)
        self.assertEqual((self.folder / "b" / "bore.csv").read_text(), "mine\n")

    def test_make_writes_them_for_the_whole_job(self):
        self.write("job.toml", JOB)
        made = self.made("make", "job.toml", "--patterns-only", "--no-sync")
        self.assertNotIn("step up", made.stdout)
        out = self.folder / "models-out"
        first = (out / "bore.html").read_text()
        self.made("bore", "job.toml", "--out", "report")
        state = re.compile(r'<meta name="made-from" content="\w+">\n')
        self.assertEqual((self.folder / "report" / "bore.html").read_text(), state.sub("", first, count=1))
        self.assertEqual((self.folder / "report" / "bore.pdf").read_bytes(), (out / "bore.pdf").read_bytes())
        self.made("make", "job.toml", "--patterns-only", "--no-sync", "--only", "E")
        self.assertEqual((out / "bore.html").read_text(), first)
        self.made("check", "models-out")
        # what lies there already is left alone; what is missing, or of another job, is made again
        documents = ["bore.html", "bore.pdf", "bore.csv"]
        before = {name: (out / name).read_bytes() for name in documents}
        times = {name: (out / name).stat().st_mtime_ns for name in documents}
        self.made("make", "job.toml", "--patterns-only", "--no-sync")
        self.assertEqual({name: (out / name).stat().st_mtime_ns for name in documents}, times)
        for name in drawn(documents):
            (out / name).unlink()
            self.made("make", "job.toml", "--patterns-only", "--no-sync")
            self.assertEqual({each: (out / each).read_bytes() for each in documents}, before)
        for old, new in drawn([("altitude = \"5000 ft\"", "altitude = \"4000 ft\""), ("3 May", "4 May"), ("count = 4", "count = 5")]):
            self.write("job.toml", JOB.replace(old, new))
            self.made("make", "job.toml", "--patterns-only", "--no-sync")
            self.assertNotEqual((out / "bore.html").read_bytes(), before["bore.html"])
            self.write("job.toml", JOB)
            self.made("make", "job.toml", "--patterns-only", "--no-sync")
            self.assertEqual({each: (out / each).read_bytes() for each in documents}, before)
        # without pages none is begun, but one that lies there stays true
        self.write("job.toml", JOB.replace("count = 4", "count = 6"))
        self.made("make", "job.toml", "--patterns-only", "--no-sync", "--no-pages")
        self.assertNotEqual((out / "bore.csv").read_bytes(), before["bore.csv"])
        self.made("check", "models-out")
        self.write("job.toml", JOB)
        self.made("make", "job.toml", "--patterns-only", "--no-sync")
        # a report with another step up in its place does not pass for it
        self.made("bore", "job.toml", "--step-up", "friction", "--out", "models-out")
        self.made("make", "job.toml", "--patterns-only", "--no-sync")
        self.assertEqual({each: (out / each).read_bytes() for each in documents}, before)
        self.made("make", "job.toml", "--patterns-only", "--no-sync", "--no-pages", "--out", "bare")
        self.assertFalse((self.folder / "bare" / "bore.html").exists())

    def test_check_proves_what_stands_in_them(self):
        """Every cell made again, whatever was asked for; a changed figure, page or document is found."""
        room = 'temperature = "16 C"\nroom_temperature = "28 C"\nroom_humidity = "70 %"'
        self.write("job.toml", JOB.replace('temperature = "40 C"', room).replace('flow = "1 m3/s"', 'flow = "1.5 m3/s"'))
        self.made("make", "job.toml", "--patterns-only", "--no-sync")
        out = self.folder / "models-out"
        for more in drawn([["--more"], ["--step-up", "velocity", "--limit", "8 m/s", "--more"],
                           ["--step-up", "friction", "--series", "en1506-all"]]):
            result = self.run_program("bore", "job.toml", "--out", "models-out", *more)
            self.assertEqual(result.returncode, 0, result.stderr)
            line = [row for row in self.made("check", "models-out").stdout.splitlines() if "bore table" in row][0]
            self.assertIn("pass", line)
            self.assertGreater(int(re.search(r"(\d+) cells", line)[1]), 500)
        # a table beside one fitting alone, whose row is the one that is changed
        more = ["--step-up", "friction", "--series", "en1506-all"]
        out = self.folder / "alone"
        self.made("make", "job.toml", "--patterns-only", "--no-sync", "--only", "S", "--out", "alone")
        self.made("bore", "job.toml", "--out", "alone", *more)
        good = (out / "bore.csv").read_text()
        self.made("bore", "job.toml", "--out", "models-out", *more)
        self.assertEqual(good, (self.folder / "models-out" / "bore.csv").read_text())
        table = list(csv.reader(io.StringIO(good)))
        for column in drawn(["length [mm]", "lined_diameter [mm]", "share", "loss [Pa]", "loss_bare [Pa]", "added_mass [kg]",
                             "next_diameter [mm]", "conductivity [W/(m K)]"]):
            at = table[0].index(column)
            changed = [row[:] for row in table]
            self.assertEqual(changed[1][0], "S")
            changed[1][at] = str(float(changed[1][at]) * 1.001)
            with (out / "bore.csv").open("w", newline="") as file:
                csv.writer(file, lineterminator="\n").writerows(changed)
            result = self.run_program("check", "alone")
            self.assertEqual(result.returncode, 1, column)
            self.assertIn(column, [row for row in result.stdout.splitlines() if "bore table" in row][0])
        (out / "bore.csv").write_text(good)
        self.made("check", "alone")
        for name in drawn(["bore.html", "bore.pdf"]):
            whole = (out / name).read_bytes()
            middle = len(whole) // 2
            (out / name).write_bytes(whole[:middle] + bytes([whole[middle] ^ 1]) + whole[middle + 1:])
            result = self.run_program("check", "alone")
            self.assertEqual(result.returncode, 1, name)
            self.assertIn(name + " was changed", result.stdout)
            (out / name).write_bytes(whole)

    def test_fittings_that_cannot_be_made_are_named(self):
        self.write("job.toml", JOB.replace("diameter = 400", "diameter = 40"))
        result = self.run_program("bore", "job.toml", "--out", "report")
        self.assertEqual(result.returncode, 2)
        self.assertIn("not in this report", (self.folder / "report" / "bore.html").read_text())

    def test_linings_side_by_side(self):
        self.write("job.toml", JOB)
        liners = ["13mm", "25mm", "2in"]
        flags = [part for liner in liners for part in ("--liner", liner)]
        table = self.made("bore", "job.toml", *flags).stdout
        line = [row for row in table.splitlines() if row.startswith("S ")][0].split()
        self.assertEqual(line[2::4][:3] + line[3::4][:3],
                         ["474.0", "450.0", "398.4"] + [f"{100 * (d / 500)**2:.1f}" for d in [474, 450, 398.4]])
        rows = list(csv.DictReader(io.StringIO(self.made("bore", "job.toml", "--csv", *flags).stdout)))
        self.assertEqual(len(rows), 6)
        self.assertIn("5000 ft", rows[0]["basis"])
        self.assertIn("faced (Swim 1978)", rows[0]["basis"])
        data = json.loads(self.made("bore", "job.toml", "--json", *flags).stdout)
        self.assertEqual([each["liner"] for each in data["comparison"]], liners)
        for liner, each in zip(liners, data["comparison"]):
            alone = json.loads(self.made("bore", "job.toml", "--json", "--liner", liner).stdout)
            self.assertEqual(each["report"], alone)
            for row, cells in zip(alone["rows"], rows):
                self.assertAlmostEqual(float(cells[f"loss {liner} [Pa]"]), row["loss"], delta=1e-5)
        for command in [["make"], ["bore", "--out", "x"], ["bore", "--more"], ["nest"]]:
            result = self.run_program(command[0], "job.toml", *command[1:], *flags)
            self.assertEqual(result.returncode, 2, result.stdout)
            self.assertIn("--liner", result.stderr)


if __name__ == "__main__":
    unittest.main()
