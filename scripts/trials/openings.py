"""Openings, in walls that are cylinders, and roughly in tapers: their edges on the flat, how much board they leave to ends, holes and seams, and what they
take out of the liner. A wall of radius R: x = R (angle around), y along; an opening's size is a chord, and at the depth w what is
cut straight along the opening's axis lies at R - w where the same chord does. Millimetres and radians."""
import math

import numpy as np

import bends
import opening_words
import paths
import saddle
import square_openings
import taper
import turned

MARGIN = 5.0  # mm of board that an opening keeps beside it
STEPS = 180  # around an outline
SLICES = 16
WHATS = ("access door", "damper shaft", "sensor", "test hole")


class Wall:
    """A piece's wall: heights of its two ends at an angle and a depth, the metal's first, holes in it and where its seam lies."""

    def __init__(self, piece, radius, low, high, starts=None, seam=None, holes=()):
        self.piece, self.radius, self.low, self.high, self.seam, self.holes = piece, radius, low, high, seam, list(holes)
        self.starts = starts or (lambda theta: low(theta, 0.0))


def walls_of(wish):
    """The cylinders of a fitting, piece by piece, as far as a short formula gives their ends; {} for other kinds."""
    kind, radius, t = wish["kind"], 0.5 * wish["diameter"], wish["thickness"]
    first, last = (wish.get(key, 0.0) for key in ("hold_back_start", "hold_back_end"))
    walls = []
    if kind == "straight":
        walls = [Wall("1", radius, lambda *_: first, lambda *_: wish["length"] - last, lambda _: 0.0,
                      math.radians(wish.get("seam_at", 0.0)))]
    elif kind == "cap" and wish["length"]:
        seat = wish.get("seat", "butt")
        walls = [Wall("ring", radius, lambda *_: first,
                      lambda _, w: wish["length"] - {"butt": t, "inside": 0.0, "mitre": w}[seat], lambda _: 0.0, 0.0)]
    elif kind in ("elbow", "offset") and wish.get("form") != "smooth":
        walls = _bent(wish, first, last)
    elif kind == "path":
        wall = paths.walls_of(wish)[0]
        if wall[0] == "cylinder" and wall[3] is None:
            _, r, length, _, high = wall
            walls = [Wall("1", r, lambda *_: first,
                          lambda theta, w: length + paths._edge(high, r, w, theta)[1] - (last if high is None else 0.0), lambda _: 0.0,
                          _path_seam(wish))]
    elif kind == "tap":
        b = saddle.branches_of(wish)[0]
        if b["base"] == b["end"]:
            walls = [_branch(wish, b, 0, "branch")]
    elif kind == "tee" and isinstance(wish["branch_diameter"], float):
        b = saddle.branches_of(wish)[0]
        holes = [[(math.radians(b["around"]) + angle, b["position"] + z) for angle, z, _ in
                  saddle.curve(radius, b, *pair, 1.0) or ()] for pair in saddle.depth_pairs(wish)]
        walls = [Wall("body", radius, lambda *_: first, lambda *_: wish["length"] - last, lambda _: 0.0,
                      math.radians(b["around"] + wish.get("body_seam", 180.0)), holes)]
        if b["base"] == b["end"]:
            walls.append(_branch(wish, b, 0, "branch"))
    return {wall.piece: wall for wall in walls}


def _path_seam(wish):
    """Of a path's first piece: the throat of its first bend, or the heel."""
    turns = [math.radians(part.get("turn", 0.0)) for part in paths.parts_of(wish) if part["form"] == "bend"]
    return (turns[0] if turns else 0.0) + (math.pi if wish.get("seam") == "heel" else 0.0)


def _bent(wish, first, last):
    """Gores: end pieces, middle ones and, of an offset, the piece between its bends, throat and heel changing sides there."""
    radius, rho, half = bends.bend(wish)
    count, rise, collar = wish["pieces"] - 1, math.tan(half), wish.get("collar", 0.0)
    sides = [1.0] * count + ([-1.0] * count if wish["kind"] == "offset" else [])  # of each mitre's throat
    walls = []
    for k in range(len(sides) + 1):
        before, after = (sides[k - 1] if k else None), (sides[k] if k < len(sides) else None)
        reach = [collar if side is None else rho * rise for side in (before, after)]
        if before is not None and after is not None and before != after:
            reach = [0.5 * bends.way_of(wish)[2] + rho * rise] * 2

        def low(theta, w, before=before, reach=reach):
            return -reach[0] + (first if before is None else before * (radius - w) * rise * math.cos(theta))

        def high(theta, w, after=after, reach=reach):
            return reach[1] - (last if after is None else after * (radius - w) * rise * math.cos(theta))
        starts = (lambda _, reach=reach: -reach[0]) if before is None else None
        seam = (0.0 if wish.get("seam", "throat") == "throat" else math.pi) + k * math.pi
        walls.append(Wall(str(k + 1), radius, low, high, starts, seam))
    return walls


def _branch(wish, b, place, piece):
    """From the saddle on; a tap's metal begins on the outside of its duct's."""
    body, r, t = 0.5 * wish["diameter"], 0.5 * b["end"], wish["thickness"]
    beta, joint = math.radians(b["angle"]), wish.get("joint", "mitre")
    held = wish.get("hold_back_branch" if wish["kind"] == "tee" else "hold_back_end", 0.0)
    held = held[place] if isinstance(held, list) else held

    def meets(theta, w, on):
        return saddle.point(on, r - w, beta, b["offset"], _turned(theta))[3]

    def _turned(theta):  # saddle.py counts the other way around
        return -theta

    def low(theta, w):
        return meets(theta, w, {"mitre": body - w, "over": body, "through": body - t}[joint])

    def high(theta, w):
        return b["length"] + turned.mitre_beyond(wish, place, r - w, theta) - (held if turned.bend_of(wish, place) is None else 0.0)
    outside = body + (wish.get("gauge", 0.8) if wish["kind"] == "tap" else 0.0)
    seam = math.radians(wish.get("branch_seam", 180.0 if b["angle"] > 90.0 + 1e-7 else 0.0))
    return Wall(piece, r, low, high, lambda theta: meets(theta, 0.0, outside), seam)


def parts_of(wish):
    """Each opening as a dict of the words that stand in it."""
    found = []
    for text in wish.get("openings", "").split(","):
        what = next((what for what in WHATS if text.strip().startswith(what)), None)
        if what is None:
            continue
        words = text.strip()[len(what):].split()
        part = {"what": what, **{name: value.replace("mm", "") for name, value in zip(words[0::2], words[1::2])}}
        for name in ("at", "around", "diameter", "width", "length", "setback", "splay"):
            if name in part:
                part[name] = float(part[name])
        found.append(part)
    return found


def holes_of(wish):
    """(wall, part, angle of its middle, height of its middle) of each hole; a pair has two."""
    walls, found = walls_of(wish), []
    for part in parts_of(wish):
        wall = walls.get(part["piece"]) if "piece" in part else next(iter(walls.values()), None)
        if wall is None:
            continue
        pair = part.get("pair", "yes" if part["what"] == "damper shaft" else "no") == "yes"
        theta = math.radians(part["around"])
        # both of a pair as far along: from where the metal starts at the first one's ruling
        v = wall.starts(theta) + part["at"]
        found += [(wall, part, theta + turn, v) for turn in ((0.0, math.pi) if pair else (0.0,))]
    return found


def halves(part, radius):
    """Half the width on the flat and half the height, without the setback; None where it is wider than its wall."""
    half, along = (0.5 * part["diameter"],) * 2 if "diameter" in part else (0.5 * part["width"], 0.5 * part["length"])
    return (radius * math.asin(half / radius), along) if half < radius else None


def outline(wall, part, w, steps=STEPS):
    """The edge at depth w as (angle from the middle, height from the middle); None where there is none. On the flat of the duct
    face; straight through, where the same chord lies at R - w."""
    if halves(part, wall.radius) is None:
        return None
    points = []
    out = part.get("setback", 0.0)
    if part.get("bevel") == "splayed":
        out += w * math.tan(math.radians(part.get("splay", 45.0)))
    for x, y in _flat(part, wall.radius, out, steps):
        if part.get("bevel") == "straight":
            chord = wall.radius * math.sin(x / wall.radius)
            if abs(x) >= 0.5 * math.pi * wall.radius or abs(chord) >= wall.radius - w - 1e-9:
                return None
            points.append((math.asin(chord / (wall.radius - w)), y))
        else:
            points.append((x / wall.radius, y))
    return points


def _flat(part, radius, out, steps):
    wide, along = halves(part, radius)
    if "diameter" not in part:
        corners = [(wide + out, along + out), (-wide - out, along + out), (-wide - out, -along - out), (wide + out, -along - out)]
        return [tuple(a[k] + (b[k] - a[k]) * i / (steps // 4) for k in (0, 1)) for a, b in zip(corners, corners[1:] + corners[:1])
                for i in range(steps // 4)]
    points = []
    for i in range(steps):
        psi = 2.0 * math.pi * i / steps
        y = along * math.sin(psi)
        x, z = radius * math.asin(y / radius), along * math.cos(psi)
        # square to the edge: its way is (dx, dz)
        dx, dz = along * math.cos(psi) * radius / math.sqrt(radius * radius - y * y), -along * math.sin(psi)
        size = math.hypot(dx, dz)
        points.append((x - out * dz / size, z + out * dx / size))
    return points


def clearances(wish):
    """The least board that is left beside any opening: (to an end, to another hole, to a seam, around the wall); -inf where an
    opening is wider than its wall."""
    if wish["kind"] == "square_to_round":
        return square_openings.clearances(wish, parts_of(wish)) + (math.inf,)
    if wish["kind"] == "reducer":
        return _beside_taper_ends(wish), math.inf, math.inf, math.inf
    ends, apart, seams, free = math.inf, math.inf, math.inf, math.inf
    t, done, spans = wish["thickness"], [], {}
    for wall, part, theta, v in holes_of(wish):
        half = 0.0
        for w in (0.0, t):
            edge = outline(wall, part, w)
            if edge is None:
                return (-math.inf,) * 4
            half = max(half, max(angle for angle, _ in edge))
            placed = [(theta + angle, v + y) for angle, y in edge]
            for angle, y in placed:
                ends = min(ends, wall.high(angle, w) - y, y - wall.low(angle, w))
            for other_wall, other_w, other in done:
                if other_wall is wall and other_w == w:
                    apart = min(apart, _apart(placed, other, wall.radius - w))
            for hole in wall.holes:
                apart = min(apart, _apart(placed, hole, wall.radius - w))
            done.append((wall, w, placed))
        if wall.seam is not None:
            seams = min(seams, wall.radius * (abs(math.remainder(theta - wall.seam, 2.0 * math.pi)) - half))
        spans.setdefault(id(wall), []).append((wall, theta, half))
        free = min(free, wall.radius * (math.pi - half))
    return ends, apart, seams, min(free, min((_free(each) for each in spans.values()), default=math.inf))


def _free(spans):
    """mm on either side of the freest ruling of a wall between its openings."""
    wall = spans[0][0]
    angles = [2.0 * math.pi * i / 720 for i in range(720)]
    holes = [(0.5 * (min(a for a, _ in hole) + max(a for a, _ in hole)), 0.5 * (max(a for a, _ in hole) - min(a for a, _ in hole)))
             for hole in wall.holes if hole]
    taken = [(theta, half) for _, theta, half in spans] + holes
    return wall.radius * max(min(abs(math.remainder(a - theta, 2.0 * math.pi)) - half for theta, half in taken) for a in angles)


def _apart(one, other, radius):
    """Distance of two outlines on the flat, negative where one holds a corner of the other."""
    if not one or not other:
        return math.inf
    middle = one[0][0]

    def flat(points):
        angles, along = np.array(points).T
        return np.stack([radius * (angles - 2.0 * math.pi * np.round((angles - middle) / (2.0 * math.pi))), along], axis=1)
    nearest = math.inf
    for points, corners in ((flat(one), flat(other)), (flat(other), flat(one))):
        sides = np.roll(corners, -1, axis=0) - corners
        square = (sides * sides).sum(axis=1)
        away = points[:, None, :] - corners  # of each point from each corner
        shares = np.clip((away * sides).sum(axis=2) / np.where(square > 0.0, square, 1.0), 0.0, 1.0)
        left = away - shares[:, :, None] * sides
        nearest = min(nearest, float(np.hypot(left[:, :, 0], left[:, :, 1]).min()))
        across = (away[:, :, 1] < 0.0) != (away[:, :, 1] < sides[:, 1])
        rise = np.where(sides[:, 1] == 0.0, 1.0, sides[:, 1])
        if (np.count_nonzero(across & (away[:, :, 0] < away[:, :, 1] / rise * sides[:, 0]), axis=1) % 2).any():
            return -1.0
    return nearest


def in_taper(wish):
    """(half across, half along, whether there are two) of each opening in a reducer's taper."""
    if wish["kind"] != "reducer":
        return []
    found = []
    for part in parts_of(wish):
        across, along = (part["diameter"],) * 2 if "diameter" in part else (part["width"], part["length"])
        pair = part.get("pair", "yes" if part["what"] == "damper shaft" else "no") == "yes"
        found.append((0.5 * across + part.get("setback", 0.0), 0.5 * along + part.get("setback", 0.0), pair, "diameter" in part))
    return found


def apart_in_taper(wish):
    """Whether a hole toward the axis of a reducer's taper lies, on the air face, beyond where it is on the duct face."""
    for part, (_, along, _, _) in zip(parts_of(wish), in_taper(wish)):
        _, way, normal, _ = taper.ruling(wish, math.radians(part["around"]))
        if part.get("bevel") == "radial" and abs(wish["thickness"] * normal[2] / way[2]) > 2.0 * along - 1.5:
            return True
    return False


def _beside_taper_ends(wish):
    """The least board between the openings in a taper and its ends along their middle rulings. A cut toward the axis, square to
    it, runs w tan(lean) along the ruling to the small end by the depth w, the wall's lean from the axis the ruling's."""
    least = math.inf
    for part, (_, along, pair, _) in zip(parts_of(wish), in_taper(wish)):
        theta = math.radians(part["around"])
        start = taper.end(wish, theta, 0.0, False) + part["at"]
        for turn, w in [(turn, w) for turn in ((0.0, math.pi) if pair else (0.0,)) for w in (0.0, wish["thickness"])]:
            _, way, normal, _ = taper.ruling(wish, theta + turn)
            shift = w * normal[2] / way[2] if part.get("bevel") == "radial" else 0.0
            ends = [taper.end(wish, theta + turn, w, high) for high in (False, True)]
            if None not in ends:
                least = min(least, start + shift - along - ends[0], ends[1] - start - shift - along)
    return least


def plugs_of_taper(wish):
    """About what the openings in a taper take out of the liner: their area on the flat times the board's thickness; an edge that runs
    to the axis leaves them as much narrower within as the wall is there."""
    total, t = 0.0, wish["thickness"]
    for part, (across, along, pair, rounded) in zip(parts_of(wish), in_taper(wish)):
        r1, r2, _, _ = taper.sizes(wish)
        radius = r1 + (r2 - r1) * part["at"] / taper.ruling(wish, math.radians(part["around"]))[3]
        narrower = 1.0 if part.get("bevel") == "straight" else 1.0 - 0.5 * t / radius
        total += (2.0 if pair else 1.0) * across * along * (math.pi if rounded else 4.0) * t * narrower
    return total


def plugs(wish, first):
    """Volume that the openings take out of the liner, a first layer and what is inside it, whose edges run straight from face
    to face of each: what they enclose, depth by depth, by Simpson's rule. None where no short formula says it."""
    if wish["kind"] == "square_to_round":
        return square_openings.plugs(wish, parts_of(wish))
    layers = [(0.0, first)] + ([(first, wish["thickness"])] if wish["thickness"] > first else [])
    return sum(_plug(wall, part, *faces) for wall, part, _, _ in holes_of(wish) for faces in layers)


def _plug(wall, part, outer, inner):
    t, radius = inner - outer, wall.radius - outer
    edges = {steps: [outline(wall, part, w, steps) for w in (outer, inner)] for steps in (STEPS, 2 * STEPS)}

    def area(w, steps):
        points = _straight_between(radius, *edges[steps], t, w)
        return 0.5 * abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1])))

    def value(w):  # what chords leave falls with the square of their length
        return (4.0 * area(w, 2 * STEPS) - area(w, STEPS)) / 3.0 * (radius - w)

    slices, values = SLICES, [value(t * i / SLICES) for i in range(SLICES + 1)]
    total = None
    while True:
        before, total = total, t / slices / 3.0 * (values[0] + values[-1] + 4.0 * sum(values[1::2]) + 2.0 * sum(values[2:-1:2]))
        if slices >= 512 or before is not None and abs(total - before) < 1e-7 * total:
            return total
        slices *= 2
        between = [value(t * i / slices) for i in range(1, slices, 2)]
        values = [*(each for pair in zip(values, between) for each in pair), values[-1]]


def _straight_between(radius, outer, inner, t, w):
    """Where lines from the one outline, on a cylinder, to the other, t inside it, cross the cylinder at depth w."""
    if w in (0.0, t):
        return outer if w == 0.0 else inner
    points = []
    for (a, y), (b, z) in zip(outer, inner):
        p = (radius * math.cos(a), radius * math.sin(a))
        d = ((radius - t) * math.cos(b) - p[0], (radius - t) * math.sin(b) - p[1])
        square, half, left = d[0] ** 2 + d[1] ** 2, p[0] * d[0] + p[1] * d[1], radius ** 2 - (radius - w) ** 2
        s = left / (-half + math.sqrt(half * half - square * left))
        points.append((math.atan2(p[1] + s * d[1], p[0] + s * d[0]), y + s * (z - y)))
    return points


def meets_something(index, margin=MARGIN):
    """A reason that names what an opening comes too near to: whether the formula's clearance is under the margin."""
    def judged(wish, _):
        return clearances(wish)[index] < margin + 0.6
    return judged


def on_second_seam(wish, degrees):
    """Whether a hole comes to lie under the second layer's seam, so far around from the first one's."""
    turn = math.radians(degrees)
    for wall, part, theta, _height in holes_of(wish):
        for w in (0.0, wish["thickness"]):
            half = max((angle for angle, _ in outline(wall, part, w) or ()), default=math.pi)
            if wall.radius * (abs(math.remainder(theta - wall.seam - turn, 2.0 * math.pi)) - half) < MARGIN + 0.6:
                return True
    return False


def leaves_board(wish, _):
    """Whether a side splayed from R, at the angle a, to r, at b, comes to its edge there from within: r > R cos(b - a)."""
    for wall, part, _, _ in holes_of(wish):
        outer, inner = outline(wall, part, 0.0), outline(wall, part, wish["thickness"])
        if part.get("bevel") == "splayed" and any(wall.radius - wish["thickness"] > wall.radius * math.cos(b - a) - 1e-3
                                                  for (a, _), (b, _) in zip(outer, inner)):
            return True
    return False


def wider_than_wall(wish, _):
    return clearances(wish)[0] == -math.inf or any(half >= math.pi for half in _half_angles(wish))


def _half_angles(wish):
    for wall, part, _, _ in holes_of(wish):
        for w in (0.0, wish["thickness"]):
            yield max(angle for angle, _ in outline(wall, part, w) or [(math.inf, 0.0)])


def closed_by_allowance(wish, _):
    """Board of `butt_allowance` all around would leave under a tenth of the opening."""
    if wish["kind"] == "square_to_round" and square_openings.closed_by(wish, parts_of(wish), wish.get("butt_allowance", 0.0)):
        return True
    for wall, part, _, _ in holes_of(wish):
        least = min(max(x for x, _ in _flat(part, wall.radius, 0.0, STEPS)), max(y for _, y in _flat(part, wall.radius, 0.0, STEPS)))
        # on the board around the fibre that keeps its length
        share = 1.0 - wish.get("neutral_factor", 0.0) * wish["thickness"] / wall.radius
        if wish.get("butt_allowance", 0.0) >= 0.9 * share * (least + part.get("setback", 0.0)) - 0.05:
            return True
    return False


def longest(wish):
    """Of each opening: (how far it reaches along its wall, around it) with the margin that cuts keep from holes."""
    found = []
    for wall, part, _, _ in holes_of(wish):
        edges = [point for w in (0.0, wish["thickness"]) for point in outline(wall, part, w) or ()]
        if edges:
            found.append((max(y for _, y in edges) * 2.0, 2.0 * wall.radius * max(angle for angle, _ in edges)))
    return found


def draw(chance, wish, log, one_in):
    """One to three openings that find room, one in fifteen wherever it falls; in a taper one with room to spare."""
    if wish["kind"] == "square_to_round":
        square_openings.draw(chance, wish, parts_of, log, one_in)
        return
    if wish["kind"] == "reducer":
        _draw_in_taper(chance, wish, log, one_in)
        return
    walls = list(walls_of(wish).values())
    if not walls:
        return
    texts = []
    for _ in range(chance.choice((1, 1, 2, 3))):
        wall = chance.choice(walls)
        careless = one_in(chance, 15)
        for _ in range(12):
            text = _one(chance, wish, wall, log, one_in)
            wish["openings"] = ", ".join(texts + [text])
            if careless or min(clearances(wish)) > MARGIN + 1.0 and not closed_by_allowance(wish, None):
                texts.append(text)
                break
    if texts:
        wish["openings"] = ", ".join(texts)
    else:
        wish.pop("openings", None)


CLEAR = 1.1  # radians from a taper's seam to the middle of an opening, which spans a third of that


def _draw_in_taper(chance, wish, log, one_in):
    if wish.get("pattern") == "notched" or "board_width" in wish or any(wish.get(f"hold_back_{end}") for end in ("start", "end")):
        return
    away = chance.choice((CLEAR, math.pi, -CLEAR, chance.uniform(CLEAR, 2.0 * math.pi - CLEAR)))
    theta = math.remainder(math.radians(wish.get("seam_at", 180.0)) + away, 2.0 * math.pi)
    near = [theta + turn + side * 0.4 for turn in (0.0, math.pi) for side in (-1.0, 0.0, 1.0)]
    ends = [[taper.end(wish, angle, w, high) for angle in near for w in (0.0, wish["thickness"])] for high in (False, True)]
    if None in ends[0] + ends[1]:
        return
    low, high = max(ends[0]), min(ends[1])
    least = min(0.25 * (high - low) - 2.0 * MARGIN, 0.3 * (0.5 * min(wish["diameter"], wish["to_diameter"]) - wish["thickness"]))
    if least < 6.0 or wish.get("butt_allowance", 0.0) > 2.0:
        return
    # a pair opposite has to be as far from the seam, too
    alone = abs(math.remainder(away - math.pi, 2.0 * math.pi)) < CLEAR
    middle = low + chance.uniform(0.4, 0.6) * (high - low)
    words = [chance.choice(WHATS), "piece", "taper", "at", f"{middle:.4f}mm", "around", f"{math.degrees(theta):.4f}"]
    if one_in(chance, 2):
        words += ["diameter", f"{log(chance, 6.0, 2.0 * least):.4f}mm"]
    else:
        words += ["width", f"{log(chance, 6.0, 2.0 * least):.4f}mm", "length", f"{log(chance, 6.0, 2.0 * least):.4f}mm"]
    words += ["pair", "no" if alone else chance.choice(("yes", "no"))]
    bevel = chance.choice(("square", "radial", "straight"))
    wish["openings"] = " ".join(words + (["bevel", bevel] if bevel != "square" else []))


def _one(chance, wish, wall, log, one_in):
    theta = chance.choice((0.0, 0.5, 1.0, -0.5, chance.uniform(-2.0, 2.0))) * math.pi
    start = wall.starts(theta)
    reach = wall.high(theta, 0.0) - start
    what = chance.choice(WHATS)
    words = [what, "piece", wall.piece, "at", f"{max(0.0, chance.choice((0.5, chance.random())) * reach):.4f}mm",
             "around", f"{math.degrees(theta):.4f}"]
    largest = max(3.1, min(0.9 * reach, 1.8 * wall.radius))
    if one_in(chance, 2):
        words += ["diameter", f"{log(chance, 3.0, largest):.4f}mm"]
    else:
        words += ["width", f"{log(chance, 3.0, largest):.4f}mm", "length", f"{log(chance, 3.0, largest):.4f}mm"]
    words += opening_words.cut_words(chance, log, one_in, 3, 60.0, 75.0)
    if one_in(chance, 4):
        words += ["pair", chance.choice(("yes", "no"))]
    return " ".join(words)
