"""cmake --install gives a program, libraries, headers and a package that another project finds."""
import os
import subprocess
import unittest

from support import InFolder

MAIN = """
#include <linerwright/fitting/fitting.hpp>
#include <linerwright/pattern/pattern.hpp>
#include <linerwright/solid/solid.hpp>
#include <iostream>
int main() {
  using namespace linerwright;
  const FittingRequest request = request_from_flags(
      "elbow", {{"diameter", "315mm"}, {"angle", "90"}, {"pieces", "5"}, {"thickness", "25mm"}}, Units::metric, job_schema());
  const Fitting fitting = make_fitting(request);
  std::cout << build_model(fitting).parts.size() << ' ' << make_patterns(fitting).size() << '\\n';
}
"""
CMAKE = """
cmake_minimum_required(VERSION 3.20)
project(user LANGUAGES CXX)
find_package(linerwright REQUIRED)
add_executable(user main.cpp)
target_link_libraries(user PRIVATE linerwright::linerwright)
"""


class Install(InFolder):
    def test_another_project_builds_against_it(self):
        prefix = self.folder / "prefix"
        subprocess.run(["cmake", "--install", os.environ["LINERWRIGHT_BUILD"], "--prefix", str(prefix)], check=True,
                       capture_output=True)
        version = subprocess.run([prefix / "bin/linerwright", "--version"], capture_output=True, text=True, check=True)
        self.assertRegex(version.stdout, r"^linerwright \d+\.\d+\.\d+")
        for words in ("man/man1/linerwright.1", "bash-completion/completions/linerwright", "zsh/vendor-completions/_linerwright",
                      "fish/vendor_completions.d/linerwright.fish"):
            self.assertIn("linerwright", (prefix / "share" / words).read_text())
        self.reads_step(prefix)
        self.write("main.cpp", MAIN)
        self.write("CMakeLists.txt", CMAKE)
        # Ninja, which the project's own scripts install; a bare machine has no make
        configured = subprocess.run(["cmake", "-G", "Ninja", "-S", ".", "-B", "b", f"-DCMAKE_PREFIX_PATH={prefix}"],
                                    cwd=self.folder, capture_output=True, text=True)
        self.assertEqual(configured.returncode, 0, configured.stderr)
        subprocess.run(["cmake", "--build", "b"], cwd=self.folder, check=True, capture_output=True)
        out = subprocess.run([self.folder / "b/user"], capture_output=True, text=True, check=True).stdout
        # metal, five liner pieces and the bore; five patterns and the blank
        self.assertEqual(out.split(), ["7", "6"])

    def reads_step(self, prefix):
        """What reads STEP, and what draws, are libraries of their own, loaded when they are asked for; without them one line says so."""
        def run(*arguments):
            return subprocess.run([prefix / "bin/linerwright", *arguments], cwd=self.folder, capture_output=True, text=True)
        made = run("make", "straight", "--diameter", "300mm", "--length", "900mm", "--liner", "25mm", "--no-pages", "--out", "made")
        self.assertEqual(made.returncode, 0, made.stderr)
        step = next((self.folder / "made").rglob("*.step"))
        reads = [("check", "made"), ("read", str(step), "--liner", "25mm")]
        for command in reads:
            self.assertEqual(run(*command).returncode, 0, command)
        operations = next(prefix.rglob("liblinerwright_operations.so"))
        operations.rename(operations.with_suffix(".away"))
        drawn = run("make", "straight", "--diameter", "300mm", "--length", "900mm", "--liner", "25mm", "--out", "drawn")
        self.assertNotEqual(drawn.returncode, 0)
        self.assertIn("solids cannot be drawn, cut or meshed: liblinerwright_operations.so", drawn.stderr)
        operations.with_suffix(".away").rename(operations)
        next(prefix.rglob("liblinerwright_step.so")).unlink()
        for command in reads:
            done = run(*command)
            self.assertNotEqual(done.returncode, 0, command)
            self.assertIn("STEP files cannot be read: liblinerwright_step.so", done.stderr)
            self.assertEqual(len(done.stderr.splitlines()), 1, done.stderr)


if __name__ == "__main__":
    unittest.main()
