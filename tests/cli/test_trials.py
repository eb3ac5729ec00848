"""The trials that scripts/test --full runs at length, here as small as can be: that they draw the same each time, tell true
from false, and can be stopped."""
import functools
import pathlib
import subprocess
import sys
import unittest

from support import PROGRAM, SOURCE, InFolder, drawn, drawn_fittings

sys.path.insert(0, str(SOURCE / "scripts" / "trials"))
import closed_forms  # noqa: E402
import mutations  # noqa: E402
import refusals  # noqa: E402
import taper  # noqa: E402
import wide_fittings  # noqa: E402

# the sources stay as they are while the tests run, and are looked through once
mutations.all_of = functools.cache(mutations.all_of)

CROSS = {"tag": "T-1", "kind": "tee", "diameter": 600.0, "length": 1500.0, "branch_diameter": [300.0, 250.0],
         "branch_length": [700.0, 700.0], "angle": [90.0, 45.0], "position": [400.0, 700.0], "around": [0.0, 180.0],
         "offset": [0.0, 50.0], "thickness": 25.0}


class Campaign(InFolder):
    def campaign(self, *arguments):
        return subprocess.run([SOURCE / "scripts" / "campaign", *map(str, arguments), "--program", PROGRAM, "--folder",
                               self.folder / "state", "--slow", "60"], capture_output=True, text=True, timeout=600)

    def test_twenty_fittings(self):
        run = self.campaign(20, 5, "--first", 1, "--make-only")
        self.assertEqual(run.returncode, 0, run.stdout + run.stderr)
        self.assertEqual(run.stdout.splitlines()[-1], "20 passed, 0 failed")
        self.assertEqual((self.folder / "state" / "result.txt").read_text(), run.stdout)
        state = (self.folder / "state" / "state.jsonl").read_text()
        self.assertIn('"became": "made"', state)
        self.assertIn('"became": "refused"', state)

    def test_one_is_proved_from_its_files(self):
        run = self.campaign(1, 5, "--first", 16)
        self.assertEqual(run.stdout.splitlines()[-1], "1 passed, 0 failed", run.stdout + run.stderr)

    def test_stopped_it_goes_on(self):
        self.campaign(3, 3, "--make-only")
        state = self.folder / "state" / "state.jsonl"
        before = state.read_text()
        self.assertEqual(before.count("\n"), 3)
        state.write_text(before[:-20])  # stopped while the last line was written
        self.campaign(3, 3, "--make-only")
        self.assertEqual(state.read_text().count("\n"), 3)
        again = state.read_text()
        self.campaign(3, 3, "--make-only")
        self.assertEqual(state.read_text(), again, "what is known is not made again")

    def test_a_program_that_ends_badly_is_found(self):
        broken = self.write("broken", "#!/bin/sh\nkill -SEGV $$\n")
        broken.chmod(0o755)
        run = subprocess.run([SOURCE / "scripts" / "campaign", "2", "1", "--program", broken, "--folder", self.folder / "state"],
                             capture_output=True, text=True, timeout=60)
        self.assertEqual(run.returncode, 1)
        self.assertIn("neither made nor refused", run.stdout)
        self.assertEqual(run.stdout.splitlines()[-1], "0 passed, 2 failed")


class Requests(unittest.TestCase):
    def test_the_same_each_time(self):
        one = [wide_fittings.request(5, i) for i in range(80)]
        again = drawn(range(79, -1, -1))
        self.assertEqual([one[i] for i in again], [wide_fittings.request(5, i) for i in again])
        self.assertEqual({wish["kind"] for wish in one}, set(wide_fittings.KINDS))

    def test_refusals_are_told_true_from_false(self):
        wish = {"kind": "straight", "diameter": 60.0, "thickness": 29.9}
        reason = "thickness = 29.9: liner 29.9 mm closes a 60 mm bore (diameter) (allowed: under 30 mm, ...)"
        self.assertEqual(refusals.judged(wish, [reason])[1], [])
        self.assertTrue(refusals.judged({**wish, "thickness": 20.0}, [reason])[1])
        hole = "length = 900: the hole reaches from 3 mm to 900 mm of the body's 900 mm"
        self.assertTrue(refusals.judged(CROSS, [hole])[1])
        self.assertEqual(refusals.judged({**CROSS, "position": [153.0, 700.0]}, [hole])[1], [])
        apart = "position = 1: the holes of branches 1 and 2 overlap (allowed: holes at least 5 mm apart)"
        self.assertTrue(refusals.judged(CROSS, [apart])[1])
        self.assertEqual(refusals.judged({**CROSS, "position": [400.0, 250.0], "around": [0.0, 0.0]}, [apart])[1], [])
        self.assertTrue(refusals.judged(CROSS, ["no reason known to geometry"])[1])
        path = {"kind": "path", "diameter": 107.9, "parts": "bend 30, taper to 86.3233mm over 34.6554mm", "thickness": 8.8, "second_layer": 4.2,
                "second_seam": 30.0}
        near = "second_seam = 30.0: on the taper they come within 22.6 mm of each other"
        self.assertEqual(refusals.judged(path, [near])[1], [])
        self.assertTrue(refusals.judged({**path, "parts": "bend 30, taper to 97mm over 34.6554mm"}, [near])[1])
        turned = {"kind": "tee", "diameter": 152.4, "thickness": 25.4, "branch_diameter": 117.461326, "branch_length": 157.610235, "angle": 89.991,
                  "turn_to": 90.0, "pieces": 8, "centreline_radius": 50000.0, "branch_base": 119.845634, "length": 224.2, "position": 152.7}
        crossed = "branch_length = 157.610235: the layers cross: the branch gore has only 0.55 mm left on its metal"
        self.assertEqual(refusals.judged(turned, [crossed])[1], [])
        self.assertTrue(refusals.judged({**turned, "centreline_radius": 150000.0}, [crossed])[1])
        # a tube through a rounded corner takes more of the air face, which bends more, than of the duct face
        square = {"kind": "square_to_round", "width": 150.0, "height": 152.4, "diameter": 125.0, "length": 240.771588, "thickness": 12.7,
                  "openings": "sensor at 122.7780mm around 321.3797 diameter 16.5796mm setback 0.2563mm bevel straight"}
        bend = "openings = sensor at ...: sensor 1: only 1.4 mm of liner is left to the bend line toward the right side, where the board goes"
        self.assertEqual(refusals.judged(square, [bend])[1], [])
        self.assertTrue(refusals.judged({**square, "openings": square["openings"].replace("straight", "square")}, [bend])[1])

    def test_steep_tapers(self):
        wish = {"kind": "reducer", "diameter": 500.0, "to_diameter": 400.0, "length": 400.0, "thickness": 25.0}
        self.assertFalse(taper.is_impossible(wish))
        self.assertTrue(taper.is_impossible({**wish, "to_diameter": 51.5, "length": 30.0}))

    def test_volumes_against_other_books(self):
        # a cylinder of radius 1 on a equal one at right angles: the common part of both is the bicylinder, 16/3
        self.assertAlmostEqual(closed_forms.outside(1.0, 1.0, 1.5707963267948966, 0.0, 2.0), 2.0 * 3.141592653589793 - 8.0 / 3.0, 9)
        # a cone that hardly narrows is a cylinder
        straight = closed_forms.outside(300.0, 100.0, 1.2, 40.0, 900.0)
        conical = closed_forms.outside_conical(300.0, 100.0, 99.999, 319.0, 1.2, 40.0, 900.0, 0.0)
        self.assertAlmostEqual(conical / straight, 1.0, 4)


class Mutations(unittest.TestCase):
    def test_drawing(self):
        drawn = [mutation for mutation, _ in zip(mutations.draw(SOURCE, 7), range(60))]
        self.assertEqual([m.name for m in drawn], [m.name for m, _ in zip(mutations.draw(SOURCE, 7), range(60))])
        self.assertNotEqual([m.name for m in drawn], [m.name for m, _ in zip(mutations.draw(SOURCE, 8), range(60))])
        self.assertEqual({m.folder for m in drawn}, set(mutations.FOLDERS))
        for mutation in drawn:
            text = pathlib.Path(SOURCE / mutation.file).read_text()
            spoilt = mutation.applied(text)
            differing = [i for i, (a, b) in enumerate(zip(text.split("\n"), spoilt.split("\n"))) if a != b]
            self.assertEqual(differing, [mutation.line - 1], mutation.name)

    def test_ways(self):
        changed = {m.after for m in mutations.of_line("src/x/y.cpp", 1, "  return std::sin(a) + 0.5 * b[i];  // sin + cos")}
        self.assertEqual(changed, {"  return std::sin(a) - 0.5 * b[i];  // sin + cos",
                                   "  return std::cos(a) + 0.5 * b[i];  // sin + cos",
                                   "  return std::sin(a) + 0.52 * b[i];  // sin + cos",
                                   "  return std::sin(a) + 0.5 / b[i];  // sin + cos",
                                   "  return std::sin(a) + 0.5 * b[i > 0 ? i - 1 : i];  // sin + cos"})
        self.assertEqual(list(mutations.of_line("src/x/y.cpp", 1, '  "a + b",')), [])

    def test_another_line_is_not_changed(self):
        mutation = next(mutations.draw(SOURCE, 7))
        with self.assertRaises(ValueError):
            mutation.applied("\n".join(["other"] * 2000))


class Sixty(InFolder):
    def passes(self, name):
        job = (SOURCE / "scripts" / "trials" / name).read_text()
        self.write("job.toml", drawn_fittings(job, lambda fitting: ""))  # each kind is proved elsewhere
        out = name.split(".")[0]
        self.made("make", "job.toml", "--out", out, "--no-pages", "--no-sync", "--nest", "--effort", "fill")
        told = self.made("check", out).stdout
        self.assertIn(" 0 failed", told.splitlines()[-1])

    def test_the_sound_program_passes_on_all_that_mutations_are_tried_on(self):
        self.passes("forty.toml")
        self.passes("twenty.toml")


if __name__ == "__main__":
    unittest.main()
