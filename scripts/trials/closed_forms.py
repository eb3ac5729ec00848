"""Short formulas of our own for what a made fitting's figures (fitting.json) must be: volumes, girths, free bores.

Volumes are those of geometry books: prism, frustum, and a cylinder's share outside another by one integral. Elsewhere
(eccentric bores, conical branches that come near the body's side) there is no short form and nothing is compared."""
import math

import numpy as np

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

EXACT = 2e-7  # of a volume
BY_STEPS = 2e-6  # where an integral over a conical branch is summed by steps
AREA = 1e-6


def differences(wish, made):
    """Lines that say which figure differs from its formula; none if all agree."""
    lines = []

    def same(name, got, expected, relative):
        if not abs(got - expected) <= relative * abs(expected) + 1e-3:
            lines.append(f"{name} is {got:.6g}, the closed form gives {expected:.6g}")
    asked, wish = wish, layers.whole(wish)
    cavity, bore, tolerance = _VOLUMES[wish["kind"]](wish)
    if bore is not None:
        bore += held.bare(wish)
    for name, expected in (("cavity", cavity), ("bore", bore)):
        if expected is not None:
            same(f"volume of the {name}", made["volumes"][name], expected, tolerance)
    whole = made["volumes"]
    plugs, roughly = openings.plugs(wish, asked["thickness"]), openings.plugs_of_taper(wish)
    if plugs is not None:
        same("liner and bore together", whole["liner"] + whole["bore"] + plugs + roughly, whole["cavity"],
             0.3 * roughly / whole["cavity"] if roughly else EXACT if plugs == 0.0 else 2e-6)
    for piece in made["pieces"]:
        radius = _radius_of(wish, piece["id"].removeprefix("i"))
        if radius is not None:
            girth = 2.0 * math.pi * radius - layers.girth_left(asked, piece["id"])
            same(f"stretch-out of {piece['id']}", piece["stretch_out"], girth, 1e-6)
    for way, stations in made["bore"].items():
        diameter = _free(wish, way)
        for station in stations if diameter is not None else ():
            same(f"free area of {way}", station["free_area"], 0.25 * math.pi * diameter * diameter, AREA)
    return lines


def _straight(wish):
    radius, bore = 0.5 * wish["diameter"], 0.5 * wish["diameter"] - wish["thickness"]
    return math.pi * radius * radius * wish["length"], math.pi * bore * bore * wish["length"], EXACT


def _elbow(wish):
    radius, centreline, slope = bends.gores(wish)
    length = 2.0 * (wish["pieces"] - 1) * centreline * slope + 2.0 * wish.get("collar", 0.0)
    # of a pressed bend, too, the cavity is what its gores enclose: the gap behind them is no liner's
    return math.pi * radius * radius * length, math.pi * (radius - wish["thickness"]) ** 2 * length, EXACT


def _offset(wish):
    angle, rho, between = bends.way_of(wish)
    mitres = wish["pieces"] - 1
    length = between + 4.0 * mitres * rho * math.tan(0.5 * angle / mitres) + 2.0 * wish.get("collar", 0.0)
    radius = bends.gores(wish)[0]
    return math.pi * radius ** 2 * length, math.pi * (radius - wish["thickness"]) ** 2 * length, EXACT


def _cap(wish):
    radius, t = 0.5 * wish["diameter"], wish["thickness"]
    if wish["length"] == 0.0:  # a disc alone holds its own board and opens nowhere
        air = radius - (0.0 if wish.get("seat", "butt") == "butt" else t)
        duct = air if wish.get("seat") == "inside" else radius
        return _frustum(duct, air, t), 0.0, EXACT
    return math.pi * radius ** 2 * wish["length"], math.pi * (radius - t) ** 2 * (wish["length"] - t), EXACT


def _frustum(r1, r2, h):
    return math.pi * h / 3.0 * (r1 * r1 + r1 * r2 + r2 * r2)


def _reducer(wish):
    r1, r2, h, offset = taper.sizes(wish)
    t, collar, to_collar = wish["thickness"], wish.get("collar", 0.0), wish.get("to_collar", 0.0)
    cavity = _frustum(r1, r2, h) + math.pi * (r1 * r1 * collar + r2 * r2 * to_collar)
    if offset != 0.0:
        return cavity, None, EXACT
    # at depth t the corner of wall and collar lies t tan(phi/2) before the seam; at a plane end the wall has lost t / cos phi
    phi = math.atan2(r1 - r2, h)
    walk, lost = t * math.tan(0.5 * phi), t / math.cos(phi)
    z1, a1 = (-walk, r1 - t) if collar else (0.0, r1 - lost)
    z2, a2 = (h - walk, r2 - t) if to_collar else (h, r2 - lost)
    bore = _frustum(a1, a2, z2 - z1)
    bore += math.pi * (r1 - t) ** 2 * (z1 + collar) if collar else 0.0
    bore += math.pi * (r2 - t) ** 2 * (h + to_collar - z2) if to_collar else 0.0
    return cavity, bore, EXACT


def outside(body, branch, beta, offset, length):
    """Volume of a cylindrical branch outside the body: pi r^2 l less the integral of sqrt(R^2 - y^2) over its section, over
    sin beta; y = offset + r sin a makes the integrand smooth even where the two are tangent."""
    steps = 400
    total = 0.0
    for i in range(steps):
        a = -0.5 * math.pi + math.pi * (i + 0.5) / steps
        y = offset + branch * math.sin(a)
        total += 2.0 * (branch * math.cos(a)) ** 2 * math.sqrt(max(0.0, body * body - y * y))
    return math.pi * branch * branch * length - total * math.pi / steps / math.sin(beta)


def outside_conical(body, base, end, enters, beta, offset, length, depth, upto=None):
    """The same of a cone: along the straight lines through its apex, radius share q, from the body to the end, or up to there.
    None where the branch comes so near the body's side that steps would not do."""
    slope = (base - end) / max(length - enters, 1.0)
    last = length if upto is None else upto
    around = 720
    nodes, weights = np.polynomial.legendre.leggauss(48)
    q, psi = np.meshgrid(0.5 + 0.5 * nodes, 2.0 * math.pi * np.arange(around) / around, indexing="ij")
    co, si = q * np.cos(psi), q * np.sin(psi)
    r0 = base - depth * math.hypot(1.0, slope) + slope * enters  # radius continued back to the crossing: r(s) = r0 - slope s
    # x = s sin beta - r(s) co cos beta, y = offset + r(s) si, and x^2 + y^2 = R^2
    xa, xb = math.sin(beta) + slope * co * math.cos(beta), -r0 * co * math.cos(beta)
    ya, yb = -slope * si, offset + r0 * si
    a, b, c = xa * xa + ya * ya, xa * xb + ya * yb, xb * xb + yb * yb - (body - depth) ** 2
    root = b * b - a * c
    if np.any(root < 0.02 * (body * xa) ** 2):
        return None
    s = (-b + np.sqrt(root)) / a
    inner = ((r0 - slope * s) ** 3 - (r0 - slope * last) ** 3) / (3.0 * slope) if slope else r0 * r0 * (last - s)
    return float(np.sum(0.5 * weights[:, None] * q * inner)) * 2.0 * math.pi / around


def _tee(wish):
    body, t = 0.5 * wish["diameter"], wish["thickness"]
    volumes, tolerance = [], EXACT
    for depth in (0.0, t):
        volume = math.pi * (body - depth) ** 2 * wish["length"]
        for place, b in enumerate(saddle.branches_of(wish)):
            beta = math.radians(b["angle"])
            behind = math.pi * (0.5 * b["end"] - depth) ** 2 * turned.centreline(wish, place)
            if b["base"] > b["end"]:
                enters = math.sqrt(body * body - b["offset"] ** 2) / math.sin(beta)
                # at depth w the corner with the gore behind it lies w tan(phi/2) before the seam
                walk = depth * math.tan(0.5 * math.atan2(0.5 * (b["base"] - b["end"]), b["length"] - enters)) if behind else 0.0
                share = outside_conical(body, 0.5 * b["base"], 0.5 * b["end"], enters, beta, b["offset"], b["length"], depth,
                                        b["length"] - walk)
                tolerance = BY_STEPS
                behind += math.pi * (0.5 * b["end"] - depth) ** 2 * walk
                volume = None if share is None or volume is None else volume + share + behind
            elif volume is not None:
                volume += outside(body - depth, 0.5 * b["end"] - depth, beta, b["offset"], b["length"]) + behind
        volumes.append(volume)
    return volumes[0], volumes[1], tolerance


def _tap(wish):
    """A branch beyond the duct's layer that its liner ends on; a mitre's cavity has no short form: it is ruled between two."""
    t, joint, b = wish["thickness"], wish.get("joint", "mitre"), saddle.branches_of(wish)[0]
    body, beta = 0.5 * wish["diameter"], math.radians(b["angle"])
    on = body if joint == "over" else body - t
    if b["base"] > b["end"]:
        enters = math.sqrt(body * body - b["offset"] ** 2) / math.sin(beta)
        cavity, bore = (outside_conical(on + w, 0.5 * b["base"], 0.5 * b["end"], enters, beta, b["offset"], b["length"], w)
                        for w in (0.0, t))
    else:
        cavity, bore = (outside(on, 0.5 * b["end"] - w, beta, b["offset"], b["length"]) for w in (0.0, t))
    return None if joint == "mitre" else cavity, bore, BY_STEPS if b["base"] > b["end"] else EXACT


def _radius_of(wish, piece):
    """Duct face radius of an undivided cylindrical piece."""
    if wish["kind"] == "straight" and piece == "1":
        return 0.5 * wish["diameter"]
    if wish["kind"] == "cap" and piece == "ring":
        return 0.5 * wish["diameter"]
    if wish["kind"] in ("elbow", "offset") and piece.isdigit():
        return bends.gores(wish)[0]
    if wish["kind"] == "reducer" and piece in ("collar", "tocollar") and wish.get("pattern") != "notched":
        return 0.5 * wish["diameter" if piece == "collar" else "to_diameter"]
    if wish["kind"] in ("tee", "tap"):
        if piece == "body":
            return 0.5 * wish["diameter"]
        names = [b for b in saddle.branches_of(wish)]
        for i, b in enumerate(names):
            name = "branch" if len(names) == 1 else f"branch{i + 1}"
            if piece == name and b["base"] == b["end"] or piece.startswith(name + "G") and piece[len(name) + 1:].isdigit():
                return 0.5 * b["end"]
    return None


def _free(wish, way):
    """Diameter of a bore that is the same all along."""
    if held.is_held(wish):
        return None
    if wish["kind"] in ("straight", "elbow", "offset", "cap"):
        return 2.0 * ((bends.gores(wish)[0] if wish["kind"] in ("elbow", "offset") else 0.5 * wish["diameter"]) - wish["thickness"])
    return wish["diameter"] - 2.0 * wish["thickness"] if way in ("body", "inlet") else None


_VOLUMES = {"straight": _straight, "elbow": _elbow, "offset": _offset, "reducer": _reducer, "tee": _tee,
            "wye": wyes.volumes, "path": paths.volumes, "tap": _tap, "cap": _cap,
            "square_to_round": squares.volumes}
