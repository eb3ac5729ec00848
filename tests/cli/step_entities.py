"""A reader of STEP entities of its own: curves, surfaces and solids to points and volumes, with NumPy.

Follows ISO 10303-42: a trimmed conic runs counter-clockwise about its placement from the first vertex to the last; a face's
loop, turned as its bound says, runs counter-clockwise about the face's normal, which is the surface's own or, where same_sense
is false, the other way. Volumes by the divergence theorem, V = 1/3 of the integral of P.n, taken along the faces' loops by
Green's theorem."""
import math
import re

import numpy as np

NODES, WEIGHTS = np.polynomial.legendre.leggauss(5)


def entities(text):
    """{number: (name, arguments)}; arguments are nested lists of numbers, strings and ("#", number)."""
    data = text.split("DATA;", 1)[1].split("ENDSEC;", 1)[0]
    found = {}
    for number, body in re.findall(r"#(\d+)=((?:'[^']*'|[^;'])*);", data):
        if body.startswith("("):  # several types in one instance: not geometry
            found[int(number)] = ("", [])
            continue
        name, arguments = body.split("(", 1)
        found[int(number)] = (name, _values("(" + arguments)[0])
    return found


def _values(text):
    tokens = re.findall(r"'[^']*'|#\d+|\.[A-Z_0-9]+\.|[-+]?\d+\.?\d*(?:E[-+]?\d+)?|[(),$*]|[A-Z_]+", text)
    stack = [[]]
    for token in tokens:
        if token == "(":
            stack.append([])
        elif token == ")":
            done = stack.pop()
            stack[-1].append(done)
        elif token == ",":
            continue
        elif token[0] == "#":
            stack[-1].append(("#", int(token[1:])))
        elif token[0] in "'.$*" or token[0].isalpha():
            stack[-1].append(token)
        else:
            stack[-1].append(float(token))
    return stack[0]


class File:
    def __init__(self, text):
        self.all = entities(text)
        self.curves = {}

    def curve(self, edge):
        """Of the edge of that number."""
        if edge not in self.curves:
            self.curves[edge] = Curve(self, edge)
        return self.curves[edge]

    def get(self, ref):
        return self.all[ref[1]]

    def point(self, ref):
        return np.array(self.get(ref)[1][1])

    def frame(self, ref):
        _, at, z, x = self.get(ref)[1]
        z, x = np.array(self.get(z)[1][1]), np.array(self.get(x)[1][1])
        return self.point(at), x, np.cross(z, x), z

    def solids(self):
        return [(args[0].strip("'"), args[1]) for name, args in self.all.values() if name == "MANIFOLD_SOLID_BREP"]

    def faces(self, shell):
        return [self.get(face)[1] for face in self.get(shell)[1][1]]

    def loops(self, face):
        """Of a face, its loops as lists of (edge number, forward)."""
        found = []
        for bound in face[1]:
            _, loop, orientation = self.get(bound)[1]
            turned = orientation == ".F."
            edges = [self.get(edge)[1] for edge in self.get(loop)[1][1]]
            ways = [(edge[3][1], (edge[4] == ".T.") != turned) for edge in edges]
            found.append(ways[::-1] if turned else ways)
        return found


class Curve:
    """An edge's curve between its vertices: value and slope at a parameter of [first, last], or at an array of such."""

    def __init__(self, file, edge):
        _, start, end, curve, _ = file.all[edge][1]
        self.start, self.end = (file.point(file.get(vertex)[1][1]) for vertex in (start, end))
        name, args = file.get(curve)
        self.name = name
        self.breaks = None
        if name == "LINE":
            at, along = file.point(args[1]), np.array(file.get(file.get(args[2])[1][1])[1][1])
            self.first, self.last = (float(np.dot(p - at, along)) for p in (self.start, self.end))
            self.at = lambda t: (at + np.multiply.outer(t, along), np.multiply.outer(np.ones_like(t), along))
        elif name in ("CIRCLE", "ELLIPSE"):
            centre, x, y, _ = file.frame(args[1])
            a, b = args[2], args[-1]

            def angle(p):
                return math.atan2(np.dot(p - centre, y) / b, np.dot(p - centre, x) / a)
            self.first, self.last = angle(self.start), angle(self.end)
            if start == end or self.last <= self.first:
                self.last = self.first + (2 * math.pi if start == end else (self.last - self.first) % (2 * math.pi))
            self.at = lambda t: (centre + np.multiply.outer(a * np.cos(t), x) + np.multiply.outer(b * np.sin(t), y),
                                 np.multiply.outer(-a * np.sin(t), x) + np.multiply.outer(b * np.cos(t), y))
            self.breaks = np.linspace(self.first, self.last, 65)
        elif name == "B_SPLINE_CURVE_WITH_KNOTS":
            poles = np.array([file.point(pole) for pole in args[2]])
            spline = Spline(int(args[1]), args[6], args[7], poles)
            self.first, self.last, self.at, self.breaks = args[7][0], args[7][-1], spline.at, args[7]
        else:
            raise ValueError("curve " + name)

    def places(self, count):
        return np.linspace(self.first, self.last, count)


class Spline:
    """By de Boor's rule: value and slope."""

    def __init__(self, degree, multiplicities, knots, poles):
        self.p, self.poles = degree, poles
        self.knots = u = np.repeat(knots, [int(m) for m in multiplicities])
        self.slopes = degree / (u[degree + 1:-1] - u[1:-degree - 1])[:, None] * np.diff(poles, axis=0)

    def at(self, t):
        return self.value(t), self._value(t, self.p - 1, self.slopes, self.knots[1:-1])

    def value(self, t):
        return self._value(t, self.p, self.poles, self.knots)

    @staticmethod
    def _value(t, p, poles, u):
        k = np.clip(np.searchsorted(u, t, side="right") - 1, p, len(poles) - 1)
        d = [poles[j + k - p] for j in range(p + 1)]
        for r in range(1, p + 1):
            for j in range(p, r - 1, -1):
                low, high = u[j + k - p], u[j + 1 + k - r]
                share = np.expand_dims((t - low) / (high - low), -1)
                d[j] = (1 - share) * d[j - 1] + share * d[j]
        return d[p]


class Surface:
    """Distance of a point, and around a loop what its edges add to the integral of P.n."""

    def __init__(self, file, ref):
        self.name, args = file.get(ref)
        if self.name == "B_SPLINE_SURFACE_WITH_KNOTS":
            self.rows = [[file.point(pole) for pole in row] for row in args[3]]
            self.sides = [Spline(int(args[1]), args[8], args[10], np.array([row[k] for row in self.rows])) for k in (0, 1)]
            self.breaks = args[10]
            self.ends = [side.value(np.array(self.breaks)) for side in self.sides]
            return
        self.at, self.x, self.y, self.z = file.frame(args[1])
        self.sizes = args[2:]

    def local(self, p):
        d = p - self.at
        return d @ self.x, d @ self.y, d @ self.z

    def off(self, p):
        if self.name == "B_SPLINE_SURFACE_WITH_KNOTS":
            return self._off_ruled(p)
        x, y, z = self.local(p)
        rho = math.hypot(x, y)
        if self.name == "PLANE":
            return abs(z)
        if self.name == "CYLINDRICAL_SURFACE":
            return abs(rho - self.sizes[0])
        if self.name == "CONICAL_SURFACE":
            return abs(rho - self.sizes[0] - z * math.tan(self.sizes[1])) * math.cos(self.sizes[1])
        if self.name == "TOROIDAL_SURFACE":
            return abs(math.hypot(rho - self.sizes[0], z) - self.sizes[1])
        raise ValueError("surface " + self.name)

    def _off_ruled(self, p):
        """From the nearest ruling, found by halving around the nearest of many."""
        def away(t):
            a, b = (side.value(t) for side in self.sides)
            share = min(1.0, max(0.0, float(np.dot(p - a, b - a) / np.dot(b - a, b - a))))
            return float(np.linalg.norm(p - a - share * (b - a)))
        places = np.array(self.breaks)
        a, along = self.ends[0], self.ends[1] - self.ends[0]
        shares = np.clip(np.sum((p - a) * along, axis=1) / np.sum(along * along, axis=1), 0.0, 1.0)
        best = int(np.argmin(np.linalg.norm(p - a - shares[:, None] * along, axis=1)))
        low, high = places[max(best - 1, 0)], places[min(best + 1, len(places) - 1)]
        for _ in range(60):
            a, b = low + (high - low) / 3, high - (high - low) / 3
            low, high = (low, b) if away(a) < away(b) else (a, high)
        return away(0.5 * (low + high))

    def along(self, p, slope):
        """The antiderivative in v of P.(Pu x Pv), times du, for a curve through the places p."""
        x, y, z = self.local(p)
        dx, dy = slope @ self.x, slope @ self.y
        ox, oy, oz = (float(np.dot(self.at, axis)) for axis in (self.x, self.y, self.z))
        if self.name == "PLANE":  # P.(x x y) = P.z everywhere, v = y
            return oz * y * dx
        rho2 = x * x + y * y
        du = (x * dy - y * dx) / rho2
        cu, su = x / np.sqrt(rho2), y / np.sqrt(rho2)
        lean = self.sizes[1] if self.name == "CONICAL_SURFACE" else 0.0
        r0, tan = self.sizes[0], math.tan(lean)

        def flux(h):  # with v counted along z: P.(Pu x Pz), Pu x Pz = r (cu, su, -tan)
            r = r0 + h * tan
            return r * ((ox + r * cu) * cu + (oy + r * su) * su - (oz + h) * tan)
        # a polynomial of degree 2 in the height: Simpson's rule is exact
        return z / 6.0 * (flux(0.0) + 4.0 * flux(0.5 * z) + flux(z)) * du

    def whole(self):
        """Of a ruled patch, the integral of P.(Pu x Pv) over all of it."""
        places, weights = nodes(self.breaks)
        (p, dp), (q, dq) = (side.at(places) for side in self.sides)
        total = 0.0
        for v, share in ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6)):
            at, along = (1 - v) * p + v * q, (1 - v) * dp + v * dq
            total += share * float(weights @ np.sum(at * np.cross(along, q - p), axis=1))
        return total


def nodes(breaks):
    """Places and weights of Gauss's rule in every span."""
    breaks = np.array(breaks)
    middle, half = 0.5 * (breaks[:-1] + breaks[1:]), 0.5 * np.diff(breaks)
    return (middle[:, None] + half[:, None] * NODES).ravel(), (half[:, None] * WEIGHTS).ravel()


def volume(file, shell):
    """mm3; of faces on planes, cylinders, cones, and whole ruled patches."""
    total = 0.0
    for face in file.faces(shell):
        surface = Surface(file, face[2])
        if surface.name == "B_SPLINE_SURFACE_WITH_KNOTS":
            total += surface.whole() * (1.0 if face[3] == ".T." else -1.0)
            continue
        for loop in file.loops(face):
            for number, forward in loop:
                curve = file.curve(number)
                breaks = curve.breaks if curve.breaks is not None else [curve.first, curve.last]
                places, weights = nodes(breaks)
                total -= float(weights @ surface.along(*curve.at(places))) * (1.0 if forward else -1.0)
    return total / 3.0
