"""Files that are compiled as one see each other's names without linkage. Two of the same type do not compile; but a function of one
file could be taken for another's of the same name, without a word: no file may call what it does not define itself by such a name."""
import os
import pathlib
import re
import unittest

BUILD = pathlib.Path(os.environ["LINERWRIGHT_BUILD"])
DEFINED = re.compile(r"^(?!return|else|namespace|using|#|//)[A-Za-z_][\w:<>,&* ]*?[ *&>](\w+)\(", re.M)


def units():
    """The files that hold others, of the build as it is configured; those of the command line take a type of their own each."""
    made = (BUILD / "build.ninja").read_text()
    return [unit for unit in BUILD.rglob("Unity/unity_*.cxx") if str(unit) in made and "linerwright.dir" not in unit.parts]


def of_namespace_scope(text):
    """The text within namespaces without a name."""
    return "".join(part.partition("\n}  // namespace\n")[0] for part in text.split("\nnamespace {\n")[1:])


def without_words(text):
    return re.sub(r'//[^\n]*|"(?:\\.|[^"\\\n])*"', '""', text)


class Together(unittest.TestCase):
    def test_no_function_is_taken_for_another_files(self):
        wrong = []
        for unit in units():
            files = {path: pathlib.Path(path).read_text() for path in re.findall(r'#include "(.*)"', unit.read_text())}
            code = {path: without_words(text) for path, text in files.items()}
            for path, text in files.items():
                for name in set(DEFINED.findall(without_words(of_namespace_scope(text)))):
                    called = re.compile(rf"(?<![\w.:>]){name}\(|[^-]>{name}\(")
                    wrong += [f"{name}: {path} and {other}" for other in files if other != path and called.search(code[other])]
        self.assertEqual(wrong, [], "rename one, or compile its file APART or ALONE (CMakeLists.txt)")

    def test_a_function_of_the_same_name_is_found(self):
        self.assertEqual(DEFINED.findall(of_namespace_scope("""namespace a {

namespace {

std::string section(const char* id) {
  return called(id);
}

}  // namespace

int outside(int x) {
""")), ["section"])


if __name__ == "__main__":
    unittest.main()
