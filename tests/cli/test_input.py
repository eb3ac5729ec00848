import os
import unittest

from support import InFolder

GOOD = '[[fitting]]\ntag = "G"\nkind = "straight"\ndiameter = "300mm"\nlength = "1m"\nthickness = "25mm"\n'


class BadInput(InFolder):
    """One clear line for each mistake, exit code 2, nothing half-written."""

    def refused(self, job, *words, code=2):
        self.write("job.toml", job)
        result = self.run_program("make", "job.toml")
        self.assertEqual(result.returncode, code, result.stderr)
        for word in words:
            self.assertIn(word, result.stderr)
        for line in result.stderr.splitlines():
            self.assertTrue(line.startswith("linerwright: "), line)
        return result

    def nothing_written(self):
        out = self.folder / "models-out"
        self.assertEqual(sorted(p.name for p in out.iterdir()) if out.exists() else [], [])

    def fitting(self, **keys):
        values = {"tag": '"F"', "kind": '"elbow"', "diameter": '"300mm"', "angle": "90", "pieces": "5",
                  "thickness": '"25mm"', **keys}
        return "[[fitting]]\n" + "".join(f"{key} = {value}\n" for key, value in values.items() if value is not None)

    def test_refusals_name_line_key_value_and_limit(self):
        cases = [
            (dict(diameter=None), ["diameter"]),
            (dict(diametr='"1m"'), ["diametr", "diameter"]),
            (dict(diameter='"300inn"'), ["job.toml:4", "diameter", "300inn"]),
            (dict(diameter="nan"), ["diameter"]),
            (dict(diameter='"-300mm"'), ["diameter", "-300mm"]),
            (dict(diameter='"0mm"'), ["diameter"]),
            (dict(pieces="1"), ["pieces", "1"]),
            (dict(pieces='"five"'), ["pieces", "five"]),
            (dict(thickness='"151mm"'), ["thickness", "151", "closes"]),
            (dict(radius_ratio="0.5"), ["radius_ratio", "throat"]),
            (dict(kind='"elbo"'), ["kind", "elbow"]),
            (dict(tag='""'), ["tag"]),
            (dict(tag='"a/b"'), ["tag", "a/b"]),
            (dict(tag='"' + "x" * 300 + '"'), ["tag"]),
        ]
        for keys, words in cases:
            with self.subTest(keys=keys):
                self.refused(self.fitting(**keys), *words)
                self.nothing_written()

    def test_all_mistakes_in_one_run(self):
        result = self.refused(self.fitting(diameter='"x"', angle='"y"') + self.fitting(tag='"H"', pieces="99"),
                              "diameter", "angle", "pieces")
        self.assertGreaterEqual(len(result.stderr.splitlines()), 3)

    def test_repeated_tag(self):
        self.refused(self.fitting() + self.fitting(), "tag", "F")

    def test_one_bad_fitting_does_not_stop_the_others(self):
        self.refused(GOOD + self.fitting(pieces="99"), "pieces")
        self.assertEqual(self.fittings_in("models-out"), ["G"])

    def test_files_that_cannot_be_read(self):
        for target in ["missing.toml", "."]:
            result = self.run_program("make", target)
            self.assertEqual(result.returncode, 2)
            self.assertEqual(len(result.stderr.splitlines()), 1)
        self.refused("[job\n", "job.toml:1")

    def test_out_folder_that_cannot_be_written(self):
        self.write("job.toml", GOOD)
        self.write("file", "")
        result = self.run_program("make", "job.toml", "--out", "file/below")
        self.assertEqual(result.returncode, 3, result.stderr)
        self.assertIn("file/below", result.stderr)

    def test_a_failed_run_keeps_the_earlier_result(self):
        self.write("job.toml", GOOD)
        self.made("make", "job.toml")
        folder = self.folder / "models-out" / "G"
        before = {p.name: p.read_bytes() for p in folder.iterdir()}
        self.write("job.toml", GOOD.replace("25mm", "170mm"))
        self.assertEqual(self.run_program("make", "job.toml").returncode, 2)
        self.assertEqual({p.name: p.read_bytes() for p in folder.iterdir()}, before)
        self.assertEqual(self.fittings_in("models-out"), ["G"])

    def test_arguments(self):
        for arguments in [["make"], ["mak"], ["make", "elbow", "--diametre", "1"], ["bore"], []]:
            result = self.run_program(*arguments)
            self.assertEqual(result.returncode, 2, arguments)
            self.assertTrue(result.stderr.startswith("linerwright: "))
        result = self.run_program("make", "straight", "--diameter", "24", "--length", "4ft", "--liner", "1in")
        self.assertEqual(result.returncode, 2)
        self.assertIn("--diameter", result.stderr)

    def test_help_and_version(self):
        for arguments in [["--help"], ["make", "--help"], ["make", "elbow", "--help"], ["bore", "--help"], ["--version"]]:
            result = self.run_program(*arguments)
            self.assertEqual(result.returncode, 0, arguments)
            self.assertTrue(result.stdout)

    def test_samples_work_as_they_stand(self):
        for kind in ["", "straight", "elbow", "reducer", "tee"]:
            self.write("job.toml", self.made("sample", *([kind] if kind else [])).stdout)
            self.made("make", "job.toml", "--out", f"out-{kind}")


if __name__ == "__main__":
    unittest.main()
