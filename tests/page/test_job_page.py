import re

from browser import InBrowser
from support import NEST

JOB = """
[job]
name = "Shed & <Barn>"
units = "in"
[liner]
thickness = 1
[[fitting]]
tag = "S-10"
kind = "straight"
diameter = 24
length = 48
[[fitting]]
tag = "S-9"
kind = "straight"
diameter = 72
length = 48
count = 4
[[fitting]]
tag = "R-1"
kind = "reducer"
diameter = 24
to_diameter = 20
length = 18
[[fitting]]
tag = "S-2"
kind = "straight"
diameter = 6
length = 48
"""


class JobPage(InBrowser):
    def job(self, text=JOB):
        self.write("job.toml", text)
        self.made("make", "job.toml")
        return self.folder / "models-out" / "index.html"

    def tags(self):
        return self.run_script("""return [...document.querySelectorAll('#list tbody tr')].filter(r => !r.hidden)
            .map(r => r.querySelector('th').textContent)""")

    def test_opens_without_complaint_and_fetches_nothing_from_outside(self):
        page = self.job()
        self.open(page)
        self.assertEqual(self.run_script("return document.querySelector('h1').textContent"), "Shed & <Barn>")
        inside = (self.folder / "models-out").resolve().as_uri() + "/"
        asked = self.requests()
        self.assertIn(inside + "S-10/S-10.svg", asked)
        for address in asked:
            self.assertTrue(address.startswith(inside), address)
        self.assert_no_complaints()
        # no wider than any screen
        self.addCleanup(self.browser.execute_cdp_cmd, "Emulation.clearDeviceMetricsOverride", {})
        for width in range(360, 1700, 67):
            self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
                "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False})
            self.assertLessEqual(self.run_script("return document.documentElement.scrollWidth"), width)

    def test_a_fitting_takes_name_and_date_from_the_job(self):
        self.open(self.job(JOB.replace('units = "in"', 'units = "in"\ndate = "2026-11-29"', 1)))
        self.click("#list tbody th a")
        self.assertEqual(self.run_script("return document.querySelector('header [data-job]').textContent"),
                         "Shed & <Barn>, 2026-11-29")

    def test_sorts_by_any_column(self):
        self.open(self.job())
        self.assertEqual(self.tags(), ["S-10", "S-9", "R-1", "S-2"])

        def by(head):
            self.run_script("""[...document.querySelectorAll('#list th button')]
                .find(b => b.textContent === arguments[0]).click()""", head)
            return self.tags()

        self.assertEqual(by("tag"), ["R-1", "S-2", "S-9", "S-10"])
        self.assertEqual(by("tag"), ["S-10", "S-9", "S-2", "R-1"])
        # (4/6)^2, (18/20)^2, (22/24)^2, (70/72)^2
        self.assertEqual(by("area left"), ["S-2", "R-1", "S-10", "S-9"])
        self.assertEqual(by("to make")[-1], "S-9")

    def test_filters(self):
        self.open(self.job())
        self.set_control("#find", value="r-1")
        self.assertEqual(self.tags(), ["R-1"])
        self.assertEqual(self.browser.find_element("id", "shown").text, "1 of 4 lines")
        self.set_control("#find", value="")
        self.set_control("#kind", value="straight")
        self.assertEqual(self.tags(), ["S-10", "S-9", "S-2"])
        # over 60 in the liner needs fasteners: the one line with a note
        self.click("#noted")
        self.assertEqual(self.tags(), ["S-9"])

    def test_links_lead_to_files_that_are_there(self):
        page = self.job()
        self.open(page)
        links = self.run_script("return [...document.querySelectorAll('#list a')].map(a => a.getAttribute('href'))")
        self.assertGreater(len(links), 30)
        for link in links:
            self.assertTrue((page.parent / link.split("?")[0]).is_file(), link)

    def test_second_run_lists_what_it_left_alone(self):
        page = self.job()
        before = page.read_bytes()
        result = self.made("make", "job.toml")
        self.assertIn("0 made, 4 unchanged", result.stdout)
        self.assertEqual(page.read_bytes(), before)

    def test_lists_what_could_not_be_made_with_the_reason(self):
        self.write("job.toml", JOB.replace("diameter = 6\n", "diameter = 2\n"))
        self.made("make", "job.toml", code=2)
        self.open(self.folder / "models-out" / "index.html")
        self.assertEqual(self.tags()[-1], "S-2")
        self.assertIn("not made", self.browser.find_element("css selector", "#list tbody tr:last-child").text)

    def test_shares_have_pages_of_their_own(self):
        self.write("job.toml", JOB)
        for share, tags in [("1/2", ["S-10", "R-1"]), ("2/2", ["S-9", "S-2"])]:
            self.made("make", "job.toml", "--shard", share)
            self.open(self.folder / "models-out" / f"index-{share.replace('/', '-')}.html")
            self.assertEqual(self.tags(), tags)

    def test_shows_the_totals(self):
        self.open(self.job())
        heads = self.run_script("return [...document.querySelectorAll('#totals th')].map(h => h.textContent)")
        last = self.run_script("return [...document.querySelectorAll('#totals tr:last-child td')].map(c => c.textContent)")
        self.assertEqual(dict(zip(heads, last))["fittings"], "7")
        self.assertEqual(dict(zip(heads, last))["pieces"], "7")

    def test_draws_every_board_with_its_pieces(self):
        self.write("job.toml", JOB.replace("diameter = 72", "diameter = 30"))
        self.made("make", "job.toml", *NEST, "--stock-width", "48in", "--stock-length", "120in")
        self.open(self.folder / "models-out" / "index.html")
        boards = self.browser.find_elements("css selector", "#boards figure")
        self.assertEqual(len(boards), len(list((self.folder / "models-out" / "boards").glob("*.dxf"))))
        for board in boards:
            self.assertRegex(board.text, r"[1-9][\d.]* % used")
        names = self.run_script("return [...document.querySelectorAll('#boards .piece')].map(n => n.textContent)")
        # each by its number, and by its name where there is room; the list below has all names
        self.assertEqual(len(names), 7)
        listed = [row.text.split() for row in self.browser.find_elements("css selector", "#boards tbody tr")]
        self.assertEqual(sorted(row[0] for row in listed), ["R-1/taper", "S-10/1", "S-2/1"] + 4 * ["S-9/1"])
        shown = [name.split() for name in names]
        self.assertTrue(all(name[0].isdigit() for name in shown))
        known = {row[0] for row in listed}
        self.assertLessEqual({name[1] for name in shown if len(name) > 1}, known)
        self.assertGreaterEqual(sum(len(name) > 1 for name in shown), 6)
        self.assert_no_complaints()

    def test_without_pages_there_are_none(self):
        self.write("job.toml", JOB)
        self.made("make", "job.toml", "--no-pages")
        self.assertEqual(list((self.folder / "models-out").rglob("*.html")), [])
        # asked for later, they come
        self.made("make", "job.toml")
        self.assertEqual(len(list((self.folder / "models-out").rglob("*.html"))), 6)  # four fittings, the job, its bore

    def test_prints(self):
        self.open(self.job())
        pdf = self.print_pdf()
        self.assertEqual(self.pages_of(pdf), 1)
        text = self.text_of(pdf)
        for said in ["S-10", "S-9", "R-1", "S-2", "dust mask"]:
            self.assertIn(said, text)
        self.assertIsNone(re.search("DXF", text), "links are of no use on paper")
