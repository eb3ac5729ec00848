"""The README's examples do what it says."""
import re
import shlex
import unittest

from support import FILL, PROGRAM, SOURCE, InFolder


class Readme(InFolder):
    def test_examples_run(self):
        text = (SOURCE / "README.md").read_text()
        blocks = re.findall(r"```(\w+)\n(.*?)```", text, re.S)
        jobs = [body for language, body in blocks if language == "toml"]
        self.assertEqual(len(jobs), 1)
        self.write("JOB.toml", jobs[0])
        self.write("SHEET.csv", "Mark,Type,ID (in),Length,Liner,Remarks\nP-1,Spiral pipe,24,\"5'-0\"\"\",1 in,roof\n")
        commands = [line.split("#")[0].strip() for language, body in blocks if language == "sh"
                    for line in body.splitlines()]
        ran = 0
        for command in commands:
            if not command.startswith("build/linerwright"):
                self.assertTrue(command.startswith("scripts/"), command)
                self.assertTrue((SOURCE / command.split()[0]).exists(), command)
                continue
            words = shlex.split(command)[1:]
            self.made(*words, *(FILL if words[0] in ("nest", "estimate", "workbook") else []))
            ran += 1
        self.assertGreaterEqual(ran, 6)
        self.assertTrue((self.folder / "models-out" / "T-1" / "T-1-body.dxf").exists())

    def test_files_are_named_as_the_table_says(self):
        self.made("make", "elbow", "--tag", "E-1", "--diameter", "24in", "--angle", "90", "--pieces", "5", "--liner", "1in")
        made = {p.name for p in (self.folder / "models-out/E-1").iterdir()}
        table = re.findall(r"^\| `([^|]*)` \|", (SOURCE / "README.md").read_text(), re.M)
        self.assertGreaterEqual(len(table), 6)
        self.assertIn("E-1-blank.dxf", made)
        self.assertIn("E-1.step", made)
        self.assertTrue(PROGRAM)

    def test_its_picture_is_what_the_demo_makes(self):
        pictures = re.findall(r"!\[[^\]]*\]\((scripts/demo-job/([^)]*)\.svg)\)", (SOURCE / "README.md").read_text())
        self.assertEqual(len(pictures), 1)
        self.made("make", SOURCE / "scripts/demo-job/boathouse.toml")
        for path, tag in pictures:
            made = (self.folder / "models-out" / tag / f"{tag}.svg").read_bytes()
            self.assertEqual((SOURCE / path).read_bytes(), made, f"copy models-out/{tag}/{tag}.svg to {path}")


if __name__ == "__main__":
    unittest.main()
