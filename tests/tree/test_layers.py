"""One direction of dependency: in the includes, in the CMake files and in what DEVELOPERS.md says."""

import pathlib
import re
import unittest

from rules import (ALLOWED_OUTSIDE_WORLD, KERNEL, LAYERS, LONGER_FILES, LONGEST_FILE, OUTSIDE_WORLD)
from source import ROOT, files, folder_of, includes, layer_fault, reach, text, without_kernel

UMBRELLA = 'include/linerwright/linerwright.hpp'  # all public headers, for programs that use the library

KERNEL_HEADER = re.compile(
    r'^(Adaptor|APIHeaderSection|BOPAlgo|BRep|BSpl|Bnd|Convert|ElCLib|ElSLib|Express|GC|GProp|Geom|HLR|IFSelect|IGES|Int|'
    r'Interface|Law|Message|NCollection|OSD|Poly|Precision|Quantity|RWStl|STEP|Shape|Standard|Step|Stl|TCol|TDF|TDoc|TopExp|'
    r'TopLoc|TopTools|TopAbs|TopoDS|Transfer|XCAF|XS|gp)[A-Za-z0-9_]*\.hxx$')


class Direction(unittest.TestCase):
    def test_table_has_a_direction(self):
        for folder in LAYERS:
            self.assertNotIn(folder, reach(folder, LAYERS), 'a folder that depends on itself')
        folders = {path.name for path in (ROOT / 'src').iterdir() if path.is_dir()}
        self.assertEqual(folders, set(LAYERS))

    def test_includes_follow_the_table(self):
        faults, seen = [], 0
        for name in files('include', 'src'):
            for line, mark, included in includes(text(name)) if name != UMBRELLA else []:
                if mark == '"':
                    seen += 1
                    fault = layer_fault(name, included)
                    if fault:
                        faults.append(f'{name}:{line}: {fault}')
        self.assertEqual(faults, [])
        self.assertGreater(seen, 500)

    def test_a_step_against_the_direction_is_found(self):
        self.assertIn('sheet may not use joint', layer_fault('src/sheet/sheet.cpp', 'linerwright/joint/joint.hpp'))
        self.assertIn('boards may not use report', layer_fault('include/linerwright/boards/boards.hpp', 'linerwright/report/bore.hpp'))
        self.assertIn('pattern may not use solid', layer_fault('src/pattern/tilt.cpp', 'linerwright/solid/solid.hpp'))
        self.assertIn('belongs to no folder', layer_fault('src/pattern/tilt.cpp', 'linerwright/nothing.hpp'))
        self.assertIn('neither', layer_fault('src/pattern/tilt.cpp', '../solid/shape.hpp'))
        self.assertIsNone(layer_fault('src/pattern/tilt.cpp', 'linerwright/joint/joint.hpp'))

    def test_public_headers_lie_where_they_are_defined(self):
        seen = 0
        for name in files('include'):
            if name == UMBRELLA:
                continue
            path = pathlib.PurePosixPath(name)
            self.assertEqual(len(path.parts), 4, name)
            sources = [folder for folder in LAYERS if folder != 'asked' and (ROOT / 'src' / folder / f'{path.stem}.cpp').is_file()]
            if len(sources) == 1 and path.stem not in LAYERS:
                self.assertEqual(path.parts[2], sources[0], name)
                seen += 1
        self.assertGreater(seen, 50)

    def test_the_umbrella_names_every_public_header(self):
        included = {name for _, mark, name in includes(text(UMBRELLA))}
        self.assertEqual(included, {str(pathlib.PurePosixPath(name).relative_to('include')) for name in files('include')
                                    if name != UMBRELLA})

    def test_the_proof_as_asked_shares_nothing_with_the_makers(self):
        own = {path.name for path in (ROOT / 'src/asked').glob('*.hpp')} | {'linerwright/asked/asked.hpp'}
        seen = 0
        for name in [*files('src/asked'), 'include/linerwright/asked/asked.hpp']:
            for line, mark, included in includes(text(name)):
                seen += 1
                if mark == '"':
                    self.assertIn(included, own, f'{name}:{line}')
                else:
                    self.assertRegex(included, r'^(rapidjson/[a-z/]+\.h|[a-z_]+)$', f'{name}:{line}')
        self.assertGreater(seen, 50)
        self.assertNotIn('DEPENDS', text('src/asked/CMakeLists.txt'))

    def test_cmake_links_what_the_table_allows(self):
        linked = {}
        for folder in LAYERS:
            words = text(f'src/{folder}/CMakeLists.txt')
            call = re.search(r'linerwright_library\(\w+(.*?)\n?\)\n', words + '\n', re.S)
            if call:
                part = re.search(r'\bDEPENDS((?:\s+[a-z]+)+)', call[1])
                linked[folder] = part[1].split() if part else []
            else:
                linked[folder] = re.findall(r'\blinerwright_([a-z]+)\b(?=[^\n]*)', re.search(
                    r'target_link_libraries\(linerwright PRIVATE[^)]*\)', words)[0])
        for folder in LAYERS:
            # the link graph is the table's: nothing more, and nothing named that is not linked
            self.assertEqual(reach(folder, linked), reach(folder, LAYERS), folder)

    def test_developers_read_the_same_table(self):
        rows = dict(re.findall(r'^\| `(\w+)` \|[^|]*\| ([^|]+) \|$', text('DEVELOPERS.md'), re.M))
        said = {folder: [] if uses == '-' else uses.split(', ') for folder, uses in rows.items() if folder in LAYERS}
        self.assertEqual(said, LAYERS)


class OneSeam(unittest.TestCase):
    def test_kernel_headers_in_one_folder(self):
        places = {}
        for name in files('include', 'src'):
            for line, _, included in includes(text(name)):
                if included.endswith('.hxx'):
                    self.assertRegex(included, KERNEL_HEADER)
                    places.setdefault(folder_of(name), []).append(f'{name}:{line}')
                    self.assertFalse(name.startswith('include/'), f'{name}:{line}: in a public header')
        self.assertEqual(set(places), {KERNEL}, {folder: at for folder, at in places.items() if folder != KERNEL})

    def test_no_thread_file_or_clock_without_the_kernel(self):
        """Exactly the stated list: an entry that is no longer needed has to leave it."""
        found = {}
        free = without_kernel()
        for name in files('include', 'src'):
            if folder_of(name) in free:
                for _, mark, included in includes(text(name)):
                    if mark == '<' and included in OUTSIDE_WORLD:
                        found.setdefault(name, set()).add(included)
        self.assertEqual(found, ALLOWED_OUTSIDE_WORLD)

    def test_folders_without_the_kernel(self):
        self.assertEqual(without_kernel(), ['units', 'asked', 'draw', 'job', 'intake', 'sheet', 'joint', 'fitting', 'mesh', 'pattern', 'reroll', 'nest',
                                            'boards', 'airway', 'run', 'report', 'making', 'page', 'engine'])


class Length(unittest.TestCase):
    def test_no_long_files(self):
        lengths = {name: text(name).count('\n') for name in files('include', 'src', 'tests')}
        long = {name: lines for name, lines in lengths.items() if lines > LONGEST_FILE}
        for name, lines in long.items():
            self.assertLessEqual(lines, LONGER_FILES.get(name, LONGEST_FILE), name)
        self.assertEqual(set(LONGER_FILES) - set(long), set(), 'no longer too long: take it off the list')


if __name__ == '__main__':
    unittest.main()
