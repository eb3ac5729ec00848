"""Radius, centreline and mitre of elbows and offsets, as books on sheet metal give them. Millimetres and radians."""
import math


def bend(wish):
    """(radius, centreline radius, half the turn at each mitre)."""
    centreline = wish.get("centreline_radius", wish.get("radius_ratio", 1.5) * wish["diameter"])
    turn = way_of(wish)[0] if wish["kind"] == "offset" else math.radians(wish["angle"])
    return 0.5 * wish["diameter"], centreline, 0.5 * turn / (wish["pieces"] - 1)


def gores(wish):
    """Radius and centreline radius of the liner's gores, tangent of the mitre."""
    radius, centreline, mitre = bend(wish)
    if wish.get("form") == "smooth" and wish["kind"] == "offset":  # about the metal's own axis, as wide as the heel leaves room
        radius = (centreline + radius) * math.cos(mitre) - centreline
    elif wish.get("form") == "smooth":  # they touch the pressed wall at the heel's mitre and in the throat's middle
        heel, throat = (centreline + radius) * math.cos(mitre), centreline - radius
        radius, centreline = 0.5 * (heel - throat), 0.5 * (heel + throat)
    return radius, centreline, math.tan(mitre)


def way_of(wish):
    """Of an offset: angle of either bend, centreline radius, way between the bends."""
    rho = wish.get("centreline_radius", wish.get("radius_ratio", 1.5) * wish["diameter"])
    aside = wish.get("offset", math.hypot(wish.get("rise", 0.0), wish.get("roll", 0.0)))
    if "length" not in wish:
        angle = math.radians(wish["angle"])
        return angle, rho, (aside - 2.0 * rho * (1.0 - math.cos(angle))) / math.sin(angle)
    between = math.sqrt(max(0.0, wish["length"] ** 2 + aside ** 2 - 4.0 * rho * aside))
    return 2.0 * math.atan2(aside, wish["length"] + between), rho, between
