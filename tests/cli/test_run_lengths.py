"""One lining over several lengths of duct: bodies, pen lines and what `check` finds when they are wrong."""

import json
import re
import struct
import unittest

import ezdxf
import numpy

from support import InFolder

JOB = ('[job]\nunits = "mm"\n[liner]\nthickness = 25\nmin_panel = 120\n'
       '[[stock]]\nname = "board"\nwidth = 1220\nlength = 3050\nthickness = 25\n'
       '[[fitting]]\ntag = "S-1"\nkind = "straight"\ndiameter = 500\ngauge = 1\nduct_lengths = [1500, 1250, 900]\n')


class DuctLengths(InFolder):
    def make(self, text=JOB, *flags, code=0):
        self.write('job.toml', text)
        return self.made('make', 'job.toml', '--out', 'out', '--no-sync', *flags, code=code)

    def file(self, name):
        return self.folder / 'out' / 'S-1' / name

    def check(self, code=0):
        done = self.run_program('check', 'out')
        self.assertEqual(done.returncode, code, done.stdout + done.stderr)
        return [line for line in done.stdout.splitlines() if 'FAIL' in line]

    def test_each_length_is_a_body(self):
        self.make()
        names = re.findall(r"MANIFOLD_SOLID_BREP\('([^']*)'", self.file('S-1.step').read_text())
        self.assertEqual([name for name in names if name.startswith('metal')], ['metal 1', 'metal 2', 'metal 3'])
        # the binary STL's own layout: z of the joints is 1500 and 2750, each a flat ring on either side
        data = self.file('S-1-metal.stl').read_bytes()
        count = struct.unpack_from('<I', data, 80)[0]
        facets = numpy.frombuffer(data, numpy.dtype([('f', '<f4', 12), ('a', '<u2')]), offset=84)['f']
        self.assertEqual(len(facets), count)
        corners = facets[:, 3:].reshape(-1, 3, 3)
        for joint in (1500.0, 2750.0):
            flat = corners[numpy.abs(corners[:, :, 2] - joint).max(axis=1) < 1e-3]
            across = numpy.cross(flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0])[:, 2] / 2
            ring = numpy.pi * (251.0**2 - 250.0**2)
            for sign in (1, -1):
                self.assertAlmostEqual(across[across * sign > 0].sum() * sign / ring, 1.0, places=1)
        self.assertEqual(self.check(), [])

    def test_pen_lines_show_the_joints(self):
        self.make()
        made = json.loads(self.file('fitting.json').read_text())
        self.assertEqual([piece['id'] for piece in made['pieces']], ['1a', '1b', '1c'])
        found = []
        for piece in made['pieces']:
            foot = piece['ordinates'][0]
            drawing = ezdxf.readfile(self.file(f'S-1-{piece["id"]}.dxf'))
            for line in self.long_lines(drawing):
                heights = [point[1] - foot['y'] + foot['duct_low'] for point in line.get_points()]
                found.append((piece['id'], *(round(height, 3) for height in heights)))
        self.assertEqual(found, [('1b', 1500, 1500), ('1c', 2750, 2750)])

    @staticmethod
    def long_lines(drawing):
        """Pen lines across the board; the longest of the others is a mark along a ruling."""
        across = lambda line: [point[0] for point in line.get_points()]
        return [line for line in drawing.modelspace() if line.dxf.layer == 'MARK' and line.dxftype() == 'LWPOLYLINE' and
                max(across(line)) - min(across(line)) > 1000]

    def test_check_sees_a_line_that_is_gone(self):
        self.make()
        file = self.file('S-1-1b.dxf')
        drawing = ezdxf.readfile(file)
        long = self.long_lines(drawing)
        self.assertEqual(len(long), 1)
        drawing.modelspace().delete_entity(long[0])
        drawing.saveas(file)
        self.assertTrue(any('asked lines at duct joints' in line for line in self.check(code=1)))

    def test_both_said(self):
        self.make(JOB + 'length = 3650\n')
        done = self.make(JOB + 'length = 3700\n', code=2)
        self.assertRegex(done.stderr, r'job\.toml:\d+: S-1: duct_lengths = .*the lengths of duct add up to 3650 mm, and length says '
                                      r'3700 mm')
        done = self.make(JOB.replace('duct_lengths = [1500, 1250, 900]\n', ''), code=2)
        self.assertRegex(done.stderr, r'S-1: length.*is missing')

    def test_in_a_run(self):
        self.make(JOB + '[[fitting]]\ntag = "S-2"\nkind = "straight"\ndiameter = 500\nlength = 700\n'
                  '[[run]]\nname = "a"\npath = ["S-2", "S-1"]\n')
        step = (self.folder / 'out' / 'runs' / 'a' / 'a.step').read_text()
        self.assertEqual(re.findall(r"MANIFOLD_SOLID_BREP\('(metal[^']*)'", step), ['metal', 'metal 1', 'metal 2', 'metal 3'])
        run = json.loads((self.folder / 'out' / 'runs' / 'a' / 'run.json').read_text())
        self.assertAlmostEqual(run['length'], 4350.0, places=9)
        self.assertEqual(self.check(), [])


if __name__ == '__main__':
    unittest.main()
