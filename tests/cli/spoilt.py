"""Results on disk that a test spoils: what `check` then says, and changes to a fitting's files."""
import hashlib
import json
import shutil

from support import InFolder


class Spoilt(InFolder):
    """`JOB` is made once, by `MAKE`'s options, and each test spoils a copy; `spoilt` is the fitting's folder."""
    JOB = ""
    MAKE = ()

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        maker = InFolder()
        maker.setUp()
        cls.addClassCleanup(maker.doCleanups)
        maker.write("job.toml", cls.JOB)
        maker.made("make", "job.toml", *cls.MAKE)
        cls.good = maker.folder

    def setUp(self):
        super().setUp()
        shutil.copytree(self.good, self.folder, dirs_exist_ok=True)
        self.out = self.folder / "models-out"

    def fails(self, word, *what):
        """The lines that fail, of which one must hold the word."""
        result = self.run_program("check", *(what or [self.spoilt]))
        failing = [line for line in result.stdout.splitlines() if line.startswith("  FAIL")]
        self.assertEqual(result.returncode, 1, result.stdout + result.stderr)
        self.assertTrue(any(word in line for line in failing), (word, failing))
        self.assertEqual(result.stderr, "")
        return failing

    def passes(self, *what):
        result = self.run_program("check", *(what or [self.spoilt]))
        self.assertEqual(result.returncode, 0, "\n".join(
            line for line in result.stdout.splitlines() if "FAIL" in line) + result.stderr)
        return result.stdout

    def edit(self, name, change, folder=None):
        path = (folder or self.spoilt) / name
        before = path.read_bytes().decode("utf-8")
        after = change(before)
        self.assertNotEqual(before, after)
        path.write_bytes(after.encode("utf-8"))

    def edit_json(self, change, sealed=True):
        """With a digest that is right again, so that it is the figure that gives itself away."""
        path = self.spoilt / "fitting.json"
        data = json.loads(path.read_text())
        change(data)
        if sealed and "own_digest" in data:
            data["own_digest"] = "0" * 64
        text = json.dumps(data, indent=2, ensure_ascii=False) + "\n"
        if sealed and "own_digest" in data:
            text = text.replace("0" * 64, hashlib.blake2b(text.encode(), digest_size=32).hexdigest())
        path.write_text(text)
