import unittest

from browser import InBrowser

JOB = """[job]
units = "in"
[liner]
thickness = 1
[[fitting]]
tag = "S-1"
kind = "straight"
diameter = 24
duct_lengths = [60, 48]
[[fitting]]
tag = "T-1"
kind = "tee"
diameter = 24
length = 40
branch_diameter = 14
branch_length = 20
branch_flow = "900 cfm"
[[fitting]]
tag = "E-1"
kind = "elbow"
diameter = 24
angle = 90
pieces = 4
[[run]]
name = "main"
flow = "3000 cfm"
path = ["S-1", "T-1", "E-1"]
"""


class RunPage(InBrowser):
    def setUp(self):
        super().setUp()
        self.write("job.toml", JOB)
        self.made("make", "job.toml", "--out", "out", "--no-sync")
        self.open(self.folder / "out" / "runs" / "main" / "main.html")

    def text(self, name):
        return self.browser.find_element("id", name).text

    def test_opens_cut_open_and_shaded(self):
        self.assertGreater(self.look()["colours"], 50)
        self.assertFalse(self.browser.find_element("id", "no-view").is_displayed())
        self.assertEqual(self.requests(), [self.page])
        # 3000 cfm in a bore of 22 in: 1136 fpm (area 2.640 ft2 by pi d^2 / 4); 2100 cfm behind the branch: 795.5 fpm
        self.assertEqual(self.text("fast"), "1136 fpm")
        self.assertEqual(self.text("slow"), "796 fpm")
        before = self.look()["sum"]
        for box in ("#section-on", "#metal", "#liner", "#bore-on"):
            self.click(box)
            now = self.look()["sum"]
            self.assertNotEqual(now, before, box)
            before = now
        self.set_control("#flow", value=6000)
        self.assertEqual(self.text("fast"), "2273 fpm")
        self.assert_no_complaints()

    def test_walk(self):
        outside = self.look()["sum"]
        seen = {outside}
        for value, tag, speed in ((100, "S-1", "1136 fpm"), (850, "E-1", "796 fpm")):
            self.set_control("#walk", value=value)
            self.assertRegex(self.text("walked"), rf"in from the start, in {tag}; {speed}")
            picture = self.look()
            self.assertGreater(picture["colours"], 20)
            self.assertNotIn(picture["sum"], seen)
            seen.add(picture["sum"])
        # nothing of the air stands in the way, and nothing is cut open
        self.click("#leave")
        self.assertEqual(self.look()["sum"], outside)
        self.assert_no_complaints()

    def test_a_click_opens_the_fitting(self):
        self.run_script("""
            const c = document.getElementById('view'), r = c.getBoundingClientRect();
            for (let k = 0; k < 400; ++k) {
              const x = r.left + r.width * (k % 20 + 0.5) / 20, y = r.top + r.height * (Math.floor(k / 20) + 0.5) / 20;
              c.dispatchEvent(new PointerEvent('pointermove', {clientX: x, clientY: y, bubbles: true}));
              if (document.getElementById('tip').hidden) continue;
              window.tag = document.querySelector('#tip strong').textContent.split(' ')[0];
              c.dispatchEvent(new PointerEvent('pointerdown', {clientX: x, clientY: y, bubbles: true}));
              c.dispatchEvent(new PointerEvent('pointerup', {clientX: x, clientY: y, bubbles: true}));
              sessionStorage.tag = window.tag;
              return;
            }""")
        self.settle()
        tag = self.run_script("return sessionStorage.tag") or self.browser.current_url.rsplit("/", 1)[-1].split(".")[0]
        self.assertTrue(self.browser.current_url.endswith(f"/out/{tag}/{tag}.html"), self.browser.current_url)

    def test_prints_the_order_of_work(self):
        text = self.text_of(self.print_pdf())
        for words in ("line S-1", "line T-1", "join S-1, T-1, E-1 in the shop", "Total pressure along the run", "Bore from end to end"):
            self.assertIn(words, text)


if __name__ == "__main__":
    unittest.main()
