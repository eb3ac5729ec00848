"""One-line mutations of the sources, drawn from a seed."""
import dataclasses
import random
import re

# `paper` and `page` are left out: of pictures check knows the digest alone. What else is left out proves or asks, and changes no result.
FOLDERS = ("sheet", "joint", "fitting", "mesh", "solid", "pattern", "units", "draw", "report", "airway", "boards", "nest", "run", "making")
# Each: name, pattern on a line without its comment, replacement. A line gives one mutation for each place that matches.
WAYS = (
    ("sign", r"(?<=[\w)\]]) \+ (?=[\w(*&])", " - "),
    ("sign", r"(?<=[\w)\]]) - (?=[\w(*&])", " + "),
    ("sign", r"(?<=[=(,?:] )-(?=[\w(])|(?<=return )-(?=[\w(])|(?<=\()-(?=[\w(])", ""),
    ("factor", r"(?<![\w.])0\.5 \*", "0.52 *"),
    ("factor", r"(?<![\w.])0\.25 \*", "0.26 *"),
    ("factor", r"(?<![\w.])2\.0 \*", "1.9 *"),
    ("factor", r"(?<=[\w)]) / (?=[\w(])", " * "),
    ("factor", r"(?<=[\w)]) \* (?=[a-z(])", " / "),
    ("factor", r"\bk_two_pi\b", "k_pi"),
    ("sine", r"\bstd::sin\b", "std::cos"),
    ("sine", r"\bstd::cos\b", "std::sin"),
    ("sine", r"\bstd::(?:min|max)\(", None),
    ("index", r"\[i\]", "[i > 0 ? i - 1 : i]"),
    ("index", r"(?<=[\w)] )\+ 1\b", "+ 2"),
    ("index", r"\.front\(\)", ".back()"),
    ("index", r"\.back\(\)", ".front()"),
    ("less", r"(?<=[\w)\]]) < (?=[\w(])", " <= "),
    ("less", r"(?<=[\w)\]]) > (?=[\w(])", " >= "),
    ("less", r"(?<=[\w)\]]) <= (?=[\w(])", " < "),
    ("less", r"(?<=[\w)\]]) == (?=[\w(])", " != "),
    ("side", r"\btrue\b", "false"),
    ("side", r"\bfalse\b", "true"),
    ("side", r"\.x\b", ".y"),
    ("side", r"\.y\b", ".x"),
    ("side", r" \? ([\w.:\"]+) : ([\w.:\"]+)(?=[;,)])", r" ? \2 : \1"),
    ("term", r"(?<=[\w)]) [+-] [\w.]+(?: \* [\w.]+)?(?=[;,)])", ""),
    ("term", r"(?<=[\w)]) \* [a-z][\w.]*(?=[;,)])", ""),
    ("term", r"^\s+[\w.\[\]]+ [+-]= .*;$", ""),
    ("term", r"^\s+[\w.>-]+\.push_back\(.*\);$", ""),
)


@dataclasses.dataclass(frozen=True)
class Mutation:
    file: str  # from the top of the tree
    line: int  # from 1
    way: str
    before: str
    after: str

    @property
    def folder(self):
        return self.file.split("/")[1]

    @property
    def name(self):
        return f"{self.file}:{self.line}: {self.way}: {self.before.strip()}  ->  {self.after.strip() or '(nothing)'}"

    def applied(self, text):
        """The file's text with this line changed; it must still be the line that was drawn."""
        lines = text.split("\n")
        if lines[self.line - 1] != self.before:
            raise ValueError(f"{self.file}:{self.line} is another line by now")
        lines[self.line - 1] = self.after
        return "\n".join(lines)


def of_line(file, number, line):
    """All mutations of one line."""
    code = re.sub(r"//.*", "", line)
    if not code.strip() or code.lstrip().startswith(("#", "template", "namespace", "using", '"')):
        return
    quoted = [m.span() for m in re.finditer(r'"(?:[^"\\]|\\.)*"', code)]
    for way, pattern, by in WAYS:
        for match in re.finditer(pattern, code):
            if any(low < match.end() and match.start() < high for low, high in quoted):
                continue
            if by is None:  # min for max and the other way round
                text = match.group().replace("min", "MAX").replace("max", "min").replace("MAX", "max")
            else:
                text = match.expand(by)
            after = line[:match.start()] + text + line[match.end():]
            if after != line:
                yield Mutation(file, number, way, line, after)


def all_of(root, folder):
    """Every mutation of a folder's sources, in order of file and line."""
    found = []
    for path in sorted((root / "src" / folder).glob("*.cpp")):
        file = str(path.relative_to(root))
        for number, line in enumerate(path.read_text().split("\n"), 1):
            found += of_line(file, number, line)
    return found


def draw(root, seed):
    """Mutations without end in sight: folder after folder in turn, of each one line after another in an order that the seed
    gives; no line twice before all had their turn."""
    waiting = {}
    for folder in FOLDERS:
        chance = random.Random(f"{seed}/{folder}")
        of_lines = {}
        for mutation in all_of(root, folder):
            of_lines.setdefault((mutation.file, mutation.line), []).append(mutation)
        lines = [chance.sample(of, len(of)) for _, of in sorted(of_lines.items())]
        chance.shuffle(lines)
        waiting[folder] = [of[turn] for turn in range(max(map(len, lines), default=0)) for of in lines if turn < len(of)]
    turn = 0
    while any(waiting.values()):
        folder = FOLDERS[turn % len(FOLDERS)]
        turn += 1
        if waiting[folder]:
            yield waiting[folder].pop(0)
