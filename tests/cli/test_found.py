"""Fittings at which random trials found a fault: each is made and proved from its files."""
import pathlib
import unittest

from support import InFolder, drawn_fittings

JOB = pathlib.Path(__file__).with_name("found.toml")


class Found(InFolder):
    def test_each_is_made_and_proved(self):
        job = drawn_fittings(JOB.read_text(), lambda fitting: "")
        self.write("job.toml", job)
        self.made("make", "job.toml", "--out", "out", "--no-pages", "--no-sync")
        self.assertEqual(len(self.fittings_in("out")), job.count("[[fitting]]"))
        proved = self.run_program("check", "out")
        self.assertEqual([line for line in proved.stdout.splitlines() if "FAIL" in line], [])
        self.assertEqual(proved.returncode, 0, proved.stderr[-3000:])


if __name__ == "__main__":
    unittest.main()
