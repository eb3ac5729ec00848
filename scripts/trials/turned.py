"""Branches that turn behind their saddle by a bend of gores, as books on sheet metal give one: mitres of half the angle between
two gores, the throat's ruling shortest. Millimetres and radians."""
import math

LEAST = 1.0  # mm: shortest piece


def bend_of(wish, place):
    """Of the branch at this place: (turn, side of the throat: 1 toward the body's far end, half the angle at a mitre, centreline
    radius, mitres), or None where it goes straight on."""
    if "turn_to" not in wish:
        return None
    angle, to, end = (_at(wish.get(key, otherwise), place) for key, otherwise in
                      (("angle", 90.0), ("turn_to", None), ("branch_diameter", None)))
    turn = math.radians(angle - to)
    if abs(turn) < 1e-9:
        return None
    centre = wish.get("centreline_radius", wish.get("radius_ratio", 1.5) * end)
    mitres = wish.get("pieces", 3) - 1
    return abs(turn), math.copysign(1.0, turn), 0.5 * abs(turn) / mitres, centre, mitres


def bends_of(wish):
    """(bend, outer radius of the gores) of each branch that turns."""
    ends = _list(wish["branch_diameter"]) if "branch_diameter" in wish else []
    count = max(len(ends), len(_list(wish.get("angle", 90.0))), len(_list(wish.get("branch_length", 0.0))))
    found = [(bend_of(wish, i), 0.5 * _at(ends, i)) for i in range(count)]
    return [each for each in found if each[0] is not None]


def steepest(wish):
    return max((bend[2] for bend, _ in bends_of(wish)), default=0.0)


def has_no_throat(wish):
    """The throat of a gore: (rho - r - gauge) tan a at either mitre."""
    for (_, _, half, centre, mitres), radius in bends_of(wish):
        throat = (centre - radius - wish.get("gauge", 0.8)) * math.tan(half)
        end = throat + wish.get("collar", 0.0)
        if min(end, 2.0 * throat if mitres > 1 else end) < LEAST + 1e-6:
            return True
    return False


def free_length(wish, place):
    """Of the end piece on its shortest side."""
    _, _, half, centre, _ = bend_of(wish, place)
    return (centre - 0.5 * _at(wish["branch_diameter"], place)) * math.tan(half) + wish.get("collar", 0.0)


def centreline(wish, place):
    """Length of the gores' axes behind the straight part, collar included."""
    bend = bend_of(wish, place)
    if bend is None:
        return 0.0
    _, _, half, centre, mitres = bend
    return 2.0 * mitres * centre * math.tan(half) + wish.get("collar", 0.0)


def mitre_beyond(wish, place, radius, psi):
    """How far beyond the straight part's end the first mitre crosses the ruling psi of a cylinder of this radius."""
    bend = bend_of(wish, place)
    if bend is None:
        return 0.0
    _, side, half, centre, _ = bend
    return (centre - side * radius * math.cos(psi)) * math.tan(half)


def axis_points(wish, place, step):
    """Places along the gores' axes, from the straight part's end on, in the plane of body and branch: (along the branch's own
    way, toward the body's far end square to it, direction of the axis as an angle from the branch's way)."""
    bend = bend_of(wish, place)
    if bend is None:
        return []
    _, side, half, centre, mitres = bend
    reach = centre * math.tan(half)
    legs = [reach] + [2.0 * reach] * (mitres - 1) + [reach + wish.get("collar", 0.0)]
    points, x, y, angle = [], 0.0, 0.0, 0.0
    for leg in legs:
        steps = max(2, math.ceil(leg / step))
        for i in range(steps + 1):
            s = leg * i / steps
            points.append((x + s * math.cos(angle), y + side * s * math.sin(angle), side * angle))
        x, y, angle = x + leg * math.cos(angle), y + side * leg * math.sin(angle), angle + 2.0 * half
    return points


def _at(value, place):
    values = _list(value)
    return values[place if len(values) > 1 else 0]


def _list(value):
    return value if isinstance(value, list) else [value]
