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

    def offers(self, command, lines, env=None):
        """What one start of a shell prints for each line, which it ends with a line of its own."""
        result = subprocess.run([*command, *lines], cwd=self.folder, capture_output=True, text=True, env=env)
        self.assertEqual(result.stderr, "")
        found = result.stdout.split("\n----\n")
        self.assertEqual((len(found), found[-1]), (len(lines) + 1, ""))
        return [[word for word in words.split("\n") if word] for words in found[:-1]]

    def bash(self, *lines):
        self.needs("bash")
        self.completion("bash", "linerwright.bash")
        script = ('source ./linerwright.bash; for line; do IFS=" " read -ra COMP_WORDS <<<"$line"; [[ $line != *" " ]] || COMP_WORDS+=("")\n'
                  'COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); COMPREPLY=(); _linerwright; printf "%s\n" "${COMPREPLY[@]}" ----; done')
        return self.offers(["bash", "-c", script, "bash"], lines)

    def fish(self, *lines):
        self.needs("fish")
        self.completion("fish", "linerwright.fish")
        files = {path.name for path in self.folder.iterdir()}  # offered beside the words
        found = self.offers(["fish", "--no-config", "-c", 'source linerwright.fish; for line in $argv; complete -C "$line"; echo; echo ----; end'],
                            lines, {"HOME": str(self.folder), "PATH": "/usr/bin:/bin"})
        return [[word for word in (row.split("\t")[0] for row in rows) if word not in files] for rows in found]

    def zsh(self, *lines):
        """What zsh would offer, as its functions receive it."""
        self.needs("zsh")
        self.completion("zsh", "_linerwright")
        script = ('compdef() { }; compadd() { [[ $1 == -- ]] && shift; print -l -- "$@" }; _files() { print FILES }\n'
                  '_describe() { local -a all; all=("${(@P)2}"); print -l -- "${(@)all%%:*}" }\n'
                  'source ./_linerwright\nfor line; do words=("${(@s: :)line}"); CURRENT=$#words; _linerwright; print; print -- ----; done')
        found = self.offers(["zsh", "-f", "-c", script, "zsh"], lines)
        return [[word for word in words if word != "FILES" and word.startswith(line.split(" ")[-1])] for line, words in zip(lines, found)]

    def each_shell(self, check):
        for shell in (self.bash, self.fish, self.zsh):
            with self.subTest(shell.__name__):
                check(shell)

    def test_completions_offer_every_command_and_option(self):
        def check(shell):
            lines = [" ".join(("linerwright", *path, "--")) for path, _ in self.commands()]
            for line, offered, (_, options) in zip(lines, shell(*lines), self.commands()):
                self.assertEqual(sorted(set(offered) | {"--help"}), sorted(options), line)
        self.each_shell(check)

    def test_completions_offer_commands_and_choices(self):
        def check(shell):
            top, kind, form, seam, shells = shell("linerwright ", "linerwright make el", "linerwright make --dxf r",
                                                  "linerwright make elbow --diameter 24in --seam ", "linerwright completion ")
            self.assertEqual({word for word in top if not word.startswith("-")},
                             {path[0] for path, _ in self.commands() if len(path) == 1})
            self.assertEqual(kind, ["elbow"])
            self.assertEqual(sorted(form), ["r12", "r2000"])
            self.assertEqual(sorted(seam), ["heel", "throat"])
            self.assertEqual(sorted(shells), ["bash", "fish", "zsh"])
        self.each_shell(check)

    def test_unknown_shell(self):
        result = self.run_program("completion", "csh")
        self.assertEqual(result.returncode, 2)
        self.assertEqual(len(result.stderr.splitlines()), 1)


if __name__ == "__main__":
    unittest.main()
