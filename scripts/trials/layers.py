"""Second layers of liner, and diameters that are stated otherwise than as the metal's inside. Millimetres."""
import math
import re

import paths

SIZES = ("diameter", "to_diameter", "branch_diameter", "branch_base", "leg_diameter")
LEAST = 3.0  # of a layer


def draw(chance, wish, rounded, one_in):
    """Shares the liner's thickness out to two layers, and states diameters clear or outside, each now and then."""
    if wish["kind"] == "square_to_round":
        return
    if one_in(chance, 6):
        _share_out(chance, wish, rounded, one_in)
    if wish["kind"] != "path" and one_in(chance, 12):
        size_is = chance.choice(("clear", "outside"))
        shift = _shift({**wish, "size_is": size_is})
        sizes = {key: _each(wish[key], lambda size: rounded(size - shift)) for key in SIZES if key in wish}
        if all(size >= 40.0 for value in sizes.values() for size in _list(value)):
            wish.update(sizes, size_is=size_is)


def _share_out(chance, wish, rounded, one_in):
    whole = wish["thickness"]
    smallest = min([size for key in SIZES if key in wish for size in _list(wish[key])]
                   + [part["to"] for part in (paths.parts_of(wish) if wish["kind"] == "path" else ()) if "to" in part])
    if whole < 2.0 * LEAST + 0.1:
        return
    first = rounded(chance.choice((LEAST, 0.5 * whole, whole - LEAST, chance.uniform(LEAST, whole - LEAST))))
    second = rounded(whole - first)
    factor = wish.get("neutral_factor", 0.0)
    if one_in(chance, 3):
        factor = wish["second_neutral_factor"] = chance.choice((0.0, 0.5, 1.0))
    most = 0.2499 * math.pi * (smallest - 2.0 * (first + factor * second))
    if most <= 0.0:
        wish.pop("second_neutral_factor", None)
        return
    wish["thickness"], wish["second_layer"] = first, second
    if wish.get("fit_allowance", 19.05) > most or one_in(chance, 4):
        wish["second_fit_allowance"] = rounded(chance.choice((0.0, chance.uniform(0.0, min(100.0, most)))))
    for key, values in (("second_seam", (0.0, 30.0, 90.0, -120.0)), ("second_end_allowance", (0.0, 5.0)),
                        ("second_butt_allowance", (0.0, 2.0)), ("second_face_up", ("outer", "inner"))):
        if one_in(chance, 4) and (key, wish["kind"]) != ("second_seam", "tee"):  # a hole may be there
            wish[key] = chance.choice(values)
    if "board_width" in wish and one_in(chance, 3):
        wish["second_board_width"], wish["second_board_length"] = 1200.0, 2400.0


def whole(wish):
    """The request as of one layer as thick as both, its diameters the metal's: what volumes and the bore ask for."""
    shift = _shift(wish)
    plain = {key: _each(value, lambda size: size + shift) if key in SIZES and shift else value
             for key, value in wish.items() if not key.startswith("second_") and key != "size_is"}
    plain["thickness"] = depth(wish)
    return plain


def first_alone(wish):
    """The request without its second layer."""
    return {**whole(wish), "thickness": wish["thickness"]}


def second_alone(wish):
    """The second layer in a duct as wide as the first layer's air face."""
    plain, first = whole(wish), wish["thickness"]
    plain.update({key: _each(plain[key], lambda size: size - 2.0 * first) for key in SIZES if key in plain})
    own = {key: wish["second_" + key] for key in ("neutral_factor", "fit_allowance", "board_width", "board_length", "end_allowance",
                                                  "butt_allowance") if "second_" + key in wish}
    return {**plain, **own, "thickness": wish["second_layer"], "inside": (first, whole(wish))}


def depth(wish):
    """Of the bore under the metal's inside."""
    return wish["thickness"] + wish.get("second_layer", 0.0)


def girth_left(wish, piece):
    """Of the piece of this id: what its stretch-out is shorter by than the metal's girth. Ids of the second layer begin with i."""
    first = wish["thickness"], wish.get("neutral_factor", 0.0), wish.get("fit_allowance", 19.05)
    if not piece.startswith("i"):
        return 2.0 * math.pi * first[1] * first[0] + first[2]
    factor = wish.get("second_neutral_factor", first[1])
    return 2.0 * math.pi * (first[0] + factor * wish["second_layer"]) + wish.get("second_fit_allowance", first[2])


def seams_near(wish, reason):
    """Whether seams so far around from the first layer's, in each of so many panels, are less than 25 mm beside them, on the smallest
    duct; panels of a next ring are turned by half of one."""
    panels = int((re.search(r"panel \d+ of (\d+)", reason) or [0, 1])[1])
    turn = math.radians(wish.get("second_seam", 180.0))
    sizes = [size for key in SIZES if key in wish for size in _list(whole(wish)[key])]
    smallest = min(sizes + [float(size) for size in re.findall(r"taper to ([\d.]+)mm", wish.get("parts", ""))])
    near = abs(math.remainder(turn, 2.0 * math.pi if panels == 1 else math.pi / panels))
    return 0.5 * smallest * near < 25.0


def _shift(wish):
    """What stated diameters lack of the metal's inside."""
    stated = wish.get("size_is", "metal")
    return 2.0 * depth(wish) if stated == "clear" else -2.0 * wish.get("gauge", 0.8) if stated == "outside" else 0.0


def _list(value):
    return value if isinstance(value, list) else [value]


def _each(value, change):
    return [change(each) for each in value] if isinstance(value, list) else change(value)
