"""How long the bench takes from a key press to what it shows, in Chromium as the tests drive it.

From a key going down in a field of the form to the frame that shows the new patterns, or the new solids: wall milliseconds, the
engine's own share of them, and CPU milliseconds of the browser's processes, which a loaded machine tells apart from waiting. Among
500 fittings the job's table is written into, and frames are timed meanwhile."""
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
TICK = 1000.0 / os.sysconf("SC_CLK_TCK")

JOB = '[job]\nunits = "in"\n\n[liner]\nthickness = 1\n\n'
ELBOW = '[[fitting]]\ntag = "{}"\nkind = "elbow"\ndiameter = 24\nangle = 90\npieces = 5\nradius_ratio = 1.5\n\n'
TEE = '[[fitting]]\ntag = "{}"\nkind = "tee"\ndiameter = 24\nlength = 48\nbranch_diameter = 16\nbranch_length = 30\n\n'
STRAIGHT = '[[fitting]]\ntag = "{}"\nkind = "straight"\ndiameter = 20\nlength = 48\n\n'

# What is shown is noted in the frame after it; frames are noted as they come.
WATCH = """
window.seen = {};
const begin = () => Object.assign(seen, { at: performance.now(), set: null, scene: null, changed: null, moved: null, frames: [] });
begin();
addEventListener('keydown', begin, true);
const note = (name) => requestAnimationFrame(() => setTimeout(() => { seen[name] = performance.now() - seen.at; }));
for (const name of ['set', 'scene']) {
  const before = bench.views[name];
  bench.views[name] = function (...all) { before.apply(this, all); note(name); };
}
bench.grid.table.addEventListener('focusin', () => note('moved'));
const draw = bench.drawJob;
bench.drawJob = function (...all) { draw.apply(this, all); note('changed'); };
const frame = (now) => { seen.frames.push(now); requestAnimationFrame(frame); };
requestAnimationFrame(frame);"""


def cpu(root):
    """CPU milliseconds of a process and all that it started."""
    children, ticks = {}, {}
    for entry in pathlib.Path("/proc").iterdir():
        if not entry.name.isdigit():
            continue
        try:
            fields = (entry / "stat").read_text().rsplit(") ", 1)[1].split()
        except OSError:
            continue  # it has ended
        children.setdefault(int(fields[1]), []).append(int(entry.name))
        ticks[int(entry.name)] = int(fields[11]) + int(fields[12])
    open_ones, total = [root], 0
    while open_ones:
        one = open_ones.pop()
        total += ticks.get(one, 0)
        open_ones += children.get(one, [])
    return TICK * total


class Page:
    def __init__(self, program, folder):
        from selenium import webdriver
        from selenium.webdriver.chrome.options import Options
        from selenium.webdriver.chrome.service import Service
        sys.path.insert(0, str(ROOT / "tests/page"))
        sys.path.insert(0, str(ROOT / "tests/cli"))
        os.environ.setdefault("LINERWRIGHT", str(program))
        os.environ.setdefault("LINERWRIGHT_SOURCE", str(ROOT))
        from browser import FLAGS
        options = Options()
        options.binary_location = "/usr/bin/chromium"
        for flag in [*FLAGS, f"--user-data-dir={folder}/profile"]:
            options.add_argument(flag)
        self.service = Service("/usr/bin/chromedriver")
        self.browser = webdriver.Chrome(service=self.service, options=options)
        subprocess.run([program, "bench", "--out", f"{folder}/bench.html"], check=True, stdout=subprocess.DEVNULL)
        began = time.monotonic()
        self.browser.get(f"file://{folder}/bench.html")
        self.until('return document.body.dataset.page === "bench" && !document.body.classList.contains("waiting")')
        self.ready = time.monotonic() - began
        self.run(WATCH)

    def run(self, script, *arguments):
        return self.browser.execute_script(script, *arguments)

    def until(self, script, *arguments):
        end = time.monotonic() + 60
        while time.monotonic() < end:
            found = self.run(script, *arguments)
            if found:
                return found
            time.sleep(0.01)
        raise TimeoutError(script)

    def cpu(self):
        return cpu(self.service.process.pid)

    def load(self, text):
        self.browser.execute_async_script(
            'const [text, done] = arguments; bench.open(new File([text], "job.toml")).then(() => bench.next(async () => {})).then(() => done())', text)

    def rest(self):
        self.until("return !bench.looking")
        self.run("seen.frames = []")
        self.until("return seen.frames.length > 3")

    def key(self, key):
        text = {"Enter": "\r"}.get(key, key if len(key) == 1 else None)
        self.browser.execute_cdp_cmd("Input.dispatchKeyEvent", {"type": "keyDown", "key": key, **({"text": text} if text else {})})
        self.browser.execute_cdp_cmd("Input.dispatchKeyEvent", {"type": "keyUp", "key": key})

    def choose(self, row, view, key="diameter"):
        self.run("bench.grid.go(arguments[0]); bench.views.show(arguments[1])", row, view)
        self.rest()
        self.run(f'document.getElementById("field-{key}").focus()')
        self.rest()


def typed(page, what, asks, repeats):
    """The last digit of a diameter of two, over and over: wall, engine and CPU milliseconds."""
    walls, engines, cpus = [], [], []
    for i in range(repeats):
        page.run("document.activeElement.select()")
        page.key("2")
        page.rest()
        before = page.cpu()
        page.key(str(i % 8 + 1))
        walls.append(page.until(f"return seen.{what}"))
        page.rest()
        cpus.append(page.cpu() - before)
        engines.append(page.run("return arguments[0].reduce((sum, name) => sum + (bench.engine.took[name] ?? 0), 0)", asks))
    return walls, engines, cpus


def pressed(page, what, repeats):
    """The same of an arrow, at which nothing is written."""
    walls, cpus = [], []
    for i in range(repeats):
        before = page.cpu()
        page.key("ArrowUp" if i % 2 else "ArrowDown")
        walls.append(page.until(f"return seen.{what}"))
        page.rest()
        cpus.append(page.cpu() - before)
    return walls, [0.0] * repeats, cpus


def frames_of(page):
    """Milliseconds from frame to frame since the last key."""
    times = page.run("return seen.frames")
    return [b - a for a, b in zip(times, times[1:])]


def cells(walls, engines, cpus, goal):
    middle = statistics.median(walls)
    return [f"{middle:.0f}", f"{sorted(walls)[int(0.9 * len(walls))]:.0f}", f"{statistics.median(engines):.0f}", f"{statistics.median(cpus):.0f}", goal]


def measured(program, repeats):
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        page = Page(program, folder)
        try:
            page.load(JOB + ELBOW.format("E-1") + TEE.format("T-1"))
            for row, name in ((0, "elbow of five"), (1, "tee")):
                page.choose(row, "patterns")
                rows.append([f"{name}: key to patterns", *cells(*typed(page, "set", ["change", "fitting"], repeats), "100")])
                page.choose(row, "solids")
                rows.append([f"{name}: key to 3D", *cells(*typed(page, "scene", ["change", "fitting", "scene"], repeats), "250")])
            many = JOB + "".join((ELBOW, STRAIGHT, TEE)[i % 3].format(f"F-{i}") for i in range(500))
            began = time.monotonic()
            page.load(many)
            page.rest()
            opened = time.monotonic() - began
            page.choose(251, "patterns")
            rows.append(["tee among 500: key to patterns", *cells(*typed(page, "set", ["change", "fitting"], repeats), "-")])
            rows.append(["tee among 500: key to the table", *cells(*typed(page, "changed", ["change"], repeats), "-")])
            page.run("bench.grid.focus(250, 0)")
            page.rest()
            rows.append(["arrow among 500: key to the next cell", *cells(*pressed(page, "moved", repeats), "-")])
            gaps = []
            for _ in range(repeats):
                page.run("bench.grid.focus(250, 0); bench.grid.edit(bench.grid.at, 'N' + performance.now())")
                page.key("Enter")
                page.until("return seen.changed")
                gaps += frames_of(page)
                page.rest()
            gaps.sort()
            rows.append(["frames while cells of 500 are written", f"{statistics.median(gaps):.0f}", f"{gaps[int(0.95 * len(gaps))]:.0f} (95 %)",
                         f"{gaps[-1]:.0f} (longest)", "", "-"])
            return rows, page.ready, opened
        finally:
            page.browser.quit()
