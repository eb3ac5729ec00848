"""Runs the program in a folder of its own."""
import math
import os
import pathlib
import shutil
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


# Takes so long, and says so little more, that it is run with all cases only: scripts/test --full
long = unittest.skipIf(CASES < 1.0, "runs with all cases: scripts/test --full")


class Once:
    """What the program made of a test's first files, for the next test that asks the same of the same: a copy takes no time."""
    kept = {}
    shelf = None

    @classmethod
    def key(cls, folder, arguments):
        """Of the command and the files it finds; None where it is not certain that it finds nothing else."""
        files = [path for path in sorted(folder.rglob("*"))]
        if arguments[0] != "make" or any(path.is_symlink() or not path.is_file() for path in files):
            return None
        words = [str(word).replace(str(folder), "{folder}") for word in arguments]
        if any(word.startswith("/") and not pathlib.Path(word).is_relative_to(SOURCE) for word in words):
            return None
        return tuple(words), tuple((path.name, path.read_bytes()) for path in files)

    @classmethod
    def keep(cls, key, folder, result):
        cls.shelf = cls.shelf or tempfile.TemporaryDirectory()
        copy = pathlib.Path(cls.shelf.name) / str(len(cls.kept))
        shutil.copytree(folder, copy, symlinks=True)
        cls.kept[key] = copy, result

    @classmethod
    def give(cls, key, folder):
        copy, result = cls.kept[key]
        shutil.copytree(copy, folder, symlinks=True, dirs_exist_ok=True)
        return result


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
        key = Once.key(self.folder, arguments) if code == 0 else None
        if key in Once.kept:
            return Once.give(key, self.folder)
        result = self.run_program(*arguments)
        self.assertEqual(result.returncode, code, result.stderr + result.stdout)
        if key:
            Once.keep(key, self.folder, result)
        return result
