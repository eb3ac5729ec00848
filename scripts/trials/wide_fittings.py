"""Random requests for fittings, far wider than any job: every key of every kind, sizes, angles and differences to their
limits, most of them meant to be possible. Millimetres and degrees; one request is a dict of job file keys.

request(seed, index) is the same on every machine and run, whatever was drawn before."""
import json
import math
import random

import bends
import held
import layers
import openings
import paths
import saddle
import squares
import taper
import turned
import wyes

KINDS = ("straight", "elbow", "offset", "reducer", "tee", "wye", "path", "tap", "cap", "square_to_round")
WEIGHTS = (1, 3, 2, 4, 5, 2, 2, 2, 1, 2)
LINERS = (12.7, 13.0, 25.0, 25.4, 38.1, 50.0, 50.8, 100.0)
SIZES = (100, 125, 150, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 152.4, 203.2, 304.8, 406.4, 609.6, 914.4)


def request(seed, index, kind=None):
    """The request of this number, of this kind if one is named; its tag names both."""
    chance = random.Random(f"{seed}/{index}")
    kind = chance.choices(KINDS, weights=WEIGHTS)[0] if kind is None else kind
    wish = {"tag": f"{'Q' if kind == 'square_to_round' else kind[0].upper()}{seed}-{index}", "kind": kind}
    {"straight": _straight, "elbow": _elbow, "offset": _offset, "reducer": _reducer, "tee": _tee, "wye": _wye, "path": _path,
     "tap": _tap, "cap": _cap, "square_to_round": _square}[kind](chance, wish)
    _liner_keys(chance, wish)
    if kind == "square_to_round":  # nothing of it is rolled around a whole girth
        wish.pop("fit_allowance", None)
        if not _one_in(chance, 20):
            wish.pop("neutral_factor", None)
    else:
        _hold_back(chance, wish)
    wish = {key: _rounded(value) for key, value in wish.items()}
    if _one_in(chance, 4):
        openings.draw(chance, wish, _log, _one_in)
    layers.draw(chance, wish, _rounded, _one_in)
    _beside(chance, wish)
    return wish


def as_toml(wishes):
    """A job file of these requests."""
    lines = ["[job]", 'name = "Trials"', 'units = "mm"']
    for wish in wishes:
        lines.append("\n[[fitting]]")
        for key, value in wish.items():
            if key == "length" and "duct_lengths" in wish:
                continue  # they say it
            text = json.dumps(value) if isinstance(value, str) else str(value).lower() if isinstance(value, bool) else str(value)
            lines.append(f"{key} = {text}")
    return "\n".join(lines) + "\n"


def _rounded(value):
    """As a person would type it: nine figures; a list keeps its numbers apart."""
    if isinstance(value, list):
        return [_rounded(each) for each in value]
    return float(f"{value:.9g}") if isinstance(value, float) else value


def _log(chance, low, high):
    return math.exp(chance.uniform(math.log(low), math.log(max(low, high))))


def _one_in(chance, n):
    return chance.random() * n < 1.0


def _size(chance, low=40.0, high=3000.0):
    """An inside diameter: now and then a usual one or the limit itself."""
    if _one_in(chance, 30):
        return chance.choice((low, high))
    fitting = [size for size in SIZES if low <= size <= high]
    if fitting and _one_in(chance, 4):
        return float(chance.choice(fitting))
    return _log(chance, low, high)


def _liner(chance, bore):
    """A thickness that leaves at least a bore of 1 mm in this diameter, one in 60 excepted."""
    most = 0.5 * (bore - 1.0)
    if _one_in(chance, 60):
        return chance.uniform(3.0, 100.0)
    if _one_in(chance, 20):
        return min(most, 100.0)
    usual = [t for t in LINERS if t <= 0.4 * bore]
    if usual and _one_in(chance, 2):
        return chance.choice(usual)
    return _log(chance, 3.0, min(100.0, most))


def _nearly(chance, value):
    """The value, or so close to it that a program might not tell."""
    return value * (1.0 - chance.choice((0.0, 0.0, 1e-12, 1e-9, 1e-6, 1e-4)))


def _liner_keys(chance, wish):
    """The keys that every kind has, each now and then."""
    smallest = min([wish["diameter"], wish.get("to_diameter", 1e9), wish.get("width", 1e9), wish.get("height", 1e9), *_list(wish.get("branch_diameter", 1e9)),
                    *_list(wish.get("leg_diameter", 1e9))])
    t = wish["thickness"]
    if _one_in(chance, 6):
        wish["gauge"] = chance.choice((0.3, 0.5, 1.0, 1.6, 3.0, 6.0))
    if _one_in(chance, 3):
        wish["neutral_factor"] = chance.choice((0.25, 0.5, 1.0, chance.uniform(0.0, 1.0)))
    girth = math.pi * (smallest - 2.0 * t * wish.get("neutral_factor", 0.0))
    most = min(100.0, 0.2499 * max(girth, 0.0))
    if most < 19.05 or _one_in(chance, 3):
        wish["fit_allowance"] = chance.choice((0.0, most, chance.uniform(0.0, most)))
    if _one_in(chance, 4):
        wish["end_allowance"] = chance.choice((5.0, 25.0, _log(chance, 0.1, 300.0)))
    if _one_in(chance, 4):
        wish["butt_allowance"] = chance.choice((1.0, 3.0, _log(chance, 0.1, 50.0)))
    for key, words in (("face_up", ("duct", "air")), ("cut", ("outer", "mid", "duct", "air", "tilt", "tilt")),
                       ("flow_arrow", ("along", "against", "unmarked"))):
        if _one_in(chance, 2) and key not in wish:
            wish[key] = chance.choice(words)
    if _one_in(chance, 4):
        wish["stations"] = chance.choice((4, 5, 7, 16, 24, 36, 72, 360))
    if _one_in(chance, 6):
        wish["pins_above"] = chance.choice((0.0, 300.0, 600.0))
        wish["pin_edge"], wish["pin_around"], wish["pin_along"] = (_log(chance, low, 1000.0) for low in (10.0, 50.0, 50.0))
    if _one_in(chance, 8):
        wish["flow"] = f"{_log(chance, 0.01, 50.0):.4g} m3/s"
        wish["loss_coefficient"] = chance.choice((0.0, 0.3, 2.5))
    if _one_in(chance, 6):  # a board: pieces larger than it are divided
        wish["board_width"] = chance.choice((1200.0, 1220.0, 1500.0, _log(chance, 400.0, 3000.0)))
        wish["board_length"] = chance.choice((2400.0, 3050.0, 30000.0, _log(chance, 600.0, 12000.0)))
        if _one_in(chance, 3):
            wish["min_panel"] = chance.choice((1.0, 20.0, 50.0, 200.0))


def _beside(chance, wish):
    """Keys that change words, tables and losses, but no shape."""
    if wish["kind"] == "straight" and _one_in(chance, 5):
        parts = [chance.uniform(1.0, 4.0) for _ in range(chance.randint(2, 4))]
        wish["duct_lengths"] = [_rounded(wish["length"] * part / sum(parts)) for part in parts]
        wish["length"] = sum(wish["duct_lengths"])
    for key, values in (("tilt_sign", ("air_right", "lower_right", "lower_left")), ("tilt_zero", (0.0, 90.0, -45.0)),
                        ("pivot_height", (0.0, 12.0, 150.0)), ("tilt_limit", (1.0, 30.0, 60.0, 89.0)),
                        ("roughness", (0.1, 3.0)), ("metal_roughness", (0.01, 0.15)), ("density", ("24kg/m3", "96kg/m3")),
                        ("conductivity", ("0.03W/(m K)", "0.05W/(m K)")), ("upstream", ("metal", "lined")),
                        ("downstream", ("metal", "lined")), ("least_open_area", (0.5, 0.99)), ("min_taper", (1.0, 5000.0)),
                        ("max_velocity", ("1m/s", "20m/s")), ("note", ("by the window", 'says "mind the beam", 2nd floor'))):
        if _one_in(chance, 30):
            wish[key] = chance.choice(values)


def _list(value):
    return value if isinstance(value, list) else [value]


def _straight(chance, wish):
    wish["diameter"] = _size(chance)
    wish["length"] = chance.choice((20.0, 1200.0, _log(chance, 20.0, 30000.0)))
    wish["thickness"] = _liner(chance, wish["diameter"])


def _square(chance, wish):
    squares.draw(chance, wish, _size, _liner, _log, _one_in)


def _cap(chance, wish):
    d = wish["diameter"] = _size(chance)
    t = wish["thickness"] = _liner(chance, d)
    wish["length"] = max(10.0, chance.choice((t + 1.5, t + _log(chance, 1.5, 500.0), d * chance.uniform(0.1, 2.0), _log(chance, 10.0, 5000.0))))
    if _one_in(chance, 20):
        wish["length"] = max(10.0, t * chance.uniform(0.5, 1.1))
    if _one_in(chance, 4):  # a disc alone may be thicker than its duct is wide, where its rim is square
        wish["length"] = 0.0
        if _one_in(chance, 6):
            wish["thickness"] = min(300.0, d * chance.uniform(0.4, 0.6))
    if not _one_in(chance, 3):
        wish["seat"] = chance.choice(("butt", "inside", "mitre"))


def _hold_back(chance, wish):
    """Linings that stop short of the metal: as far as a formula says how much is left, else a little of a long end."""
    if not _one_in(chance, 4):
        return
    several = {}
    for key, place, _, free in held.ends_of(wish):
        most = free if free is not None else 60.0 if _is_long(wish, key) else 0.0
        by = min(3000.0, chance.choice((0.0, 1.0, 25.0, most * chance.uniform(0.0, 0.6))))
        by = by if by <= most or free is not None else 0.0
        if place is None:
            wish[key] = by
        else:
            several.setdefault(key, []).append(by)
    for key, values in several.items():
        wish[key] = values if len(values) > 1 else values[0]


def _is_long(wish, key):
    """An end that surely has more lining than 60 mm: of a tee, that is left to the program."""
    t = wish["thickness"]
    if wish["kind"] == "reducer":
        return wish["collar" if key == "hold_back_start" else "to_collar"] > 70.0 + 2.0 * t + abs(wish["diameter"] - wish["to_diameter"])
    if wish["kind"] == "path":
        part = paths.parts_of(wish)[0 if key == "hold_back_start" else -1]
        return part.get("straight", 0.0) > 70.0 + 2.0 * t + wish["diameter"]
    return False


def _elbow(chance, wish):
    d = wish["diameter"] = _size(chance)
    wish["thickness"] = _liner(chance, d)
    angle = wish["angle"] = chance.choice((15.0, 30.0, 45.0, 60.0, 90.0, 90.0, 90.0001, 180.0, 1.0, _log(chance, 1.0, 180.0)))
    least = max(2, math.ceil(angle / 120.0 - 1e-9) + 1)
    pieces = wish["pieces"] = chance.randint(least, min(12, least + chance.choice((0, 3, 8))))
    collar = chance.choice((0.0, 0.0, 1.0, 50.0, 100.0, _log(chance, 1.0, 2.0 * d)))
    if collar:
        wish["collar"] = collar
    # the throat of the shortest piece: (rho - R - gauge) tan a, twice that between two mitres
    mitre = math.radians(angle) / (2.0 * (pieces - 1))
    needed = 1.1 / math.tan(mitre) + 0.5 * d + 6.0
    if needed > 20.0 * d or not _one_in(chance, 4):
        needed = max(needed, chance.choice((d, 1.5 * d, d * _log(chance, 0.55, 20.0))))
    if needed > 20.0 * d or _one_in(chance, 4):
        wish["centreline_radius"] = needed
    else:
        wish["radius_ratio"] = max(0.5, needed / d)
    if _one_in(chance, 3):
        wish["form"] = "smooth"
        if _one_in(chance, 2):
            wish["gap_limit"] = _log(chance, 0.01, 100.0)
    if _one_in(chance, 2):
        wish["seam"] = chance.choice(("throat", "heel"))


def _offset(chance, wish):
    """Two equal bends of the angle A against each other, L between them: offset 2 rho (1 - cos A) + L sin A, length
    2 rho sin A + L cos A. The piece between them is L + 2 rho tan a long, a half the turn of one mitre."""
    d = wish["diameter"] = _size(chance, 40.0, 2000.0)
    wish["thickness"] = _liner(chance, d)
    angle = chance.choice((15.0, 30.0, 45.0, 60.0, 90.0, _log(chance, 1.0, 90.0)))
    pieces = wish["pieces"] = chance.randint(2, chance.choice((2, 4, 12)))
    a = math.radians(angle) / (2.0 * (pieces - 1))
    if _one_in(chance, 2):
        wish["collar"] = chance.choice((1.5, 50.0, _log(chance, 1.0, 2.0 * d)))
    rho = max(1.1 / math.tan(a) + 0.5 * d + 6.0, d * _log(chance, 0.6, 5.0))
    if rho <= 20.0 * d and _one_in(chance, 2):
        wish["radius_ratio"] = rho / d
        rho = wish["radius_ratio"] * d
    else:
        wish["centreline_radius"] = rho
    shortest = 1.5 - 2.0 * rho * math.tan(a)
    between = chance.choice((0.0, _log(chance, 1.0, 5000.0), chance.uniform(shortest, 0.0)))
    turn = math.radians(angle)
    aside = 2.0 * rho * (1.0 - math.cos(turn)) + between * math.sin(turn)
    if aside < 1.0:
        between, aside = 100.0, 2.0 * rho * (1.0 - math.cos(turn)) + 100.0 * math.sin(turn)
    if between > 0.0 and _one_in(chance, 2):
        wish["length"] = 2.0 * rho * math.sin(turn) + between * math.cos(turn)
    else:
        wish["angle"] = angle
    if _one_in(chance, 2):
        roll = chance.uniform(0.0, 0.5 * math.pi)
        wish["rise"], wish["roll"] = aside * math.cos(roll), aside * math.sin(roll)
    else:
        wish["offset"] = aside
    if _one_in(chance, 2):
        wish["seam"] = chance.choice(("throat", "heel"))
    if _one_in(chance, 3):  # pressed bends may not overlap, one in eight excepted
        wish["form"] = "smooth"
        while bends.way_of(wish)[2] < 0.0 and not _one_in(chance, 8):
            for key in ("offset", "rise", "roll", "length"):
                if key in wish:
                    wish[key] *= 1.05
        if _one_in(chance, 2):
            wish["gap_limit"] = _log(chance, 0.01, 100.0)


def _reducer(chance, wish):
    large = _size(chance, 42.0)
    small = chance.choice((_size(chance, 40.0, large), large * chance.uniform(0.5, 1.0), large - _log(chance, 0.001, 50.0)))
    small = min(max(small, 40.0), large)
    wish["thickness"] = t = _liner(chance, small)
    wish["diameter"], wish["to_diameter"] = (large, small) if _one_in(chance, 1.5) else (small, large)
    drop = 0.5 * (large - small)
    # a wall may lean until the liner closes the small end, measured square to the axis: t / cos phi < r
    lean = math.acos(min(1.0, t / (0.5 * small - 0.5))) if 0.5 * small - 0.5 > t else 0.1
    shortest = max(5.0, drop / math.tan(min(lean, math.radians(85.0))) if drop else 5.0)
    wish["length"] = chance.choice((1.02 * shortest, max(shortest, drop * 3.0), max(shortest, large * chance.uniform(0.3, 2.0)),
                                    _log(chance, 1.02 * shortest, 20000.0)))
    wish["length"] = min(wish["length"], 20000.0)
    phi = math.atan2(drop, wish["length"])
    walk = t * math.tan(0.5 * phi)  # of the air face's corner along the axis
    for key in ("collar", "to_collar"):
        if _one_in(chance, 1.6):
            wish[key] = chance.choice((50.0, 100.0, walk + 1.5, walk + _log(chance, 1.5, 1500.0)))
            wish[key] = max(wish[key], walk + 1.1)
    if _one_in(chance, 2):
        if drop > 0.0 and _one_in(chance, 2):
            wish["flat"] = large == wish["diameter"] or chance.random() < 0.3
        else:
            most = min(5000.0, 0.8 * wish["length"])
            wish["offset"] = chance.choice((0.001, _nearly(chance, drop), drop * chance.uniform(0.0, 1.5), chance.uniform(0.0, most)))
            wish["offset"] = min(wish["offset"], most)
        if _one_in(chance, 2):
            wish["flat_at"] = chance.choice((45.0, 90.0, -180.0, chance.uniform(-360.0, 360.0)))
    if _one_in(chance, 4):
        wish["seam_at"] = chance.choice((0.0, 90.0, -180.0, 180.001, chance.uniform(-360.0, 360.0)))
    if large - small < 1e-3 and not wish.get("offset"):
        wish["offset"] = min(100.0, 0.5 * wish["length"])
    while not _one_in(chance, 40) and wish["length"] < 18500.0 and taper.is_impossible(wish):
        wish["length"] *= 1.08
        for key in ("collar", "to_collar"):
            if key in wish:
                wish[key] += 0.2 * t
    if drop > 3.0 and _one_in(chance, 3):
        wish["pattern"] = "notched"
        most = max(2, min(400, int(2.0 * math.pi * drop / 1.5)))
        if _one_in(chance, 2):
            wish["notches"] = chance.randint(2, min(most, 60))
        if _one_in(chance, 3):
            wish["split"] = "seam"
        if _one_in(chance, 5):
            wish["kerf_pitch"] = chance.choice((10.0, 25.4, 50.0))
        if _one_in(chance, 3):
            wish["trim"] = chance.choice((25.0, 200.0))
    elif _one_in(chance, 6):
        wish["panels"] = chance.randint(1, max(1, min(24, int(math.pi * small / 130.0))))


def _tap(chance, wish):
    """A tee's one branch, whose duct is no part of the fitting."""
    _tee(chance, wish, most=1)
    for key in ("length", "position", "around", "body_seam"):
        wish.pop(key, None)


def _tee(chance, wish, most=4):
    d = wish["diameter"] = _size(chance)
    count = min(most, chance.choices((1, 2, 3, 4), weights=(6, 3, 1, 1))[0])
    t_limit = None
    branches = []
    for _ in range(count):
        end = chance.choice((_size(chance, 40.0, d), d * chance.uniform(0.3, 1.0), _nearly(chance, d)))
        end = min(max(end, 40.0), d)
        base = end
        if _one_in(chance, 5) and end < d:
            base = chance.uniform(end, min(d, 2.0 * end))
        room = 0.5 * (d - base)
        offset = chance.choice((0.0, 0.0, room * chance.uniform(-1.0, 1.0), _nearly(chance, room) * chance.choice((-1.0, 1.0))))
        angle = chance.choice((90.0, 90.0, 45.0, 60.0, 135.0, _nearly(chance, 90.0), chance.uniform(15.0, 165.0), 15.0, 165.0))
        around = chance.choice((0.0, 90.0, 180.0, -90.0, chance.uniform(-360.0, 360.0)))
        branches.append({"end": end, "base": base, "offset": offset, "angle": angle, "around": around})
        t_limit = min(t_limit or end, end)
    t = wish["thickness"] = _liner(chance, t_limit)
    _part_branches(chance, branches)
    for b in branches:  # a cone is widest on its obtuse side: there it has to stay on the body
        while b["base"] > b["end"] and not saddle.stands(0.5 * d, b, t):
            b["base"] = max(b["end"], 0.9 * b["base"])
    joints = ["mitre", "mitre", "over"]
    if all(0.5 * b["base"] + abs(b["offset"]) < 0.5 * d - t - 1.0 for b in branches):
        joints += ["through", "through"]
    joint = chance.choice(joints)
    if joint != "mitre":
        wish["joint"] = joint
    # where the branch leans, the holes of the two faces lie apart: nothing may be left that both leave open
    leans = max(abs(math.cos(math.radians(b["angle"]))) * t / (b["end"] - 2.0 * t + 1e-9) for b in branches)
    if leans > 0.4 and not _one_in(chance, 10):
        wish["cut"] = chance.choice(("tilt", "mid", "duct", "air"))
    wide = 0.8 * d
    for b in branches[1:]:  # holes of wide branches on both sides would leave no ruling for the body's seam
        if max(b["base"], branches[0]["base"]) > wide and not _one_in(chance, 10):
            b["around"] = branches[0]["around"] + chance.uniform(-10.0, 10.0)
    # one branch behind the other along the body, each hole clear of the last one
    along = 0.0
    for b in branches:
        margin = chance.choice((5.5, 30.0, _log(chance, 5.5, 500.0)))
        low, high, top = saddle.extent(0.5 * d, b, t)
        b["position"] = max(0.01, along + margin - low)
        along = b["position"] + high
        b["length"] = min(30000.0, top + chance.choice((2.0, 50.0, _log(chance, 2.0, 3000.0))) + t)
        while b["base"] > b["end"] and not saddle.stands(0.5 * d, b, t):
            b["base"] = max(b["end"], 0.9 * b["base"])
    along = max([along] + [b["position"] for b in branches])
    wish["length"] = along + chance.choice((5.5, 30.0, _log(chance, 5.5, 500.0)))
    if wish["length"] > 30000.0:  # longer than the key's range: one square branch in its place
        b = branches[0]
        b["angle"], b["position"] = 90.0, 15000.0
        branches[:] = [b]
        wish["length"] = 30000.0
        b["length"] = min(30000.0, saddle.extent(0.5 * d, b, t)[2] + 50.0 + t)
    several = (lambda values: values[0]) if len(branches) == 1 else list
    for key, name in (("branch_diameter", "end"), ("branch_length", "length"), ("angle", "angle"), ("position", "position"),
                      ("around", "around"), ("offset", "offset")):
        wish[key] = several([b[name] for b in branches])
    if any(b["base"] > b["end"] for b in branches):
        wish["branch_base"] = several([b["base"] for b in branches])
    if len(branches) == 1 and _one_in(chance, 6):
        # as far from the hole as the middle of the far side
        wish["body_seam"] = chance.choice((180.0, -180.0, 178.0))
    if _one_in(chance, 6):
        wish["branch_seam"] = chance.choice((0.0, 90.0, 180.0, chance.uniform(-360.0, 360.0)))
    if most > 1 and _one_in(chance, 3):
        _turn(chance, wish, branches)


def _turn(chance, wish, branches):
    """Branches that turn; lengthened until their first mitre is clear of the saddle, one in ten excepted."""
    to = [chance.choice((0.0, 90.0, 180.0, b["angle"], chance.uniform(0.0, 180.0))) for b in branches]
    wish["turn_to"] = to if len(to) > 1 else to[0]
    most = max(math.radians(abs(b["angle"] - each)) for b, each in zip(branches, to))
    pieces = wish["pieces"] = chance.randint(max(2, math.ceil(most / math.radians(118.0)) + 1), 12)
    if _one_in(chance, 2):
        wish["collar"] = chance.choice((1.5, 50.0, _log(chance, 1.0, 2.0 * wish["diameter"])))
    # the throat of each end piece: (rho - r - gauge) tan a
    needed, ratio = 0.0, 0.5
    for b, each in zip(branches, to):
        half = math.radians(abs(b["angle"] - each)) / (2.0 * (pieces - 1))
        if half > 1e-9:
            rho = max(1.1 / math.tan(half) + 0.5 * b["end"] + 6.0, b["end"] * _log(chance, 0.55, 5.0))
            needed, ratio = max(needed, rho), max(ratio, rho / b["end"])
    if needed > 0.0 and (ratio > 20.0 or _one_in(chance, 2)):
        wish["centreline_radius"] = min(50000.0, max(12.0, needed))
    elif needed > 0.0:
        wish["radius_ratio"] = ratio
    for _ in range(40):
        if not saddle.is_short(wish) or _one_in(chance, 100):
            break
        values = wish["branch_length"]
        longer = [min(30000.0, 1.1 * value + 5.0) for value in (values if isinstance(values, list) else [values])]
        wish["branch_length"] = longer if isinstance(values, list) else longer[0]


def _path(chance, wish):
    """Parts in any order; drawn again until no piece is short, but for one in thirty."""
    d = wish["diameter"] = _size(chance, 60.0, 1500.0)
    if _one_in(chance, 3):  # what bends take that do not say it themselves
        wish["pieces"] = chance.randint(3, 6)
        if _one_in(chance, 2):
            wish["radius_ratio"] = chance.uniform(0.8, 3.0)
        else:
            wish["centreline_radius"] = d * chance.uniform(0.8, 3.0)
    for _ in range(30):
        diameter, least, parts = d, d, []
        for _ in range(chance.randint(1, 7)):
            form = chance.choice(("straight", "bend", "bend", "taper"))
            if form == "taper" and (not parts or not parts[-1].startswith("taper")):
                diameter = min(2000.0, max(40.0, diameter * chance.choice((0.5, 0.8, 1.25, chance.uniform(0.5, 1.5)))))
                least = min(least, diameter)
                parts.append(f"taper to {diameter:.4f}mm over {max(20.0, d * _log(chance, 0.3, 3.0)):.4f}mm")
            elif form == "bend":
                angle = chance.choice((15.0, 30.0, 45.0, 90.0, _log(chance, 2.0, 120.0)))
                pieces = chance.randint(max(2, math.ceil(angle / 100.0) + 1), 6)
                part = f"bend {angle:.4f}" + ("" if "pieces" in wish and _one_in(chance, 2) else f" pieces {pieces}")
                if _one_in(chance, 2):
                    part += f" turn {chance.choice((90.0, 180.0, chance.uniform(-180.0, 180.0))):.4f}"
                if _one_in(chance, 2):
                    part += f" radius {max(20.0, diameter * chance.uniform(0.8, 3.0)):.4f}mm"
                parts.append(part)
            else:
                parts.append(f"straight {_log(chance, 2.0, 3000.0):.4f}mm")
        wish["parts"] = ", ".join(parts)
        wish["thickness"] = _liner(chance, least)
        if _one_in(chance, 30) or not paths.is_short(wish, 1.5):
            break
    if _one_in(chance, 2):
        wish["seam"] = chance.choice(("throat", "heel"))


def _wye(chance, wish):
    """Legs that are long enough, but for one in six: the rim lies farther from the middle than the crotch of neighbours
    at the angle gamma, R / sin((gamma + p + q) / 2), if they lie in one plane."""
    d = wish["diameter"] = _size(chance, 50.0)
    count = chance.choices((2, 3, 4, 5, 6), weights=(8, 4, 1, 1, 1))[0]
    wish["legs"] = count
    ends = [min(4999.0, max(40.0, chance.choice((d, _size(chance, 0.4 * d, 1.2 * d), d * chance.uniform(0.4, 1.1)))))
            for _ in range(count)]
    wish["thickness"] = _liner(chance, min([d] + ends))
    in_plane = count < 4 and _one_in(chance, 2)
    sides = [0.0, 180.0, 0.0] if in_plane else [360.0 * i / count for i in range(count)]
    if count == 2 and _one_in(chance, 3):
        sides = [0.0, chance.uniform(20.0, 340.0)]
    angles = [chance.choice((30.0, 45.0, 60.0, 90.0, chance.uniform(8.0, 150.0))) for _ in range(count)]
    if in_plane and count == 3:
        angles = [chance.uniform(25.0, 80.0), chance.uniform(25.0, 80.0), chance.choice((0.0, chance.uniform(0.0, 10.0)))]
    if _one_in(chance, 3):
        ends, angles = [ends[0]] * count, ([angles[0]] * count if not (in_plane and count == 3) else angles)
    wish["leg_diameter"], wish["angle"], wish["around"] = ends, angles, sides[:count]
    wish["leg_length"] = [d * chance.uniform(1.0, 2.5) for _ in range(count)]
    wish["inlet_length"] = d * chance.uniform(0.6, 2.0)
    for _ in range(40):
        if _one_in(chance, 30) or not (wyes.in_sphere(wish, None) or wyes.never_part(wish, None) or wyes.not_free(wish, None)):
            break
        wish["leg_length"] = [min(30000.0, 1.25 * length) for length in wish["leg_length"]]
        wish["inlet_length"] = min(30000.0, 1.1 * wish["inlet_length"])
    for key in ("leg_seam", "inlet_seam"):
        if _one_in(chance, 4):
            wish[key] = chance.choice((0.0, 90.0, 180.0, chance.uniform(-360.0, 360.0)))


def _part_branches(chance, branches):
    """Nine times in ten the branches lean apart: from the body's first end to its far end ever more toward the far end."""
    if not _one_in(chance, 10):
        for b, angle in zip(branches, sorted((b["angle"] for b in branches), reverse=True)):
            b["angle"] = angle
