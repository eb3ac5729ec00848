"""Air along runs, from a job file to run.json, tables, pages and the bore report."""

import csv
import json
import math
import unittest

from support import InFolder

HEAD = '[job]\nunits = "mm"\n[liner]\nthickness = 25\n'


def straight(tag, diameter, length, more=''):
    return f'[[fitting]]\ntag = "{tag}"\nkind = "straight"\ndiameter = {diameter}\nlength = {length}\n{more}\n'


TEE = ('[[fitting]]\ntag = "T-1"\nkind = "tee"\ndiameter = 400\nlength = 700\nbranch_diameter = 250\n'
       'branch_length = 350\n')
SYSTEM = (HEAD + straight('S-1', 400, 2000) + TEE + 'branch_flow = "0.2 m3/s"\n' + straight('S-2', 400, 3000) +
          straight('B-1', 250, 1500) + '[[run]]\nname = "main"\nflow = "0.8 m3/s"\npath = ["S-1", "T-1", "S-2"]\n'
          '[[run]]\nname = "side"\nfrom = "T-1:branch1"\npath = ["B-1"]\n')


def friction(length, diameter, flow, roughness):
    """Pa over a length (mm) of pipe: Colebrook 1939 solved by iteration, Darcy and Weisbach; air as the program's defaults
    have it, 1.204 kg/m3 and 1.506e-5 m2/s."""
    d = diameter / 1000
    v = flow / (math.pi / 4 * d * d)
    reynolds = v * d / 1.506e-5
    f = 0.02
    for _ in range(100):
        f = (-2 * math.log10(roughness / 1000 / (3.7 * d) + 2.51 / (reynolds * math.sqrt(f)))) ** -2
    return f * length / 1000 / d * 1.204 * v * v / 2


class RunAir(InFolder):
    def make(self, text, *flags, code=0):
        self.write('job.toml', text)
        return self.made('make', 'job.toml', '--out', 'out', '--no-sync', *flags, code=code)

    def listed(self, name):
        return json.loads((self.folder / 'out' / 'runs' / name / 'run.json').read_text())

    # The flow of the run's start goes through S-1, what the tee leaves through S-2, what it gives through B-1.
    def test_losses_by_hand(self):
        self.make(SYSTEM, '--patterns-only')
        loss = self.listed('main')['loss']
        flows = {each['fitting']: each['flow'] for each in loss['fittings']}
        self.assertEqual([flows['S-1'], flows['S-2']], [0.8, 0.6])
        taken = {each['fitting']: each for each in loss['fittings']}
        for tag, length, flow in (('S-1', 2000, 0.8), ('S-2', 3000, 0.6)):
            self.assertAlmostEqual(taken[tag]['bare'] / friction(length, 400, flow, 0.09), 1, places=3)
            self.assertAlmostEqual(taken[tag]['lined'] / friction(length, 350, flow, 0.9), 1, places=3)
        self.assertAlmostEqual(loss['lined'], sum(each['lined'] for each in taken.values()), places=5)
        self.assertNotIn('before', loss)
        side = self.listed('side')['loss']
        self.assertAlmostEqual(side['fittings'][0]['flow'], 0.2, places=9)
        self.assertAlmostEqual(side['lined'] / friction(1500, 200, 0.2, 0.9), 1, places=3)
        # the way to the branch: S-1, and the tee from its start to its branch
        rows = json.loads(self.made('bore', 'job.toml', '--json').stdout)
        tee = next(row for row in rows['rows'] if row['tag'] == 'T-1' and row['passage'] == 'branch')
        self.assertAlmostEqual(side['before']['lined'], taken['S-1']['lined'] + tee['loss'], places=5)
        self.assertEqual(side['before']['without'], 0)
        self.assertEqual([run['name'] for run in rows['runs']], ['main', 'side'])
        self.assertEqual(rows['runs'][0]['fittings'], loss['fittings'])
        self.assertEqual({row['flow'] for row in rows['rows'] if row['tag'] == 'B-1'}, {0.2})
        ports = {(port['tag'], port['name']): port['volume_flow'] for port in self.listed('main')['ports']}
        self.assertEqual(ports[('T-1', 'branch1')], 0.2)
        self.assertEqual(ports[('T-1', 'start')], -0.8)

    def test_tables_and_page(self):
        self.make(SYSTEM, '--patterns-only')
        folder = self.folder / 'out' / 'runs' / 'main'
        rows = list(csv.DictReader((folder / 'main-loss.csv').read_text().splitlines()))
        self.assertEqual([row['fitting'] for row in rows], ['S-1', 'T-1', 'S-2'])
        loss = self.listed('main')['loss']
        self.assertAlmostEqual(float(rows[-1]['lined so far [Pa]']), loss['lined'], delta=0.005 * loss['lined'])
        page = (folder / 'main.html').read_text()
        self.assertIn('Total pressure along the run', page)
        for row in rows:
            self.assertIn(f'<td>{row["lined [Pa]"]}', page.replace('<td class="number">', '<td>').replace('<td class="n">', '<td>'))
        text = self.made('bore', 'job.toml').stdout
        self.assertIn('along run main, 5700', text)
        self.assertIn('the way to it', text)
        for name in ('bore.html', 'bore.csv'):
            self.assertTrue((self.folder / 'out' / name).exists())
        self.assertIn('Along each run', (self.folder / 'out' / 'bore.html').read_text())

    def test_what_the_sum_leaves_out(self):
        text = SYSTEM.replace('branch_flow = "0.2 m3/s"\n', '')
        self.make(text, '--patterns-only')
        loss = self.listed('main')['loss']
        self.assertEqual(loss['without'], 1)  # S-2; the body has its friction up to the branch
        self.assertIsNone(loss['fittings'][2]['lined'])
        self.assertIn('S-2: the flow through it is not known', self.made('bore', 'job.toml').stdout)
        stepped = SYSTEM.replace('tag = "S-2"', 'tag = "S-2"\nthickness = 40')
        self.make(stepped, '--patterns-only')
        left = self.listed('main')['loss']['fittings'][2]['left_out']
        self.assertEqual(left, ['the step of 15 mm in the air face where it begins'])

    def test_flows_that_do_not_agree(self):
        self.make(SYSTEM, '--patterns-only', '--no-pages')
        text = SYSTEM.replace('tag = "S-2"', 'tag = "S-2"\nflow = "0.5 m3/s"')
        done = self.make(text, '--patterns-only', '--no-pages', code=2)
        lines = [line for line in done.stderr.splitlines() if 'note:' not in line]
        self.assertEqual(len(lines), 1, done.stderr)
        self.assertRegex(lines[0], r'job\.toml:\d+: .*flow = .*does not agree with .*\(job\.toml:\d+\)')
        done = self.run_program('bore', 'job.toml')
        self.assertEqual(done.returncode, 2)
        self.assertIn('does not agree with', done.stderr)

    # A run from the outlet to the fan: the arrows point back along the path.
    def test_exhaust(self):
        back = 'flow_arrow = "against"\n'
        text = (HEAD + straight('S-1', 400, 2000, back) + TEE + back + 'branch_flow = "-0.2 m3/s"\n' +
                straight('S-2', 400, 3000, back + 'flow = "0.6 m3/s"\n') + '[[run]]\nname = "a"\npath = ["S-1", "T-1", "S-2"]\n')
        self.make(text, '--patterns-only', '--no-pages')
        loss = self.listed('a')['loss']
        self.assertAlmostEqual(loss['fittings'][0]['flow'], 0.8, places=9)
        self.assertAlmostEqual(loss['fittings'][2]['flow'], 0.6, places=9)
        self.assertEqual(loss['without'], 0)
        self.assertAlmostEqual(loss['fittings'][0]['lined'] / friction(2000, 350, 0.8, 0.9), 1, places=3)

    # A wye's legs are ports; its inlet's air parts into them, and the way into a leg is inlet and leg.
    def test_wye(self):
        wye = ('[[fitting]]\ntag = "Y-1"\nkind = "wye"\ndiameter = 400\ninlet_length = 600\nleg_diameter = 280\n'
               'leg_length = 900\nangle = 30\nlegs = 2\nbranch_flow = ["0.5 m3/s", "0.3 m3/s"]\n')
        text = (HEAD + straight('S-1', 400, 2000) + wye + straight('A', 280, 1000) + straight('B', 280, 800) +
                '[[run]]\nname = "main"\npath = ["S-1", "Y-1:start>leg1", "A"]\n'
                '[[run]]\nname = "other"\nfrom = "Y-1:leg2"\npath = ["B"]\n')
        self.make(text)
        main = self.listed('main')['loss']
        flows = {each['fitting']: each['flow'] for each in main['fittings'] + self.listed('other')['loss']['fittings']}
        self.assertEqual([flows['S-1'], flows['A'], flows['B']], [0.8, 0.5, 0.3])
        rows = {(row['tag'], row['passage']): row for row in json.loads(self.made('bore', 'job.toml', '--json').stdout)['rows']}
        wye_part = main['fittings'][1]
        self.assertEqual(wye_part['passage'], 'inlet and leg1')
        self.assertAlmostEqual(wye_part['lined'], rows['Y-1', 'inlet']['loss'] + rows['Y-1', 'leg1']['loss'], places=5)
        before = self.listed('other')['loss']['before']['lined']
        self.assertAlmostEqual(before, rows['S-1', 'through']['loss'] + rows['Y-1', 'inlet']['loss'] + rows['Y-1', 'leg2']['loss'],
                               places=5)
        # the leg's port and what is joined to it lie in one place; all of it is proved from the disk
        port = next(p for p in self.listed('main')['ports'] if p['name'] == 'leg2')
        start = next(p for p in self.listed('other')['ports'] if p['name'] == 'start')
        for a, b in zip(port['position'], start['position']):
            self.assertAlmostEqual(a, b, places=9)
        done = self.run_program('check', 'out')
        self.assertEqual(done.returncode, 0, [line for line in done.stdout.splitlines() if 'FAIL' in line])

    def test_path_in_a_run(self):
        path = ('[[fitting]]\ntag = "P-1"\nkind = "path"\ndiameter = 300\nparts = "straight 400mm, bend 45, straight 300mm, '
                'bend 45 turn 90, straight 200mm"\n')
        text = (HEAD + straight('S-1', 300, 900) + path + straight('S-2', 300, 700) +
                '[[run]]\nname = "a"\nflow = "0.3 m3/s"\npath = ["S-1", "P-1", "S-2"]\n')
        self.make(text)
        run = self.listed('a')
        path_way = [f for f in run['fittings'] if f['tag'] == 'P-1'][0]
        self.assertGreater(path_way['to'] - path_way['from'], 900)
        self.assertEqual(run['loss']['without'], 0)
        done = self.run_program('check', 'out')
        self.assertEqual(done.returncode, 0, [line for line in done.stdout.splitlines() if 'FAIL' in line])

    def test_one_fitting_in_two_flows(self):
        text = (HEAD + straight('S', 400, 1000, 'count = 2\n') + TEE + 'branch_flow = "0.2 m3/s"\n' +
                '[[run]]\nname = "a"\nflow = "0.8 m3/s"\npath = ["S", "T-1", "S#2"]\n')
        self.make(text, '--patterns-only', '--no-pages')
        flows = [each['flow'] for each in self.listed('a')['loss']['fittings']]
        self.assertEqual([flows[0], flows[2]], [0.8, 0.6])
        row = next(row for row in json.loads(self.made('bore', 'job.toml', '--json').stdout)['rows'] if row['tag'] == 'S')
        self.assertEqual(row['flow'], 0.8)
        self.assertTrue(any('stands in runs with 0.600 m3/s to 0.800 m3/s' in note for note in row['notes']), row['notes'])


if __name__ == '__main__':
    unittest.main()
