"""Paths of straights, gored bends and tapers, part by part as books on sheet metal give each. Millimetres and radians."""
import math


def parts_of(wish):
    """Each part as a dict of the words that stand in it."""
    parts = []
    for text in wish["parts"].split(","):
        words = text.split()
        part = {"form": words[0]}
        for name, value in zip(words[0::2], words[1::2]) if words[0] != "taper" else zip(words[1::2], words[2::2]):
            part[name] = float(value.replace("mm", ""))
        parts.append(part)
    return parts


def walls_of(wish):
    """Cylinders as (radius, length of the axis, low cut, high cut), a cut (tangent of the mitre, throat's ruling), a taper's half
    angle, or None at an open end; tapers as (r1, r2, length, opens low, opens high)."""
    radius, at, throat, low = 0.5 * wish["diameter"], 0.0, 0.0, None
    walls = []
    for part in parts_of(wish):
        if part["form"] == "straight":
            at += part["straight"]
        elif part["form"] == "bend":
            pieces = int(part.get("pieces", wish.get("pieces", 3)))
            centre = part.get("radius", wish.get("centreline_radius", wish.get("radius_ratio", 1.5) * 2.0 * radius))
            throat += math.radians(part.get("turn", 0.0))
            rise = math.tan(math.radians(part["bend"]) / (2.0 * (pieces - 1)))
            for _ in range(pieces - 1):
                walls.append(["cylinder", radius, at + centre * rise, low, (rise, throat)])
                at, low = centre * rise, (rise, throat)
        else:
            half = math.atan2(radius - 0.5 * part["to"], part["over"])
            if at > 0.0 or low is not None:
                if at > 0.0 or isinstance(low, tuple):
                    walls.append(["cylinder", radius, at, low, half])
            walls.append(["taper", radius, 0.5 * part["to"], part["over"], bool(walls), False])
            radius, at, low = 0.5 * part["to"], 0.0, half
    if at > 0.0 or isinstance(low, tuple):
        walls.append(["cylinder", radius, at, low, None])
    for before, after in zip(walls, walls[1:]):
        if before[0] == "taper":
            before[5] = True
    return walls


def _edge(cut, radius, w, ruling):
    """How far a cylinder's edge stands off its axis' end at depth w, counted inward at the low end, outward at the high end."""
    if cut is None:
        return 0.0, 0.0
    if isinstance(cut, tuple):
        swing = (radius - w) * cut[0] * math.cos(ruling - cut[1])
        return swing, -swing
    walk = -w * math.tan(0.5 * cut)
    return walk, walk


def is_short(wish, least):
    """A cylinder whose layers cross, or do not lie over each other; a taper shorter than its corners walk."""
    t = wish["thickness"]
    depths = (-wish.get("gauge", 0.8), 0.0, t)
    for wall in walls_of(wish):
        if wall[0] == "taper":
            continue
        _, radius, length, low, high = wall
        for k in range(360):
            psi = math.radians(k)
            lows = [_edge(low, radius, w, psi)[0] for w in depths]
            highs = [length + _edge(high, radius, w, psi)[1] for w in depths]
            if min(high - low for low, high in zip(lows, highs)) < least + 0.02:
                return True
            if min(highs[1:]) - max(lows[1:]) < least + 0.02:
                return True
    return any(wall[0] == "taper" and wall[3] < t + least for wall in walls_of(wish))


def steepest(wish):
    return max([math.radians(part["bend"]) / (2.0 * (int(part.get("pieces", wish.get("pieces", 3))) - 1))
                for part in parts_of(wish) if part["form"] == "bend"] or [0.0])


def volumes(wish):
    """Cavity and bore: prisms along the axes, mitred ones as long as these; frustums between the corners, which lie
    t tan(half/2) before the seams."""
    found = []
    for w in (0.0, wish["thickness"]):
        total = 0.0
        for wall in walls_of(wish):
            if wall[0] == "cylinder":
                _, radius, length, low, high = wall
                shift = [0.0 if isinstance(cut, tuple) or cut is None else -w * math.tan(0.5 * cut) for cut in (low, high)]
                total += math.pi * (radius - w) ** 2 * (length - shift[0] + shift[1])
                continue
            _, r1, r2, length, met_low, met_high = wall
            half = math.atan2(r1 - r2, length)
            walk, lost = w * math.tan(0.5 * half), w / math.cos(half)
            z1, a1 = (-walk, r1 - w) if met_low else (0.0, r1 - lost)
            z2, a2 = (length - walk, r2 - w) if met_high else (length, r2 - lost)
            total += math.pi * (z2 - z1) / 3.0 * (a1 * a1 + a1 * a2 + a2 * a2)
        found.append(total)
    return found[0], found[1], 2e-7


def even_taper(wish):
    """A taper that does not taper."""
    diameter = wish["diameter"]
    for part in parts_of(wish):
        if part["form"] == "taper":
            if abs(part["to"] - diameter) < 1e-6 * diameter:
                return True
            diameter = part["to"]
    return False


def closes(wish):
    """A taper's small end, whose layer is t / cos p thick square to the axis."""
    for wall in walls_of(wish):
        if wall[0] == "taper" and min(wall[1:3]) - wish["thickness"] * math.hypot(1.0, (wall[1] - wall[2]) / wall[3]) < 0.52:
            return True
    return False


def meets_itself(wish):
    """Whether two walls that are no neighbours come nearer to each other than their radii allow: along both axes, step by step."""
    at, way, zero, walls = (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), []

    def cross(a, b):
        return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])

    def turned(v, axis, angle):
        c, s, dot = math.cos(angle), math.sin(angle), sum(x * y for x, y in zip(v, axis))
        return tuple(c * v[k] + s * cross(axis, v)[k] + (1.0 - c) * dot * axis[k] for k in range(3))
    for wall in walls_of(wish):
        length = wall[3] if wall[0] == "taper" else wall[2]
        radius = max(wall[1:3]) if wall[0] == "taper" else wall[1]
        end = tuple(at[k] + length * way[k] for k in range(3))
        walls.append((at, end, radius))
        at = end
        if wall[0] == "cylinder" and isinstance(wall[4], tuple):
            rise, throat = wall[4]
            side = cross(way, zero)
            toward = tuple(math.cos(throat) * zero[k] + math.sin(throat) * side[k] for k in range(3))
            about = cross(way, toward)
            way, zero = turned(way, about, 2.0 * math.atan(rise)), turned(zero, about, 2.0 * math.atan(rise))
    steps = 24
    for i, (a, b, r) in enumerate(walls):
        for c, d, s in walls[i + 2:]:
            for m in range(steps + 1):
                p = [a[k] + (b[k] - a[k]) * m / steps for k in range(3)]
                for n in range(steps + 1):
                    q = [c[k] + (d[k] - c[k]) * n / steps for k in range(3)]
                    if math.dist(p, q) < r + s + 4.0:
                        return True
    return False
