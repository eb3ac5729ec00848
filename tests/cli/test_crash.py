"""The program ended at its n-th change to the disk, by a kill or by the power: earlier results are whole, and nothing that a
person put among them is lost. A library that is preloaded does the ending (crash_point.cpp)."""
import hashlib
import json
import os
import random
import subprocess
import unittest

from support import PROGRAM, InFolder

LIBRARY = os.environ["LINERWRIGHT_CRASH_POINT"]
CASES = float(os.environ.get("LINERWRIGHT_CASES", "1"))


def job(diameter):
    return (f'[liner]\nthickness = "25mm"\n[[stock]]\nwidth = "1220mm"\nlength = "3050mm"\n'
            f'[[fitting]]\ntag = "E"\nkind = "elbow"\ndiameter = "{diameter}mm"\nangle = 90\npieces = 3\n'
            f'[[fitting]]\ntag = "S"\nkind = "straight"\ndiameter = "{diameter}mm"\nlength = "1m"\n')


class Crash(InFolder):
    ARGUMENTS = ["make", "job.toml", "--patterns-only", "--nest", "--effort", "fill", "--jobs", "1"]

    def setUp(self):
        super().setUp()
        self.out = self.folder / "models-out"

    def start(self, at, *more, **extra):
        """Runs to its end or to the given change; returns the exit code."""
        env = {**os.environ, "LD_PRELOAD": LIBRARY, "CRASH_AT": str(at), "CRASH_COUNT": str(self.folder / "count"), **extra}
        return subprocess.run([PROGRAM, *self.ARGUMENTS, *more], cwd=self.folder, capture_output=True, timeout=300, env=env).returncode

    def changes(self, **extra):
        self.assertEqual(self.start(0, **extra), 0)
        return int((self.folder / "count").read_text())

    def put_own_files(self):
        """What a person leaves among the results: a note, a folder in a folder, a link, a result that was edited."""
        self.mine = {}
        for stem in ("E", "S", "boards"):
            folder = self.out / stem
            (folder / "machine" / "old").mkdir(parents=True)
            for name in ("note.txt", "machine/run.nc", "machine/old/run.nc"):
                self.mine[f"{stem}/{name}"] = f"{stem} {name}".encode()
                (folder / name).write_bytes(self.mine[f"{stem}/{name}"])
            os.symlink("note.txt", folder / "link")
        edited = self.out / "E" / "E-tilt.csv"
        self.edited = edited.read_bytes() + b"mine\n"
        edited.write_bytes(self.edited)

    def broken(self):
        """What is missing or not as it should be, in words."""
        wrong = []
        for path, text in self.mine.items():
            if not (self.out / path).is_file() or (self.out / path).read_bytes() != text:
                wrong.append(f"lost: {path}")
        for stem in ("E", "S", "boards"):
            if not (self.out / stem / "link").is_symlink():
                wrong.append(f"lost: {stem}/link")
        if not any(path.is_file() and path.read_bytes() == self.edited for path in (self.out / "E").iterdir()):
            wrong.append("lost: E-tilt.csv as it was edited")
        for stem, proof in (("E", "fitting.json"), ("S", "fitting.json"), ("boards", "boards.json")):
            try:
                data = json.loads((self.out / stem / proof).read_text())
            except (OSError, ValueError):
                wrong.append(f"no {stem}/{proof}")
                continue
            for name, digest in data["digests"].items():
                path = self.out / stem / name
                there = path.read_bytes() if path.is_file() else b""
                if hashlib.blake2b(there, digest_size=32).hexdigest() != digest and there != self.edited:
                    wrong.append(f"not as written: {stem}/{name}")
        for path in self.out.glob("*/kept-*"):
            if path.name != "kept-E-tilt.csv":
                wrong.append(f"the program's own file taken for a person's: {path}")
        for name in ("totals.csv", "totals.json", "made.json"):
            if not (self.out / name).is_file() or (self.out / name).stat().st_size == 0:
                wrong.append(f"no {name}")
        return wrong

    def crash_everywhere(self, runs, restored=True, **extra):
        """Ends runs at changes spread over all of them; returns what was broken after any."""
        seed = 20261128
        chance = random.Random(seed)
        self.write("job.toml", job(300))
        self.made(*self.ARGUMENTS)
        self.put_own_files()
        self.write("job.toml", job(301))
        count = self.changes(**extra)
        found = []
        killed = 0
        for run in range(max(3, round(CASES * runs))):
            diameter = 302 + run
            self.write("job.toml", job(diameter))
            at = chance.randint(1, count + 5)
            killed += self.start(at, **extra) == -9
            if not restored:  # without an exchange of names a result may stand aside until the next run
                self.write("other.toml", '[[fitting]]\ntag = "X"\nkind = "straight"\ndiameter = "200mm"\nlength = "1m"\nthickness = "25mm"\n')
                self.made("make", "other.toml", "--patterns-only", "--no-pages", "--shard", "1/2")
            found += [f"{wrong} (seed {seed}, run {run}, change {at} of {count})" for wrong in self.broken()]
            if found:
                return found
        self.assertGreater(killed, 0.6 * CASES * runs)
        self.made(*self.ARGUMENTS)
        self.assertEqual([name for name in os.listdir(self.out) if name.startswith(".")], [])
        data = json.loads((self.out / "E" / "fitting.json").read_text())
        self.assertAlmostEqual(data["parameters"]["diameter"], diameter)
        return self.broken()

    def test_killed(self):
        self.assertEqual(self.crash_everywhere(100), [])

    def test_killed_where_names_cannot_be_exchanged(self):
        self.assertEqual(self.crash_everywhere(40, restored=False, CRASH_NO_EXCHANGE="1"), [])

    def test_power_failure(self):
        self.assertEqual(self.crash_everywhere(60, CRASH_DROP="1"), [])

    def test_without_sync_a_power_failure_does_harm(self):
        """The library that drops what is not synced is no dummy."""
        self.ARGUMENTS = [*self.ARGUMENTS, "--no-sync"]
        self.assertNotEqual(self.crash_everywhere(200, CRASH_DROP="1"), [])


if __name__ == "__main__":
    unittest.main()
