"""Runs the program in a folder of its own."""
import math
import os
import pathlib
import subprocess
import tempfile
import unittest

PROGRAM = os.environ["LINERWRIGHT"]
SOURCE = pathlib.Path(os.environ["LINERWRIGHT_SOURCE"])
CASES = float(os.environ.get("LINERWRIGHT_CASES", "1"))


def drawn(items):
    """All items; where LINERWRIGHT_CASES is under 1 that share of them, evenly spread, at least one."""
    items = list(items)
    count = max(1, math.ceil(len(items) * min(1.0, CASES)))
    return [items[i * len(items) // count] for i in range(count)]


class InFolder(unittest.TestCase):
    def setUp(self):
        self._folder = tempfile.TemporaryDirectory()
        self.addCleanup(self._folder.cleanup)
        self.folder = pathlib.Path(self._folder.name)

    def run_program(self, *arguments, env=None):
        return subprocess.run([PROGRAM, *map(str, arguments)], cwd=self.folder, capture_output=True, text=True,
                              env={**os.environ, **(env or {})}, timeout=300)

    def write(self, name, text):
        path = self.folder / name
        path.write_text(text)
        return path

    def fittings_in(self, out):
        """Names of the fittings' folders; files beside them are not meant."""
        return sorted(p.name for p in (self.folder / out).iterdir() if p.is_dir())

    def made(self, *arguments, code=0):
        result = self.run_program(*arguments)
        self.assertEqual(result.returncode, code, result.stderr + result.stdout)
        return result
