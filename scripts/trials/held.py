"""Linings that stop short of the metal's ends: what is bare there, and how much lining is left. Millimetres and degrees."""
import math

import bends
import paths
import saddle
import turned

LEAST = 1.0  # mm: shortest piece


def ends_of(wish):
    """The ends that are cylinders, each as (key, place in the key's list or None, inside radius, free length on its shortest
    side; None where another formula is needed)."""
    kind, radius = wish["kind"], 0.5 * wish["diameter"]
    if kind == "straight":
        return [("hold_back_start", None, radius, wish["length"]), ("hold_back_end", None, radius, wish["length"])]
    if kind == "cap":  # the ring ends on the disc, or as far beside it as it is thick
        return [("hold_back_start", None, radius, wish["length"] - wish["thickness"])] if wish["length"] else []
    if kind in ("elbow", "offset"):
        if wish.get("form") == "smooth":
            return []
        free = _throat(wish) + wish.get("collar", 0.0)
        return [("hold_back_start", None, radius, free), ("hold_back_end", None, radius, free)]
    if kind == "reducer":
        collars = [("hold_back_start", wish.get("collar", 0.0), radius), ("hold_back_end", wish.get("to_collar", 0.0), 0.5 * wish["to_diameter"])]
        return [(key, None, r, None) for key, collar, r in collars if collar > 0.0]
    if kind == "path":
        walls = paths.walls_of(wish)
        return [(key, None, wall[1], None) for key, wall in (("hold_back_start", walls[0]), ("hold_back_end", walls[-1]))
                if wall[0] == "cylinder"]
    if kind in ("tee", "tap"):
        branches = saddle.branches_of(wish)
        straight = all(b["base"] == b["end"] or turned.bend_of(wish, i) for i, b in enumerate(branches))
        if kind == "tap":
            return [("hold_back_end", None, 0.5 * branches[0]["end"], None)] if straight else []
        body = [("hold_back_start", None, radius, None), ("hold_back_end", None, radius, None)]
        return body + ([("hold_back_branch", i, 0.5 * b["end"], turned.free_length(wish, i) if turned.bend_of(wish, i) else None)
                        for i, b in enumerate(branches)] if straight else [])
    return [("hold_back_start", None, radius, None)]  # a wye's inlet


def _throat(wish):
    """Of an end piece without its collar: (rho - R) tan a."""
    if wish["kind"] == "elbow":
        angle = math.radians(wish["angle"])
        rho = wish.get("centreline_radius", wish.get("radius_ratio", 1.5) * wish["diameter"])
    else:
        angle, rho, _ = bends.way_of(wish)
    return (rho - 0.5 * wish["diameter"]) * math.tan(angle / (2.0 * (wish.get("pieces", 3) - 1)))


def _by(wish, key, place):
    value = wish.get(key, 0.0)
    return value[place] if isinstance(value, list) else value


def is_held(wish):
    return any(key.startswith("hold_back_") for key in wish)


def bare(wish):
    """What the bore is larger by: rings as thick as the liner."""
    t = wish["thickness"]
    return sum(math.pi * (r * r - (r - t) ** 2) * _by(wish, key, place) for key, place, r, _ in ends_of(wish))


def leaves_none(wish, _):
    """Whether less than a millimetre of lining is left, by the throat of an end piece or the length of a straight."""
    together = sum(wish.get(key, 0.0) for key in ("hold_back_start", "hold_back_end")) if wish["kind"] == "straight" else None
    for key, place, _, free in ends_of(wish):
        by = together if together is not None else _by(wish, key, place)
        if free is not None and free - by < LEAST + 1e-6:
            return True
    return False
