"""Where a round branch stands on a round body: the line of a cylinder's ruling against a cylinder, in closed form.
Body of radius R along z; branch of radius r at the angle beta to it, its axis `offset` past the body's and crossing it at
z = 0; psi around the branch, 0 toward the body's far end. With y = offset + r sin psi and x = sqrt(R^2 - y^2):
  s = (x + r cos psi cos beta) / sin beta        along the branch, from the crossing
  z = r cos psi sin beta + s cos beta            along the body
Lengths in millimetres, angles in degrees in the requests and radians here."""
import math

import turned

STEPS = 180
SNAP = 2e-7  # of the body: sizes that differ by less are meant equal or tangent


def point(body, branch, beta, offset, psi):
    """(x, y, z, s) of the ruling psi; x and y square to the body's axis, x the branch's way."""
    y = offset + branch * math.sin(psi)
    x = math.sqrt(max(0.0, body * body - y * y))
    s = (x + branch * math.cos(psi) * math.cos(beta)) / math.sin(beta)
    return x, y, branch * math.cos(psi) * math.sin(beta) + s * math.cos(beta), s


def curve(body, b, depth, body_depth=None, slack=SNAP, psis=None):
    """The saddle of the branch b at `depth` on the body's layer at `body_depth` (the same unless said): points (angle around
    the body, z, s). A conical branch narrows along its axis: its radius where it stands is found in rounds. None where it
    reaches past the body's side by more than `slack` of it. At the rulings `psis`, or evenly all around."""
    beta, offset = math.radians(b["angle"]), b["offset"]
    on = body - (depth if body_depth is None else body_depth)
    enters = math.sqrt(max(0.0, body * body - offset * offset)) / math.sin(beta)
    slope = 0.5 * (b["base"] - b["end"]) / max(b.get("length", enters + 4.0 * b["base"]) - enters, 1.0)
    points = []
    for psi in psis or [2.0 * math.pi * i / STEPS for i in range(STEPS)]:
        radius, before = 0.5 * b["base"] - depth * math.hypot(1.0, slope), math.inf
        for _ in range(200 if slope else 1):
            x, y, z, s = point(on, radius, beta, offset, psi)
            if abs(y) > on + slack * body:
                return None
            if abs(s - before) < 1e-7:
                break
            before = s
            radius = 0.5 * b["base"] - depth * math.hypot(1.0, slope) - slope * (s - enters)
        else:
            if slope:
                return None  # no rest: it slips off the side
        points.append((math.atan2(y, x), z, s))
    return points


def stands(body, b, thickness, gauge=6.0, depths=None, slack=SNAP):
    """Whether the branch meets the body all the way around, at every depth."""
    if 0.5 * b["base"] + abs(b["offset"]) > body * (1.0 + slack):
        return False
    return all(curve(body, b, *pair, slack) is not None for pair in depths or _pairs(thickness, gauge))


def _pairs(thickness, gauge):
    return (-gauge, -gauge), (0.0, 0.0), (thickness, thickness), (thickness, 0.0)


def extent(body, b, thickness, gauge=6.0, depths=None):
    """How far the hole reaches along the body (low, high, from the axes' crossing), and the branch's longest ruling."""
    low, high, top = math.inf, -math.inf, 0.0
    for depth, on in depths or _pairs(thickness, gauge):
        low = min(low, _furthest(body, b, depth, on, lambda point: -point[1], -low) * -1.0)
        high = max(high, _furthest(body, b, depth, on, lambda point: point[1], high))
        top = max(top, _furthest(body, b, depth, on, lambda point: point[2], top))
    return low, high, top


def _furthest(body, b, depth, on, measure, otherwise):
    """The largest `measure` of the saddle's points, looked for between its rulings, too: it may turn within a degree."""
    points = curve(body, b, depth, on, 1.0)
    if not points:
        return otherwise
    middle, step = 2.0 * math.pi * max(range(STEPS), key=lambda i: measure(points[i])) / STEPS, 2.0 * math.pi / STEPS
    best = -math.inf
    for _ in range(3):
        psis = [middle + step * k / 20.0 for k in range(-20, 21)]
        near = curve(body, b, depth, on, 1.0, psis)
        if not near:
            return max(measure(point) for point in points)
        at = max(range(len(psis)), key=lambda i: measure(near[i]))
        best, middle, step = max(best, measure(near[at])), psis[at], step / 10.0
    return best


def is_short(wish, least=1.0):
    """Whether a branch's layers cross, close, or do not lie over each other between the saddle and its end or first mitre."""
    body, t = 0.5 * wish["diameter"], wish["thickness"]
    for place, b in enumerate(branches_of(wish)):
        pairs = [(pair, curve(body, b, *pair, 1.0) or ()) for pair in depth_pairs(wish)]
        tops = [max(s for _, _, s in points) for _, points in pairs if points]
        lean = math.hypot(1.0, 0.5 * (b["base"] - b["end"]) / max(b["length"] - min(tops), 1.0))
        if 0.5 * b["end"] - t * lean < 0.5 * least + 0.02:
            return True
        bend = turned.bend_of(wish, place)
        if bend and b["base"] > b["end"] and (bend[3] - 0.5 * b["end"] - wish.get("gauge", 0.8)) * math.tan(bend[2]) < least + 0.05:
            return True  # half a gore stands between the cone and the first mitre
        if bend is None or b["base"] > b["end"]:
            if b["length"] - max(tops) < least + 0.05 * t:
                return True
            continue
        for i in range(STEPS):  # this ruling's highest foot and lowest mitre, of any depth
            feet = [points[i][2] for _, points in pairs if points]
            ends = [b["length"] + turned.mitre_beyond(wish, place, 0.5 * b["end"] - w, 2.0 * math.pi * i / STEPS)
                    for w in (-wish.get("gauge", 0.8), 0.0, t)]
            if min(ends) - max(feet) < least + 0.05:
                return True
    return False


def meet(body, one, other, gauge):
    """Whether a point of branch `one`, its metal included, lies in branch `other`, both outside the body: tried on a grid."""
    steps, origin, axis, across, up = 40, *_frame(one)
    start = math.sqrt(max(0.0, body * body - one["offset"] ** 2)) / math.sin(math.radians(one["angle"])) - 0.5 * one["base"]
    for k in range(steps + 1):
        s = start + (one["length"] - start) * k / steps
        for ring in range(1, 9):
            radius = (_radius(body, one, s) + gauge) * ring / 8.0
            for i in range(72):
                a = 2.0 * math.pi * i / 72
                p = [origin[j] + s * axis[j] + radius * (math.cos(a) * up[j] + math.sin(a) * across[j]) for j in range(3)]
                if math.hypot(p[0], p[1]) > body and _inside(body, other, p, gauge):
                    return True
    return False


def turns_meet(wish, one, other):
    """Whether the metal of branch `one` and the gores of branch `other` have a point in common, or nearly: places along both
    axes, discs of their radii; steps and the corners of the gores' mitres are taken up by a fifth of the radii."""
    first, second, body = _discs(wish, one), _discs(wish, other), 0.5 * wish["diameter"]
    for p, way, r in first:
        for q, along, s in second:
            gap = math.dist(p, q)
            if gap < r + s and _discs_meet(p, way, r, q, along, s, body):
                return True
    return False


def _discs(wish, place):
    """(middle, axis, radius) of discs along a branch, straight part from where its heel leaves the body, and gores."""
    b = branches_of(wish)[place]
    gauge, body = wish.get("gauge", 0.8), 0.5 * wish["diameter"]
    origin, axis, _, up = _frame(b)
    step = 0.1 * b["end"]
    enters = math.sqrt(max(0.0, body * body - b["offset"] ** 2)) / math.sin(math.radians(b["angle"]))
    leaves = max(0.0, enters - 0.5 * b["end"] / abs(math.tan(math.radians(b["angle"])) or 1.0))
    count = max(2, math.ceil((b["length"] - leaves) / step))
    found = []
    for i in range(count + 1):
        s = leaves + (b["length"] - leaves) * i / count
        found.append((tuple(origin[j] + s * axis[j] for j in range(3)), axis, _radius(body, b, s) + gauge))
    for x, y, angle in turned.axis_points(wish, place, step):
        p = tuple(origin[j] + (b["length"] + x) * axis[j] + y * up[j] for j in range(3))
        way = tuple(math.cos(angle) * axis[j] + math.sin(angle) * up[j] for j in range(3))
        found.append((p, way, 0.5 * b["end"] + gauge))
    return found


def _discs_meet(p, way, r, q, along, s, body):
    """Whether a ring of places on the first disc, outside of the body, lies within a fifth of the radius of the second's cylinder there."""
    x = _square_to(way)
    y = (way[1] * x[2] - way[2] * x[1], way[2] * x[0] - way[0] * x[2], way[0] * x[1] - way[1] * x[0])
    for ring in (0.0, 0.5, 1.0):
        for i in range(36):
            a = 2.0 * math.pi * i / 36
            place = [p[j] + ring * r * (math.cos(a) * x[j] + math.sin(a) * y[j]) for j in range(3)]
            if math.hypot(*place[:2]) < body:
                continue
            at = [place[j] - q[j] for j in range(3)]
            level = sum(at[j] * along[j] for j in range(3))
            if abs(level) < 0.2 * s and math.sqrt(max(0.0, sum(v * v for v in at) - level * level)) < 1.2 * s:
                return True
    return False


def _square_to(way):
    other = (1.0, 0.0, 0.0) if abs(way[0]) < 0.9 else (0.0, 1.0, 0.0)
    dot = sum(way[j] * other[j] for j in range(3))
    x = [other[j] - dot * way[j] for j in range(3)]
    size = math.sqrt(sum(v * v for v in x))
    return [v / size for v in x]


def _frame(b):
    around, beta = math.radians(b["around"]), math.radians(b["angle"])
    out, side = (math.cos(around), math.sin(around), 0.0), (-math.sin(around), math.cos(around), 0.0)
    axis = tuple(math.sin(beta) * out[j] + math.cos(beta) * (0.0, 0.0, 1.0)[j] for j in range(3))
    up = tuple(math.sin(beta) * (0.0, 0.0, 1.0)[j] - math.cos(beta) * out[j] for j in range(3))
    origin = tuple((0.0, 0.0, b["position"])[j] + b["offset"] * side[j] for j in range(3))
    return origin, axis, side, up


def _radius(body, b, s):
    enters = math.sqrt(max(0.0, body * body - b["offset"] ** 2)) / math.sin(math.radians(b["angle"]))
    return 0.5 * b["base"] + (0.5 * b["end"] - 0.5 * b["base"]) * (s - enters) / max(b["length"] - enters, 1.0)


def _inside(body, b, p, gauge):
    origin, axis, _, _ = _frame(b)
    q = [p[j] - origin[j] for j in range(3)]
    s = sum(q[j] * axis[j] for j in range(3))
    if not 0.0 < s <= b["length"]:
        return False
    return math.sqrt(max(0.0, sum(x * x for x in q) - s * s)) <= _radius(body, b, s) + gauge


def branches_of(wish):
    """The branches of a tee, or the one of a tap, as saddle.py takes them."""
    count = len(_list(wish["branch_diameter"]))
    each = {}
    for key, name, otherwise in (("branch_diameter", "end", None), ("branch_length", "length", None), ("angle", "angle", 90.0),
                                 ("position", "position", 0.5 * wish.get("length", 0.0)), ("around", "around", 0.0),
                                 ("offset", "offset", 0.0), ("branch_base", "base", None)):
        values = _list(wish[key]) if key in wish else [otherwise] * count
        each[name] = values * count if len(values) == 1 else values
    branches = [dict(zip(each, row)) for row in zip(*each.values())]
    for b in branches:
        b["base"] = b["base"] or b["end"]
    return branches


def depth_pairs(wish):
    """(branch depth, body depth) of every curve that bounds a hole: the shell's, and the liner's as the joint asks."""
    t, joint = wish["thickness"], wish.get("joint", "mitre")
    gauge = wish.get("gauge", 0.8)
    pairs = [(-gauge, -gauge), (0.0, 0.0), (t, t)]
    return pairs + {"mitre": [], "over": [(t, 0.0)], "through": [(0.0, t)]}[joint]


def _list(value):
    return value if isinstance(value, list) else [value]
