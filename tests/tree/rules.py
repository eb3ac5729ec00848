"""The rules of the source tree, as data. test_layers.py and test_symbols.py hold the tree to them."""

# Folder of src -> folders that it may include from, and what those may in turn. DEVELOPERS.md has the same table.
LAYERS = {
    'units': [],
    'asked': [],
    'draw': ['units'],
    'job': ['units'],
    'intake': ['job'],
    'sheet': ['units'],
    'joint': ['sheet'],
    'fitting': ['joint', 'job'],
    'mesh': ['fitting'],
    'solid': ['mesh'],
    'recognise': ['solid'],
    'pattern': ['fitting', 'draw'],
    'reroll': ['pattern'],
    'nest': ['draw'],
    'boards': ['pattern', 'nest'],
    'airway': ['units'],
    'run': ['fitting', 'draw'],
    'report': ['airway', 'boards'],
    'making': ['report', 'run'],
    'check': ['asked', 'reroll', 'solid', 'report', 'run'],
    'paper': ['pattern', 'solid', 'report'],
    'page': ['mesh', 'report', 'run'],
    'engine': ['page', 'making', 'reroll', 'intake'],
    'output': ['check', 'paper', 'engine'],
    'cli': ['output', 'intake', 'recognise'],
}

# Only this folder includes Open CASCADE's headers; the folders that reach it are not built without the kernel.
KERNEL = 'solid'

# Standard headers that mean a thread, a file or a clock: kept out of the folders that do without the kernel, since
# those also run where there are none of the three.
OUTSIDE_WORLD = {
    'atomic', 'chrono', 'condition_variable', 'cstdio', 'ctime', 'fcntl.h', 'filesystem', 'fstream', 'future', 'iostream',
    'mutex', 'pthread.h', 'shared_mutex', 'stdio.h', 'sys/stat.h', 'sys/types.h', 'thread', 'time.h', 'unistd.h',
}

# The places that have them all the same, each with its reason. The list is to shrink, not to grow.
ALLOWED_OUTSIDE_WORLD = {
    # a job file and its schedules are named by paths and read in one place
    'include/linerwright/job/job.hpp': {'filesystem'},
    'src/job/text_file.hpp': {'filesystem'},
    'src/job/text_file.cpp': {'cstdio'},
    # totals of several jobs are read from their folders
    'include/linerwright/report/totals.hpp': {'filesystem'},
    'src/report/totals_files.cpp': {'fstream'},
    'src/report/totals_join.cpp': {'cstdio'},
    # the pool, and the two lanes of the nesting search
    'include/linerwright/units/parallel.hpp': {'atomic', 'thread'},
    'src/nest/lanes.hpp': {'thread'},
    'src/nest/pair_table.hpp': {'atomic'},
    # says where a drawing came from
    'include/linerwright/draw/draw.hpp': {'filesystem'},
}

LONGEST_FILE = 400  # lines of C++
LONGER_FILES = {}
