"""A job made in shares, on several machines, and its totals joined."""
import json
import shutil
import unittest

from support import InFolder

KINDS = ['kind = "elbow"\nangle = 90\npieces = 4\n', 'kind = "straight"\nlength = "1m"\n',
         'kind = "reducer"\nto_diameter = "200mm"\nlength = "400mm"\n']


def job(count, name="Slip hall"):
    return f'[job]\nname = "{name}"\n' + "".join(
        f'[[fitting]]\ntag = "F-{i}"\ncount = {1 + i % 2}\n{KINDS[i % 3]}diameter = "{300 + 5 * i}mm"\nthickness = "25mm"\n'
        for i in range(count))


class Join(InFolder):
    def shares(self, n, count=7, **named):
        self.write("job.toml", job(count, **named))
        folders = [f"share-{i}" for i in range(1, n + 1)]
        for i, folder in enumerate(folders, 1):
            self.made("make", "job.toml", "--patterns-only", "--no-pages", "--shard", f"{i}/{n}", "--out", folder)
        return folders

    def refused(self, *folders, words):
        result = self.run_program("join", *folders)
        self.assertEqual(result.returncode, 2, result.stdout)
        self.assertEqual(result.stdout, "")
        self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)
        for word in words:
            self.assertIn(word, result.stderr)

    def test_shares_give_the_totals_of_the_whole(self):
        folders = self.shares(3)
        self.made("make", "job.toml", "--patterns-only", "--no-pages", "--out", "whole")
        for order in (folders, folders[::-1]):
            self.made("join", *order, "--out", "joined")
            for name in ("totals.json", "totals.csv"):
                self.assertEqual((self.folder / "joined" / name).read_text(), (self.folder / "whole" / name).read_text())
        data = json.loads(self.made("join", *folders, "--json").stdout)
        self.assertEqual([row["tag"] for row in data["fittings"]], [f"F-{i}" for i in range(7)])
        self.assertEqual(self.made("join", *folders, "--csv").stdout, (self.folder / "whole" / "totals.csv").read_text())
        self.assertEqual(self.made("join", "whole").stdout, self.made("join", *folders).stdout)

    def test_shares_in_one_folder(self):
        self.write("job.toml", job(5))
        for i in (1, 2):
            self.made("make", "job.toml", "--patterns-only", "--no-pages", "--shard", f"{i}/2", "--out", "out")
        data = json.loads(self.made("join", "out", "--json", "--out", "out").stdout)
        self.assertEqual(len(data["fittings"]), 5)
        # the joined totals beside the shares are not counted once more
        self.assertEqual(json.loads(self.made("join", "out", "--json").stdout), data)

    def test_more_shares_than_fittings(self):
        data = json.loads(self.made("join", *self.shares(4, count=2), "--json").stdout)
        self.assertEqual(len(data["fittings"]), 2)

    def test_what_was_left_out_counts_once(self):
        self.write("job.toml", job(4) + '[[fitting]]\ntag = "bad"\nkind = "elbow"\n')
        for i in (1, 2):
            self.made("make", "job.toml", "--patterns-only", "--no-pages", "--shard", f"{i}/2", "--out", f"share-{i}", code=2)
        self.made("make", "job.toml", "--patterns-only", "--no-pages", "--out", "whole", code=2)
        joined = self.made("join", "share-1", "share-2", "--json").stdout
        self.assertEqual(joined, (self.folder / "whole" / "totals.json").read_text())
        self.assertEqual(json.loads(joined)["left_out"], 1)

    def test_refusals(self):
        folders = self.shares(3)
        self.refused("nowhere", words=["nowhere", "cannot be read"])
        (self.folder / "empty").mkdir()
        self.refused("empty", words=["empty", "holds no totals.json"])
        self.refused(*folders[:2], words=["share-1/totals-1-3.json", "share 3", "none of the folders"])
        self.refused(*folders[1:], words=["share-2/totals-2-3.json", "share 1", "none of the folders"])
        self.refused(folders[0], folders[2], words=["share 2", "none of the folders"])
        self.refused(*folders, folders[1], words=["share-2/totals-2-3.json", "is share 2 of 3"])
        self.refused("share-1", "share-1", words=["share 1 of 3"])

        def changed(number, **changes):
            shutil.copytree(self.folder / f"share-{number}", self.folder / "changed", dirs_exist_ok=True)
            path = self.folder / "changed" / f"totals-{number}-3.json"
            data = json.loads((self.folder / f"share-{number}" / path.name).read_text())
            data.update(changes)
            path.write_text(json.dumps(data))
            return path, data

        path, data = changed(3, version="0.0.9")
        self.refused("share-1", "share-2", "changed", words=["changed/totals-3-3.json", 'version "0.0.9"', "share-1"])
        changed(3, job="Ice store")
        self.refused("share-1", "share-2", "changed", words=["changed/totals-3-3.json", "Ice store", "Slip hall"])
        changed(3, rules={**data["rules"], "metal_density": 1.0})
        self.refused("share-1", "share-2", "changed", words=["changed/totals-3-3.json", "other units or rules"])
        row = json.loads((self.folder / "share-1" / "totals-1-3.json").read_text())["fittings"][0]
        changed(3, fittings=[row])
        self.refused("share-1", "share-2", "changed", words=["changed/totals-3-3.json", "F-0", "share-1/totals-1-3.json too"])
        path.write_text("{")
        self.refused("share-1", "share-2", "changed", words=["changed/totals-3-3.json", "no JSON"])
        shutil.rmtree(self.folder / "changed")
        (self.folder / "changed").mkdir()
        shutil.copy(self.folder / "share-1" / "totals-1-3.json", self.folder / "changed" / "totals-2-2.json")
        self.refused("share-1", "changed", words=["share 2 of 2", "share 1 of 3"])


if __name__ == "__main__":
    unittest.main()
