"""Out of disk space: earlier results stay, one clear line, exit code 3, and the next run completes."""
import json
import os
import pathlib
import resource
import subprocess
import unittest

from support import PROGRAM, InFolder

FITTING = '[[fitting]]\ntag = "F-{0}"\nkind = "elbow"\ndiameter = "300mm"\nangle = 90\npieces = {1}\nthickness = "25mm"\n'


def job(count, pieces=3):
    return "".join(FITTING.format(i, pieces) for i in range(count))


class DiskFull(InFolder):
    def whole(self, out):
        """Every folder holds all files that its fitting.json names, and nothing stands beside them."""
        folders = [path for path in out.iterdir() if path.is_dir()]
        for folder in folders:
            data = json.loads((folder / "fitting.json").read_text())
            self.assertEqual(sorted(data["files"]), sorted(path.name for path in folder.iterdir()))
        return sorted(folder.name for folder in folders)

    def bytes_in(self, out):
        return {path: path.read_bytes() for path in out.glob("*/*")}

    def small_file_system(self, size):
        disk = self.folder / "disk"
        disk.mkdir()
        mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", disk], capture_output=True, text=True)
        if mounted.returncode != 0:
            self.skipTest(f"no small file system can be mounted here: {mounted.stderr.strip()}")
        self.addCleanup(subprocess.run, ["umount", "-l", disk], check=True)
        return disk

    def test_full_disk(self):
        disk = self.small_file_system("8M")
        self.write("job.toml", job(2))
        self.made("make", "job.toml", "--no-pages", "--out", disk / "out")
        before = self.bytes_in(disk / "out")
        with open(disk / "filler", "wb") as filler:
            room = os.statvfs(disk)
            filler.write(b"x" * (room.f_bavail * room.f_bsize - 300_000))
        # both fittings change and two are new: none of them fits
        self.write("job.toml", job(4, pieces=6))
        result = self.run_program("make", "job.toml", "--no-pages", "--out", disk / "out")
        self.assertEqual(result.returncode, 3, result.stderr)
        lines = [line for line in result.stderr.splitlines() if "No space left on device" in line]
        self.assertEqual(len(lines), 4, result.stderr)
        for line in lines:
            self.assertRegex(line, r"^linerwright: .*/out/\.F-\d\.linerwright-new/F-\d[^ ]*: cannot write: No space left on device$")
        self.assertIn("linerwright: 4 not made", result.stderr)
        self.assertEqual(self.bytes_in(disk / "out"), before)
        self.assertEqual(sorted(path.name for path in (disk / "out").glob("*/")), ["F-0", "F-1"])
        (disk / "filler").unlink()
        self.made("make", "job.toml", "--no-pages", "--out", disk / "out")
        self.assertEqual(self.whole(disk / "out"), [f"F-{i}" for i in range(4)])
        self.assertNotEqual(self.bytes_in(disk / "out"), before)

    def test_every_place_where_the_disk_may_fill(self):
        """One block more room at a time, until all fits: no run leaves half a result."""
        disk = self.small_file_system("3M")
        self.write("job.toml", job(1))
        out = disk / "out"
        failed = 0
        for room in range(0, 3_000_000, 150_000):
            with open(disk / "filler", "wb") as filler:
                left = os.statvfs(disk)
                filler.write(b"x" * max(0, left.f_bavail * left.f_bsize - room))
            result = self.run_program("make", "job.toml", "--no-pages", "--out", out)
            names = self.whole(out) if out.exists() else []
            (disk / "filler").unlink()
            if result.returncode == 0:
                self.assertEqual(names, ["F-0"])
                break
            failed += 1
            self.assertEqual(result.returncode, 3, result.stderr)
            self.assertIn("No space left on device", result.stderr)
        else:
            self.fail("never enough room")
        self.assertGreater(failed, 2)

    def test_file_size_limit(self):
        """Without a small file system: no file may grow past a limit, as under a quota."""
        self.write("job.toml", job(1))

        def limited():
            resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))

        result = subprocess.run([PROGRAM, "make", "job.toml", "--no-pages"], cwd=self.folder, capture_output=True, text=True,
                                preexec_fn=limited, timeout=300)
        self.assertEqual(result.returncode, 3, result.stderr)
        self.assertRegex(result.stderr, r"linerwright: models-out/\.F-0\.linerwright-new/F-0[^ ]*: cannot write: File too large\n")
        self.assertEqual([path.name for path in (self.folder / "models-out").iterdir() if path.is_dir()], [])
        self.made("make", "job.toml", "--no-pages")
        self.assertEqual(self.whole(self.folder / "models-out"), ["F-0"])

    def test_output_that_takes_nothing(self):
        if not pathlib.Path("/dev/full").exists():
            self.skipTest("this system has no /dev/full")
        self.write("job.toml", job(1))
        with open("/dev/full", "w") as full:
            result = subprocess.run([PROGRAM, "make", "job.toml", "--no-pages"], cwd=self.folder, stdout=full,
                                    stderr=subprocess.PIPE, text=True, timeout=300)
        self.assertEqual(result.returncode, 3, result.stderr)
        self.assertEqual(result.stderr, "linerwright: standard output: cannot write\n")
        self.assertEqual(self.whole(self.folder / "models-out"), ["F-0"])


if __name__ == "__main__":
    unittest.main()
