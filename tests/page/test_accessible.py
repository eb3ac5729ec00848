"""Every kind of page at the widths of a phone, a tablet and a desk: names, labels and keys for whoever needs them, nothing
clipped, nothing on top of another. Where npm is at hand, axe-core (MPL-2.0, fetched for the test alone) looks, too."""
import os
import pathlib
import shutil
import subprocess
import tempfile

from browser import InBrowser
from support import CASES, NEST, drawn

AXE = "axe-core@4.10.3"
# the rules that a theme can break; with all cases, scripts/test --full, every rule is asked of both themes
COLOURS = ["color-contrast", "link-in-text-block"]
WIDTHS = [390, 1024, 1400]
JOB = """
[job]
name = "Boathouse"
units = "in"
[liner]
thickness = 1
[[stock]]
width = 48
length = 120
[[fitting]]
tag = "E-1"
kind = "elbow"
diameter = 24
angle = 90
pieces = 5
[[fitting]]
tag = "L-1"
kind = "tee"
diameter = 24
length = 60
branch_diameter = 16
branch_length = 40
angle = 45
[[fitting]]
tag = "N-1"
kind = "reducer"
diameter = 24
to_diameter = 20
length = 18
collar = 4
pattern = "notched"
[[fitting]]
tag = "S-1"
kind = "straight"
diameter = 24
length = 48
[[run]]
name = "main"
path = ["S-1", "E-1"]
"""

# What a person who hears the page or goes through it by keys would miss.
OWN = """
const bad = [];
const name = (e) => (e.getAttribute('aria-label') || e.textContent || [...e.querySelectorAll('img')].map((i) => i.alt).join('')).trim();
const seen = (e) => e.getClientRects().length > 0;
for (const link of document.querySelectorAll('a, button, summary'))
  if (seen(link) && !name(link)) bad.push('no name: ' + link.outerHTML.slice(0, 120));
for (const input of document.querySelectorAll('input, select'))
  if (seen(input) && !input.getAttribute('aria-label') && ![...(input.labels || [])].some((l) => l.textContent.trim()))
    bad.push('no label: ' + input.outerHTML.slice(0, 120));
for (const head of document.querySelectorAll('th'))
  if (!head.textContent.trim()) bad.push('empty head: ' + head.parentElement.outerHTML.slice(0, 120));
for (const box of document.querySelectorAll('*')) {
  const style = getComputedStyle(box);
  if (box.scrollWidth > box.clientWidth + 1 && ['auto', 'scroll'].includes(style.overflowX) && seen(box) &&
      box.tabIndex < 0 && !box.querySelector('a, button, input, select')) bad.push('scrolls, no key: ' + box.className);
}
if (document.documentElement.scrollWidth > innerWidth + 1) bad.push('wider than the window: ' + document.documentElement.scrollWidth);
return bad;
"""

# Texts of one block that lie on each other, and such as stick out of their own cell.
CLASHES = """
const bad = [];
for (const cell of document.querySelectorAll('td, th, dd, dt, li, figcaption')) {
  if (!cell.getClientRects().length || getComputedStyle(cell).position === 'absolute') continue;
  const inner = document.createRange();
  inner.selectNodeContents(cell);
  const text = inner.getBoundingClientRect(), box = cell.getBoundingClientRect();
  if (text.width && text.right > box.right + 2 && !cell.closest('.table, .scroll, details, svg'))
    bad.push('sticks out: ' + cell.textContent.trim().slice(0, 60));
}
for (const drawing of document.querySelectorAll('svg.shop')) {
  const texts = [...drawing.querySelectorAll('text')].map((t) => [t.getBoundingClientRect(), t.textContent]);
  texts.forEach(([a, one], i) => texts.slice(i + 1).forEach(([b, other]) => {
    const x = Math.min(a.right, b.right) - Math.max(a.left, b.left), y = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
    if (a.width && x > 1 && y > 0.35 * Math.min(a.height, b.height)) bad.push(`${one} on ${other}`);
  }));
}
return bad;
"""


def axe_script():
    """axe-core's text, through npm, or where LINERWRIGHT_AXE says it lies; None where neither is at hand."""
    if given := os.environ.get("LINERWRIGHT_AXE"):
        return pathlib.Path(given).read_text()
    if not shutil.which("npm"):
        return None
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(["npm", "pack", AXE, "--silent"], cwd=folder, capture_output=True, text=True)
        if done.returncode != 0:
            return None
        return subprocess.run(["tar", "xzOf", done.stdout.split()[-1], "package/axe.min.js"], cwd=folder,
                              capture_output=True, text=True, check=True).stdout


class Accessible(InBrowser):
    def pages(self):
        self.write("job.toml", JOB)
        self.made("make", "job.toml", *NEST)
        out = self.folder / "models-out"
        pages = [out / "index.html", out / "bore.html", *sorted(out.glob("*/*.html")), *sorted(out.glob("runs/*/*.html"))]
        self.assertGreaterEqual(len(pages), 7)
        # of each kind of page: of the job, of its bore, of a fitting, of a run
        return drawn(pages, lambda page: page.stem if page.parent == out else page.parent.parent.name)

    def at_width(self, width):
        self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {
            "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False})
        self.settle()

    def tearDown(self):
        self.browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        super().tearDown()

    def violations(self, rules=None):
        """What axe-core finds on the page as it stands: of all its rules, or of those named."""
        return self.browser.execute_async_script(
            "const done = arguments[1], only = arguments[0] ? {runOnly: {type: 'rule', values: arguments[0]}} : {};"
            "axe.run(document, {...only, resultTypes: ['violations']}).then((r) => done(r.violations.map("
            "(v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(' | '))))", rules)

    def test_every_page_at_every_width(self):
        script = axe_script()
        for page in self.pages():
            self.open(page)
            for width in WIDTHS:
                self.at_width(width)
                self.assertEqual(self.run_script(OWN), [], f"{page.name} at {width}")
                self.assertEqual(self.run_script(CLASHES), [], f"{page.name} at {width}")
            if script:
                self.axe_finds_nothing(page, script)
        if not script:
            self.skipTest("npm is not at hand, or cannot fetch axe-core")

    def axe_finds_nothing(self, page, script):
        # a script of the driver's own, which the page's policy does not hold back
        self.browser.execute_script(script)
        for theme in ("light", "dark"):
            rules = COLOURS if theme == "dark" and CASES < 1 else None
            self.run_script("document.documentElement.dataset.theme = arguments[0]", theme)
            for width in drawn([390, 1400]):
                self.at_width(width)
                self.assertEqual(self.violations(rules), [], f"{page.name}, {theme}, at {width}")
