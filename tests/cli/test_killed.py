"""A run that is killed at any moment leaves every earlier result whole, and the next run completes. test_crash.py ends runs at
chosen changes to the disk."""
import json
import os
import random
import signal
import subprocess
import time
import unittest

from support import PROGRAM, InFolder

KILLS = max(5, round(60 * float(os.environ.get("LINERWRIGHT_CASES", "1"))))


def job(gauge):
    return "".join(f'[[fitting]]\ntag = "F-{i}"\nkind = "{"elbow" if i % 2 else "straight"}"\ndiameter = "300mm"\n'
                   f'thickness = "25mm"\ngauge = "{gauge:.4f}mm"\n' + ("angle = 90\npieces = 3\n" if i % 2 else 'length = "1m"\n')
                   for i in range(6))


class Killed(InFolder):
    def whole(self, folder):
        """The folder holds all files that its fitting.json names, a person's note, and nothing else."""
        data = json.loads((folder / "fitting.json").read_text())
        self.assertEqual(sorted([*data["files"], "note.txt"]), sorted(p.name for p in folder.iterdir()))
        self.assertEqual((folder / "note.txt").read_text(), folder.name)
        return data

    def test_at_random_moments(self):
        seed = 20261125
        chance = random.Random(seed)
        self.write("job.toml", job(0.8))
        self.made("make", "job.toml", "--jobs", "2")
        out = self.folder / "models-out"
        for i in range(6):
            (out / f"F-{i}" / "note.txt").write_text(f"F-{i}")
        start = time.monotonic()
        self.made("make", "job.toml", "--jobs", "2", "--force")
        longest = 1.2 * (time.monotonic() - start)
        gauges = {0.8}
        killed = 0
        for run in range(KILLS):
            gauge = round(0.8 + 0.001 * (run + 1), 4)
            gauges.add(gauge)
            self.write("job.toml", job(gauge))
            process = subprocess.Popen([PROGRAM, "make", "job.toml", "--jobs", "2"], cwd=self.folder,
                                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            time.sleep(chance.uniform(0.0, longest))
            process.send_signal(signal.SIGKILL)
            killed += process.wait() == -signal.SIGKILL
            for i in range(6):
                data = self.whole(out / f"F-{i}")
                self.assertIn(round(data["parameters"]["gauge"], 4), gauges, f"seed {seed}, run {run}")
        self.assertGreater(killed, KILLS // 5)
        self.made("make", "job.toml", "--jobs", "2")
        self.assertEqual(self.fittings_in(out), [f"F-{i}" for i in range(6)])
        self.assertFalse([name for name in os.listdir(out) if name.startswith(".")])
        for i in range(6):
            self.assertAlmostEqual(self.whole(out / f"F-{i}")["parameters"]["gauge"], gauge, places=4)

    def test_second_run_into_the_same_folder_is_refused(self):
        import fcntl
        self.write("job.toml", job(0.8))
        (self.folder / "models-out").mkdir()
        descriptor = os.open(self.folder / "models-out", os.O_RDONLY)
        self.addCleanup(os.close, descriptor)
        fcntl.flock(descriptor, fcntl.LOCK_EX)
        result = self.run_program("make", "job.toml")
        self.assertEqual(result.returncode, 3)
        self.assertIn("another run is writing into this folder", result.stderr)
        fcntl.flock(descriptor, fcntl.LOCK_UN)
        self.made("make", "job.toml")

    def test_unchanged_fittings_are_left_alone(self):
        self.write("job.toml", job(0.8))
        self.made("make", "job.toml")
        out = self.folder / "models-out"
        before = {p: p.stat().st_ino for p in out.iterdir()}
        self.assertIn("0 made, 6 unchanged", self.made("make", "job.toml").stdout)
        self.assertEqual({p: p.stat().st_ino for p in out.iterdir()}, before)
        (out / "F-2" / "F-2-1.dxf").unlink()
        self.assertIn("1 made, 5 unchanged", self.made("make", "job.toml").stdout)
        self.assertIn("6 made, 0 unchanged", self.made("make", "job.toml", "--force").stdout)

    def test_shards_share_the_job(self):
        self.write("job.toml", job(0.8))
        for i in (1, 2, 3):
            self.made("make", "job.toml", "--shard", f"{i}/3")
            self.assertEqual(len(self.fittings_in("models-out")), 2 * i)
            totals = json.loads((self.folder / "models-out" / f"totals-{i}-3.json").read_text())
            self.assertEqual([row["tag"] for row in totals["fittings"]], [f"F-{i - 1}", f"F-{i + 2}"])
        for shard in ("0/3", "4/3", "x", "1/3x", "1/0"):
            self.assertEqual(self.run_program("make", "job.toml", "--shard", shard).returncode, 2)

    def test_nothing_of_somebody_else_is_replaced(self):
        self.write("job.toml", job(0.8))
        (self.folder / "F-1").mkdir()
        (self.folder / "F-1" / "precious.txt").write_text("mine")
        (self.folder / "F-2").write_text("a file")
        os.symlink(self.folder / "F-1", self.folder / "F-3")
        result = self.run_program("make", "job.toml", "--out", ".")
        self.assertEqual(result.returncode, 3)
        self.assertEqual(result.stderr.count("is in the way"), 3)
        self.assertEqual((self.folder / "F-1" / "precious.txt").read_text(), "mine")
        self.assertEqual((self.folder / "F-2").read_text(), "a file")
        self.assertTrue((self.folder / "F-3").is_symlink())
        self.assertTrue((self.folder / "F-4" / "fitting.json").exists())

    def test_hostile_tags_stay_inside(self):
        for number, tag in enumerate(["..\\\\x", "CON", "nul.txt", "=1+1", "<b>&\\\"'", "\\u202egnp", "наряд 7", ".hidden", "-rf",
                                      "a" * 100, "tag with spaces"]):
            self.write("job.toml", f'[[fitting]]\ntag = "{tag}"\nkind = "straight"\ndiameter = "300mm"\nlength = "1m"\n'
                                   'thickness = "25mm"\n')
            result = self.run_program("make", "job.toml", "--out", f"out{number}")
            self.assertIn(result.returncode, (0, 2), result.stderr)
            self.assertTrue(all(p.name.startswith("out") or p.name == "job.toml" for p in self.folder.iterdir()))
            if result.returncode == 0:
                names = self.fittings_in(f"out{number}")
                self.assertEqual(len(names), 1)
                self.assertRegex(names[0], r"^[A-Za-z0-9_][A-Za-z0-9._-]*$")


if __name__ == "__main__":
    unittest.main()
