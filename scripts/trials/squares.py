"""Square-to-rounds by the planes that touch rectangle and circle: for each angle a the plane cos a x + sin a y + k z = A, A = half
width |cos| + half height |sin|, k = (A - r - e . n) / H, its normal S = sqrt(1 + k^2) long. What lies w deep is w S inside of all
of them. Millimetres and radians."""
import math

STEPS = 90  # planes of a quarter


def sizes(wish):
    return (0.5 * wish["width"], 0.5 * wish["height"], 0.5 * wish["diameter"], wish["length"],
            wish.get("shift_right", 0.0), wish.get("shift_up", 0.0))


def plane(wish, a):
    """(cos, sin, slope k, size S, reach A)."""
    half_x, half_y, r, height, ex, ey = sizes(wish)
    co, si = math.cos(a), math.sin(a)
    reach = half_x * abs(co) + half_y * abs(si)
    k = (reach - r - ex * co - ey * si) / height
    return co, si, k, math.hypot(1.0, k), reach


def _crossing(p, q):
    d = p[0] * q[1] - p[1] * q[0]
    return (p[2] * q[1] - q[2] * p[1]) / d, (p[0] * q[2] - q[0] * p[2]) / d


def _area(lines):
    """Area of what half planes (cos, sin, off), in turning order, have in common."""
    kept, first = [], 0

    def beyond(line, point):
        return line[0] * point[0] + line[1] * point[1] > line[2]
    for line in lines:
        while len(kept) - first >= 2 and beyond(line, _crossing(kept[-2], kept[-1])):
            kept.pop()
        while len(kept) - first >= 2 and beyond(line, _crossing(kept[first], kept[first + 1])):
            first += 1
        kept.append(line)
    while len(kept) - first > 2 and beyond(kept[first], _crossing(kept[-2], kept[-1])):
        kept.pop()
    kept = kept[first:]
    points = [_crossing(kept[i], kept[(i + 1) % len(kept)]) for i in range(len(kept))]
    return 0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))


def section(wish, z, w):
    planes = [plane(wish, 0.5 * math.pi * i / STEPS) for i in range(4 * STEPS)]
    lines = [(co, si, reach - k * z - w * size) for co, si, k, size, reach in planes]
    return (4.0 * _area(lines) - _area(lines[::2])) / 3.0  # polygons are too large by the square of their sides


def collar_reach(wish):
    """How far layers reach into a collar at the round end: where a wall widens toward it the air face, by t (S - 1) / |k|, else
    the metal's outside."""
    reach = 0.0
    for i in range(4 * STEPS):
        _, _, k, size, _ = plane(wish, 0.5 * math.pi * i / STEPS)
        if abs(k) > 1e-9:
            reach = max(reach, (wish["thickness"] if k < 0.0 else wish.get("gauge", 0.8)) * (size - 1.0) / abs(k))
    return reach


def collar_too_short(wish, _):
    return wish["round_collar"] < collar_reach(wish) + 1.0 + 0.01


def panel_tops(wish, w):
    """Heights at which a rectangular collar's panels meet their flats w deep: -w tan(phi / 2), phi the flat's lean."""
    return [-w * math.tan(0.5 * math.atan(plane(wish, 0.5 * math.pi * side)[2])) for side in range(4)]


def side_off(wish, side, z, w):
    """How far off a side's layer w deep lies at a height: of the panel below that, of the flat above it."""
    _, _, k, size, reach = plane(wish, 0.5 * math.pi * side)
    return reach - w if z <= panel_tops(wish, w)[side] else reach - k * z - w * size


def panels_too_short(wish, _):
    return wish["square_collar"] < max([0.0] + [-z for z in panel_tops(wish, wish["thickness"])]) + 1.0 + 0.01


def panels_close(wish, _):
    """Whether two sides over against each other leave nothing of a panel's upper edge."""
    t = wish["thickness"]
    tops = panel_tops(wish, t)
    for side in range(4):
        beside = [(side + 1) % 4, (side + 3) % 4]
        whole = [wish["height"], wish["width"]][side % 2]
        reach = [plane(wish, 0.5 * math.pi * i)[4] for i in beside]
        off = [min(side_off(wish, i, z, t) for z in (min(tops[side], tops[i]), max(tops[side], tops[i]))) for i in beside]
        if sum(r - o for r, o in zip(reach, off)) >= whole * (1.0 - 1e-9):
            return True
    return False


def panels_undercut(wish, _):
    """A limit of ours: whether an ear, the panel's edge along the flat of a lower side beside it, leads out so flat that half a mm
    under the rectangle's plane the panel's middle does not see it."""
    t = wish["thickness"]
    tops = panel_tops(wish, t)
    for side in range(4):
        for beside in ((side + 1) % 4, (side + 3) % 4):
            if tops[side] < 0.0 or tops[beside] >= tops[side] - 1e-9 * t:
                continue
            a, b = ((side_off(wish, beside, z, t), z + 0.5) for z in (tops[beside], tops[side]))
            if a[0] * b[1] - a[1] * b[0] < 1e-3:
                return True
    return False


def flats_undercut(wish, _):
    """A limit of ours: whether the circle's middle, and with it the tips of the flats beside, lie beyond the air face of a panel that
    is higher than one beside it."""
    t = wish["thickness"]
    tops = panel_tops(wish, t)
    half_x, half_y, _, _, ex, ey = sizes(wish)
    return any(tops[side] > min(tops[(side + 1) % 4], tops[(side + 3) % 4]) + 1e-9 * t and
               ex * way[0] + ey * way[1] > [half_x, half_y][side % 2] - t
               for side, way in enumerate(((1, 0), (0, 1), (-1, 0), (0, -1))))


def panels_meet_cones(wish, _):
    """A limit of ours: at a corner the mitre's fork lies below the panels' tops, or below the rectangle's plane."""
    tops = panel_tops(wish, 1.0)
    for q in range(4):
        best = None
        for i in range(1, 200):
            a = 0.5 * math.pi * (q + i / 200)
            _, way, normal, _ = _corner(wish, q, a)
            starts = []
            for end in (0, 1):
                co, si, k, size, _ = plane(wish, 0.5 * math.pi * (q + end))
                n = (co / size, si / size, k / size)
                toward = -sum(n[j] * way[j] for j in range(3))
                starts.append((1.0 - sum(n[j] * normal[j] for j in range(3))) / toward if toward > 1e-12 else math.inf)
            z = max(starts) * way[2] - normal[2]
            if best is None or abs(starts[0] - starts[1]) < best[0]:
                best = abs(starts[0] - starts[1]), z
        if best[1] < max(0.0, tops[q], tops[(q + 1) % 4]) + 0.02:
            return True
    return False


def _rectangles(wish, low, high, w):
    """Volume between two heights of what the four sides leave: Simpson's rule between the heights at which they bend."""
    cuts = sorted({low, high} | {z for z in panel_tops(wish, w) if low < z < high})

    def area(z):
        off = [side_off(wish, side, z, w) for side in range(4)]
        return (off[0] + off[2]) * (off[1] + off[3])
    total = 0.0
    for p, q in zip(cuts, cuts[1:]):
        inside = 1e-12 * (q - p)
        total += (q - p) / 6.0 * (area(p + inside) + 4.0 * area(0.5 * (p + q)) + area(q - inside))
    return total


def volumes(wish):
    """Cavity: H/3 (A B + (A + B) r + pi r^2), wherever the circle lies, and its collars; bore by Gauss's points along the length,
    without a round collar."""
    _, _, r, height, _, _ = sizes(wish)
    a, b, t = wish["width"], wish["height"], wish["thickness"]
    cavity = height / 3.0 * (a * b + (a + b) * r + math.pi * r * r) + a * b * wish.get("square_collar", 0.0)
    if wish.get("round_collar"):
        return cavity + math.pi * r * r * wish["round_collar"], None, 2e-5
    at = (0.0469100770306680, 0.2307653449471584, 0.5, 0.7692346550528416, 0.9530899229693320)
    weights = (0.1184634425280945, 0.2393143352496832, 0.2844444444444444, 0.2393143352496832, 0.1184634425280945)
    panels = 8
    low = max([0.0] + panel_tops(wish, t)) if wish.get("square_collar") else 0.0
    bore = sum(weight / panels * section(wish, low + (height - low) * (panel + x) / panels, t)
               for panel in range(panels) for x, weight in zip(at, weights)) * (height - low)
    if wish.get("square_collar"):
        bore += _rectangles(wish, -wish["square_collar"], low, t)
    return cavity, bore, 2e-5


def _corner(wish, q, a):
    """Of the ruling a from corner q: (corner, way, normal, length)."""
    half_x, half_y, r, height, ex, ey = sizes(wish)
    corner = (half_x if q in (0, 3) else -half_x, half_y if q < 2 else -half_y, 0.0)
    to = (ex + r * math.cos(a), ey + r * math.sin(a), height)
    way = [to[i] - corner[i] for i in range(3)]
    length = math.sqrt(sum(x * x for x in way))
    co, si, k, size, _ = plane(wish, a)
    return corner, [x / length for x in way], (co / size, si / size, k / size), length


def _starts(wish, q, a, steps=60):
    """Where the ruling a of corner q begins, for each mm of depth: (by its two flats, by the cone's own other rulings)."""
    _, way, normal, _ = _corner(wish, q, a)

    def bound(other):
        co, si, k, size, _ = plane(wish, other)
        n = (co / size, si / size, k / size)
        toward = -sum(n[i] * way[i] for i in range(3))
        return (1.0 - sum(n[i] * normal[i] for i in range(3))) / toward if toward > 1e-12 else -math.inf
    flats = max(bound(0.5 * math.pi * (q + end)) for end in (0, 1) if abs(0.5 * math.pi * (q + end) - a) > 1e-3)
    own = max(bound(0.5 * math.pi * (q + i / steps)) for i in range(1, steps) if abs(0.5 * math.pi * (q + i / steps) - a) > 1e-3)
    return flats, own


def folds_within(wish, _):
    """Whether somewhere a cone's own rulings come nearer to each other than its flats and the rectangle's plane do, or all but
    do: often that is within a degree of a flat alone."""
    def within(q, near, steps):
        a = 0.5 * math.pi * (q + near)
        flats, own = _starts(wish, q, a, steps)
        _, way, normal, _ = _corner(wish, q, a)
        return own > max(flats, normal[2] / way[2]) * (1.0 - 1e-4)
    return any(within(q, near, 600) for q in range(4) for near in (0.003, 0.997)) or \
        any(within(q, i / 60, 60) for q in range(4) for i in range(1, 60))


def closes_rectangle(wish, _):
    """Whether the liner of two sides over against each other, t S each in the rectangle's plane, takes all of it."""
    planes = [plane(wish, 0.5 * math.pi * i) for i in range(4)]
    # the panels of a collar stand where a side widens
    sizes_ = [1.0 if wish.get("square_collar") and k < 0.0 else size for _, _, k, size, _ in planes]
    t = wish["thickness"]
    return any(wish[key] <= t * (sizes_[i] + sizes_[i + 2]) * (1.0 + 1e-9) for i, key in enumerate(("width", "height")))


def flat_is_gone(wish, _):
    """Whether a side's tip, moved in by t along its normal, comes to lie below the rectangle's plane, H - t k / S < 0, or below
    its joint with a collar, < -t k / (1 + S)."""
    planes = [plane(wish, 0.5 * math.pi * i) for i in range(4)]
    t = wish["thickness"]
    return any(k > 0.0 and wish["length"] - t * k / size + (t * k / (1.0 + size) if wish.get("square_collar") else 0.0) <
               1e-6 * wish["length"] for _, _, k, size, _ in planes)


def reaches_round_end(wish, _):
    """Whether the mitre of a corner comes to the round end somewhere, as far as steps of a degree and a half tell."""
    t = wish["thickness"]
    for q in range(4):
        for i in range(0, 61):
            a = 0.5 * math.pi * (q + min(max(i / 60, 1e-3), 1 - 1e-3))
            _, way, normal, length = _corner(wish, q, a)
            end = length + min(0.0, t * normal[2] / way[2])
            if t * max(_starts(wish, q, a)) > end * 0.98 - 1.0:
                return True
    return False


def corner_misses_round_end(wish, _):
    """Whether of some corner's rulings none comes to the round end, or to the collar's air face, t behind the nearest plane, as far
    as steps of a degree tell."""
    _, _, r, height, ex, ey = sizes(wish)
    t = wish["thickness"]
    planes = [(co / size, si / size, k / size, reach / size)
              for co, si, k, size, reach in (plane(wish, 0.5 * math.pi * i / STEPS) for i in range(4 * STEPS))]

    def end_of(q, a):
        corner, way, normal, length = _corner(wish, q, a)
        start = [corner[i] + length * way[i] - t * normal[i] for i in range(3)]
        on = (height - start[2]) / way[2]
        if wish.get("round_collar"):
            x, y, square = start[0] - ex, start[1] - ey, way[0] ** 2 + way[1] ** 2
            b, c = x * way[0] + y * way[1], x * x + y * y - (r - t) ** 2
            on = min(((-b + side * math.sqrt(max(0.0, b * b - square * c))) / square for side in (-1.0, 1.0)), key=abs) \
                if square > 1e-12 else 0.0
        return [start[i] + on * way[i] for i in range(3)]

    def shows(q, i):
        p = end_of(q, 0.5 * math.pi * (q + i / STEPS))
        return all(off - x * p[0] - y * p[1] - z * p[2] > t - 1e-3 for x, y, z, off in planes)
    return any(not any(shows(q, i) for i in range(1, STEPS)) for q in range(4))


def board_size(wish):
    """(along, around) of the largest piece, by the true lengths of its triangles and of thin ones on the cones, its middle
    ruling upright."""
    half_x, half_y, _, _, _, _ = sizes(wish)
    pieces = wish.get("pieces", 2)
    most = (0.0, 0.0)
    for piece in range(pieces):
        first, count = 4 // pieces * piece, 4 // pieces
        outline, directions = _laid(wish, first, count)
        middle = directions[len(directions) // 2]
        turn = 0.5 * math.pi - middle
        turned = [(math.cos(turn) * x - math.sin(turn) * y, math.sin(turn) * x + math.cos(turn) * y) for x, y in outline]
        size = [max(p[i] for p in turned) - min(p[i] for p in turned) for i in (0, 1)]
        most = max(most[0], size[1]), max(most[1], size[0])
    return most


def _laid(wish, first, count):
    half_x, half_y, r, height, ex, ey = sizes(wish)

    def point(q):
        return (half_x if q % 4 in (0, 3) else -half_x, half_y if q % 4 < 2 else -half_y, 0.0)

    def rim(a):
        return ex + r * math.cos(a), ey + r * math.sin(a), height

    def angle(at, p, q):
        u, v = [[x[i] - at[i] for i in range(3)] for x in (p, q)]
        dot = sum(a * b for a, b in zip(u, v))
        return math.acos(max(-1.0, min(1.0, dot / math.sqrt(sum(a * a for a in u) * sum(b * b for b in v)))))
    place, base, outline, directions = (0.0, 0.0), math.pi, [], []
    for q in range(first, first + count):
        corner = point(q)
        if q == first:
            half = 0.5 * math.dist(point(q - 1), corner)
            outline.append((place[0] + half * math.cos(base), place[1] + half * math.sin(base)))
        outline.append(place)
        direction = base - angle(corner, point(q - 1), rim(0.5 * math.pi * q))
        for i in range(61):
            a = 0.5 * math.pi * (q + i / 60)
            if i:
                direction -= angle(corner, rim(a - 0.5 * math.pi / 60), rim(a))
            length = math.dist(corner, rim(a))
            outline.append((place[0] + length * math.cos(direction), place[1] + length * math.sin(direction)))
            directions.append(direction)
        direction -= angle(corner, point(q + 1), rim(0.5 * math.pi * (q + 1)))
        side = math.dist(corner, point(q + 1)) * (0.5 if q == first + count - 1 else 1.0)
        place = place[0] + side * math.cos(direction), place[1] + side * math.sin(direction)
        base = direction + math.pi
        if q == first + count - 1:
            outline.append(place)
    return outline, directions


def panel_too_large(wish, _):
    along, around = wish.get("board_width", math.inf), wish.get("board_length", math.inf)
    tops = panel_tops(wish, wish["thickness"])
    for side in range(4):
        size = [wish["height"], wish["width"]][side % 2], wish["square_collar"] + max(0.0, tops[side])
        if not any(x < 0.999 * around and y < 0.999 * along for x, y in (size, size[::-1])):
            return True
    return False


def too_large(wish, _):
    """Wider or longer than the board; by a hundredth less where the board is turned otherwise."""
    along, around = board_size(wish)
    return along > 0.98 * wish.get("board_width", math.inf) or around > 0.98 * wish.get("board_length", math.inf)


def draw(chance, wish, size, liner, log, one_in):
    wish["width"], wish["height"] = size(chance, 60.0), size(chance, 60.0)
    if one_in(chance, 3):
        wish["height"] = wish["width"]
    least, most = sorted((wish["width"], wish["height"]))
    wish["diameter"] = chance.choice((least, least * chance.uniform(0.4, 1.0), size(chance, 60.0), most * chance.uniform(0.8, 1.2)))
    wish["diameter"] = min(3000.0, max(60.0, wish["diameter"]))
    wish["length"] = min(20000.0, max(30.0, most * chance.choice((0.5, 1.0, chance.uniform(0.3, 3.0), log(chance, 0.1, 10.0),
                                                                       chance.uniform(0.08, 0.5)))))
    if one_in(chance, 2):
        wish["shift_right"] = wish["width"] * chance.choice((0.0, 0.1, chance.uniform(-0.5, 0.5)))
        wish["shift_up"] = wish["height"] * chance.choice((0.0, -0.1, chance.uniform(-0.5, 0.5)))
    wish["thickness"] = liner(chance, min(least, wish["diameter"]))
    if not one_in(chance, 4):
        wish["thickness"] = min(wish["thickness"], max(3.0, 0.12 * min(least, wish["diameter"])))
    if not one_in(chance, 3):
        wish["pieces"] = chance.choice((1, 2, 4, 4, 3 if one_in(chance, 8) else 2))
    if one_in(chance, 3):
        wish["least_bend"] = log(chance, 1.0, 2000.0)
    if one_in(chance, 3):
        wish["round_collar"] = chance.choice((50.0, 100.0, log(chance, 2.0, 1000.0)))
        if not one_in(chance, 20):
            wish["round_collar"] = max(wish["round_collar"], collar_reach(wish) + 1.1)
    if one_in(chance, 3):
        wish["square_collar"] = chance.choice((50.0, 150.0, log(chance, 10.0, 1000.0)))
