"""All C++ sources are laid out as .clang-format says."""
import os
import pathlib
import subprocess
import unittest

ROOT = pathlib.Path(os.environ["LINERWRIGHT_SOURCE"])


class Format(unittest.TestCase):
    def test_sources_are_laid_out_as_agreed(self):
        files = sorted(path for folder in ("src", "include", "tests") for path in (ROOT / folder).rglob("*.[ch]pp"))
        self.assertGreater(len(files), 300)
        result = subprocess.run(["clang-format", "--dry-run", "-Werror", *files], capture_output=True, text=True, cwd=ROOT)
        wrong = sorted({line.split(":")[0] for line in result.stderr.splitlines() if "error:" in line})
        self.assertEqual(wrong, [], "run clang-format -i on them")
        self.assertEqual(result.returncode, 0, result.stderr[:2000])


if __name__ == "__main__":
    unittest.main()
