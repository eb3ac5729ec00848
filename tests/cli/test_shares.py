"""Jobs made in shares by GNU parallel, on this machine and on logins that are shells of this machine."""
import os
import shutil
import subprocess

from support import PROGRAM, SOURCE, InFolder

JOB = "tag,kind,diameter,length,angle,pieces,thickness\n" + "".join(
    f"S-{i},straight,{300 + 5 * i},1000,,,25\nE-{i},elbow,{300 + 5 * i},,90,4,25\n" for i in range(5))
FLAGS = ["--units", "mm", "--no-pages", "--no-sync", "--stock-width", "1220", "--stock-length", "3050"]
# what ssh is asked: options, the login's name, the command; a login has its shell in SHELL, whoever calls
SHELL = """#!/bin/sh
while [ "${1#-}" != "$1" ]; do [ "$1" = -o ] || [ "$1" = -l ] && shift; shift; done
echo "$1" >>%s
shift
[ "$1" = -- ] && shift
SHELL=/bin/sh exec sh -c "$*"
"""


def files_of(folder):
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


class Shares(InFolder):
    def shares(self, count, out, *flags, env=None, code=0):
        result = subprocess.run([SOURCE / "scripts" / "shares", str(count), out, "job.csv", *flags], cwd=self.folder,
                                capture_output=True, text=True, timeout=300,
                                env={**os.environ, "LINERWRIGHT": PROGRAM, "HOME": str(self.folder), **(env or {})})
        self.assertEqual(result.returncode, code, result.stderr + result.stdout)
        return result

    def test_whole_is_as_if_made_at_once(self):
        self.write("job.csv", JOB)
        told = self.shares(3, "shares", *FLAGS, "--nest")
        self.assertIn("0 made, 10 unchanged", told.stdout)
        self.made("make", "job.csv", *FLAGS, "--nest", "--out", "at-once")
        whole, direct = files_of(self.folder / "shares" / "whole"), files_of(self.folder / "at-once")
        self.assertEqual(sorted(whole), sorted(direct))
        self.assertIn("boards/boards.json", whole)
        self.assertEqual([name for name in whole if whole[name] != direct[name]], [])

    def test_a_lost_share_is_made_again_and_only_that(self):
        self.write("job.csv", JOB)
        self.shares(3, "shares", *FLAGS)
        shares = [self.folder / "shares" / f"share-{i}" for i in (1, 2, 3)]
        before = [(share / f"made-{i}-3.json").stat().st_mtime_ns for i, share in enumerate(shares, 1)]
        shutil.rmtree(shares[1])
        lost = self.run_program("join", shares[0], shares[2])
        self.assertEqual(lost.returncode, 2)
        self.assertIn("share 2 is in none of the folders", lost.stderr)
        doubled = self.run_program("join", *shares[:1], *shares[:1], shares[2])
        self.assertEqual(doubled.returncode, 2)
        self.assertIn("is share 1 of 3, as", doubled.stderr)
        self.shares(3, "shares", *FLAGS)
        after = [(share / f"made-{i}-3.json").stat().st_mtime_ns for i, share in enumerate(shares, 1)]
        self.assertEqual([before[0], before[2]], [after[0], after[2]])
        self.assertEqual(len(self.fittings_in("shares/whole")), 10)

    def test_logins_share_the_work(self):
        self.write("job.csv", JOB)
        shell, seen = self.folder / "shell", self.folder / "seen"
        shell.write_text(SHELL % seen)
        shell.chmod(0o755)
        logins = self.write("logins", "1/north\n1/south\n")
        self.shares(4, "shares", *FLAGS, env={"SHARES_LOGINS": str(logins), "PARALLEL_SSH": str(shell), "SHELL": ""})
        self.assertLessEqual({"north", "south"}, set(seen.read_text().split()))
        self.assertEqual(len(self.fittings_in("shares/whole")), 10)

    def test_logins_that_make_nothing_are_told(self):
        self.write("job.csv", JOB)
        shell = self.folder / "shell"
        shell.write_text("#!/bin/sh\nexit 0\n")
        shell.chmod(0o755)
        logins = self.write("logins", "1/north\n")
        told = self.shares(2, "shares", *FLAGS, env={"SHARES_LOGINS": str(logins), "PARALLEL_SSH": str(shell)}, code=2)
        self.assertIn("no share was made", told.stderr)

    def test_wrong_use_is_one_line(self):
        self.write("job.csv", JOB.replace("elbow", "elbov"))
        for arguments, said in [(("0", "x"), "0: is no number of shares"), (("2", "y"), "elbov")]:
            result = self.shares(*arguments, *FLAGS, code=2)
            self.assertIn(said, result.stderr)
        self.assertFalse((self.folder / "x").exists())
