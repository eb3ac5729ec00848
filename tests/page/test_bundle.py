"""The bundled scripts are those of the sources beside them."""
import base64
import hashlib
import os
import pathlib
import unittest

WEB = pathlib.Path(os.environ["LINERWRIGHT_SOURCE"]) / "src" / "page" / "web"


class Bundle(unittest.TestCase):
    def test_was_made_of_these_sources(self):
        made_of = dict(reversed(line.split()) for line in (WEB / "bundle" / "sources.sha256").read_text().splitlines())
        now = {file.name: hashlib.sha256(file.read_bytes()).hexdigest() for file in WEB.glob("*.mjs")}
        self.assertGreaterEqual(len(now), 5)
        self.assertEqual(made_of, now, "run scripts/rebuild-viewer")

    def test_hashes_are_those_of_the_scripts(self):
        for page in ["view", "job", "unpack"]:
            script = (WEB / "bundle" / f"{page}.js").read_bytes()
            expected = "sha256-" + base64.b64encode(hashlib.sha256(script).digest()).decode()
            self.assertEqual((WEB / "bundle" / f"{page}.hash").read_text(), expected)

    def test_carries_the_licence_of_what_it_holds(self):
        licence = (WEB / "bundle" / "three-LICENSE").read_text()
        self.assertIn("Permission is hereby granted", licence)
        self.assertIn(licence.strip(), (WEB / "bundle" / "view.js").read_text())
