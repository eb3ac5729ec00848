"""Fittings at which random trials found a fault: each is made and proved from its files; of the proofs, the slower half of the work by far,
LINERWRIGHT_CASES under 1 takes a share."""
import pathlib
import unittest

from support import CASES, InFolder, drawn

JOB = pathlib.Path(__file__).with_name("found.toml")


class Found(InFolder):
    def test_each_is_made_and_proved(self):
        self.made("make", JOB, "--out", "out", "--no-pages", "--no-sync")
        self.assertEqual(len(self.fittings_in("out")), JOB.read_text().count("[[fitting]]"))
        # the whole folder, or with fewer cases that share of its fittings
        for what in ["out"] if CASES >= 1.0 else [f"out/{tag}" for tag in drawn(self.fittings_in("out"))]:
            proved = self.run_program("check", what)
            self.assertEqual([line for line in proved.stdout.splitlines() if "FAIL" in line], [])
            self.assertEqual(proved.returncode, 0, proved.stderr[-3000:])


if __name__ == "__main__":
    unittest.main()
