"""Runs the program in a folder of its own."""
import math
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
import unittest

PROGRAM = os.environ["LINERWRIGHT"]
SOURCE = pathlib.Path(os.environ["LINERWRIGHT_SOURCE"])
CASES = float(os.environ.get("LINERWRIGHT_CASES", "1"))


def drawn(items, kind=lambda item: ""):
    """All items; where LINERWRIGHT_CASES is under 1 that share of each kind of them, evenly spread, at least one of each kind.
    Says how many of how many."""
    items = list(items)
    of_kind = {}
    for i, item in enumerate(items):
        of_kind.setdefault(kind(item), []).append(i)
    taken = []
    for places in of_kind.values():
        count = math.ceil(len(places) * min(1.0, CASES))
        taken += [places[i * len(places) // count] for i in range(count)]
    if len(taken) < len(items):
        print(f"{len(taken)} of {len(items)} in {sys._getframe(1).f_code.co_name}")
    return [items[i] for i in sorted(taken)]


def drawn_fittings(job, kind=lambda fitting: fitting["kind"]):
    """A job's text with fittings drawn, of each kind by itself; those that another table of the job names stay."""
    tables = re.split(r"(?m)^(?=\[)", job)
    fittings = [(i, tomllib.loads(table)["fitting"][0]) for i, table in enumerate(tables) if table.startswith("[[fitting]]")]
    others = "".join(table for table in tables if not table.startswith("[[fitting]]"))
    left_out = {i for i, fitting in fittings if not re.search(rf"\b{re.escape(fitting['tag'])}\b", others)}
    left_out -= {i for i, _ in drawn(fittings, lambda each: kind(each[1]))}
    return "".join(table for i, table in enumerate(tables) if i not in left_out)


# Boards, where they are made for what else is tested: with fewer cases they are filled as ever and no better places are looked for,
# which takes ten seconds of both cores each time.
FILL = ["--effort", "fill"] if CASES < 1 else []
NEST = ["--nest", *FILL]

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
