"""The Debian package names what it needs, unpacks into a prefix, and works there."""
import os
import pathlib
import re
import shutil
import subprocess
import unittest

from support import InFolder, long

BUILD = pathlib.Path(os.environ["LINERWRIGHT_BUILD"])
JOB = '[[fitting]]\ntag = "E-1"\nkind = "elbow"\ndiameter = "300mm"\nangle = 90\npieces = 4\nthickness = "25mm"\n'


def output_of(*command, **options):
    return subprocess.run(command, check=True, capture_output=True, text=True, **options).stdout


@long
class Package(InFolder):
    def setUp(self):
        super().setUp()
        for tool in ("cpack", "dpkg-deb", "dpkg-shlibdeps"):
            if not shutil.which(tool):
                self.skipTest(f"{tool} is not installed here")
        made = subprocess.run(["cpack", "--config", BUILD / "CPackConfig.cmake", "-B", self.folder / "pack", "-D",
                               f"CPACK_OUTPUT_FILE_PREFIX={self.folder}"], cwd=self.folder, capture_output=True, text=True)
        self.assertEqual(made.returncode, 0, made.stdout + made.stderr)
        packages = list(self.folder.glob("linerwright_*.deb"))
        self.assertEqual(len(packages), 1, made.stdout)
        self.package = packages[0]

    def field(self, name):
        return output_of("dpkg-deb", "--field", self.package, name).strip()

    def test_unpacked_into_a_prefix_it_makes_a_job(self):
        self.assertEqual(self.field("Package"), "linerwright")
        self.assertRegex(self.field("Version"), r"^\d+\.\d+\.\d+")
        self.assertEqual(self.field("Architecture"), output_of("dpkg", "--print-architecture").strip())
        self.assertEqual(self.field("Maintainer"), "Linerwright maintainers <maintainers@linerwright.invalid>")
        self.assertIn("duct fittings", self.field("Description"))

        root = self.folder / "root"
        output_of("dpkg-deb", "--extract", self.package, root)
        files = {str(path.relative_to(root)) for path in root.rglob("*") if path.is_file()}
        parts = [next(root.rglob(f"liblinerwright_{part}.so")) for part in ("step", "operations")]  # in Debian's folder of this architecture
        self.assertEqual(files, {
            "usr/bin/linerwright", *(str(part.relative_to(root)) for part in parts), "usr/share/man/man1/linerwright.1", "usr/share/bash-completion/completions/linerwright",
            "usr/share/zsh/vendor-completions/_linerwright", "usr/share/fish/vendor_completions.d/linerwright.fish",
            "usr/share/doc/linerwright/README.md", "usr/share/doc/linerwright/copyright", "usr/share/doc/linerwright/three-LICENSE"})
        for path in root.rglob("*"):
            self.assertFalse(path.stat().st_mode & 0o022, path)  # nobody else may write

        # every library it loads, at once or to read STEP, is in a package that it depends on
        depends = {re.match(r"[a-z0-9.+-]+", each.strip()).group() for each in self.field("Depends").split(",")}
        program = root / "usr/bin/linerwright"
        self.assertEqual({part.parent.name for part in parts}, {"linerwright"})
        for binary, known in ((program, "libTKernel.so.7"), (parts[0], "libTKSTEP.so.7"), (parts[1], "libTKBO.so.7")):
            needed = re.findall(r"NEEDED\s+(\S+)", output_of("objdump", "-p", binary))
            self.assertIn(known, needed)
            for library in needed:
                loaded = re.search(rf"{re.escape(library)} => (\S+)", output_of("ldd", binary))
                if loaded is None:
                    continue  # the loader itself
                owners = output_of("dpkg", "--search", f"*/{library}").splitlines()
                self.assertTrue(any(owner.split(":")[0] in depends for owner in owners), f"{library}: {owners}, {depends}")

        self.write("job.toml", JOB)
        bare = {"PATH": "/usr/bin:/bin", "LC_ALL": "C"}
        output_of(program, "make", "job.toml", cwd=self.folder, env=bare)
        self.assertTrue((self.folder / "models-out/E-1/E-1.step").is_file())
        output_of(program, "check", "models-out", cwd=self.folder, env=bare)


if __name__ == "__main__":
    unittest.main()
