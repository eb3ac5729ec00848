"""One name, one meaning: no function, variable or type of the library is defined twice over all its folders."""

import os
import unittest

from source import files, text
from symbols import archive_names, clashes, defined, type_names

ARCHIVES = [path for path in os.environ.get('LINERWRIGHT_ARCHIVES', '').split(':') if path]


class Archives(unittest.TestCase):
    def test_every_name_is_defined_once(self):
        self.assertGreater(len(ARCHIVES), 0, 'LINERWRIGHT_ARCHIVES names the static libraries')
        names_of = {path: archive_names(path) for path in ARCHIVES}
        for path, names in names_of.items():
            self.assertGreater(len([name for name in names if '11linerwright' in name]), 0, path)
        self.assertEqual(clashes(names_of), {})

    def test_two_results_of_one_parameter_list_clash(self):
        # what g++ and libstdc++ made of two functions that bore the same name
        one = '0000000000000000 T _ZN11linerwright11code_pointsB5cxx11ESt17basic_string_viewIcSt11char_traitsIcEE\n'
        other = '0000000000000010 T _ZN11linerwright11code_pointsESt17basic_string_viewIcSt11char_traitsIcEE\n'
        shared = '0000000000000000 W _ZN11linerwright6RegionD1Ev\n'
        found = clashes({'a': defined(one + shared), 'b': defined(other + shared)})
        self.assertEqual(found, {'_ZN11linerwright11code_pointsESt17basic_string_viewIcSt11char_traitsIcEE': ['a', 'b']})


class Types(unittest.TestCase):
    def test_every_type_is_defined_once(self):
        names_of = {name: type_names(text(name)) for name in files('include', 'src')}
        self.assertGreater(sum(map(len, names_of.values())), 150)
        self.assertEqual(clashes(names_of), {})

    def test_a_type_defined_twice_is_found(self):
        one = 'namespace linerwright {\nstruct Pair {\n};\n}  // namespace linerwright\n'
        hidden = 'namespace linerwright {\nnamespace {\nclass Pair final : Base {\n}  // namespace\nenum class Way { up };\n}  // namespace linerwright\n'
        self.assertEqual(clashes({'a': type_names(one), 'b': type_names(one), 'c': type_names(hidden)}),
                         {'linerwright::Pair': ['a', 'b']})
        self.assertEqual(type_names(hidden), ['linerwright::Way'])


if __name__ == '__main__':
    unittest.main()
