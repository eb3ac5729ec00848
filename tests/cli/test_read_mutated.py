"""Files that `read` takes, spoilt at random: bytes flipped, cut out, doubled, cut short. Each ends with a job or with lines that name the
file, within 10 s and 1 GiB, and never without either. The seed stands in the message; LINERWRIGHT_CASES multiplies the number."""
import io
import os
import random
import resource
import subprocess
import unittest

import openpyxl

from support import PROGRAM, InFolder

CASES = max(1, round(8 * float(os.environ.get('LINERWRIGHT_CASES', '1'))))
SHEET = 'Tag;Type;ID (mm);Qty;Length;To Dia;Angle;Pieces;Remarks\r\nS-1;Duct;600;2;1.200,5;;;;first\r\nR-1;Conc. reducer;600;1;500;450;;;\r\n' \
        'E-1;Bend;600;1;;;90;5;\r\n;;;4;;;;;\r\n'


def spoilt(data, chance):
    data = bytearray(data)
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(data))
        more = min(len(data) - at, chance.choice((1, 1, 2, 8, 100, 3000)))
        how = chance.randrange(5)
        if how == 0:
            for i in range(at, at + more):
                data[i] = chance.randrange(256)
        elif how == 1:
            data[at] ^= 1 << chance.randrange(8)
        elif how == 2:
            del data[at:at + more]
        elif how == 3:
            data[at:at] = data[at:at + more]
        else:
            del data[max(at, 1):]
    return bytes(data or b'\0')


class Mutated(InFolder):
    def held(self, name, good, *arguments):
        def limits():
            resource.setrlimit(resource.RLIMIT_CPU, (10, 10))
            resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
        read = 0
        for seed in range(CASES):
            (self.folder / name).write_bytes(spoilt(good, random.Random(f'{name} {seed}')))
            (self.folder / 'job.toml').unlink(missing_ok=True)
            result = subprocess.run([PROGRAM, 'read', name, '--liner', '25mm', '--out', 'job.toml', *arguments], cwd=self.folder, capture_output=True,
                                    text=True, preexec_fn=limits, timeout=120)
            where = f'{name}, seed {seed}: {result.stderr[:300]}'
            self.assertIn(result.returncode, (0, 2), where)
            self.assertEqual((self.folder / 'job.toml').exists(), result.returncode == 0, where)
            read += result.returncode == 0
            if result.returncode == 2:
                self.assertTrue(result.stderr, where)
                for line in result.stderr.splitlines():
                    self.assertTrue(line.startswith('linerwright: '), where)
        return read

    def test_sheets(self):
        self.held('plan.csv', SHEET.encode(), '--units', 'mm', '--size-is', 'metal')

    def test_workbooks(self):
        book = openpyxl.Workbook()
        for row in SHEET.replace('1.200,5', '1200').split('\r\n'):
            book.active.append([int(cell) if cell.isdigit() else cell for cell in row.split(';')])
        file = io.BytesIO()
        book.save(file)
        self.held('plan.xlsx', file.getvalue(), '--units', 'mm', '--size-is', 'metal')

    def test_drawings(self):
        self.made('make', 'reducer', '--diameter', '600mm', '--to-diameter', '450mm', '--length', '500mm', '--collar', '50mm', '--liner', '25mm',
                  '--no-pages', '--no-sync', '--tag', 'R')
        self.held('drawn.step', (self.folder / 'models-out/R/R.step').read_bytes())
        self.held('drawn.stl', (self.folder / 'models-out/R/R-metal.stl').read_bytes(), '--units', 'mm')


if __name__ == '__main__':
    unittest.main()
