"""A run and those that start from it as one STEP: an assembly of assemblies, and its proof."""

import json
import re
import unittest

from support import InFolder

HEAD = '[job]\nunits = "mm"\n[liner]\nthickness = 25\n'


def straight(tag, diameter, length, more=''):
    return f'[[fitting]]\ntag = "{tag}"\nkind = "straight"\ndiameter = {diameter}\nlength = {length}\n{more}\n'


TEE = ('[[fitting]]\ntag = "T-1"\nkind = "tee"\ncount = 2\ndiameter = 400\nlength = 700\nbranch_diameter = 250\n'
       'branch_length = 350\n')
BEND = '[[fitting]]\ntag = "E-1"\nkind = "elbow"\ncount = 2\npieces = 4\ndiameter = 250\nangle = 90\ncentreline_radius = 300\n'
SYSTEM = (HEAD + straight('S-1', 400, 900) + TEE + straight('B-1', 250, 400, 'count = 3') + BEND + straight('D-1', 250, 400) +
          straight('D-2', 250, 500) +
          '[[run]]\nname = "main"\npath = ["S-1", "T-1", "T-1#2"]\n'
          '[[run]]\nname = "one"\nfrom = "T-1:branch1"\npath = ["B-1", "E-1"]\n'
          '[[run]]\nname = "two"\nfrom = "T-1#2:branch1"\npath = ["B-1#2"]\n'
          '[[run]]\nname = "deep"\nfrom = "E-1:end"\npath = ["D-1"]\n'
          '[[run]]\nname = "apart"\nstart = {at = [5000, 0, 0]}\npath = ["B-1#3"]\n')


class Tree(InFolder):
    def make(self, text, *flags):
        self.write('job.toml', text)
        self.made('make', 'job.toml', '--out', 'out', '--no-sync', '--no-pages', *flags)
        return self.folder / 'out' / 'runs'

    def test_an_assembly_of_assemblies(self):
        runs = self.make(SYSTEM)
        self.assertEqual(sorted(path.name for path in runs.glob('*/*-tree.step')), ['main-tree.step'])
        text = (runs / 'main' / 'main-tree.step').read_text()
        names = re.findall(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+','([^']+)'", text)
        self.assertEqual(sorted(names), sorted(['main', 'one', 'two', 'deep', 'S-1', 'T-1', 'T-1#2', 'B-1', 'E-1', 'B-1#2', 'D-1']))
        # what occurs twice, or in two runs, or is made of the same, is written once
        products = re.findall(r"PRODUCT\('([^']+)','([^']+)'", text)
        self.assertEqual(sum(name == 'T-1' for _, name in products), 1)
        self.assertEqual(sum(part == 'B-1 metal' for part, _ in products), 1)
        self.assertEqual(sum(part == 'D-1 metal' for part, _ in products), 0)
        self.assertEqual(len(products), len(set(products)))
        tree = json.loads((runs / 'main' / 'run.json').read_text())['tree']
        self.assertEqual((tree['file'], tree['runs'], tree['different_fittings']), ('main-tree.step', ['main', 'one', 'two', 'deep'], 4))
        done = self.run_program('check', 'out/runs/main')
        self.assertEqual(done.returncode, 0, done.stdout)
        self.assertRegex(done.stdout, r'bore parted of the tree +0 places .*7 bores are one connected solid')

    def test_made_again_when_a_branch_changes(self):
        runs = self.make(SYSTEM)
        before = (runs / 'main' / 'main-tree.step').read_bytes()
        runs = self.make(SYSTEM.replace('path = ["D-1"]', 'path = ["D-2"]'))
        self.assertNotEqual((runs / 'main' / 'main-tree.step').read_bytes(), before)
        self.assertEqual(self.run_program('check', 'out/runs/main').returncode, 0)

    # Two bends lead the branch back through the main.
    def test_a_branch_that_runs_through_the_main(self):
        text = SYSTEM.replace('path = ["D-1"]', 'path = ["E-1#2", "D-2"]')
        self.make(text)
        done = self.run_program('check', 'out/runs/main')
        failed = [line for line in done.stdout.splitlines() if 'FAIL' in line]
        self.assertEqual(done.returncode, 1)
        self.assertEqual(len(failed), 1, failed)
        self.assertRegex(failed[0], 'metal in one place of the tree.*D-2')


if __name__ == '__main__':
    unittest.main()
