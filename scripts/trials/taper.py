"""A reducer's wall between two circles, ruling by ruling, at a depth w below the duct face, in closed form. Circle r1 at z = 0,
circle r2 at z = h, its centre moved by e along x:
  c = (r1 - r2 - e cos theta) / h,  n = (cos, sin, c) / sqrt(1 + c^2),  d along (e + (r2 - r1) cos, (r2 - r1) sin, h)
  point = (r1 cos, r1 sin, 0) + v d - w n
An open end is a plane; at a collar the layer meets the collar's layer of the same depth, a cylinder of radius r - w."""
import math

STEPS = 288
LEAST = 1.0


def sizes(wish):
    r1, r2, h = 0.5 * wish["diameter"], 0.5 * wish["to_diameter"], wish["length"]
    return r1, r2, h, r1 - r2 if wish.get("flat") else wish.get("offset", 0.0)


def ruling(wish, theta):
    """Foot on the duct face, direction, outward normal."""
    r1, r2, h, e = sizes(wish)
    co, si = math.cos(theta), math.sin(theta)
    c = (r1 - r2 - e * co) / h
    k = math.sqrt(1.0 + c * c)
    d = (e + (r2 - r1) * co, (r2 - r1) * si, h)
    length = math.sqrt(sum(x * x for x in d))
    return (r1 * co, r1 * si, 0.0), tuple(x / length for x in d), (co / k, si / k, c / k), length


def point(wish, theta, v, w):
    b, d, n, _ = ruling(wish, theta)
    return tuple(b[i] + v * d[i] - w * n[i] for i in range(3))


def end(wish, theta, w, high):
    """v where the layer ends; None where it does not reach its collar's layer."""
    r1, r2, h, e = sizes(wish)
    b, d, n, length = ruling(wish, theta)
    collar = wish.get("to_collar" if high else "collar", 0.0)
    start = length if high else 0.0
    if not collar or w == 0.0:
        return start if w == 0.0 else ((h if high else 0.0) + w * n[2]) / d[2]
    radius, centre = (r2 - w, e) if high else (r1 - w, 0.0)
    px, py = b[0] + start * d[0] - w * n[0] - centre, b[1] + start * d[1] - w * n[1]
    qa = d[0] * d[0] + d[1] * d[1]
    qb = px * d[0] + py * d[1]
    qc = px * px + py * py - radius * radius
    if qa < 1e-18:
        return start
    root = qb * qb - qa * qc
    if root < 0.0:
        return None
    # of the two, the one that runs into the edge as w goes to 0
    step = -qc / (qb + math.copysign(math.sqrt(root), qb)) if qb else math.sqrt(root) / qa
    return start + step


def spread(wish, theta, v, w):
    """mm around per radian at that place: how far the layer is from the point where its rulings cross, negative past it."""
    a, b = point(wish, theta + 1e-5, v, w), point(wish, theta - 1e-5, v, w)
    _, d, n, _ = ruling(wish, theta)
    across = (n[1] * d[2] - n[2] * d[1], n[2] * d[0] - n[0] * d[2], n[0] * d[1] - n[1] * d[0])
    return -sum((a[i] - b[i]) / 2e-5 * across[i] for i in range(3))


def is_impossible(wish, slack=0.02):
    """Whether a layer closes, crosses another, or its two faces do not lie over each other; `slack` mm for the coarse steps."""
    r1, r2, h, e = sizes(wish)
    t = wish["thickness"]
    for i in range(STEPS):
        theta = 2.0 * math.pi * i / STEPS
        ends = {}
        for w in (-wish.get("gauge", 0.8), 0.0, t):
            low, high = end(wish, theta, w, False), end(wish, theta, w, True)
            if low is None or high is None or high - low < LEAST + slack:
                return True
            if min(spread(wish, theta, low, w), spread(wish, theta, high, w)) < 0.5 * LEAST + slack:
                return True
            if wish.get("collar") and point(wish, theta, low, w)[2] + wish["collar"] < LEAST + slack:
                return True
            if wish.get("to_collar") and h + wish["to_collar"] - point(wish, theta, high, w)[2] < LEAST + slack:
                return True
            ends[w] = low, high
        if min(ends[0.0][1], ends[t][1]) - max(ends[0.0][0], ends[t][0]) < LEAST + slack:
            return True
    # the collars' two faces
    return _collar_leans(wish, False, slack) or _collar_leans(wish, True, slack)


def _collar_leans(wish, high, slack):
    collar = wish.get("to_collar" if high else "collar")
    if not collar:
        return False
    h, t = wish["length"], wish["thickness"]
    for i in range(STEPS):
        theta = 2.0 * math.pi * i / STEPS
        z = [point(wish, theta, end(wish, theta, w, high), w)[2] for w in (0.0, t)]
        if (min(h + collar - each for each in z) if high else min(each + collar for each in z)) < LEAST + slack:
            return True
    return False


def reaches_apex(wish):
    """Whether the board added at an end comes within 1 mm a radian of the place where the rulings cross. A second layer's
    (layers.second_alone) walls are still those of the metal, inside its first layer."""
    first, metal = wish.get("inside", (0.0, wish))
    faces = (first, first + wish["thickness"])
    depth = first + wish.get("neutral_factor", 0.0) * wish["thickness"]
    for high in (False, True):
        key = "butt_allowance" if wish.get("to_collar" if high else "collar") else "end_allowance"
        extra = wish.get(key, 0.0)
        for i in range(STEPS):
            theta = 2.0 * math.pi * i / STEPS
            for w in faces:
                v = end(metal, theta, w, high)
                v = v + extra if high else v - extra
                # measured on the reference fibre; past the crossing it grows again, so the way there is looked at, too
                _, _, _, length = ruling(metal, theta)
                shrinks = spread(metal, theta, length if high else 0.0, depth) - spread(metal, theta, v, depth)
                if spread(metal, theta, v, depth) < 1.02 or (shrinks > 0 and _crosses(metal, theta, v, depth, length if high else 0.0)):
                    return True
    return False


def _crosses(wish, theta, v, w, start):
    values = [spread(wish, theta, start + (v - start) * k / 20, w) for k in range(21)]
    return min(values) < 1.02
