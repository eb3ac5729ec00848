import json
import math
import re
import subprocess
import time

from browser import InBrowser
from support import drawn

TEE = ["make", "tee", "--diameter", "20in", "--length", "48in", "--branch-diameter", "12in", "--branch-length", "22in",
       "--angle", "45", "--liner", "1in"]
ELBOW = ["make", "elbow", "--diameter", "24in", "--angle", "90", "--pieces", "5", "--liner", "1in"]
REDUCER = ["make", "reducer", "--diameter", "24in", "--to-diameter", "20in", "--length", "18in", "--collar", "4in",
           "--to-collar", "4in", "--liner", "1in"]
STRAIGHT = ["make", "straight", "--diameter", "315mm", "--length", "1200mm", "--liner", "25mm"]

# many pieces, many ways through, and pieces larger than the board
GORES = ["make", "elbow", "--diameter", "72in", "--angle", "90", "--pieces", "9", "--radius-ratio", "1.5", "--liner",
         "2in"]
BRANCHES = ["make", "tee", "--diameter", "30in", "--length", "96in", "--angle", "60", "--branch-length", "28in",
            "--branch-diameter", "12in", "--branch-diameter", "10in", "--branch-diameter", "8in", "--position", "16in",
            "--position", "46in", "--position", "76in", "--liner", "1in"]
PANELS = ["make", "straight", "--diameter", "60in", "--length", "130in", "--board-width", "48in", "--board-length",
          "120in", "--liner", "2in"]


class FittingPage(InBrowser):
    def page(self, *arguments, tag="F-1"):
        self.made(*arguments, "--tag", tag)
        pages = list((self.folder / "models-out").glob("*/*.html"))
        self.assertEqual(len(pages), 1)
        return pages[0]

    def test_every_kind_opens_with_a_picture_and_prints_on_one_page_where_it_fits(self):
        for i, kind in drawn(enumerate([TEE, ELBOW, REDUCER, STRAIGHT, GORES, BRANCHES, PANELS]), lambda each: each[1][1]):
            self.made(*kind, "--tag", f"F-{i}", "--out", f"out-{i}")
            page = self.folder / f"out-{i}" / f"F-{i}" / f"F-{i}.html"
            # what a mail takes: plain fittings, then many pieces
            self.assertLess(page.stat().st_size, 400_000 if i < 4 else 1_000_000, kind)
            self.open(page)
            # a shaded picture has many colours, an empty canvas one
            self.assertGreater(self.look()["colours"], 50, kind)
            self.assertFalse(self.browser.find_element("id", "no-view").is_displayed())
            self.assertEqual(self.requests(), [self.page])
            self.assert_no_complaints()
            self.prints_where_it_fits(kind, f"F-{i}")

    def prints_where_it_fits(self, kind, tag):
        for width, height in drawn([(8.27, 11.69), (8.5, 11.0)]):
            pdf = self.print_pdf(width, height)
            # many pieces, each drawn with letters that can be read, take a second
            most = 2 if kind in (GORES, BRANCHES, PANELS) else 1
            self.assertLessEqual(self.pages_of(pdf), most, kind)
            text = self.text_of(pdf)
            for said in [tag, "Pieces, in the order they go in", "dust mask", "licensed designer",
                         "What is asked on site"]:
                self.assertIn(said, text)
            self.assertNotIn("what is compared", text, "checks of the machine on an installer's sheet")

    def test_section_layers_and_pulling_apart_change_the_picture(self):
        self.open(self.page(*TEE))
        seen = {self.look()["sum"]}

        def changed(what):
            now = self.look()["sum"]
            self.assertNotIn(now, seen, what)
            seen.add(now)

        for level in [300, 620, 900]:
            self.set_control("#section-level", value=level)
            changed(f"section at {level}")
        before = self.look()["sum"]
        self.set_control("#section-level", value=300)
        self.set_control("#section-level", value=900)
        self.assertEqual(self.look()["sum"], before, "the same section gives the same picture")
        for axis in [0, 2]:
            self.click(f"[name=section-axis][value='{axis}']")
            changed(f"axis {axis}")
        self.click("#section-flip")
        changed("other half")
        self.click("#section-on")
        changed("closed")
        for box in self.browser.find_elements("css selector", "[data-part]"):
            number = box.get_attribute("data-part")
            self.click(f"[data-part='{number}']")
            changed(f"part {number}")
            self.click(f"[data-part='{number}']")
        self.click("#see-through")
        changed("see through")
        self.click("#lost")
        changed("lost bore")
        self.set_control("#apart", value=70)
        changed("apart")
        for way in ["front", "side", "top", "back"]:
            self.click(f"[data-look={way}]")
            changed(way)
        self.assert_no_complaints()

    def test_keys_turn_the_view(self):
        self.open(self.page(*ELBOW))
        first = self.look()["sum"]
        canvas = self.browser.find_element("id", "view")
        for key in ["\ue012", "\ue013", "+"]:  # left, up
            before = self.look()["sum"]
            canvas.send_keys(key)
            self.assertNotEqual(self.look()["sum"], before, repr(key))
        canvas.send_keys("0")
        self.assertEqual(self.look()["sum"], first)

    def test_pieces_are_named_where_they_are_seen(self):
        self.open(self.page(*ELBOW))
        names = """return [...document.querySelectorAll('#names span')].filter(n => n.offsetWidth > 0)
            .map(n => n.textContent)"""
        self.assertEqual(sorted(self.run_script(names)), ["1", "2", "3", "4", "5"])
        box = next(box for box in self.browser.find_elements("css selector", "label:has([data-part])")
                   if box.text.startswith("liner 3"))
        box.click()
        self.settle()
        self.assertEqual(sorted(self.run_script(names)), ["1", "2", "4", "5"])
        # nearly all is cut away: what is left is at the low end, where piece 1 begins; seen from above, the upper half goes
        self.click("[name=section-axis][value='2']")
        self.set_control("#section-level", value=20)
        self.assertEqual(self.run_script(names), ["1"])
        self.click("#named")
        self.assertEqual(self.run_script(names), [])

    def test_pointer_tells_what_it_is_on(self):
        self.open(self.page(*STRAIGHT))
        self.run_script("""
            const c = document.getElementById('view'), r = c.getBoundingClientRect();
            c.dispatchEvent(new PointerEvent('pointermove',
              {clientX: r.left + r.width / 2, clientY: r.top + r.height / 2, bubbles: true}));""")
        self.settle()
        tip = self.browser.find_element("id", "tip")
        # cut open and seen into: the middle of the picture is the liner's air face
        self.assertIn("liner 1", tip.text)
        self.assertIn("25 mm thick", tip.text)

    def tap(self, x, y):
        """Taps the view at these shares of its width and height."""
        self.run_script("""
            const c = document.getElementById('view'), r = c.getBoundingClientRect();
            for (const type of ['pointerdown', 'pointerup'])
              c.dispatchEvent(new PointerEvent(type, {pointerId: 1, bubbles: true, button: 0, pointerType: 'touch',
                clientX: r.left + arguments[0] * r.width, clientY: r.top + arguments[1] * r.height}));""", x, y)
        self.settle()
        tip = self.browser.find_element("id", "tip").text
        place = re.search(r"x, y, z: ([-\d.]+) mm, ([-\d.]+) mm, ([-\d.]+) mm", tip)
        return [float(group) for group in place.groups()]

    def test_measures_between_two_points(self):
        self.open(self.page(*STRAIGHT))
        self.click("#measure")
        a, b = self.tap(0.5, 0.45), self.tap(0.5, 0.6)
        self.assertGreater(math.dist(a, b), 50)
        measured = float(re.match(r"([\d.]+) mm", self.browser.find_element("id", "measured").text).group(1))
        # coordinates are shown to the tenth
        self.assertAlmostEqual(measured, math.dist(a, b), delta=0.3)
        # both lie on the air face: 315 mm bare less twice 25 mm, around the axis z
        for x, y, _ in [a, b]:
            self.assertAlmostEqual(math.hypot(x, y), 315 / 2 - 25, delta=0.3)

    def test_heights_of_a_saddle_stand_at_its_stations(self):
        self.open(self.page(*TEE))
        before = self.look()["sum"]
        self.click("#saddle")
        self.assertNotEqual(self.look()["sum"], before)
        labels = self.run_script("return [...document.querySelectorAll('#heights span')].map((s) => [s.textContent, s.hidden])")
        # coping: from the square end to the body of radius R, a line of the branch at theta is
        # L - (sqrt(R^2 - r^2 sin^2 theta) + r cos theta cos b) / sin b long; common practice, no source
        b, steps = math.radians(45), [math.pi * i / 6 for i in range(12)]
        wanted = sorted(22 - (math.sqrt(100 - 36 * math.sin(t) ** 2) + 6 * math.cos(t) * math.cos(b)) / math.sin(b) for t in steps)
        found = sorted(float(re.match(r"[0-9.]+", text)[0]) for text, _ in labels)
        self.assertEqual(len(found), 12)
        for one, other in zip(found, wanted):
            self.assertAlmostEqual(one, other, delta=0.011)
        # those of the half that is cut away are not written
        hidden = sum(hidden for _, hidden in labels)
        self.assertTrue(0 < hidden < 12, hidden)
        self.click("#saddle")
        self.assertEqual(self.run_script("return document.querySelectorAll('#heights span').length"), 0)
        self.assert_no_complaints()

    def test_what_is_kept_of_each_axis_changes_the_picture(self):
        self.open(self.page(*STRAIGHT))
        seen = {self.look()["sum"]}
        for axis in range(3):
            # beyond the middle, where the section has taken the near half already
            self.set_control(f"[data-keep='{axis}']", value=700)
            now = self.look()["sum"]
            self.assertNotIn(now, seen, f"axis {axis}")
            seen.add(now)
            self.set_control(f"[data-keep='{axis}']", value=0)
        self.assertIn(self.look()["sum"], seen, "all of it again")
        self.assert_no_complaints()

    def test_pages_share_one_script(self):
        self.made(*TEE, "--tag", "F-1", "--pages", "shared")
        out = self.folder / "models-out"
        page = out / "F-1" / "F-1.html"
        self.assertLess(page.stat().st_size, 160_000)
        self.open(page)
        self.assertGreater(self.look()["colours"], 50)
        self.assertEqual(self.requests(), [self.page, (out / "pages.js").resolve().as_uri()])
        self.assert_no_complaints()
        self.made("check", out / "F-1")

    def test_hostile_tags_are_shown_and_never_run(self):
        tags = ["--><script>window.ran=1;", "<svg onload=window.ran=1>", "\"><img src=x onerror=window.ran=1>", "a & b <i>x<b> 'q'",
                "\u05e9\u05dc\u05d5\u05dd 12", "{{script}}", "b\u00f6gen \u6f22\u5b57", "javascript:window.ran=1",
                "x<title>"]
        fittings = "".join(f'[[fitting]]\ntag = {json.dumps(tag)}\nkind = "straight"\ndiameter = 315\nlength = 1200\n' for tag in tags)
        self.write("job.toml", f'[job]\nunits = "mm"\n[liner]\nthickness = 25\n{fittings}')
        self.made("make", "job.toml", "--out", "out")
        folder = self.folder / "out"
        pages = {json.loads((page.parent / "fitting.json").read_text())["tag"]: page for page in folder.glob("*/*.html")}
        self.assertEqual(sorted(pages), sorted(tags))
        for path, selector, said in [(folder / "index.html", "#list tbody th", tags),
                                     *((pages[tag], "h1", [tag]) for tag in drawn(tags))]:
            self.open(path)
            found = self.run_script("return [...document.querySelectorAll(arguments[0])].map((e) => e.textContent)", selector)
            self.assertEqual(found, said)
            self.assertIsNone(self.run_script("return window.ran ?? null"))
            inside = path.parent.resolve().as_uri()
            asked = self.requests()
            self.assertIn(self.page, asked)
            self.assertTrue(all(address.startswith(inside) for address in asked), asked)
            self.assert_no_complaints()

    def test_only_our_script_may_run(self):
        self.open(self.page(*STRAIGHT))
        self.run_script("""
            const script = document.createElement('script');
            script.textContent = 'window.ran = 1';
            document.body.append(script);
            const picture = new Image();
            picture.src = 'https://example.org/x.png';
            document.body.append(picture);""")
        time.sleep(0.3)
        self.assertIsNone(self.run_script("return window.ran ?? null"))
        refused = [entry["message"] for entry in self.browser.get_log("browser")
                   if "Content Security Policy" in entry["message"]]
        self.assertEqual(len(refused), 2, refused)

    def test_letters_on_paper_are_seven_points_at_least(self):
        self.open(self.page(*TEE))
        pdf = self.print_pdf(8.5, 11.0)
        out = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, text=True, check=True).stdout
        heights = [float(found[2]) - float(found[1]) for found in re.finditer(r'yMin="([\d.]+)" .*?yMax="([\d.]+)">', out)]
        self.assertGreater(len(heights), 300)
        # a word's box reaches from the face's ascent to its descent, which is more than its size in every common face
        self.assertGreaterEqual(min(heights), 7.0)

    def test_job_and_date_stand_on_paper_when_the_job_led_here(self):
        page = self.page(*ELBOW)
        self.open(page)
        self.assertNotIn("Boathouse", self.text_of(self.print_pdf()))
        self.browser.get(page.resolve().as_uri() + "?job=Boathouse%20%3Cb%3E&date=2026-11-29")
        self.settle()
        self.assertIn("Boathouse <b>, 2026-11-29", self.text_of(self.print_pdf()))
        self.assertTrue(self.browser.find_element("css selector", "header [data-job]").is_displayed())

    def test_prints_ordinates_when_asked(self):
        self.open(self.page(*ELBOW))
        heading = "Piece 1: edges, in"
        self.assertNotIn(heading, self.text_of(self.print_pdf()))
        self.click("#with-ordinates")
        self.assertIn(heading, self.text_of(self.print_pdf()))

    def test_without_scripts_the_picture_and_all_else_are_there(self):
        page = self.page(*ELBOW)
        self.browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
        self.addCleanup(self.browser.execute_cdp_cmd, "Emulation.setScriptExecutionDisabled", {"value": False})
        self.browser.get(page.resolve().as_uri())
        text = self.browser.find_element("tag name", "main").text
        for said in ["No 3D view here", "Pieces, in the order they go in", "dust mask"]:
            self.assertIn(said, text)
        self.assertTrue(self.browser.find_element("css selector", ".still svg").is_displayed())
        # drawings are unpacked by a script: the page says where else they are, and keeps what is said beside them
        for said in ["DXF and SVG files beside this page", "cut square: gap", "Piece 1: edges, in", "What is asked on site"]:
            self.assertIn(said, text)
        printed = self.text_of(self.print_pdf())
        for said in ["Pieces, in the order they go in", "Piece 1: edges, in", "dust mask"]:
            self.assertIn(said, printed)

    def test_pages_are_small(self):
        for i, kind in enumerate((ELBOW, STRAIGHT, TEE)):
            self.made(*kind, "--tag", "F-1", "--out", f"out-{i}")
            self.assertLess((self.folder / f"out-{i}" / "F-1" / "F-1.html").stat().st_size, 300_000, kind)

    def test_theme_follows_the_switch(self):
        self.open(self.page(*STRAIGHT))
        ground = "return getComputedStyle(document.body).backgroundColor"
        before, picture = self.run_script(ground), self.look()["sum"]
        self.click("[data-theme-switch]")
        self.assertNotEqual(self.run_script(ground), before)
        self.assertNotEqual(self.look()["sum"], picture)
        self.click("[data-theme-switch]")
        self.assertEqual(self.run_script(ground), before)

    def test_no_wider_than_a_phone_or_a_tablet(self):
        page = self.page(*TEE)
        for width in drawn([390, 820, 1280]):
            self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
                "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False})
            self.addCleanup(self.browser.execute_cdp_cmd, "Emulation.clearDeviceMetricsOverride", {})
            self.open(page)
            self.assertLessEqual(self.run_script("return document.documentElement.scrollWidth"), width)

    def test_patterns_alone_have_a_page_without_a_view(self):
        page = self.page(*STRAIGHT, "--patterns-only")
        self.open(page)
        self.assertEqual(self.browser.find_elements("id", "view"), [])
        self.assertIn("25 mm", self.browser.find_element("tag name", "dl").text)
        self.assert_no_complaints()

    def test_pattern_is_drawn_to_scale(self):
        self.open(self.page(*STRAIGHT))
        # 315 mm, 0.75 in off the girth, 1200 mm long: (pi 315 - 19.05) by 1200
        box = self.run_script("""
            const cut = document.querySelector('.pattern .cut path').getBBox();
            return [cut.width, cut.height];""")
        self.assertAlmostEqual(box[0], 3.14159265 * 315 - 19.05, delta=0.11)
        self.assertAlmostEqual(box[1], 1200, delta=0.11)
        sizes = re.findall(r"([\d.]+) mm (around|along)", self.browser.find_element("css selector", ".dimension").text)
        self.assertEqual(sizes, [("970.6", "around"), ("1200", "along")])
