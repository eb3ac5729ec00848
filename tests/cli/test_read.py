"""Spreadsheets, several job files, single pieces and revisions through the program."""
import io
import resource
import subprocess
import unittest
import zipfile

import openpyxl

from support import PROGRAM, InFolder, drawn

EUROPEAN = ('\ufeffHalle 3;;;;;;;;\r\nTag;Type;Dia (mm);Qty;Length;To Dia;Branch Dia;Angle;Remarks\r\n'
            'S-1;Duct;600;2;1.200,5;;;;first floor\r\nR-1;Conc. reducer;600;1;500;450;;;\r\n;;;3;;;;;\r\n')
ANSWERS = ['--size-is', 'metal', '--liner', '25mm', '--units', 'mm']


class Read(InFolder):
    def test_a_sheet_becomes_a_job_that_is_made(self):
        self.write('plan.csv', EUROPEAN)
        table = self.made('read', 'plan.csv', *ANSWERS, '--out', 'job.toml', '--save-columns', 'map.toml')
        self.assertIn('decimal comma, because of 1.200,5 in line 3', table.stdout)
        self.assertIn('a row of sums', table.stdout)
        self.assertIn('2 rows, 3 fittings', table.stdout)
        self.made('make', 'job.toml', '--patterns-only', '--no-pages', '--no-sync')
        self.assertEqual(self.fittings_in('models-out'), ['R-1', 'S-1'])
        self.assertIn('first floor', (self.folder / 'models-out/S-1/fitting.json').read_text())
        first = (self.folder / 'job.toml').read_bytes()
        self.made('read', 'plan.csv', '--columns', 'map.toml', '--out', 'job.toml', '--force')
        self.assertEqual((self.folder / 'job.toml').read_bytes(), first)

    def test_questions_leave_nothing_behind(self):
        self.write('plan.csv', EUROPEAN)
        result = self.made('read', 'plan.csv', '--out', 'job.toml', code=2)
        self.assertEqual(result.stdout, '')
        for answer in ('--size-is', '--units'):
            self.assertIn(answer, result.stderr)
        self.assertEqual(sorted(p.name for p in self.folder.iterdir()), ['plan.csv'])

    def test_files_that_are_there_stay(self):
        self.write('plan.csv', EUROPEAN)
        self.write('job.toml', 'mine')
        result = self.made('read', 'plan.csv', *ANSWERS, '--out', 'job.toml', code=2)
        self.assertIn('is there already', result.stderr)
        self.assertEqual((self.folder / 'job.toml').read_text(), 'mine')

    def test_a_workbook(self):
        def row(number, cells):
            return f'<row r="{number}">' + ''.join(
                f'<c r="{column}{number}"><v>{text}</v></c>' if text.isdigit() else
                f'<c r="{column}{number}" t="inlineStr"><is><t>{text}</t></is></c>'
                for column, text in zip('ABCD', cells)) + '</row>'
        book = io.BytesIO()
        with zipfile.ZipFile(book, 'w', zipfile.ZIP_DEFLATED) as archive:
            archive.writestr('xl/workbook.xml', '<workbook xmlns:r="r"><sheets><sheet name="Round" r:id="rId1"/></sheets></workbook>')
            archive.writestr('xl/_rels/workbook.xml.rels',
                             '<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>')
            archive.writestr('xl/worksheets/sheet1.xml', '<worksheet><sheetData>' + row(1, ['Mark', 'Type', 'ID (mm)', 'Length (mm)'])
                             + row(2, ['P-1', 'Pipe', '600', '1200']) + '</sheetData></worksheet>')
        (self.folder / 'plan.xlsx').write_bytes(book.getvalue())
        self.assertIn('1 rows', self.made('read', 'plan.xlsx', '--liner', '1in', '--out', 'job.toml').stdout)
        self.assertIn('diameter = "600 mm"', (self.folder / 'job.toml').read_text())
        refused = self.made('make', 'plan.xlsx', code=2)
        self.assertIn('linerwright read plan.xlsx --out job.toml', refused.stderr)
        self.assertEqual(refused.stderr.count('\n'), 1)

    def test_a_workbook_of_another_writer(self):
        """openpyxl writes it: titles, merged cells, numbers, a formula without a value, a hidden sheet, a date, formats."""
        book = openpyxl.Workbook()
        book.active.title = 'Notes'
        book.active.sheet_state = 'hidden'
        sheet = book.create_sheet('Round fittings')
        sheet['A1'] = 'Boat house, north wing'
        sheet.merge_cells('A1:F1')
        sheet['B2'] = 'All dimensions in mm'
        rows = [['Mark', 'Fitting type', 'I.D.', 'Small end', 'Lg.', 'Qty', 'Remarks', 'Weight (kg)', 'Date'],
                ['P-1', 'Spiral duct', 600, None, 1200.5, 2, 'roof & wall <east>', 12.5, '2026-01-05'],
                ['P-2', None, 500, None, 900, 1, None, 9, None],
                ['R-1', 'Ecc. reducer', 600, 450, 500, 1, '\u00d8 as drawn', None, None],
                ['Total', None, None, None, None, '=SUM(F5:F7)', None, '=SUM(H5:H7)', None]]
        for number, row in enumerate(rows, 4):
            for column, value in enumerate(row, 1):
                sheet.cell(number, column).value = value
        sheet.merge_cells('B5:B6')
        sheet['C5'].number_format = '0.00'
        book.save(self.folder / 'plan.xlsx')
        result = self.made('read', 'plan.xlsx', '--liner', '25mm', '--out', 'job.toml')
        self.assertIn('sheet Round fittings; lengths in mm, because of line 2', result.stdout)
        self.assertIn('3 rows, 4 fittings', result.stdout)
        text = (self.folder / 'job.toml').read_text()
        for line in ('length = "1200.5 mm"', 'diameter = "500 mm"', 'note = "roof & wall <east>"', 'flat = true', 'to_diameter = "450 mm"'):
            self.assertIn(line, text)
        self.made('make', 'job.toml', '--patterns-only', '--no-pages', '--no-sync')
        self.assertEqual(self.fittings_in('models-out'), ['P-1', 'P-2', 'R-1'])
        self.made('check', 'models-out')

    def test_make_points_to_read(self):
        self.write('plan.csv', EUROPEAN)
        self.assertIn('linerwright read plan.csv', self.made('make', 'plan.csv', code=2).stderr)


JOB = '''[job]
units = "mm"
[liner]
thickness = 25
[[fitting]]
tag = "S-1"
kind = "straight"
diameter = 600
length = 1200
[[fitting]]
tag = "T-1"
kind = "tee"
diameter = 600
length = 1500
branch_diameter = 300
branch_length = 700
'''


class Hostile(InFolder):
    """Sheets made to break a reader: one line each, within 10 s and 1 GiB."""

    def refused(self, name):
        def limits():
            resource.setrlimit(resource.RLIMIT_CPU, (10, 10))
            resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
        result = subprocess.run([PROGRAM, 'read', name, '--size-is', 'metal', '--liner', '1in', '--out', 'job.toml'], cwd=self.folder,
                                capture_output=True, text=True, preexec_fn=limits, timeout=120)
        self.assertEqual(result.returncode, 2, name + ': ' + result.stderr[:300])
        self.assertEqual(len(result.stderr.splitlines()), 1, name + ': ' + result.stderr[:300])
        self.assertFalse((self.folder / 'job.toml').exists(), name)

    def book(self, name, sheet, shared=''):
        with zipfile.ZipFile(self.folder / name, 'w', zipfile.ZIP_DEFLATED) as archive:
            archive.writestr('xl/workbook.xml', '<workbook xmlns:r="r"><sheets><sheet name="A" r:id="rId1"/></sheets></workbook>')
            archive.writestr('xl/_rels/workbook.xml.rels',
                             '<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>')
            archive.writestr('xl/worksheets/sheet1.xml', sheet)
            if shared:
                archive.writestr('xl/sharedStrings.xml', shared)

    def test_workbooks(self):
        data = '<worksheet><sheetData>{}</sheetData></worksheet>'
        self.book('empty.xlsx', data.format(''))
        self.book('parts.xlsx', data.format('<a/>' * 5_000_000))
        self.book('cells.xlsx', data.format('<row>' + '<c><v>1</v></c>' * 1_400_000 + '</row>'), '<sst>' + '<si/>' * 4_000_000 + '</sst>')
        self.book('rows.xlsx', data.format('<row><c r="A1"><v>1</v></c></row>' * 600_000))
        self.book('deep.xlsx', '<a>' * 5_000_000)
        self.book('large.xlsx', data.format(' ' * (60 << 20)))
        self.book('far.xlsx', data.format('<row r="999999999"><c r="ZZZZZZ99999999999"><v>1e999</v></c></row>'))
        for name in drawn(('empty', 'parts', 'cells', 'rows', 'deep', 'large', 'far')):
            self.refused(name + '.xlsx')

    def test_text(self):
        head = 'Tag,Type,Dia (mm),Length (mm)\n'
        sheets = {'quotes': '"' * 7_000_000, 'commas': head + (',' * 900 + '\n') * 8000, 'rows': head + 'S,Duct,600,1\n' * 60_000,
                  'words': head + 'S-1,' + '90 deg ' * 900_000 + ',1,1\n', 'digits': head + 'S-1,Duct,' + '1 ' * 1_000_000 + ',1\n',
                  'sizes': head + ''.join(f'S-{i},Duct,600,{"1x" * 60}\n' for i in range(45_000)), 'far': head + 'S-1,Duct,1e300,900\n',
                  'large': 'x' * (9 << 20)}
        for name, text in drawn(sheets.items()):
            self.write(name + '.csv', text)
            self.refused(name + '.csv')

    def test_maps(self):
        self.write('plan.csv', 'Tag,Type,ID (mm),Length (mm)\nS-1,Duct,600,900\n')
        for text in ('[columns', '[columns]\nTag = 3\n', 'x = 1\n', '[sheet]\nunits = "furlong"\n', '[columns]\n"Dia" = "diameter"\n'):
            self.write('map.toml', text)
            result = self.made('read', 'plan.csv', '--liner', '1in', '--columns', 'map.toml', code=2)
            self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)
            self.assertIn('map.toml', result.stderr)


class Jobs(InFolder):
    def test_several_files_are_one_job(self):
        self.write('a.toml', JOB)
        self.write('b.csv', '# units = mm\ntag,kind,diameter,length,thickness\nS-2,straight,500,900,25\n')
        self.made('make', 'a.toml', 'b.csv', '--patterns-only', '--no-pages', '--no-sync')
        self.assertEqual(self.fittings_in('models-out'), ['S-1', 'S-2', 'T-1'])
        twice = self.made('make', 'a.toml', 'a.toml', code=2)
        self.assertIn('repeats the tag of a.toml:5', twice.stderr)

    def test_files_in_different_units_are_one_job(self):
        self.write('a.toml', JOB)
        self.write('b.toml', '[job]\nunits = "in"\nsize_is = "clear"\n[liner]\nthickness = 1\n'
                   '[[fitting]]\ntag = "S-2"\nkind = "straight"\ndiameter = 24\nlength = 36\n')
        result = self.made('make', 'a.toml', 'b.toml', '--patterns-only', '--no-pages', '--no-sync')
        self.assertIn('b.toml is in inches; what is printed is in mm, as a.toml is', result.stderr)
        self.assertIn('sizes of S-2 are stated clear', result.stderr)
        self.assertRegex(result.stdout, r'S-2 +1 +914\.4 +660\.4 +609\.6')

    def test_tables_that_disagree_are_refused(self):
        self.write('a.toml', JOB + '[air]\ndensity = "1.2kg/m3"\n')
        other = JOB.replace('S-1', 'S-3').replace('T-1', 'T-3')
        self.write('b.toml', other + '[air]\ndensity = "1.1kg/m3"\n')
        self.assertIn('[air] says 1.2kg/m3 in a.toml', self.made('bore', 'a.toml', 'b.toml', code=2).stderr)

    def test_one_piece_is_cut_again(self):
        self.write('a.toml', JOB + '[[stock]]\nwidth = 1219\nlength = 3048\n')
        self.made('nest', 'a.toml', '--only', 'T-1/branch', '--out', 'again', '--no-sync')
        boards = (self.folder / 'again/boards/boards.json').read_text()
        self.assertIn('branch', boards)
        self.assertNotIn('"body"', boards)
        unknown = self.made('nest', 'a.toml', '--only', 'T-1/leg', '--out', 'other', '--no-sync', code=2)
        self.assertIn('bodya, bodyb, branch', unknown.stderr)

    def test_messages_are_told_once(self):
        rows = ''.join(f'S-{i},straight,600,1200\n' for i in range(25))
        self.write('b.csv', '# units = mm\ntag,kind,diameter,length\n' + rows)
        result = self.made('make', 'b.csv', code=2)
        self.assertIn('and 24 more: lines 4, 5', result.stderr)
        self.assertLess(result.stderr.count('\n'), 4)

    def test_defaults_are_told_when_used(self):
        self.write('a.toml', '[job]\nunits = "mm"\n[liner]\nthickness = 25\n[[default]]\nkind = "elbow"\nangle_up_to = 45\npieces = 3\n'
                   '[[default]]\nkind = "elbow"\npieces = 5\n'
                   '[[fitting]]\ntag = "E-1"\nkind = "elbow"\ndiameter = 600\nangle = 45\n'
                   '[[fitting]]\ntag = "E-2"\nkind = "elbow"\ndiameter = 600\nangle = 90\n'
                   '[[fitting]]\ntag = "E-3"\nkind = "elbow"\ndiameter = 600\nangle = 90\npieces = 4\n')
        result = self.made('make', 'a.toml', '--patterns-only', '--no-pages', '--no-sync')
        self.assertIn('pieces = 3 by [[default]] of line 5: E-1\n', result.stderr)
        self.assertIn('pieces = 5 by [[default]] of line 9: E-2\n', result.stderr)

    def test_sizes_as_stated(self):
        self.write('a.toml', JOB.replace('units = "mm"', 'units = "mm"\nsize_is = "clear"'))
        result = self.made('make', 'a.toml', '--patterns-only', '--no-pages', '--no-sync')
        self.assertIn('sizes of S-1, T-1 are stated clear', result.stderr)
        self.assertIn('650', (self.folder / 'models-out/S-1/fitting.json').read_text())
        self.made('check', 'models-out')

    def test_sizes_of_a_single_fitting(self):
        self.made('make', 'straight', '--diameter', '600mm', '--length', '1m', '--liner', '25mm', '--size-is', 'clear', '--patterns-only', '--no-pages',
                  '--no-sync')
        self.assertIn('650', (self.folder / 'models-out/straight/fitting.json').read_text())
        self.assertIn('allowed: metal, clear, outside', self.made('bore', 'straight', '--diameter', '600mm', '--length', '1m', '--liner', '25mm',
                                                                  '--size-is', 'bore', code=2).stderr)

    def test_several_files_are_checked(self):
        self.write('a.toml', JOB)
        self.write('b.csv', '# units = mm\ntag,kind,diameter,length,thickness\nS-2,straight,500,900,25\n')
        self.made('make', 'a.toml', 'b.csv', '--no-pages', '--no-sync', '--jobs', '2')
        self.made('check', 'models-out')
        self.made('check', 'a.toml', 'b.csv')

    def test_compare_names_pieces(self):
        self.write('old.toml', JOB)
        self.write('new.toml', JOB.replace('branch_length = 700', 'branch_length = 800').replace('S-1', 'S-9'))
        result = self.made('compare', 'old.toml', 'new.toml')
        self.assertIn('S-9: added', result.stdout)
        self.assertIn('S-1: gone', result.stdout)
        self.assertIn('T-1: changed: branch_length 700 -> 800', result.stdout)
        self.assertIn('cut again: T-1/branch', result.stdout)
        self.assertIn('still fit: T-1/body', result.stdout)
        self.assertIn('0 the same, 1 added, 1 gone, 1 changed: 1 piece to cut again, 1 that still fit', result.stdout)
        self.assertEqual(self.made('compare', 'old.toml', 'old.toml').stdout, '2 the same, 0 added, 0 gone, 0 changed\n')


class Drawn(InFolder):
    def limited(self, *arguments):
        """A run that must end with bad input, within 10 s and 1 GiB."""
        def limits():
            resource.setrlimit(resource.RLIMIT_CPU, (10, 10))
            resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
        result = subprocess.run([PROGRAM, *arguments], cwd=self.folder, capture_output=True, text=True, preexec_fn=limits, timeout=120)
        self.assertEqual(result.returncode, 2, str(arguments) + ': ' + result.stderr[:300])
        return result

    def test_metal_that_was_made_is_read_again(self):
        self.write('a.toml', JOB)
        self.made('make', 'a.toml', '--no-pages', '--no-sync')
        step = (self.folder / 'models-out/T-1/T-1.step').read_text()
        # no word of the file counts
        scrambled = step.replace("'metal'", "'x1'").replace("'bore'", "'metal'").replace('T-1', 'Q-9')
        self.write('drawn.step', scrambled)
        result = self.made('read', 'drawn.step', '--liner', '25mm', '--name', 'N-1', '--out', 'job.toml')
        self.assertIn('tee', result.stdout)
        self.assertRegex(result.stdout, r'residual +0 mm')
        self.made('make', 'job.toml', '--no-pages', '--no-sync', '--out', 'again')
        for piece in ('body', 'branch'):
            first = (self.folder / f'models-out/T-1/T-1-{piece}-tilt.csv')
            again = (self.folder / f'again/N-1/N-1-{piece}-tilt.csv')
            self.assertEqual(first.exists(), again.exists())
        compared = self.made('compare', 'a.toml', 'job.toml')
        self.assertIn('N-1: added: tee', compared.stdout)
        text = (self.folder / 'job.toml').read_text()
        for line in ('diameter = "600 mm"', 'branch_diameter = "300 mm"', 'branch_length = "700 mm"', 'length = "1500 mm"'):
            self.assertIn(line, text)

    def test_hostile_drawings_are_one_line_each(self):
        head = "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('AUTOMOTIVE_DESIGN'));\nENDSEC;\nDATA;\n"
        foot = "ENDSEC;\nEND-ISO-10303-21;\n"
        deep = ''.join(f"#{i}=COMPOSITE_CURVE_SEGMENT(.CONTINUOUS.,.T.,#{i + 1});\n" for i in range(1, 100_000))
        wide = ''.join(f"#{i}=CARTESIAN_POINT('',(0.,0.,{i}.));\n" for i in range(1, 200_000))
        bad = {'none.step': None, 'far.step': head + "#1=CARTESIAN_POINT('',(1.E308,-1.E308,1.E308));\n#2=VERTEX_POINT('',#1);\n"
               "#3=CLOSED_SHELL('',(#2));\n#4=MANIFOLD_SOLID_BREP('',#3);\n" + foot,
               'deep.step': head + deep + foot, 'wide.step': head + wide + foot, 'nested.step': head + "#1=CARTESIAN_POINT('',(" + '(' * 200_000,
               'utf16.step': 'I\0S\0O\0-\0', 'text.step': head + "#1=CARTESIAN_POINT('" + 'x' * 5_000_000 + "',(0.,0.,0.));\n" + foot, 'empty.step': '', 'words.step': 'ISO-10303-21;\nnothing of it\n',
               'cut.step': "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('x'),'2;1');\nENDSEC;\nDATA;\n#1=CARTESIAN_POINT('',(1.,2.,3.",
               'cycle.step': "ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n#1=CLOSED_SHELL('',(#2));\n#2=ADVANCED_FACE('',(#1),#2,.T.);\n"
                             "#3=MANIFOLD_SOLID_BREP('',#1);\nENDSEC;\nEND-ISO-10303-21;\n",
               'unknown.step': "ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n#1=NO_SUCH_THING('',#7,$,*);\nENDSEC;\nEND-ISO-10303-21;\n"}
        for name, text in bad.items():
            if text is not None:
                self.write(name, text)
            result = self.limited('read', name, '--liner', '1in', '--out', 'job.toml')
            self.assertEqual(len(result.stderr.splitlines()), 1, name + ': ' + result.stderr[:300])
            self.assertTrue(result.stderr.startswith('linerwright: ' + name), result.stderr)
            self.assertFalse((self.folder / 'job.toml').exists())

    def test_hostile_meshes_are_one_line_each(self):
        facet = 'facet normal 0 0 1\nouter loop\nvertex {}\nvertex {}\nvertex {}\nendloop\nendfacet\n'
        corners = ['0 0 0', '9 0 0', '0 9 0', '0 0 9']
        far = [c.replace('9', '1e38') for c in corners]
        noise = ''.join(facet.format(*(f'{(i * k) % 997} {(i * k * 7) % 991} {(i * k * 13) % 983}' for k in (3, 5, 11))) for i in range(1, 30_000))
        self.write('empty.stl', 'solid x\nendsolid x\n')
        self.write('cut.stl', 'solid x\n' + facet.format(*corners[:3])[:60])
        self.write('far.stl', 'solid x\n' + ''.join(facet.format(*far[i:i + 3]) for i in (0, 1)) + 'endsolid x\n')
        self.write('nan.stl', 'solid x\n' + facet.format('nan 0 0', '1 0 0', '0 1 0') + 'endsolid x\n')
        self.write('noise.stl', 'solid x\n' + noise + 'endsolid x\n')
        self.write('none.stl', 'ISO-10303-21;\n')
        (self.folder / 'bomb.stl').write_bytes(bytes(80) + (4_000_000_000).to_bytes(4, 'little'))
        (self.folder / 'same.stl').write_bytes(bytes(80) + (20_000).to_bytes(4, 'little') + bytes(50 * 20_000))
        for name in drawn(('empty', 'cut', 'far', 'nan', 'noise', 'none', 'bomb', 'same')):
            result = self.limited('read', name + '.stl', '--units', 'mm', '--liner', '1in', '--out', 'job.toml')
            self.assertEqual(len(result.stderr.splitlines()), 1, name + ': ' + result.stderr[:300])
            self.assertFalse((self.folder / 'job.toml').exists(), name)

    def test_a_mesh_is_read_where_its_unit_is_said(self):
        self.write('a.toml', JOB)
        self.made('make', 'a.toml', '--no-pages', '--no-sync')
        mesh = 'models-out/T-1/T-1-metal.stl'
        unsaid = self.made('read', mesh, '--liner', '25mm', '--out', 'job.toml', code=2)
        self.assertIn('--units: is missing: an STL file does not say which unit its numbers have (allowed: --units mm or --units in)', unsaid.stderr)
        result = self.made('read', mesh, '--units', 'mm', '--liner', '25mm', '--name', 'N-1', '--out', 'job.toml')
        self.assertIn('tee', result.stdout)
        text = (self.folder / 'job.toml').read_text()
        for line in ('diameter = "600 mm"', 'branch_diameter = "300 mm"', 'branch_length = "700 mm"', 'length = "1500 mm"'):
            self.assertIn(line, text)

    def test_a_drawing_needs_a_liner(self):
        self.write('drawn.step', 'ISO-10303-21;')
        self.assertIn('--liner', self.made('read', 'drawn.step', '--out', 'job.toml', code=2).stderr)


if __name__ == '__main__':
    unittest.main()
