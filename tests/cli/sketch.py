"""Drawings by a solid modeller that shares nothing with Open CASCADE: SolveSpace, whose command line (Debian's package solvespace)
makes STEP and STL files of sketches. Its surfaces are rational B-splines in quarters."""
import math
import subprocess

WORKPLANE, LINE, CIRCLE = 100, 200, 400                     # requests
SPACE, PLANE, EXTRUDE, LATHE, REVOLVE = 5000, 5001, 5100, 5101, 5102  # groups
UNION, DIFFERENCE = 0, 1
ORIGIN, UPRIGHT = 0x00010001, 0x00010020                    # of the plane z = 0


def cross(a, b):
    return tuple(a[(i + 1) % 3] * b[(i + 2) % 3] - a[(i + 2) % 3] * b[(i + 1) % 3] for i in range(3))


def turned(x, z, degrees):
    """x turned about z, which is square to it."""
    angle = math.radians(degrees)
    return tuple(math.cos(angle) * a + math.sin(angle) * b for a, b in zip(x, cross(z, x)))


def quaternion(x, z):
    """The turn that takes a plane's u to x and its normal to z, by less than half a turn."""
    y = cross(z, x)
    w = math.sqrt(1.0 + x[0] + y[1] + z[2]) / 2
    return w, (y[2] - z[1]) / (4 * w), (z[0] - x[2]) / (4 * w), (x[1] - y[0]) / (4 * w)


class Sketch:
    def __init__(self):
        self.groups, self.numbers, self.requests = [(1, SPACE, [])], [], []
        for number, turn in ((1, (1, 0, 0, 0)), (2, (.5, .5, .5, .5)), (3, (.5, -.5, -.5, -.5))):
            for i in range(3):
                self.numbers.append((number << 16 | 0x10 + i, 0))
            for i in range(4):
                self.numbers.append((number << 16 | 0x20 + i, turn[i]))
            self.requests.append((number, WORKPLANE, None, 1))

    def group(self, kind, lines):
        number = len(self.groups) + 1
        self.groups.append((number, kind, lines))
        return number

    def plane(self, x=(1, 0, 0), z=(0, 0, 1)):
        """Through the origin; what follows is drawn on it."""
        turn = quaternion(x, z)
        self.on = len(self.groups) + 1
        self.normal = z
        self.group(PLANE, [f'Group.activeWorkplane.v={0x80000000 | self.on << 16:08x}', 'Group.subtype=6000',
                           *(f'Group.predef.q.{name}={value:.20f}' for name, value in zip(('w', 'vx', 'vy', 'vz'), turn)),
                           f'Group.predef.origin.v={ORIGIN:08x}'])

    def request(self, kind, numbers):
        number = len(self.requests) + 1
        self.numbers += [(number << 16 | place, value) for place, value in numbers]
        self.requests.append((number, kind, 0x80000000 | self.on << 16, self.on))

    def circle(self, u, v, radius):
        self.request(CIRCLE, [(0x10, u), (0x11, v), (0x40, radius)])

    def outline(self, points):
        for (a, b), (c, d) in zip(points, points[1:] + points[:1]):
            self.request(LINE, [(0x10, a), (0x11, b), (0x13, c), (0x14, d)])

    def extrude(self, length, combine=UNION, both=False):
        """Along the plane's normal; `both`: half of it each way."""
        number = self.group(EXTRUDE, [f'Group.opA.v={self.on:08x}', f'Group.subtype={7001 if both else 7000}', f'Group.meshCombine={combine}',
                                      f'Group.predef.entityB.v={0x80000000 | self.on << 16:08x}'])
        self.numbers += [(0x80000000 | number << 16 | i, 0.5 * length * self.normal[i]) for i in range(3)]

    def lathe(self):
        self.group(LATHE, [f'Group.opA.v={self.on:08x}', f'Group.predef.origin.v={ORIGIN:08x}', f'Group.predef.entityB.v={UPRIGHT:08x}'])

    def revolve(self, degrees):
        number = self.group(REVOLVE, [f'Group.opA.v={self.on:08x}', 'Group.subtype=7000', f'Group.predef.origin.v={ORIGIN:08x}',
                                      f'Group.predef.entityB.v={UPRIGHT:08x}'])
        self.numbers += [(0x80000000 | number << 16 | i, 0.0) for i in range(3)]
        # it counts in quarters of the angle
        self.numbers.append((0x80000000 | number << 16 | 3, math.radians(degrees) / 4))

    def text(self):
        out = ['\u00b1\u00b2\u00b3SolveSpaceREVa\n\n']
        for order, (number, kind, lines) in enumerate(self.groups):
            flags = [f'Group.{name}=0' for name in ('skipFirst', 'predef.swapUV', 'predef.negateU', 'predef.negateV', 'suppress', 'relaxConstraints',
                                                    'allowRedundant', 'allDimsReference')]
            out.append('\n'.join([f'Group.h.v={number:08x}', f'Group.type={kind}', f'Group.order={order}', 'Group.name=g', 'Group.color=00646464', *lines,
                                  *flags, 'Group.visible=1', 'Group.scale=1.0', 'Group.remap={', '}', 'AddGroup\n']))
        out += [f'Param.h.v.={number:08x}\nParam.val={value:.20f}\nAddParam\n' for number, value in self.numbers]
        for number, kind, plane, group in self.requests:
            on = f'Request.workplane.v={plane:08x}\n' if plane else ''
            out.append(f'Request.h.v={number:08x}\nRequest.type={kind}\n{on}Request.group.v={group:08x}\nRequest.construction=0\nAddRequest\n')
        return '\n'.join(out)

    def export(self, file):
        """As STEP surfaces, or as a mesh where the file's name says so."""
        sketch = file.with_suffix('.slvs')
        sketch.write_bytes(self.text().encode('latin-1'))
        command = 'export-mesh' if file.suffix == '.stl' else 'export-surfaces'
        result = subprocess.run(['solvespace-cli', command, str(sketch), '-o', str(file)], capture_output=True, text=True, timeout=120)
        if not file.exists():
            raise RuntimeError(result.stdout + result.stderr)


def pipe(radius, gauge, length):
    sketch = Sketch()
    sketch.plane()
    for r in (radius + gauge, radius):
        sketch.circle(0, 0, r)
    sketch.extrude(length)
    return sketch


def turned_outline(inside, gauge):
    """An outline of radii and heights, moved out by the gauge, about the z axis."""
    sketch = Sketch()
    sketch.plane((1, 0, 0), (0, -1, 0))
    sketch.outline(inside + [(r + gauge, z) for r, z in reversed(inside)])
    sketch.lathe()
    return sketch


def bend(centreline, radius, gauge, degrees):
    sketch = Sketch()
    sketch.plane((1, 0, 0), (0, -1, 0))
    for r in (radius + gauge, radius):
        sketch.circle(centreline, 0, r)
    sketch.revolve(degrees)
    return sketch


def tee(radius, branch, degrees, aside, length, branch_length, gauge=6.0):
    """Both outsides united, both insides taken away; its own booleans lose walls thinner than their chords."""
    angle = math.radians(degrees)
    z = (math.sin(angle), 0.0, math.cos(angle))
    x = turned((math.cos(angle), 0.0, -math.sin(angle)), z, 29)
    sketch = Sketch()
    for grow, longer, combine in ((gauge, 0.0, UNION), (0.0, 100.0, DIFFERENCE)):
        # the seams of circles do not meet each other
        sketch.plane(turned((1, 0, 0), (0, 0, 1), 13), (0, 0, 1))
        sketch.circle(0, 0, radius + grow)
        sketch.extrude(length + longer, combine, both=True)
        sketch.plane(x, z)
        sketch.circle(aside * math.sin(math.radians(29)), aside * math.cos(math.radians(29)), branch + grow)
        sketch.extrude(branch_length + longer, combine)
    return sketch
