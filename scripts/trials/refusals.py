"""Whether a refusal is true: for each reason the program may give, a short formula of its own on the request.

A reason is confirmed where the formula agrees, denied where it does not; a reason without a formula is for a person to judge
and counts as not confirmed, too."""
import math
import re

import division
import saddle
import taper

MARGIN = 5.0  # mm that holes keep from ends and from each other
LEAST = 1.0  # mm: smallest bore, shortest piece
STEEPEST = 60.0  # degrees of a mitre


def lines_of(tag, errors):
    """The reasons given for this fitting, without file and place."""
    found = []
    for line in errors:
        match = re.match(r"linerwright: (?:\S*\.toml:\d+: )?" + re.escape(tag) + r": (?!note: )(.*)", line)
        if match:
            found.append(match.group(1))
    return found


def kind_of(reason):
    """The reason without its numbers, to group by."""
    reason = re.sub(r"\(allowed:.*", "", reason)
    reason = re.sub(r"^(\w+) = .*?: ", r"\1: ", reason)
    reason = re.sub(r"\bbranch#|\bbranch\d+", "branch", reason)
    return re.sub(r"-?\d+(\.\d+)?([eE]-?\d+)?", "#", reason).strip()


def judged(wish, reasons):
    """(kind of the first reason, [] or why it is not confirmed)."""
    reason = reasons[0]
    for pattern, confirm in REASONS:
        match = re.search(pattern, reason)
        if match:
            try:
                good = confirm(wish, match)
            except ArithmeticError as error:
                return kind_of(reason), [f"no formula ({error}): {reason}"]
            return kind_of(reason), [] if good else ["denied by the closed form: " + reason]
    return kind_of(reason), ["no formula: " + reason]


def branches_of(wish):
    """The branches of a tee as saddle.py takes them."""
    count = len(_list(wish["branch_diameter"]))
    each = {}
    for key, name, otherwise in (("branch_diameter", "end", None), ("branch_length", "length", None), ("angle", "angle", 90.0),
                                 ("position", "position", 0.5 * wish["length"]), ("around", "around", 0.0),
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


def _closes(wish, match):
    return wish["thickness"] > 0.5 * (min(_list(wish[match.group(1)])) - LEAST) - 1e-6


def _quarter(wish, _):
    smallest = min([wish["diameter"], wish.get("to_diameter", 1e9), *_list(wish.get("branch_diameter", 1e9))])
    girth = 2.0 * math.pi * (0.5 * smallest - wish.get("neutral_factor", 0.0) * wish["thickness"])
    return wish.get("fit_allowance", 19.05) > 0.25 * girth - 1e-6


def _bend(wish):
    radius = 0.5 * wish["diameter"]
    centreline = wish.get("centreline_radius", wish.get("radius_ratio", 1.5) * wish["diameter"])
    return radius, centreline, math.radians(wish["angle"]) / (2.0 * (wish["pieces"] - 1))


def _throat(wish, _):
    radius, centreline, mitre = _bend(wish)
    throat = (centreline - radius - wish.get("gauge", 0.8)) * math.tan(mitre)
    end = throat + wish.get("collar", 0.0)
    return min(end, 2.0 * throat if wish["pieces"] > 2 else end) < LEAST + 1e-6


def _gores(wish, _):
    """Gores inside a pressed bend: heel on the mitre plane and throat in the middle touch its wall."""
    radius, centreline, mitre = _bend(wish)
    inside = 0.5 * ((centreline + radius) * math.cos(mitre) - (centreline - radius))
    return inside - wish["thickness"] < 0.5 * LEAST + 1e-6


def _past_side(wish, _):
    """A cone that comes within a millionth of the body's side may be refused; a cylinder may be tangent."""
    return not all(saddle.stands(0.5 * wish["diameter"], b, wish["thickness"], depths=depth_pairs(wish),
                                 slack=-1e-6 if b["base"] > b["end"] else saddle.SNAP) for b in branches_of(wish))


def _reaches(wish, _):
    for b in branches_of(wish):
        low, high, _ = saddle.extent(0.5 * wish["diameter"], b, wish["thickness"], depths=depth_pairs(wish))
        if b["position"] + low < MARGIN + 0.01 or b["position"] + high > wish["length"] - MARGIN - 0.01:
            return True
    return False


def _outline(wish, b, pair):
    body = 0.5 * wish["diameter"]
    around = math.radians(b["around"])
    return [((body - pair[1]) * (around + angle), b["position"] + z) for angle, z, _ in saddle.curve(body, b, *pair)]


def _holes_apart(wish, match):
    """Of the two named branches: distance between their outlines on the unrolled body, at every depth."""
    one, other = (branches_of(wish)[int(match.group(n)) - 1] for n in (1, 2))
    for pair in depth_pairs(wish):
        turn = 2.0 * math.pi * (0.5 * wish["diameter"] - pair[1])
        first, second = _outline(wish, one, pair), _outline(wish, other, pair)
        middle = sum(x for x, _ in second) / len(second)
        for x, y in first:
            for u, v in second:
                if math.hypot(math.remainder(x - u, turn), y - v) < MARGIN + 0.5:
                    return True
        # one inside the other
        x0, y0 = sum(x for x, _ in first) / len(first), sum(y for _, y in first) / len(first)
        if (min(v for _, v in second) < y0 < max(v for _, v in second) and
                abs(math.remainder(x0 - middle, turn)) < max(abs(u - middle) for u, _ in second)):
            return True
    return False


def _branches_meet(wish, match):
    """Whether the metal of two branches, ending square, has a point in common outside the body."""
    one, other = (branches_of(wish)[int(match.group(n)) - 1] for n in (1, 2))
    body, gauge = 0.5 * wish["diameter"], wish.get("gauge", 0.8)
    return saddle.meet(body, one, other, gauge) or saddle.meet(body, other, one, gauge)


def _seam(wish, _):
    """Whether the holes leave no ruling free, or not the asked one."""
    body = 0.5 * wish["diameter"]
    spans = []
    for b in branches_of(wish):
        angles = [angle for pair in depth_pairs(wish) for angle, _, _ in saddle.curve(body, b, *pair)]
        clear = MARGIN / body + 0.02
        spans.append((math.radians(b["around"]) + min(angles) - clear, math.radians(b["around"]) + max(angles) + clear))

    def free(theta):
        return all(abs(math.remainder(theta - 0.5 * (low + high), 2.0 * math.pi)) > 0.5 * (high - low) for low, high in spans)
    if "body_seam" in wish:
        return not free(math.radians(branches_of(wish)[0]["around"] + wish["body_seam"]))
    return not any(free(2.0 * math.pi * i / 1440) for i in range(1440))


def _short(wish, _):
    """A piece whose layers cross, close, or do not lie over each other."""
    if wish["kind"] == "reducer":
        return taper.is_impossible(wish)
    body, t = 0.5 * wish["diameter"], wish["thickness"]
    for b in branches_of(wish):
        tops = [max(s for _, _, s in saddle.curve(body, b, *pair)) for pair in depth_pairs(wish)]
        lean = math.hypot(1.0, 0.5 * (b["base"] - b["end"]) / max(b["length"] - min(tops), 1.0))
        if b["length"] - max(tops) < LEAST + 0.05 * t or 0.5 * b["end"] - t * lean < 0.5 * LEAST + 0.02:
            return True
    return False


def _mouth(wish, _):
    """Mouths that sum to the difference of the girths, shared out evenly, are not all as wide: a wall that leans more on one
    side has its mouths there. Confirmed where the even share is under 1 mm, or the offset takes it all from one side."""
    drop = 0.5 * abs(wish["diameter"] - wish["to_diameter"])
    offset = drop if wish.get("flat") else wish.get("offset", 0.0)
    count = wish.get("notches", max(4, round(2.0 * 2.0 * drop / 25.4)))
    return 2.0 * math.pi * max(0.0, drop - offset) / count < LEAST + 1.0


def _on_kerfs(wish, _):
    """Notches moved onto kerfs that lie farther apart than the notches do, less a tab and a mouth, run into each other."""
    large = max(wish["diameter"], wish["to_diameter"])
    drop = abs(wish["diameter"] - wish["to_diameter"])
    count = wish.get("notches", max(4, round(2.0 * drop / 25.4)))
    between = math.pi * large / count
    return "kerf_pitch" in wish and between - wish["kerf_pitch"] < math.pi * drop / count * 3.0 + LEAST


def _strip(wish, _):
    """The strip that holds a blank's tabs: at a plane end the leaning wall's air face ends t tan phi before its duct face."""
    large, small = sorted((0.5 * wish["diameter"], 0.5 * wish["to_diameter"]), reverse=True)
    collar = wish.get("collar" if wish["diameter"] > wish["to_diameter"] else "to_collar", 0.0)
    offset = wish.get("offset", large - small if wish.get("flat") else 0.0)
    slope = (large - small + offset) / wish["length"]
    held = collar if wish.get("split", "none") == "none" else 0.0
    lost = wish["thickness"] * (slope if not collar else math.tan(0.5 * math.atan(slope)))
    return held + wish.get("trim", 101.6) - lost < 10.5


def _open_in_common(wish, b):
    """Width along the body of what both faces of a hole leave open: of a leaning branch their holes lie t / tan beta apart."""
    t, beta = wish["thickness"], math.radians(b["angle"])
    return (2.0 * (0.5 * b["end"] - t) - t * abs(math.cos(beta))) / math.sin(beta)


def _closed_hole(wish, _):
    """Board of `butt_allowance` all around a hole would leave under a tenth of its opening."""
    return any(wish.get("butt_allowance", 0.0) > 0.44 * min(b["end"] - 2.0 * wish["thickness"], _open_in_common(wish, b)) - 0.02
               for b in branches_of(wish))


def _apart(wish, _):
    return wish.get("cut", "outer") == "outer" and any(_open_in_common(wish, b) < 1.5 for b in branches_of(wish))


REASONS = (
    (r"closes a .* bore \((\w+)\)", _closes),
    (r"takes more than a quarter off", _quarter),
    (r"the throat of a piece would be", _throat),
    (r"would be mitred at", lambda wish, _: wish["angle"] / (2.0 * (wish["pieces"] - 1)) > STEEPEST),
    (r"the largest gores that fit inside", _gores),
    (r"the branch is larger than the body", lambda wish, _: max(_list(wish["branch_diameter"])) > wish["diameter"]),
    (r"the branch reaches past the side of the body", _past_side),
    (r"the hole reaches from|the branch does not stand on the body", _reaches),
    (r"the holes of branches (\d) and (\d)", _holes_apart),
    (r"branches (\d) and (\d) run into each other", _branches_meet),
    (r"no straight seam passes|seam would run through a hole", _seam),
    (r"layers cross|leans so far|does not reach the collar", _short),
    (r"would reach the point where its cone ends", lambda wish, _: taper.reaches_apex(wish)),
    (r"the mouth of a notch would be", _mouth),
    (r"of board would hold the tabs", _strip),
    (r"allowance closes the hole", _closed_hole),
    (r"have no .*in common", _apart),
    (r"notches run into each other|a tab between notches", _on_kerfs),
    (r"cannot be divided into rings and panels", division.is_impossible),
)
