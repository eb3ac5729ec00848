"""Names that mean two things: functions and variables in the archives, types in the sources."""

import collections
import re
import subprocess

STRONG = set('TDBRGS')  # defined once by the rule of the language; W, V and u may stand in many files


def defined(listing):
    """The strong names in what `nm --defined-only` prints, as the linker has them. The mark by which one standard library
    tells results of one parameter list apart is dropped, since others have none."""
    names = []
    for line in listing.splitlines():
        match = re.match(r'^[0-9a-f]{8,16} ([A-Za-z]) (\S+)$', line)
        if match and match[1] in STRONG:
            names.append(match[2].replace('B5cxx11', ''))
    return names


def archive_names(archive, nm='nm'):
    return defined(subprocess.run([nm, '--defined-only', archive], stdout=subprocess.PIPE, text=True, check=True).stdout)


def clashes(names_of):
    """Names that more than one place defines, or one place twice: {name: places}. `names_of` is {place: [name]}."""
    places = collections.defaultdict(list)
    for place, names in names_of.items():
        for name in names:
            places[name].append(place)
    return {name: where for name, where in places.items() if len(where) > 1}


def type_names(source):
    """Full names of the types that a file defines outside a namespace without a name."""
    names, spaces = [], []
    for line in source.splitlines():
        opened = re.match(r'namespace(?: ([\w:]+))? \{$', line)
        if opened:
            spaces.append(opened[1])
        elif re.match(r'\}  // namespace', line) and spaces:
            spaces.pop()
        else:
            found = re.match(r'(?:struct|class|enum class|enum)\s+(\w+)(?:\s+final)?\s*(?::[^:].*)?\{', line)
            if found and None not in spaces:
                names.append('::'.join(spaces + [found[1]]))
    return names
