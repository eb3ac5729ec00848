"""A headless browser that looks at the pages a run of the program wrote."""
import base64
import json
import subprocess
import tempfile
import time

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.support.ui import WebDriverWait

from support import CASES, InFolder

FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
         "--disable-component-update", "--disable-sync", "--no-first-run", "--window-size=1200,900"]
# The view is drawn by software here: a quarter of its pixels tell as much, and the page's own layout stays as it is. With fewer cases
# it is a sixteenth, and edges are not smoothed.
COARSE = "Object.defineProperty(window, 'devicePixelRatio', {get: () => 0.5});"
if CASES < 1:
    COARSE = COARSE.replace("0.5", "0.25") + """
        const context = HTMLCanvasElement.prototype.getContext;
        HTMLCanvasElement.prototype.getContext = function (kind, asked) {
          return context.call(this, kind, {...asked, antialias: false});
        };"""
# the view without its colour buffer's alpha: how many colours there are, and a number that stands for all pixels
LOOK = """
const canvas = document.getElementById('view');
const gl = canvas.getContext('webgl2');
const bytes = new Uint8Array(4 * gl.drawingBufferWidth * gl.drawingBufferHeight);
gl.readPixels(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight, gl.RGBA, gl.UNSIGNED_BYTE, bytes);
const colours = new Set();
let sum = 0;
for (let i = 0; i < bytes.length; i += 4) {
  const colour = bytes[i] << 16 | bytes[i + 1] << 8 | bytes[i + 2];
  colours.add(colour);
  sum = (sum * 31 + colour) % 1000000007;
}
return {colours: colours.size, sum, error: gl.getError()};
"""


class InBrowser(InFolder):
    @classmethod
    def setUpClass(cls):
        profile = tempfile.TemporaryDirectory()
        cls.addClassCleanup(profile.cleanup)
        options = Options()
        options.binary_location = "/usr/bin/chromium"
        for flag in [*FLAGS, f"--user-data-dir={profile.name}"]:
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        cls.browser = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)
        cls.addClassCleanup(cls.browser.quit)
        cls.browser.set_script_timeout(300)  # a loaded machine takes its time
        cls.browser.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": COARSE})

    def open(self, path):
        self.browser.get_log("browser")
        self.browser.get_log("performance")
        self.browser.get(path.resolve().as_uri())
        self.page = path.resolve().as_uri()
        unpacked = "return !document.getElementById('scene') || document.body.dataset.unpacked === 'yes'"
        WebDriverWait(self.browser, 20).until(lambda browser: browser.execute_script(unpacked))
        self.settle()

    def settle(self):
        """Lets the page draw what it was asked for."""
        self.browser.execute_async_script(
            "const done = arguments[0]; requestAnimationFrame(() => requestAnimationFrame(() => done()))")

    def run_script(self, script, *arguments):
        return self.browser.execute_script(script, *arguments)

    def set_control(self, control, **properties):
        """Sets properties of a form's control, found by its id or selector, as a person's hand would."""
        self.run_script(
            "const c = document.querySelector(arguments[0]); Object.assign(c, arguments[1]);"
            "c.dispatchEvent(new Event('input', {bubbles: true}));"
            "c.dispatchEvent(new Event('change', {bubbles: true}));", control, properties)
        self.settle()

    def click(self, selector):
        self.run_script("document.querySelector(arguments[0]).click()", selector)
        self.settle()

    def look(self):
        self.settle()
        seen = self.run_script(LOOK)
        self.assertEqual(seen["error"], 0)
        return seen

    def assert_no_complaints(self):
        """Nothing in the console but the driver's own notes on software rendering."""
        bad = [entry for entry in self.browser.get_log("browser")
               if "software WebGL" not in entry["message"] and "GL Driver Message" not in entry["message"]]
        self.assertEqual(bad, [])

    def requests(self):
        """Addresses the page asked for since it was opened; not those of the browser's own start page."""
        sent = [json.loads(entry["message"])["message"] for entry in self.browser.get_log("performance")]
        return [message["params"]["request"]["url"] for message in sent
                if message["method"] == "Network.requestWillBeSent" and message["params"]["documentURL"] == self.page]

    def print_pdf(self, width=8.27, height=11.69):
        data = self.browser.execute_cdp_cmd("Page.printToPDF", {"paperWidth": width, "paperHeight": height})["data"]
        file = self.folder / "printed.pdf"
        file.write_bytes(base64.b64decode(data))
        return file

    def pages_of(self, pdf):
        info = subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout
        return int(next(line for line in info.splitlines() if line.startswith("Pages:")).split()[1])

    def text_of(self, pdf):
        return subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True,
                              check=True).stdout
