"""Manual page and completions say what --help says."""
import re
import shutil
import subprocess
import unittest

from support import InFolder


class Words(InFolder):
    def help_of(self, *path):
        return self.made(*path, "--help").stdout

    known = []  # asked once

    def commands(self):
        """Every command with the options that its --help names: [("make", "elbow"), ["--help", "--tag", ...]]."""
        if not Words.known:
            Words.known = self.below()
        return Words.known

    def below(self, *path):
        text = self.help_of(*path)
        options = re.findall(r"^  (?:-\w,)?(--[a-z-]+)", text, re.M)
        found = [(path, options)]
        below = text.partition("\nSubcommands:\n")[2].partition("\n\n")[0]
        for name in re.findall(r"^  ([a-z_]+)", below, re.M):
            found += self.below(*path, name)
        return found

    def needs(self, program):
        if not shutil.which(program):
            self.skipTest(f"{program} is not installed here")

    def test_help_is_understood(self):
        found = dict(self.commands())
        self.assertIn("--radius-ratio", found["make", "elbow"])
        self.assertIn("--shard", found["make",])
        self.assertIn(("join",), found)
        self.assertGreater(len(found), 12)

    def manual(self):
        """The page as man shows it to a reader: one blank between words."""
        self.needs("man")
        self.write("linerwright.1", self.made("manual").stdout)
        shown = subprocess.run(["man", "--warnings=w", "-l", "linerwright.1"], cwd=self.folder, capture_output=True, text=True,
                               env={"MANWIDTH": "100", "PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8", "MAN_KEEP_FORMATTING": ""})
        self.assertEqual(shown.returncode, 0, shown.stderr)
        self.assertEqual(shown.stderr, "")
        return re.sub(r"\x1b\[[0-9;]*m|.\x08", "", shown.stdout).replace("\u2010", "-")

    def test_manual_has_every_command_and_option(self):
        page = self.manual()
        for section in ("NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "COMMANDS", "FILES", "EXAMPLES", "NOTES"):
            self.assertRegex(page, f"(?m)^{section}$")
        checked = 0
        for path, options in self.commands():
            name = " ".join(("linerwright", *path))
            if not path:
                part = page
            else:
                part = re.search(rf"(?ms)^   {name}\n(.*?)(?=^   linerwright|^[A-Z]+$)", page)
                self.assertTrue(part, name)
                part = part.group(1)
                same = re.search(r"The\s+same\s+options\s+as\s+(linerwright [a-z_ ]+)\.", part)
                if same:
                    part = re.search(rf"(?ms)^   {same.group(1)}\n(.*?)(?=^   linerwright|^[A-Z]+$)", page).group(1)
            for option in options:
                self.assertRegex(part, rf"(?m)^ +(?:-\w, )?{option}\b", f"{name} {option}")
                checked += 1
        self.assertGreater(checked, 200)
        self.assertIn("Exit codes: 0 all well", re.sub(r"\s+", " ", page))

    def completion(self, shell, file):
        if not (self.folder / file).exists():
            self.write(file, self.made("completion", shell).stdout)

    def bash(self, line):
        self.needs("bash")
        self.completion("bash", "linerwright.bash")
        words = line.split(" ")
        script = 'source ./linerwright.bash; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _linerwright; printf "%s\\n" "${COMPREPLY[@]}"'
        result = subprocess.run(["bash", "-c", script, "bash", *words], cwd=self.folder, capture_output=True, text=True)
        self.assertEqual(result.stderr, "")
        return [word for word in result.stdout.split("\n") if word]

    def fish(self, line):
        self.needs("fish")
        self.completion("fish", "linerwright.fish")
        result = subprocess.run(["fish", "--no-config", "-c", f'source linerwright.fish; complete -C "{line}"'], cwd=self.folder,
                                capture_output=True, text=True, env={"HOME": str(self.folder), "PATH": "/usr/bin:/bin"})
        self.assertEqual(result.stderr, "")
        files = {path.name for path in self.folder.iterdir()}  # offered beside the words
        return [word for word in (row.split("\t")[0] for row in result.stdout.splitlines()) if word not in files]

    def zsh(self, line):
        """What zsh would offer, as its functions receive it."""
        self.needs("zsh")
        self.completion("zsh", "_linerwright")
        words = line.split(" ")
        script = ('compdef() { }; compadd() { [[ $1 == -- ]] && shift; print -l -- "$@" }; _files() { print FILES }\n'
                  '_describe() { local -a all; all=("${(@P)2}"); print -l -- "${(@)all%%:*}" }\n'
                  "source ./_linerwright\nwords=(\"$@\"); CURRENT=$#; _linerwright")
        result = subprocess.run(["zsh", "-f", "-c", script, "zsh", *words], cwd=self.folder, capture_output=True, text=True)
        self.assertEqual(result.stderr, "")
        current = words[-1]
        return [word for word in result.stdout.split("\n") if word and word != "FILES" and word.startswith(current)]

    def each_shell(self, check):
        for shell in (self.bash, self.fish, self.zsh):
            with self.subTest(shell.__name__):
                check(shell)

    def test_completions_offer_every_command_and_option(self):
        def check(shell):
            for path, options in self.commands():
                line = " ".join(("linerwright", *path, "--"))
                self.assertEqual(sorted(set(shell(line)) | {"--help"}), sorted(options), line)
        self.each_shell(check)

    def test_completions_offer_commands_and_choices(self):
        def check(shell):
            top = {path[0] for path, _ in self.commands() if len(path) == 1}
            self.assertEqual({word for word in shell("linerwright ") if not word.startswith("-")}, top)
            self.assertEqual(shell("linerwright make el"), ["elbow"])
            self.assertEqual(sorted(shell("linerwright make --dxf r")), ["r12", "r2000"])
            self.assertEqual(sorted(shell("linerwright make elbow --diameter 24in --seam ")), ["heel", "throat"])
            self.assertEqual(sorted(shell("linerwright completion ")), ["bash", "fish", "zsh"])
        self.each_shell(check)

    def test_unknown_shell(self):
        result = self.run_program("completion", "csh")
        self.assertEqual(result.returncode, 2)
        self.assertEqual(len(result.stderr.splitlines()), 1)


if __name__ == "__main__":
    unittest.main()
