"""Whether a piece can be divided for a board. Rings are cut square to the duct and seams keep clear of holes, so what reaches
along the duct at an end (a mitre, a saddle) or about a hole stays in one part, which may be larger than the board."""
import math

import saddle


def is_impossible(wish, _):
    """True where some stretch that no cut may cross is longer than the board, or a smallest part does not fit."""
    import refusals  # they need each other
    along, around = wish.get("board_width", math.inf), wish.get("board_length", math.inf)
    least = wish.get("min_panel", 100.0)
    if along < least or around < least:
        return True
    body, t = 0.5 * wish["diameter"], wish["thickness"]
    extra = wish.get("end_allowance", 0.0) + wish.get("butt_allowance", 0.0)
    if wish["kind"] == "elbow":
        mitre = math.radians(wish["angle"]) / (2.0 * (wish["pieces"] - 1))
        stretches = [2.0 * body * math.tan(mitre)]
    elif wish["kind"] == "tee":
        stretches = []
        for b in refusals.branches_of(wish):
            pairs = refusals.depth_pairs(wish)
            wide = max(abs(angle) for pair in pairs for angle, _, _ in saddle.curve(body, b, *pair)) * body
            if 2.0 * wide + 50.0 > around:
                return True  # the hole is wider than the board
            low, high, _ = saddle.extent(body, b, t, depths=pairs)
            rulings = [s for pair in pairs[1:] for _, _, s in saddle.curve(body, b, *pair)]
            stretches += [high - low + 50.0, max(rulings) - min(rulings) + min(least, b["length"] - max(rulings))]
    else:
        return False
    return max(stretches) + extra + min(least, 1.0) > along - 0.02
