"""The source tree, read for the tests beside this file."""

import os
import pathlib
import re

from rules import KERNEL, LAYERS

ROOT = pathlib.Path(os.environ.get('LINERWRIGHT_SOURCE') or pathlib.Path(__file__).resolve().parents[2])


def files(*folders):
    """C++ files below the folders, as paths relative to the root."""
    found = [path.relative_to(ROOT) for folder in folders for path in (ROOT / folder).rglob('*')
             if path.suffix in ('.cpp', '.hpp')]
    return sorted(str(path) for path in found)


def text(name):
    return (ROOT / name).read_text(encoding='utf-8')


def includes(source):
    """The (line, bracket or quote, name) of each include in the text of a file."""
    return [(number, match[1], match[2]) for number, line in enumerate(source.splitlines(), 1)
            if (match := re.match(r'\s*#\s*include\s*([<"])([^>"]+)[>"]', line))]


def folder_of(name):
    """The layer of a file of ours."""
    parts = pathlib.PurePosixPath(name).parts
    folder = parts[2] if parts[0] == 'include' else parts[1]
    return folder if folder in LAYERS else None


def reach(folder, table):
    """All that a folder may use by the table: what is named, and what that may use."""
    found, todo = set(), list(table[folder])
    while todo:
        one = todo.pop()
        if one not in found:
            found.add(one)
            todo += table[one]
    return found


def without_kernel():
    return [folder for folder in LAYERS if folder != KERNEL and KERNEL not in reach(folder, LAYERS)]


def layer_fault(name, included):
    """Why a file of ours may not include "linerwright/..." or a header beside it; None where it may."""
    mine = folder_of(name)
    if mine is None:
        return 'belongs to no folder'
    if included.startswith('linerwright/'):
        other = folder_of('include/' + included)
        if other is None:
            return f'{included} belongs to no folder'
        if other != mine and other not in reach(mine, LAYERS):
            return f'{mine} may not use {other}'
        return None
    if '/' in included or not (ROOT / name).with_name(included).is_file():
        return f'{included} is neither a public header nor beside the file'
    return None
