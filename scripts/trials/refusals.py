"""Whether a refusal is true: for each reason the program may give, a short formula of its own on the request.

A reason is confirmed where the formula agrees, denied where it does not; a reason without a formula is for a person to judge
and counts as not confirmed, too."""
import math
import re

import bends
import division
import held
import layers
import open_holes
import openings
import paths
import saddle
import square_openings
import squares
import taper
import turned
import wyes

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
    """(kind of the first reason, [] or why it is not confirmed): of two layers either one alone or both as one."""
    for words, confirm in ((r"^second_seam.*come within", lambda w: layers.seams_near(w, reasons[0])),
                           (r"^second_seam.*would run through a hole", lambda w: openings.on_second_seam(layers.whole(w), w["second_seam"]))):
        if re.search(words, reasons[0]):
            return kind_of(reasons[0]), [] if confirm(wish) else ["denied by the closed form: " + reasons[0]]
    several = [layers.whole] + ([layers.first_alone, layers.second_alone] if "second_layer" in wish else [])
    for taken in several:
        kind, why = _judged(taken(wish), reasons[0])
        if not why:
            break
    return kind, why


def _judged(wish, reason):
    for pattern, confirm in REASONS:
        match = re.search(pattern, reason)
        if match:
            try:
                good = confirm(wish, match)
            except ArithmeticError as error:
                return kind_of(reason), [f"no formula ({error}): {reason}"]
            return kind_of(reason), [] if good else ["denied by the closed form: " + reason]
    return kind_of(reason), ["no formula: " + reason]


def _list(value):
    return value if isinstance(value, list) else [value]


def _closes(wish, match):
    key = match.group(1)
    bores = [part["to"] for part in paths.parts_of(wish) if "to" in part] if key == "parts" else _list(wish[key])
    return wish["thickness"] > 0.5 * (min(bores) - LEAST) - 1e-6


def _quarter(wish, _):
    smallest = min([wish["diameter"], wish.get("to_diameter", 1e9), *_list(wish.get("branch_diameter", 1e9)),
                    *_list(wish.get("leg_diameter", 1e9)),
                    *(part.get("to", 1e9) for part in (paths.parts_of(wish) if wish["kind"] == "path" else ()))])
    if wish.get("form") == "smooth":
        smallest = min(smallest, 2.0 * bends.gores(wish)[0])
    girth = 2.0 * math.pi * (0.5 * smallest - wish.get("neutral_factor", 0.0) * wish["thickness"])
    return wish.get("fit_allowance", 19.05) > 0.25 * girth - 1e-6


def _throat(wish, _):
    if wish["kind"] == "tee":
        return turned.has_no_throat(wish)
    radius, centreline, mitre = bends.bend(wish)
    throat = (centreline - radius - wish.get("gauge", 0.8)) * math.tan(mitre)
    end = throat + wish.get("collar", 0.0)
    return min(end, 2.0 * throat if wish["pieces"] > 2 else end) < LEAST + 1e-6


def _between(wish, _):
    """The piece between an offset's bends: the way between them and both halves of a mitre's."""
    _, rho, mitre = bends.bend(wish)
    return bends.way_of(wish)[2] + 2.0 * rho * math.tan(mitre) < LEAST + 1e-6


def _overlap(wish, _):
    return bends.way_of(wish)[2] < 1e-6


def _steepest(wish, _):
    steepest = {"path": paths.steepest, "tee": turned.steepest}.get(wish["kind"], lambda w: bends.bend(w)[2])(wish)
    return steepest > math.radians(STEEPEST)


def _no_disc_left(wish, _):
    return wish["length"] == 0.0 and wish.get("seat", "butt") != "butt" and wish["thickness"] > 0.5 * (wish["diameter"] - LEAST) - 1e-6


def _disc_as_thick(wish, _):
    return wish["length"] > 0.0 and wish["length"] - wish["thickness"] < LEAST + 1e-6


def _turns_meet(wish, match):
    one, other = (int(match.group(n)) - 1 for n in (1, 2))
    return saddle.turns_meet(wish, one, other) or saddle.turns_meet(wish, other, one)


def _no_way(wish, _):
    aside = wish.get("offset", math.hypot(wish.get("rise", 0.0), wish.get("roll", 0.0)))
    return wish["length"] ** 2 + aside ** 2 < 4.0 * bends.bend(wish)[1] * aside


def _gores(wish, _):
    """Gores inside a pressed bend: heel on the mitre plane and throat in the middle touch its wall."""
    return bends.gores(wish)[0] - wish["thickness"] < 0.5 * LEAST + 1e-6


def _past_side(wish, _):
    """A cone that comes within a millionth of the body's side may be refused; a cylinder may be tangent."""
    return not all(saddle.stands(0.5 * wish["diameter"], b, wish["thickness"], depths=saddle.depth_pairs(wish),
                                 slack=-1e-6 if b["base"] > b["end"] else saddle.SNAP) for b in saddle.branches_of(wish))


def _reaches(wish, _):
    for b in saddle.branches_of(wish):
        low, high, _ = saddle.extent(0.5 * wish["diameter"], b, wish["thickness"], depths=saddle.depth_pairs(wish))
        if b["position"] + low < MARGIN + 0.01 or b["position"] + high > wish["length"] - MARGIN - 0.01:
            return True
    return False


def _outline(wish, b, pair):
    body = 0.5 * wish["diameter"]
    around = math.radians(b["around"])
    return [((body - pair[1]) * (around + angle), b["position"] + z) for angle, z, _ in saddle.curve(body, b, *pair, 1.0) or ()]


def _near(p, outline, turn):
    """Whether a point lies in a closed outline, or within the margin of it; `turn` around the body is the same place."""
    middle = sum(x for x, _ in outline) / len(outline)
    x, y, inside = middle + math.remainder(p[0] - middle, turn), p[1], False
    for (x0, y0), (x1, y1) in zip(outline, outline[1:] + outline[:1]):
        dx, dy = x1 - x0, y1 - y0
        square = dx * dx + dy * dy
        share = min(1.0, max(0.0, ((x - x0) * dx + (y - y0) * dy) / square)) if square else 0.0
        if math.hypot(x - x0 - share * dx, y - y0 - share * dy) < MARGIN + 0.5:
            return True
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / dy * dx:
            inside = not inside
    return inside


def _holes_apart(wish, match):
    """Of the two named branches: whether a corner of one's outline on the unrolled body lies in or near the other's."""
    one, other = (saddle.branches_of(wish)[int(match.group(n)) - 1] for n in (1, 2))
    for pair in saddle.depth_pairs(wish):
        turn = 2.0 * math.pi * (0.5 * wish["diameter"] - pair[1])
        first, second = _outline(wish, one, pair), _outline(wish, other, pair)
        if any(_near(p, second, turn) for p in first) or any(_near(p, first, turn) for p in second):
            return True
    return False


def _branches_meet(wish, match):
    """Whether the metal of two branches has a point in common outside the body. They end square, those that turn as far out as
    the longest ruling of their first mitre reaches."""
    places = [int(match.group(n)) - 1 for n in (1, 2)]
    one, other = ({**b, "length": b["length"] + max(turned.mitre_beyond(wish, place, 0.5 * b["end"], psi) for psi in (0.0, math.pi))}
                  for place, b in ((place, saddle.branches_of(wish)[place]) for place in places))
    body, gauge = 0.5 * wish["diameter"], wish.get("gauge", 0.8)
    return saddle.meet(body, one, other, gauge) or saddle.meet(body, other, one, gauge)


def _seam(wish, _):
    """Whether the holes leave no ruling free, or not the asked one."""
    body = 0.5 * wish["diameter"]
    spans = []
    for b in saddle.branches_of(wish):
        angles = [angle for pair in saddle.depth_pairs(wish) for angle, _, _ in saddle.curve(body, b, *pair, 1.0) or ()]
        clear = MARGIN / body + 0.02
        spans.append((math.radians(b["around"]) + min(angles) - clear, math.radians(b["around"]) + max(angles) + clear))

    def free(theta):
        return all(abs(math.remainder(theta - 0.5 * (low + high), 2.0 * math.pi)) > 0.5 * (high - low) for low, high in spans)
    if "body_seam" in wish:
        return not free(math.radians(saddle.branches_of(wish)[0]["around"] + wish["body_seam"]))
    return not any(free(2.0 * math.pi * i / 1440) for i in range(1440))


def _short(wish, _):
    """A piece whose layers cross, close, or do not lie over each other."""
    if wish["kind"] == "reducer":
        return taper.is_impossible(wish)
    if wish["kind"] == "offset":  # the piece between the bends has parallel ends: its faces stand t tan(mitre) apart
        _, rho, mitre = bends.bend(wish)
        return bends.way_of(wish)[2] + 2.0 * rho * math.tan(mitre) < wish["thickness"] * math.tan(mitre) * 1.06 + LEAST
    if wish["kind"] == "path":
        return paths.is_short(wish, LEAST)
    if wish["kind"] == "cap":
        return _disc_as_thick(wish, _)
    if wish["kind"] == "wye":  # faces of a mitre stand so far apart along the rulings as it begins beyond the sphere
        return wyes.faces_apart(wish, LEAST)
    if wish["kind"] not in ("tee", "tap"):
        return False
    return saddle.is_short(wish, LEAST)


def _mouth(wish, _):
    """Mouths that sum to the difference of the girths, shared out evenly, are not all as wide: a wall that leans more on one
    side has its mouths there. Confirmed where the even share is under 1 mm, or the offset takes it all from one side."""
    drop = 0.5 * abs(wish["diameter"] - wish["to_diameter"])
    offset = drop if wish.get("flat") else wish.get("offset", 0.0)
    count = wish.get("notches", max(4, round(2.0 * 2.0 * drop / 25.4)))
    return 2.0 * math.pi * max(0.0, drop - offset) / count < LEAST + 1.0


def _tabs(wish, _):
    """Tabs between notches: the girth shared out, less a mouth, which is wider where the wall leans more, and where the air
    face reaches farther than the duct face: t tan phi at a plane end, t tan (phi / 2) at a collar. Kerfs are taken in whole
    steps: from notch to notch as many as hold a mouth and a tab."""
    large, drop = max(wish["diameter"], wish["to_diameter"]), abs(wish["diameter"] - wish["to_diameter"])
    offset = drop / 2.0 if wish.get("flat") else wish.get("offset", 0.0)
    count = wish.get("notches", max(4, round(2.0 * drop / 25.4)))
    girth = math.pi * (large - 2.0 * wish.get("neutral_factor", 0.0) * wish["thickness"]) - wish.get("fit_allowance", 19.05)
    across = drop / 2.0 + offset
    phi = math.atan(across / wish["length"])
    collar = wish.get("to_collar" if wish["diameter"] > wish["to_diameter"] else "collar", 0.0)
    farther = wish["thickness"] * math.tan(0.5 * phi if collar else phi) / math.hypot(across, wish["length"])
    mouth, kerf = (1.0 + farther) * math.pi * drop / count, wish.get("kerf_pitch", 0.0)
    if kerf and math.ceil((mouth + LEAST) / kerf - 1e-9) * kerf * (count - 1) + mouth + 2.0 * LEAST > girth - 0.02:
        return True
    between = girth / count - kerf
    return 0.5 * (between - mouth * (1.0 + 2.0 * offset / drop)) < LEAST + 0.25  # a half beside the seam


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


def _common_turn(wish, b):
    """The same around: off its body's axis a hole lies at another angle on each face, since each has a radius of its own."""
    body, t = 0.5 * wish["diameter"], wish["thickness"]
    lost = {"mitre": lambda w: w, "over": lambda w: t, "through": lambda w: 0.0}[wish.get("joint", "mitre")]
    ends = [[math.asin(max(-1.0, min(1.0, (b["offset"] + side * (0.5 * b["end"] - lost(w))) / (body - w)))) for side in (-1.0, 1.0)]
            for w in (0.0, t)]
    return (min(ends[0][1], ends[1][1]) - max(ends[0][0], ends[1][0])) * (body - wish.get("neutral_factor", 0.0) * t)


def _apart(wish, _):
    if wish["kind"] == "square_to_round":
        return wish.get("cut", "outer") == "outer" and square_openings.faces_apart(wish, openings.parts_of(wish))
    if wish["kind"] not in ("tee", "tap"):
        return wish.get("cut", "outer") == "outer" and openings.apart_in_taper(wish)  # no formula for other openings yet
    return wish.get("cut", "outer") == "outer" and any(
        min(_open_in_common(wish, b), _common_turn(wish, b)) < 1.5 for b in saddle.branches_of(wish))


def _branch_reaches_apex(wish):
    """Whether the board added at a conical branch's end comes within 1 mm a radian of the cone's point: on its duct face the
    branch narrows by the sine of its half angle along the ruling, and depth w ends w tan(half angle) further out."""
    t, extra = wish["thickness"], wish.get("end_allowance", 0.0)
    for b in saddle.branches_of(wish):
        stands = math.sqrt(0.25 * wish["diameter"] ** 2 - b["offset"] ** 2) / math.sin(math.radians(b["angle"]))
        lean = math.atan2(0.5 * (b["base"] - b["end"]), b["length"] - stands)
        slant = (b["length"] - stands) / math.cos(lean)
        depth = wish.get("neutral_factor", 0.0) * t * math.cos(lean)
        if any(0.5 * b["base"] - depth - math.sin(lean) * (slant + w * math.tan(lean) + extra) < 1.0 for w in (0.0, t)):
            return True
    return False


def _narrow_panels(wish, match):
    """The girth of an end at the fibre that keeps its length, shared out evenly, gives panels narrower than min_panel; or an
    oblique taper's, which lie across their rulings beside its steep side."""
    depth = wish.get("neutral_factor", 0.0) * wish["thickness"]
    if division.narrowest_panel(wish, int(match.group(1))) < wish.get("min_panel", 100.0):
        return True
    return any(math.pi * (wish[end] - 2.0 * depth) / int(match.group(1)) < wish.get("min_panel", 100.0)
               for end in ("diameter", "to_diameter"))


def _out_of_range(wish, match):
    """A stated range of a key: whether what was asked for lies outside of it."""
    value, (low, high) = wish[match.group(1)], (float(match.group(n)) for n in (2, 3))
    return any(each < low or each > high for each in _list(value))


def _joint_there(wish, match):
    """Whether the lengths of duct add up to where the metal is said to be joined."""
    lengths = wish.get("duct_lengths", [])
    return any(abs(sum(lengths[:n]) - float(match.group(1))) < 0.01 for n in range(1, len(lengths)))


REASONS = (
    (r"the metal is joined ([\d.]+) mm from its start", _joint_there),
    (r"seams lie on the middle lines of the four flat sides", lambda wish, _: wish.get("pieces") == 3),
    (r"all normals of the duct face leave one point", lambda wish, _: wish.get("neutral_factor", 0.0) > 0.0),
    (r"within a rounded corner the liner would fold over itself", squares.folds_within),
    (r"would lie below the (rectangular end|joint with the rectangular collar)", squares.flat_is_gone),
    (r"the liner's joint with the transition reaches", squares.panels_too_short),
    (r"an upper corner of a panel is undercut", squares.panels_undercut),
    (r"the flats beside that one are undercut by its panel", squares.flats_undercut),
    (r"nothing would be left of the air face where the collar meets", squares.panels_close),
    (r"the collar's lining would meet a rounded corner's", squares.panels_meet_cones),
    (r"is .* by .*, its board leaves .*; it is cut in one, so that no seam faces the air", squares.panel_too_large),
    (r"lean so far that across the rectangular end their liner takes", squares.closes_rectangle),
    (r"the layers of the transition reach", squares.collar_too_short),
    (r"would reach the round end", squares.reaches_round_end),
    (r"would meet below the round end", squares.corner_misses_round_end),
    (r"piece \d is .* along and .* around; its board leaves", squares.too_large),
    (r"would end within the .* sphere", wyes.in_sphere),
    (r"never part", wyes.never_part),
    (r"the end of (?:the inlet|leg\d) would lie", wyes.not_free),
    (r"runs into another wall again", wyes.meets_again),
    (r"alone, all around", wyes.stands_alone),
    (r"the liner closes the end of leg", wyes.closes_end),
    (r"^(\w+) = .*is too (?:large|small) \(allowed: at least (-?[\d.]+) \S+, at most ([\d.]+) ", _out_of_range),
    (r"closes a .* bore \((\w+)\)", _closes),
    (r"takes more than a quarter off", _quarter),
    (r"the throat of a piece would be", _throat),
    (r"would be mitred at", _steepest),
    (r"pressed bends would overlap", _overlap),
    (r"the disc's liner would be thicker than the ring is long", _disc_as_thick),
    (r"nothing would be left of the disc's air face", _no_disc_left),
    (r"branches (\d) and (\d) run into each other where they turn", _turns_meet),
    (r"(?:of liner is left to|beyond) (?:the lining's edge|the joint|the mitre) at the|(?:left to|beyond) the (?:bend line|joint with the (?:rectangular )?collar|rectangle's corner)",
     openings.meets_something(0)),
    (r"of liner is left to the hole of|it overlaps the hole of", openings.meets_something(1)),
    (r"the seam of piece", openings.meets_something(2)),
    (r"no line along the piece is clear", openings.meets_something(3, 1.0)),
    (r"splayed so flat its sides would leave the board", openings.leaves_board),
    (r"it is wider than its wall|cut straight through it would be wider", openings.wider_than_wall),
    (r"the leg's bore all but closes", wyes.all_but_closes),
    (r"closes its small end", lambda wish, _: paths.closes(wish)),
    (r"pieces \d+ and \d+ would run into each other", lambda wish, _: paths.meets_itself(wish)),
    (r"the piece between the bends would be", _between),
    (r"two bends of this radius do not fit", _no_way),
    (r"the largest gores that fit inside", _gores),
    (r"the branch is larger than the body", lambda wish, _: max(_list(wish["branch_diameter"])) > wish["diameter"]),
    (r"the branch reaches past the side of the body", _past_side),
    (r"the hole reaches from|the branch does not stand on the body", _reaches),
    (r"the holes of branches (\d) and (\d)", _holes_apart),
    (r"branches (\d) and (\d) run into each other", _branches_meet),
    (r"no straight seam passes|seam would run through a hole", _seam),
    (r"layers cross|leans so far|does not reach the collar|bore all but closes", _short),
    (r"would reach the point where its cone ends",
     lambda wish, _: _branch_reaches_apex(wish) if "branch_base" in wish
     else wyes.reaches_apex(wish, _) if wish["kind"] == "wye" else taper.reaches_apex(wish)),
    (r"no lining is left|rim would stand free in the air", held.leaves_none),
    (r"the mouth of a notch would be", _mouth),
    (r"of board would hold the tabs", _strip),
    (r"allowance closes the hole for", lambda wish, _: openings.closed_by_allowance(wish, _) if wish["kind"] == "square_to_round" else open_holes.closes(wish, _)),
    (r"have no .*in common", _apart),
    (r"notches run into each other|a tab between notches", _tabs),
    (r"along its line would cut the duct face away", lambda wish, _: wish.get("cut", "outer") not in ("outer", "duct")),
    (r"the disc is .* across.* cut in one", division.is_impossible),
    (r"the taper ends as wide as it begins", lambda wish, _: paths.even_taper(wish)),
    (r"cannot be divided into rings and panels.*as far off the joints of layer 1", lambda wish, _: division.is_impossible(wish, _) or division.layers_meet(wish, _)),
    (r"cannot be divided into rings and panels", division.is_impossible),
    (r"no rings of (\d+) panels fit", division.panels_impossible),
    (r"of (\d+) panels one would be", _narrow_panels),
)
