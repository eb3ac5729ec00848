"""Metal drawn by another kernel, every name and comment in the files scrambled, read through the program: rational B-splines in
quarters instead of our surfaces, and meshes of another mesher."""
import re
import unittest

import sketch
from support import InFolder

TAPER = [(200, 0), (200, 100), (150, 400), (150, 500)]


def scrambled(text):
    """Strings of the data emptied into one, comments gone, the header's words replaced: nothing is left to go by."""
    head, data = text.split('DATA;', 1)
    head = re.sub(r"FILE_NAME\(.*?\);", "FILE_NAME('q','q',('q'),('q'),'q','q','q');", head, flags=re.S)
    data = re.sub(r'/\*.*?\*/', '', data, flags=re.S)
    return head + 'DATA;' + re.sub(r"'[^']*'", "'q'", data)


def in_inches(text):
    """The same numbers as inches: all that says millimetres says a unit of 25.4 of them."""
    number = max(int(n) for n in re.findall(r'^#(\d+)', text, re.M)) + 1
    unit = re.search(r'#(\d+)\s*=\s*\(\s*LENGTH_UNIT\(\)\s*NAMED_UNIT\(\*\)\s*SI_UNIT\(\.MILLI\.,\.METRE\.\)\s*\)\s*;', text)
    millimetre, length, size = number, number + 1, number + 2
    lines = (f'#{millimetre}=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));\n'
             f'#{size}=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#{millimetre});\n'
             f'#{length}=DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);\n'
             f"#{unit.group(1)}=(CONVERSION_BASED_UNIT('INCH',#{size})LENGTH_UNIT()NAMED_UNIT(#{length}));\n")
    return text[:unit.start()] + lines + text[unit.end():]


class Elsewhere(InFolder):
    def drawn(self, one, ending='.step', change=scrambled):
        file = self.folder / ('drawn' + ending)
        file.unlink(missing_ok=True)
        one.export(file)
        if ending == '.step':
            file.write_text(change(file.read_text()))
        more = ['--units', 'mm'] if ending == '.stl' else []
        out = self.made('read', file.name, *more).stdout
        kind = re.match(r'body 1: (\w+)\n', out).group(1)
        return kind, dict(re.findall(r'^  (\w+) +(.*)$', out, re.M))

    def near(self, told, within, **wanted):
        for key, value in wanted.items():
            self.assertAlmostEqual(abs(float(told[key].removesuffix(' mm'))), value, delta=within, msg=f'{key} of {told}')
        self.assertLess(float(told['residual'].split()[0]), 0.01, told)

    def test_straight_lengths(self):
        for ending, within in (('.step', 1e-4), ('.stl', 0.01)):
            kind, told = self.drawn(sketch.pipe(300, 1, 1500), ending)
            self.assertEqual(kind, 'straight')
            self.near(told, within, diameter=600, length=1500, gauge=1)

    def test_tapers_with_collars(self):
        for ending, within in (('.step', 1e-4), ('.stl', 0.01)):
            kind, told = self.drawn(sketch.turned_outline(TAPER, 1), ending)
            self.assertEqual(kind, 'reducer')
            self.near(told, within, diameter=400, to_diameter=300, length=300, collar=100, to_collar=100)

    def test_bends(self):
        for degrees in (30, 75, 90):
            kind, told = self.drawn(sketch.bend(450, 150, 1, degrees))
            self.assertEqual(kind, 'elbow')
            self.near(told, 1e-4, diameter=300, centreline_radius=450, angle=degrees, collar=0)
            self.assertEqual(told['form'], 'smooth')

    def test_rows_of_tapers(self):
        kind, told = self.drawn(sketch.turned_outline([(200, 0), (160, 300), (160, 340), (220, 900)], 1))
        self.assertEqual(kind, 'path')
        self.assertEqual(told['parts'], 'taper to 320 mm over 300 mm, straight 40 mm, taper to 440 mm over 560 mm')

    def test_tees(self):
        # the curves in which walls meet are its own approximations
        for degrees, aside, branch in ((90, 0, 180), (90, 40, 180), (60, 0, 150), (75, 30, 120)):
            kind, told = self.drawn(sketch.tee(300, branch, degrees, aside, 1600, 900))
            self.assertEqual(kind, 'tee')
            self.near(told, 1e-3, diameter=600, length=1600, branch_diameter=2 * branch, branch_length=900, angle=degrees, offset=aside, position=800)

    def test_in_inches(self):
        kind, told = self.drawn(sketch.pipe(12, 0.04, 60), change=lambda text: in_inches(scrambled(text)))
        self.assertEqual(kind, 'straight')
        self.near(told, 1e-3, diameter=609.6, length=1524, gauge=1.016)

    def test_what_is_none_of_ours(self):
        one = sketch.Sketch()
        one.plane()
        one.outline([(0, 0), (300, 0), (300, 200), (0, 200)])
        one.extrude(500)
        file = self.folder / 'bar.step'
        one.export(file)
        self.assertIn('has no hollow round wall', self.made('read', 'bar.step', code=2).stderr)


if __name__ == '__main__':
    unittest.main()
