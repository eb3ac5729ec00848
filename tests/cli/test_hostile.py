"""What nobody should write or leave lying about: the real program under limits of memory and time."""
import os
import pathlib
import resource
import shutil
import subprocess
import unittest

from support import PROGRAM, InFolder, drawn, long

GIB = 1 << 30
SECONDS = 60


def straight(**keys):
    values = {"tag": '"S"', "kind": '"straight"', "diameter": '"300mm"', "length": '"1m"', "thickness": '"25mm"', **keys}
    return "[[fitting]]\n" + "".join(f"{key} = {value}\n" for key, value in values.items())


class Hostile(InFolder):
    def limited(self, *arguments, memory=GIB):
        """The program with so much address space at most; a crash shows as a negative exit code."""
        return subprocess.run([PROGRAM, *map(str, arguments)], cwd=self.folder, capture_output=True, text=True, timeout=SECONDS,
                              preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (memory, memory)))

    def refused(self, name, *words, lines=1):
        result = self.limited("make", name)
        self.assertEqual(result.returncode, 2, result.stderr[:2000])
        told = result.stderr.splitlines()
        self.assertEqual(len(told), lines, result.stderr[:2000])
        for word in words:
            self.assertIn(word, told[0])
        self.assertFalse((self.folder / "models-out").exists())

    def test_large_files(self):
        million = 1_000_000
        for name, text, words in drawn([
                ("comment.toml", "# " + "x" * (100 * million), ["larger than 8 MB"]),
                ("schedule.csv", "tag,kind\n" + "a,b\n" * (25 * million), ["larger than 8 MB"]),
                ("rows.csv", "tag,kind\n" + "a,b\n" * (2 * million - 10), ["rows.csv:50002", "more than 50000 rows"]),
                ("cells.csv", "tag,kind\n" + "a," * (4 * million - 10), ["cells.csv:2", "more than 1000 cells"]),
                ("tables.toml", "[[fitting]]\n" * 650_000, ["tables.toml:50001", "more than 50000 tables"]),
                ("keys.toml", "[job]\n" + "".join(f"k{i}=1\n" for i in range(700_000)), ["keys.toml:1", "more than 50000 keys"]),
                ("list.toml", "[liner]\nthickness = [" + "1,\n" * (2 * million) + "]\n", ["list.toml:2", "not a list"]),
                ("breaks.toml", "\n" * (8 * million), ["holds no fittings"]),
                ("breaks.csv", "tag,kind\n" + "\n" * (8 * million - 10), ["holds no fittings"])]):
            with self.subTest(name):
                self.write(name, text)
                self.refused(name, *words)

    def test_nesting(self):
        for name, text in [("arrays", "a = " + "[" * 60_000), ("tables", "a = " + "{b = " * 10_000),
                           ("dots", ".".join("a" * 30_000) + " = 1\n"), ("head", "[" + ".".join("a" * 30_000) + "]\n")]:
            with self.subTest(name):
                self.write("job.toml", text)
                self.refused("job.toml", "job.toml:1")

    def test_schedules_without_end(self):
        self.write("s.csv", "tag,kind\n")
        self.write("job.toml", '[[schedule]]\nfile = "s.csv"\n' * 101)
        self.refused("job.toml", "job.toml:202", "too much for one job")

    @long
    def test_the_largest_job_that_is_taken(self):
        self.write("plan.csv", "tag,kind,diameter,length,thickness\n"
                   + "".join(f"S-{i},straight,{100 + i % 900}mm,1m,25mm\n" for i in range(50_000)))
        result = self.limited("bore", "plan.csv", "--csv")
        self.assertEqual(result.returncode, 0, result.stderr[:2000])
        self.assertEqual(len(result.stdout.splitlines()), 50_001)

    def test_numbers(self):
        for value in drawn(["1e308", "-1e308", "1e309", "1e-308", "5e-324", "0x7FFFFFFF", "0o17", "0b11", "inf", "-inf", "nan", "-0.0",
                      "9223372036854775807", '"1e308mm"', '"1e400 in"', '"0x10mm"', '"1e-320 ft"', '"1/0 in"', '"1/1e308in"',
                      '"' + "9" * 5000 + 'mm"', '"' + "1" * 400 + '.5e-390 mm"']):
            for key in ("diameter", "length", "thickness"):
                with self.subTest(f"{key} = {value[:30]}"):
                    shutil.rmtree(self.folder / "out", ignore_errors=True)
                    self.write("job.toml", '[job]\nunits = "mm"\n' + straight(**{key: value}))
                    result = self.limited("make", "job.toml", "--patterns-only", "--no-pages", "--out", "out")
                    self.assertIn(result.returncode, (0, 2), result.stderr)
                    for line in result.stderr.splitlines():
                        self.assertTrue(line.startswith("linerwright: "), line)
                    if result.returncode == 2:
                        self.assertTrue(key in result.stderr or value in result.stderr, result.stderr)
                        self.assertFalse((self.folder / "out").exists())

    def test_tags_for_spreadsheets(self):
        tags = ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "=HYPERLINK(A1)", "\t=1", "|cmd"]
        self.write("plan.csv", "tag,kind,diameter,length,thickness\n"
                   + "".join(f'"{tag}",straight,{300 + i}mm,1m,25mm\n' for i, tag in enumerate(tags)))
        self.made("make", "plan.csv", "--patterns-only", "--no-pages", "--out", "out")
        tables = [self.made("make", "plan.csv", "--patterns-only", "--no-pages", "--out", "out", "--csv").stdout,
                  (self.folder / "out" / "totals.csv").read_text(), self.made("bore", "plan.csv", "--csv").stdout]
        for table in tables:
            for row in table.splitlines()[1:]:
                self.assertNotRegex(row.lstrip('"'), r"^[=+\-@\t\r]", row)

    def test_links_in_the_out_folder(self):
        self.write("job.toml", straight(tag='"A"') + straight(tag='"B"') + straight(tag='"C"'))
        elsewhere = self.folder / "elsewhere"
        elsewhere.mkdir()
        (elsewhere / "fitting.json").write_text("{}")
        out = self.folder / "out"
        out.mkdir()
        os.symlink(elsewhere, out / "A")  # a folder that looks like a result
        os.symlink(elsewhere, out / ".B.linerwright-new")  # where B is put together
        os.symlink(elsewhere / "totals", out / "totals.json")
        os.symlink(elsewhere / "loop", elsewhere / "loop")
        os.symlink(elsewhere / "loop", out / "C")
        result = self.limited("make", "job.toml", "--patterns-only", "--no-pages", "--out", "out")
        self.assertEqual(result.returncode, 3, result.stderr)
        self.assertEqual(result.stderr.count("is in the way"), 2, result.stderr)
        self.assertEqual(sorted(path.name for path in elsewhere.iterdir()), ["fitting.json", "loop"])
        self.assertEqual((elsewhere / "fitting.json").read_text(), "{}")
        self.assertTrue((out / "B" / "fitting.json").is_file())
        self.assertTrue((out / "totals.json").is_symlink())  # neither followed nor replaced
        self.assertIn("out/totals.json: is not of this program", result.stderr)

    def test_out_folder_that_is_no_folder(self):
        self.write("job.toml", straight())
        os.symlink(self.folder / "nothing", self.folder / "dangling")
        os.symlink("ring", self.folder / "ring")
        os.mkfifo(self.folder / "fifo")
        for out in ("/dev/null", "/dev/full/x", "dangling/x", "ring", "fifo", "a" * 300, "job.toml", "/proc/none"):
            with self.subTest(out):
                result = self.limited("make", "job.toml", "--patterns-only", "--no-pages", "--out", out)
                self.assertEqual(result.returncode, 3, result.stderr + result.stdout)
                self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)

    def test_job_that_is_no_file(self):
        os.mkfifo(self.folder / "fifo.toml")
        for name, word in (("/dev/zero", "device"), ("/dev/stdin", ""), ("fifo.toml", "pipe")):
            with self.subTest(name):
                result = subprocess.run([PROGRAM, "make", name], cwd=self.folder, capture_output=True, text=True, timeout=SECONDS,
                                        stdin=subprocess.DEVNULL)
                self.assertEqual(result.returncode, 2, result.stderr)
                self.assertIn(word, result.stderr)
                self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)


if __name__ == "__main__":
    unittest.main()
