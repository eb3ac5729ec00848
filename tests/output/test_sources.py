"""The check sum of the library's sources: the same wherever they lie, another one after any change."""
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

SOURCE = pathlib.Path(os.environ["LINERWRIGHT_SOURCE"])


class Sources(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)

    def copy(self, name):
        for part in ("src", "include"):
            shutil.copytree(SOURCE / part, self.folder / name / part)
        return self.folder / name

    def sum_of(self, root):
        out = self.folder / "sources.cpp"
        subprocess.run(["cmake", f"-DROOT={root}", f"-DOUT={out}", "-P", root / "src/output/sources.cmake"], check=True)
        text = out.read_text()
        self.assertNotIn(str(root), text)
        return re.search(r'"([0-9a-f]{64})"', text)[1]

    def test_changes_with_the_sources_and_nothing_else(self):
        first = self.copy("one")
        before = self.sum_of(first)
        self.assertEqual(self.sum_of(self.copy("two/deeper")), before)
        seen = {before}
        for name in ("src/fitting/elbow.cpp", "include/linerwright/units/units.hpp", "src/page/web/job.css"):
            with open(first / name, "a") as file:
                file.write("\n")
            self.assertNotIn(self.sum_of(first), seen)
            seen.add(self.sum_of(first))
        (first / "src/units/new.hpp").write_text("\n")
        self.assertNotIn(self.sum_of(first), seen)
        seen.add(self.sum_of(first))
        with open(first / "src/cli/main.cpp", "a") as file:  # words and flags make no result older
            file.write("\n")
        self.assertIn(self.sum_of(first), seen)


if __name__ == "__main__":
    unittest.main()
