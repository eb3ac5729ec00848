"""Whether a piece can be divided for a board. Rings are cut square to the duct and seams keep clear of holes, so what reaches
along the duct at an end (a mitre, a saddle) or about a hole stays in one part, which may be larger than the board."""
import math

import bends
import openings
import paths
import saddle
import taper
import turned
import wyes


def is_impossible(wish, _):
    """True where some stretch that no cut may cross is longer than the board, or a smallest part does not fit."""
    along, around = wish.get("board_width", math.inf), wish.get("board_length", math.inf)
    least = wish.get("min_panel", 100.0)
    if along < least or around < least:
        return True
    body, t = 0.5 * wish["diameter"], wish["thickness"]
    extra = wish.get("end_allowance", 0.0) + wish.get("butt_allowance", 0.0)
    if wish["kind"] == "cap" and 2.0 * body + 2.0 * wish.get("butt_allowance", 0.0) > min(along, around) - 0.02:
        return True  # a disc is one piece
    for reach, wide in openings.longest(wish):
        if wide + 50.0 > around or reach + 50.0 + extra > along:
            return True  # no cut may cross an opening
    if wish["kind"] in ("elbow", "offset"):
        mitre = bends.bend(wish)[2]
        stretches = [2.0 * body * math.tan(mitre) + max(least, 1.0)]  # the shortest ruling of a ring is min_panel, too
        radius, centreline, slope = bends.gores(wish)
        if wish["kind"] == "elbow" and wish["pieces"] > 2 and 2.0 * (centreline - radius) * slope < 2.0 * max(least, 1.0):
            stretches.append(2.0 * (centreline + radius) * slope)  # two rings have no room in the middle pieces' throat
    elif wish["kind"] == "path":
        swings = [wall[1] * cut[0] for wall in paths.walls_of(wish) if wall[0] == "cylinder" for cut in wall[3:5] if isinstance(cut, tuple)]
        stretches = [2.0 * swing + max(least, 1.0) for swing in swings] or [0.0]
    elif wish["kind"] == "tap":
        (b,) = saddle.branches_of(wish)
        rulings = [s for pair in saddle.depth_pairs(wish)[1:] for _, _, s in saddle.curve(body, b, *pair, 1.0) or ()]
        stretches = [max(rulings) - min(rulings) + min(least, b["length"] - max(rulings))]
    elif wish["kind"] == "tee":
        stretches, held = [], []  # along the body, from hole to hole
        for b in saddle.branches_of(wish):
            pairs = saddle.depth_pairs(wish)
            wide = max(abs(angle) for pair in pairs for angle, _, _ in saddle.curve(body, b, *pair, 1.0) or ()) * body
            if 2.0 * wide + 50.0 > around:
                return True  # the hole is wider than the board
            low, high, _ = saddle.extent(body, b, t, depths=pairs)
            held.append((b["position"] + low - 25.0, b["position"] + high + 25.0))
            rulings = [s for pair in pairs[1:] for _, _, s in saddle.curve(body, b, *pair, 1.0) or ()]
            stretches.append(max(rulings) - min(rulings) + min(least, b["length"] - max(rulings)))
        for (_, _, half, _, _), radius in turned.bends_of(wish):
            stretches.append(2.0 * radius * math.tan(half) + max(least, 1.0))
        held.sort()
        while held:  # holes between which no cut has room stay in one ring, with the body's end where that is near
            low, high = held.pop(0)
            while held and held[0][0] - high < 1.0:
                high = max(high, held.pop(0)[1])
            low, high = (0.0 if low < least else low), (wish["length"] if wish["length"] - high < least else high)
            both = low == 0.0 and high == wish["length"]  # two open ends, and no cut
            stretches.append(high - low + (wish.get("end_allowance", 0.0) - wish.get("butt_allowance", 0.0) if both else 0.0))
    elif wish["kind"] == "wye":
        # a panel lies with its middle upright: none of a cone's rulings leans more than half of what all of it unrolls to
        stretches = [wyes.stretch(wish, own, max(least, 1.0)) * max(0.0, math.cos(min(1.5, math.pi * math.sin(abs(wall[1])))))
                     for own, wall in enumerate(wyes.walls_of(wish))]
    elif wish["kind"] == "reducer":
        return all(_panels_impossible(wish, n) for n in range(1, 100))
    else:
        return False
    return max(stretches) + extra + min(least, 1.0) > along - 0.02


def layers_meet(wish, _):
    """Whether the holes of a tee's body leave cuts room within one stretch shorter than min_panel alone, by which the cuts of two
    layers lie apart."""
    if wish["kind"] != "tee":
        return False
    least, body = wish.get("min_panel", 100.0), 0.5 * wish["diameter"]
    pairs = saddle.depth_pairs(wish)[1:]
    held = sorted((b["position"] + low, b["position"] + high) for b in saddle.branches_of(wish)
                  for low, high, _ in (saddle.extent(body, b, wish["thickness"], depths=pairs),))
    at, free = least, []
    for low, high in held:
        free += [(at, low - 5.0)] if low - 5.0 > at else []
        at = max(at, high + 5.0)
    free += [(at, wish["length"] - least)] if wish["length"] - least > at else []
    return not free or free[-1][1] - free[0][0] < least


def panels_impossible(wish, match):
    """The same of so many panels of a taper."""
    return _panels_impossible(wish, int(match.group(1)))


def _panels_impossible(wish, panels):
    """Whether the lowest ring at a taper's large end is too wide or too high for the board in so many panels: the wall unrolls
    about its tip, so that a panel with its middle upright is a part of a ring, as wide as the chord of its outer edge."""
    along, around, least = wish.get("board_width", math.inf), wish.get("board_length", math.inf), wish.get("min_panel", 100.0)
    small, large = sorted(0.5 * wish[key] - wish.get("neutral_factor", 0.0) * wish["thickness"] for key in ("diameter", "to_diameter"))
    slant = math.hypot(large - small, wish["length"])
    lean = max((large - small) / slant, 1e-12)
    edge = large / lean  # of the tip from the large edge
    half = min(0.5 * math.pi, math.pi * lean / panels)
    wide = 2.0 * edge * math.sin(half) - wish.get("fit_allowance", 19.05) / panels
    height = edge - (edge - min(least, slant)) * math.cos(half) + wish.get("end_allowance", 0.0) + wish.get("butt_allowance", 0.0)
    if wide > around - 0.02 or height > along - 0.02 or (panels > 1 and min(wide, narrowest_panel(wish, panels)) < least):
        return True
    # with no room for two rings on its shortest ruling an oblique taper is as high as its whole panels
    return min(taper.ruling(wish, turn)[3] for turn in (0.0, math.pi)) < 2.0 * least and highest_panel(wish, panels) > along - 0.02


def narrowest_panel(wish, panels):
    """Of so many panels of an oblique taper, each an equal share of the turn from the seam on: what it is wide on the board, square
    to its middle ruling."""
    return min((max(across) - min(across) for across, _ in _unrolled(wish, panels)), default=math.inf)


def highest_panel(wish, panels):
    """The same along its middle ruling."""
    return max((max(along) - min(along) for _, along in _unrolled(wish, panels)), default=0.0)


def _unrolled(wish, panels):
    """Each panel's ends as (across, along) its middle ruling, unrolled about the tip by the true lengths of narrow triangles; none of
    a taper on centre."""
    r1, r2, _, offset = taper.sizes(wish)
    if not offset or abs(r1 - r2) < 1e-6:
        return []
    steps, found = 2 * max(12, 360 // panels), []
    tip = [b + r1 / (r1 - r2) * d * length for b, d, length in zip(*_along(taper.ruling(wish, 0.0)))]
    for panel in range(panels):
        first = math.radians(wish.get("seam_at", 180.0)) + 2.0 * math.pi * panel / panels
        rims = [_rims(wish, tip, first + 2.0 * math.pi * i / (panels * steps)) for i in range(steps + 1)]
        turns = [0.0]
        for (a, _), (b, _) in zip(rims, rims[1:]):
            turns.append(turns[-1] + math.acos(max(-1.0, min(1.0, sum(x * y for x, y in zip(a, b)) / (math.hypot(*a) * math.hypot(*b))))))
        found.append(tuple([math.hypot(*rim) * way(turn - turns[steps // 2]) for pair, turn in zip(rims, turns) for rim in pair]
                           for way in (math.sin, math.cos)))
    return found


def _along(ruling):
    foot, way, _, length = ruling
    return foot, way, (length,) * 3


def _rims(wish, tip, theta):
    """From the tip to the two ends of a ruling."""
    foot, way, length = _along(taper.ruling(wish, theta))
    return tuple(tuple(f + share * w * n - t for f, w, n, t in zip(foot, way, length, tip)) for share in (0.0, 1.0))
