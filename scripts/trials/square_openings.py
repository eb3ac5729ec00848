"""Openings in square-to-rounds. What lies w deep under a flat side is the polygon that all other planes leave of its plane: the way
to each line of it is (how much deeper a place lies under that plane) over the sine between the two. Round a corner the rulings of
the cone, laid flat, keep their lengths and the angles between them. Millimetres and radians."""
import math

import opening_words
import squares

MARGIN = 5.0  # mm of board that an opening keeps beside it
STEPS = 120  # around an outline
QUARTER = 0.5 * math.pi


def _dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def _cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _normal(wish, a):
    co, si, k, size, _ = squares.plane(wish, a)
    return co / size, si / size, k / size


def _under(wish, a, p):
    co, si, k, size, reach = squares.plane(wish, a)
    return (reach - co * p[0] - si * p[1] - k * p[2]) / size


class Spot:
    """Where an opening stands: on flat side `flat` or in the rounded corner `corner`."""

    def __init__(self, wish, part, turn=0.0):
        theta = (math.radians(part["around"]) + turn) % (2.0 * math.pi)
        self.wish, self.part, self.v = wish, part, part["at"]
        quarters = theta / QUARTER
        self.quarter = int(quarters) % 4
        share = quarters - int(quarters)
        self.flat = None if 0.25 < share < 0.75 else (self.quarter + (1 if share > 0.5 else 0)) % 4
        half_x, half_y, r, height, ex, ey = squares.sizes(wish)
        if self.flat is not None:
            a = QUARTER * self.flat
            away = share if share < 0.5 else share - 1.0  # quarters from the middle line, a quarter of one is its end
            along = (-math.sin(a), math.cos(a), 0.0)
            half, off = (half_y, half_x) if self.flat % 2 == 0 else (half_x, half_y)
            self.base = tuple(off * x + 4.0 * away * half * y for x, y in zip((math.cos(a), math.sin(a), 0.0), along))
            self.angle = a
        else:
            self.angle = QUARTER * (self.quarter + 2.0 * (share - 0.25))
            self.base = (half_x if self.quarter in (0, 3) else -half_x, half_y if self.quarter < 2 else -half_y, 0.0)
        tip = (ex + r * math.cos(self.angle), ey + r * math.sin(self.angle), height)
        self.length = math.dist(self.base, tip)
        self.way = tuple((b - a) / self.length for a, b in zip(self.base, tip))
        self.normal = _normal(wish, self.angle)
        self.around = _cross(self.way, self.normal)
        self.middle = tuple(b + self.v * d for b, d in zip(self.base, self.way))


def _outline(part, w):
    """Of the duct face laid flat about the middle; a cone's is small beside its bend."""
    out = part.get("setback", 0.0)
    if part.get("bevel") == "splayed":
        out += w * math.tan(math.radians(part.get("splay", 45.0)))
    if "diameter" in part:
        r = 0.5 * part["diameter"] + out
        return [(-r * math.sin(2.0 * math.pi * i / STEPS), r * math.cos(2.0 * math.pi * i / STEPS)) for i in range(STEPS)]
    x, y = 0.5 * part["width"] + out, 0.5 * part["length"] + out
    corners = [(x, y), (-x, y), (-x, -y), (x, -y)]
    return [tuple(a[k] + (b[k] - a[k]) * i / (STEPS // 4) for k in (0, 1)) for a, b in zip(corners, corners[1:] + corners[:1])
            for i in range(STEPS // 4)]


def _on_flat(spot, w):
    """Least board on the flat beside the outline: (to bend lines and ends, to the middle line)."""
    wish, least, seam = spot.wish, math.inf, math.inf
    a = QUARTER * spot.flat
    along = (-math.sin(a), math.cos(a), 0.0)
    planes = [QUARTER * i / 90 for i in range(360)]
    tip = Spot(wish, {"around": math.degrees(a), "at": 0.0})
    square = _cross(tip.way, spot.normal)
    side = 1.0 if _dot([m - b for m, b in zip(spot.middle, tip.base)], square) >= 0.0 else -1.0
    for x, y in _outline(spot.part, w):
        foot = [m + x * s + y * d for m, s, d in zip(spot.middle, spot.around, spot.way)]
        if spot.part.get("bevel") == "radial":
            top = [b + tip.length * d for b, d in zip(tip.base, tip.way)]
            way = [t - f for t, f in zip(top, foot)]
            lift = w * spot.normal[2] * math.sqrt(_dot(way, way)) / way[2] / math.sqrt(_dot(way, way))
            foot = [f + lift * d for f, d in zip(foot, way)]
        p = [f - w * n for f, n in zip(foot, spot.normal)]
        for b in planes:
            n = _normal(wish, b)
            sine = math.sqrt(max(0.0, 1.0 - _dot(n, spot.normal) ** 2))
            if sine > 1e-4:
                least = min(least, (_under(wish, b, p) - w) / sine)
        lean = math.sqrt(1.0 - spot.normal[2] ** 2)
        least = min(least, p[2] / lean, (wish["length"] - p[2]) / lean)
        seam = min(seam, side * _dot([f - c for f, c in zip(foot, tip.base)], square))
        # bend lines: from the tip to the ends of the side
        for end in (-1.0, 1.0):
            corner = Spot(wish, {"around": math.degrees(a) + 22.4999999 * end, "at": 0.0})
            off = _cross(corner.way, spot.normal)
            least = min(least, -end * _dot([f - c for f, c in zip(foot, corner.base)], off))
    return least, seam


class _Cone:
    """A corner's rulings laid flat: the angle from the first, by thin triangles, and where each begins and ends."""

    def __init__(self, wish, quarter, w, steps=90):
        self.rows = []
        turn, before = 0.0, None
        for i in range(steps + 1):
            a = QUARTER * (quarter + min(max(i / steps, 1e-6), 1.0 - 1e-6))
            corner, way, normal, length = squares._corner(wish, quarter, a)
            if before is not None:
                turn += math.acos(max(-1.0, min(1.0, _dot(before, way))))
            before = way
            # beside a flat its bend line is the cone's own edge
            start = w * max(x for x in squares._starts(wish, quarter, a) if x > -math.inf) if w else 0.0
            end = length + w * normal[2] / way[2]
            self.rows.append((a, turn, start, min(length, end)))

    def turn(self, a):
        for (a0, t0, *_), (a1, t1, *_) in zip(self.rows, self.rows[1:]):
            if a <= a1 + 1e-12:
                return t0 + (t1 - t0) * (a - a0) / (a1 - a0)
        return self.rows[-1][1]

    def line(self, which):
        return [(row[which] * math.sin(row[1]), row[which] * math.cos(row[1])) for row in self.rows]


def _on_tube(spot, cone, x, y, w):
    """Where the line square to the cone in the opening's middle, moved by (x, y), meets its layer w deep, on the board: (reach, angle);
    None where it leaves the corner. Newton's method over the ruling's angle and the way along it."""
    a, reach, step = spot.angle, spot.v + y, 1e-6

    def off(a, reach):
        corner, way, normal, _ = squares._corner(spot.wish, spot.quarter, a)
        p = [c + reach * d - w * n - m for c, d, n, m in zip(corner, way, normal, spot.middle)]
        return _dot(p, spot.around) - x, _dot(p, spot.way) - y
    for _ in range(30):
        f, by_a, by_reach = off(a, reach), off(a + step, reach), off(a, reach + step)
        j = [[(by_a[k] - f[k]) / step, (by_reach[k] - f[k]) / step] for k in (0, 1)]
        size = j[0][0] * j[1][1] - j[0][1] * j[1][0]
        if abs(size) < 1e-12:
            return None
        a -= (f[0] * j[1][1] - f[1] * j[0][1]) / size
        reach -= (j[0][0] * f[1] - j[1][0] * f[0]) / size
        if not QUARTER * spot.quarter < a < QUARTER * (spot.quarter + 1) or reach <= 0.0:
            return None
        if max(map(abs, f)) < 1e-9:
            return reach, cone.turn(a)
    return None


def _in_corner(spot, w):
    cone = _Cone(spot.wish, spot.quarter, w)
    turn, least = cone.turn(spot.angle), math.inf
    for x, y in _outline(spot.part, w):
        reach, angle = math.hypot(x, spot.v + y), turn + math.atan2(x, spot.v + y)
        if w and spot.part.get("bevel") == "straight":  # the air face bends more: such a tube takes more of it
            placed = _on_tube(spot, cone, x, y, w)
            if placed is None:
                return -math.inf
            reach, angle = placed
        p = (reach * math.sin(angle), reach * math.cos(angle))
        last = cone.rows[-1][1]
        least = min(least, reach * math.sin(min(angle, 1.5)), reach * math.sin(min(last - angle, 1.5)))
        for which, sign in ((2, 1.0), (3, -1.0)):
            at = min(cone.rows, key=lambda row: abs(row[1] - angle))[which]
            nearest = min(_to_segment(p, a, b) for a, b in zip(cone.line(which), cone.line(which)[1:]))
            least = min(least, math.copysign(nearest, sign * (reach - at)))
    return least


def _to_segment(p, a, b):
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = min(1.0, max(0.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square)) if square else 0.0
    return math.hypot(p[0] - a[0] - share * dx, p[1] - a[1] - share * dy)


def spots_of(wish, parts):
    """Of each hole; a pair has two. Those of a collar are none."""
    spots = []
    for part in parts:
        if part.get("piece") == "collar":
            continue
        pair = part.get("pair", "yes" if part["what"] == "damper shaft" else "no") == "yes"
        spots += [Spot(wish, part, turn) for turn in ((0.0, math.pi) if pair else (0.0,))]
    return spots


def clearances(wish, parts):
    """The least board beside any: (to bend lines, mitres and ends, to another hole, to a seam)."""
    least, apart, seam = math.inf, math.inf, math.inf
    seams = [4 // wish.get("pieces", 2) * i for i in range(wish.get("pieces", 2))]
    spots = spots_of(wish, parts)
    for i, spot in enumerate(spots):
        for w in (0.0, wish["thickness"]):
            if spot.flat is None:
                least = min(least, _in_corner(spot, w))
                continue
            beside, to_middle = _on_flat(spot, w)
            least = min(least, beside)
            if spot.flat in seams:
                seam = min(seam, to_middle)
        for other in spots[:i]:  # as far as their middles and widest reach tell
            reach = sum(max(math.hypot(*p) for p in _outline(each.part, wish["thickness"])) for each in (spot, other))
            apart = min(apart, math.dist(spot.middle, other.middle) - reach)
    return least, apart, seam


def _lift(spot):
    """How far up the board a radial cut carries an opening's edge from the duct face to the air face."""
    return spot.wish["thickness"] * abs(spot.normal[2]) / spot.way[2] if spot.part.get("bevel") == "radial" else 0.0


def faces_apart(wish, parts):
    """Whether some opening's edges on the two faces have nothing, or next to nothing, in common."""
    return any(_lift(spot) > 2.0 * max(y for _, y in _outline(spot.part, 0.0)) - 1.5 for spot in spots_of(wish, parts))


def closed_by(wish, parts, allowance):
    """Whether board as wide as the allowance leaves under a tenth of some opening, of what both faces leave of it."""
    for spot in spots_of(wish, parts):
        outline = _outline(spot.part, 0.0)
        least = min(max(x for x, _ in outline), max(y for _, y in outline) - 0.5 * _lift(spot))
        if allowance >= 0.9 * least - 0.05:
            return True
    return False


def plugs(wish, parts):
    """What openings take out of the liner of flats: a prism, or a frustum; nothing is said where one stands in a corner."""
    t, total = wish["thickness"], 0.0
    for spot in spots_of(wish, parts):
        def area(w, spot=spot):
            points = _outline(spot.part, w)
            if "diameter" in spot.part:
                return math.pi * points[0][1] ** 2
            return 0.5 * abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1])))
        if spot.flat is None or spot.part.get("bevel") == "radial":
            return None
        total += t / 6.0 * (area(0.0) + 4.0 * area(0.5 * t) + area(t))
    return total


def draw(chance, wish, parts_of, log, one_in):
    """One or two that find room; one in fifteen wherever it falls."""
    texts = []
    for _ in range(chance.choice((1, 1, 2))):
        careless = one_in(chance, 15)
        for _ in range(8):
            text = _one(chance, wish, log, one_in)
            parts = parts_of({"openings": ", ".join(texts + [text])})
            closed = closed_by(wish, parts, wish.get("butt_allowance", 0.0)) or faces_apart(wish, parts)
            if careless or min(clearances(wish, parts)) > MARGIN + 2.0 and not closed:
                texts.append(text)
                break
    if texts:
        wish["openings"] = ", ".join(texts)


def _one(chance, wish, log, one_in):
    side = chance.randrange(4)
    corner = one_in(chance, 2)
    around = 90.0 * side + (45.0 + chance.choice((0.0, chance.uniform(-15.0, 15.0))) if corner
                            else chance.choice((0.0, chance.uniform(-15.0, 15.0))))
    reach = Spot(wish, {"around": around, "at": 0.0}).length
    words = [chance.choice(("access door", "sensor", "test hole", "damper shaft")), "at", f"{chance.choice((0.4, 0.5, chance.random())) * reach:.4f}mm", "around", f"{around:.4f}"]
    small = max(3.1, 0.2 * min(reach, wish["width"], wish["height"], wish["diameter"]))
    if corner or one_in(chance, 2):
        words += ["diameter", f"{log(chance, 3.0, min(small, 60.0) if corner else small):.4f}mm"]
    else:
        words += ["width", f"{log(chance, 3.0, small):.4f}mm", "length", f"{log(chance, 3.0, small):.4f}mm"]
    words += opening_words.cut_words(chance, log, one_in, 4, 20.0, 60.0)
    if words[0] == "damper shaft" and one_in(chance, 2):
        words += ["pair", "no"]
    return " ".join(words)

