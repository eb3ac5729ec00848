"""Wyes by the sphere that all their walls touch. Each wall is an axis away from the middle and a half angle p; with
f(x) = (axis . x - R sin p) / cos p a point belongs to the wall whose f is the greatest, and lies inside where
|x|^2 <= R^2 + f^2. Millimetres and radians."""
import math


def walls_of(wish):
    """(axis, half angle, length, end radius) of the inlet and the legs; a half angle is None where the end lies in the sphere."""
    radius, count = 0.5 * wish["diameter"], wish.get("legs", 2)

    def each(key, i, otherwise):
        value = wish.get(key, otherwise)
        return (value[i] if len(value) > 1 else value[0]) if isinstance(value, list) else value
    walls = [((0.0, 0.0, -1.0), 0.0, wish["inlet_length"], radius)]
    for i in range(count):
        b, turn = math.radians(each("angle", i, 0.0)), math.radians(each("around", i, 360.0 * i / count))
        end, length = 0.5 * each("leg_diameter", i, wish["diameter"]), each("leg_length", i, 0.0)
        away = math.hypot(length, end)
        half = 0.0 if abs(end - radius) < 1e-7 * radius else math.asin(radius / away) - math.atan2(end, length) if away > radius else None
        walls.append(((math.sin(b) * math.cos(turn), math.sin(b) * math.sin(turn), math.cos(b)), half, length, end))
    return walls


def _dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def _across(axis):
    other = (1.0, 0.0, 0.0) if abs(axis[0]) < 0.9 else (0.0, 1.0, 0.0)
    x = [other[k] - _dot(other, axis) * axis[k] for k in range(3)]
    size = math.sqrt(_dot(x, x))
    x = [value / size for value in x]
    y = (axis[1] * x[2] - axis[2] * x[1], axis[2] * x[0] - axis[0] * x[2], axis[0] * x[1] - axis[1] * x[0])
    return x, y


def rulings(walls, own, steps=720):
    """(begins, ends, over whom) of a wall's rulings, for each millimetre of the sphere: on n along d another wall is left behind
    at (axis . n - sin q) / (cos q - axis . d), or met again where the denominator is negative."""
    axis, half = walls[own][:2]
    x, y = _across(axis)
    found = []
    for i in range(steps):
        psi = 2.0 * math.pi * i / steps
        out = [math.cos(psi) * x[k] + math.sin(psi) * y[k] for k in range(3)]
        n = [math.cos(half) * out[k] + math.sin(half) * axis[k] for k in range(3)]
        d = [math.cos(half) * axis[k] - math.sin(half) * out[k] for k in range(3)]
        begins, ends, over = -math.inf, math.inf, None
        for j, other in enumerate(walls):
            if j == own:
                continue
            opens = math.cos(other[1]) - _dot(other[0], d)
            value = (_dot(other[0], n) - math.sin(other[1])) / opens if abs(opens) > 1e-12 else 0.0
            if opens > 1e-12 and value > begins:
                begins, over = value, j
            elif opens < -1e-12:
                ends = min(ends, value)
        found.append((begins, ends, over))
    return found


def _end(wall, radius):
    return (wall[2] - radius * math.sin(wall[1])) / math.cos(wall[1])


def mitre_depth(wish, own):
    """How far a wall's mitres reach along it, over both faces."""
    radius = 0.5 * wish["diameter"]
    heights = [rho * begins for begins, _, _ in rulings(walls_of(wish), own) for rho in (radius, radius - wish["thickness"])]
    return max(heights) - min(heights)


def stretch(wish, own, least):
    """How far along it a wall's mitres and so much beside them reach; all of its longest ruling where no second ring of that
    height is left."""
    reach = mitre_depth(wish, own) + least
    _, lean, length, _ = walls_of(wish)[own]
    whole = length / math.cos(lean) - min(0.5 * wish["diameter"] * begins for begins, _, _ in rulings(walls_of(wish), own))
    return whole if whole < reach + least else reach


def in_sphere(wish, _):
    radius = 0.5 * wish["diameter"]
    return any(half is None or length <= radius * math.sin(half) for _, half, length, _ in walls_of(wish))


def never_part(wish, _):
    walls = walls_of(wish)
    for i, a in enumerate(walls):
        for b in walls[i + 1:]:
            if math.acos(max(-1.0, min(1.0, _dot(a[0], b[0])))) + a[1] + b[1] < 2e-6:
                return True
    return False


def _spare(wish, met_again):
    """The least of any wall that is left beyond what it meets, or before it is met again, from the metal to the air face."""
    walls, radius = walls_of(wish), 0.5 * wish["diameter"]
    spare = math.inf
    for own, wall in enumerate(walls):
        for begins, ends, _ in rulings(walls, own):
            for rho in (radius + wish.get("gauge", 0.8), radius, radius - wish["thickness"]):
                spare = min(spare, rho * ends - _end(wall, rho) if met_again else _end(wall, rho) - rho * begins)
    return spare


def not_free(wish, _):
    return _spare(wish, False) < 1.0 + 1e-3 * wish["diameter"]  # 1 mm has to be left; rulings were half a degree apart


def meets_again(wish, _):
    return _spare(wish, True) < 1e-3 * wish["diameter"]


def stands_alone(wish, _):
    walls = walls_of(wish)
    return any(len({over for _, _, over in rulings(walls, own)}) == 1 for own in range(len(walls)))


def closes_end(wish, _):
    return any(end - wish["thickness"] / math.cos(half) < 0.52 for _, half, _, end in walls_of(wish))


def reaches_apex(wish, _):
    """Board added to an end, or to a mitre, that comes within a millimetre of where a cone ends."""
    radius, extra = 0.5 * wish["diameter"], max(wish.get("end_allowance", 0.0), wish.get("butt_allowance", 0.0))
    fibre = wish.get("neutral_factor", 0.0) * wish["thickness"]
    walls = walls_of(wish)
    for own, (_, half, _, end) in enumerate(walls):
        least = end - extra * abs(math.sin(half))
        if half < 0.0:
            low = min(begins for begins, _, _ in rulings(walls, own))
            least = min(least, radius * math.cos(half) - (radius * low - extra) * math.sin(half))
        if least - (fibre + wish["thickness"]) / math.cos(half) < 1.5:
            return True
    return False


def volumes(wish):
    """Cavity and bore: V(R) = sum (2 pi R / 3)(R cos p v - sin p v^2 / 2) + pi L r^2 / 3 less K R^3, K = (1/3) sum of the integrals
    of cos p G - sin p G^2 / 2 over every wall's rulings, G where they begin."""
    walls, radius = walls_of(wish), 0.5 * wish["diameter"]
    steps = 5760
    lost = 0.0
    for own, wall in enumerate(walls):
        for g, _, _ in rulings(walls, own, steps):
            lost += (math.cos(wall[1]) * g - 0.5 * math.sin(wall[1]) * g * g) * 2.0 * math.pi / steps / 3.0
    found = []
    for rho in (radius, radius - wish["thickness"]):
        total = -lost * rho ** 3
        for _, half, length, _ in walls:
            v = (length - rho * math.sin(half)) / math.cos(half)
            end = rho / math.cos(half) - length * math.tan(half)
            total += 2.0 * math.pi * rho / 3.0 * (rho * math.cos(half) * v - 0.5 * math.sin(half) * v * v)
            total += math.pi * length * end * end / 3.0
        found.append(total)
    return found[0], found[1], 2e-6


def faces_apart(wish, least):
    """Whether the two faces of some wall have no board left in common along a ruling."""
    walls, radius = walls_of(wish), 0.5 * wish["diameter"]
    for own, wall in enumerate(walls):
        for begins, _, _ in rulings(walls, own):
            low = max(begins * radius, begins * (radius - wish["thickness"]))
            high = min(_end(wall, radius), _end(wall, radius - wish["thickness"]))
            if high - low < least + 1e-3 * wish["diameter"]:
                return True
    return False


def all_but_closes(wish, _):
    """Whether some wall's air face comes nearer to its axis than half a millimetre, where its mitre begins or at its end."""
    walls, radius = walls_of(wish), 0.5 * wish["diameter"] - wish["thickness"]
    for own, (_, half, _, _) in enumerate(walls):
        for begins, _, _ in rulings(walls, own) if half is not None else ():
            along = begins * radius, _end(walls[own], radius)
            if min(radius * math.cos(half) - s * math.sin(half) for s in along) < 0.5:
                return True
    return False
