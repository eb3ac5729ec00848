"""Jobs on boards beside two ways of packing that know less: even divisions alone, and shelves of boxes.

Divide-first is `nest --divide evenly`. Shelves are first fit by falling height: pieces of the even division as their boxes, side by
side in rows as high as their first one, rows one above the other (a textbook's way; from memory)."""
import json
import math
import os
import pathlib
import random
import subprocess
import tempfile


def table(head, **keys):
    return "\n".join([head] + [f'{key} = "{value}"' if isinstance(value, str) else f"{key} = {value}" for key, value in keys.items()]) + "\n"


def job(units, liner, stocks, fittings):
    return (table("[job]", units=units) + table("[liner]", thickness=liner) + "".join(table("[[stock]]", **stock) for stock in stocks)
            + "".join(table("[[fitting]]", **fitting) for fitting in fittings))


def straight(tag, diameter, length, count=1):
    return {"tag": tag, "kind": "straight", "diameter": diameter, "length": length, "count": count}


def elbow(tag, diameter, count=1, angle=90, pieces=5):
    return {"tag": tag, "kind": "elbow", "diameter": diameter, "angle": angle, "pieces": pieces, "count": count}


def reducer(tag, diameter, to, length, count=1):
    return {"tag": tag, "kind": "reducer", "diameter": diameter, "to_diameter": to, "length": length, "count": count}


def tee(tag, diameter, branch, length, branch_length, count=1):
    return {"tag": tag, "kind": "tee", "diameter": diameter, "length": length, "branch_diameter": branch,
            "branch_length": branch_length, "count": count}


INCH = {"width": 48, "length": 120, "edge_trim": 0.25}
MM = {"width": 1220, "length": 3050, "edge_trim": 6, "gap": 3}
ROLL = {"width": 1200, "length": 30000, "form": "roll", "gap": 3}
JOBS = {
    "large duct, inch": job("in", 1, [INCH], [straight("A", 44, 54, 4), straight("B", 36, 50, 3)]),
    "large duct, two liners' lengths": job("in", 1.5, [INCH], [straight("A", 52, 48, 3), straight("B", 30, 66, 4)]),
    "small elbows, mm": job("mm", 25, [MM], [elbow("A", 200, 8), elbow("B", 250, 6), elbow("C", 315, 4)]),
    "small elbows, inch": job("in", 1, [INCH], [elbow("A", 8, 8), elbow("B", 12, 6), elbow("C", 14, 4, 45, 3)]),
    "mixed, mm": job("mm", 25, [MM], [straight("A", 500, 1250, 4), elbow("B", 400, 3), tee("C", 500, 315, 1000, 400, 2),
                                      reducer("D", 500, 315, 450, 2)]),
    "mixed, inch": job("in", 1, [INCH], [straight("A", 20, 60, 4), elbow("B", 16, 3), tee("C", 20, 12, 40, 16, 2),
                                         reducer("D", 20, 12, 18, 2)]),
    "roll": job("mm", 25, [ROLL], [straight("A", 630, 1500, 4), straight("B", 400, 1250, 4), elbow("C", 315, 3)]),
    "two stocks": job("mm", 25, [{**MM, "cost": 30}, {"width": 1220, "length": 2440, "edge_trim": 6, "gap": 3, "cost": 25}],
                      [straight("A", 560, 1250, 5), straight("B", 355, 1500, 5)]),
    "two stocks, inch": job("in", 1, [{**INCH, "cost": 30}, {"width": 60, "length": 120, "edge_trim": 0.25, "cost": 39}],
                            [straight("A", 28, 60, 5), straight("B", 18, 72, 4)]),
    "thick liner": job("mm", 50, [MM], [straight("A", 710, 1300, 4), elbow("B", 500, 2), straight("C", 450, 900, 5)]),
}


def random_job(number):
    """20 to 60 fittings of all kinds that most schedules hold."""
    chance = random.Random(number)
    sizes = [160, 200, 250, 315, 400, 500, 630, 800]
    fittings = []
    while sum(f["count"] for f in fittings) < 20 + number % 41:
        tag, size, count = f"F{len(fittings)}", chance.choice(sizes), chance.randint(1, 4)
        smaller = chance.choice([s for s in sizes if s < size] or [size])
        kind = chance.choice(["straight", "straight", "elbow", "reducer", "tee"])
        if kind == "straight":
            fittings.append(straight(tag, size, chance.choice([600, 900, 1250, 1500, 2000]), count))
        elif kind == "elbow":
            fittings.append(elbow(tag, size, count, chance.choice([45, 90]), chance.choice([3, 5])))
        elif kind == "reducer" and smaller < size:
            fittings.append(reducer(tag, size, smaller, max(300, 2 * (size - smaller)), count))
        elif kind == "tee":
            fittings.append(tee(tag, size, smaller, smaller + 600, size // 2 + 250, count))
    return job("mm", 25, [MM], fittings)


def nested(program, folder, name, *flags):
    """The boards as JSON, and CPU seconds."""
    before = os.times()
    done = subprocess.run([program, "nest", name, "--out", folder / "out", "--no-sync", "--json", *flags], cwd=folder,
                          capture_output=True, text=True)
    after = os.times()
    if done.returncode != 0:
        raise SystemExit(done.stderr)
    return json.loads(done.stdout), after.children_user + after.children_system - before.children_user - before.children_system


def cost_of(boards, prices):
    return sum(prices.get(b["stock"], 1.0) for b in boards) if prices else len(boards)


def shelves(even, stock, unit):
    """Boards that shelves of boxes take, each liner and face on its own, on the first stock."""
    trim, gap = 2 * stock.get("edge_trim", 0) * unit, stock.get("gap", 3 / unit) * unit
    width, length = stock["width"] * unit - trim, stock["length"] * unit - trim
    groups = {}
    for board in even["boards"]:
        for x0, y0, x1, y1 in (piece["box"] for piece in board["pieces"]):
            groups.setdefault((board["thickness"], board["face_up"]), []).append((x1 - x0, y1 - y0))
    boards = 0
    for boxes in groups.values():
        rows = []  # of all boards: board, height, length in use
        heights = []  # in use, of each board
        for wide, high in sorted(boxes, key=lambda box: (-box[1], -box[0])):
            row = next((row for row in rows if high <= row[1] + 1e-3 and row[2] + wide <= length + 1e-3), None)
            if row is None:
                board = next((b for b, used in enumerate(heights) if used + high <= width + 1e-3), len(heights))
                if board == len(heights):
                    heights.append(0.0)
                heights[board] += high + gap
                row = [board, high, 0.0]
                rows.append(row)
            row[2] += wide + gap
        boards += len(heights)
    return boards


def ten_jobs(program, tell):
    """A row for each job: boards (or lengths of a roll), and CPU seconds."""
    rows = []
    for name, text in JOBS.items():
        tell(name)
        with tempfile.TemporaryDirectory() as folder:
            folder = pathlib.Path(folder)
            (folder / "job.toml").write_text(text)
            even, _ = nested(program, folder, "job.toml", "--divide", "evenly")
            best, cpu = nested(program, folder, "job.toml")
        roll = "form" in text
        unit = 25.4 if 'units = "in"' in text else 1.0
        stock = INCH if unit > 1 else ROLL if roll else MM
        if roll:
            def shown(boards):
                return f"{sum(b['length'] for b in boards['boards']) / 1000:.1f} m"
            shelf = "-"
        else:
            def shown(boards):
                money = sum(b["cost"] or 0.0 for b in boards["boards"])
                return f"{len(boards['boards'])}" + (f" for {money:g}" if money else "")
            shelf = str(shelves(even, stock, unit))
        least = best["least_boards"]
        rows.append([name, shown(best), shown(even), shelf, "-" if least is None else str(least), f"{100 * best['yield']:.1f} %",
                     f"{100 * even['yield']:.1f} %", f"{cpu:.1f}"])
    return rows


def random_jobs(program, count, tell):
    """Boards, where every piece may be divided, beside the fewest that the pieces' area needs."""
    room = (MM["width"] - 2 * MM["edge_trim"]) * (MM["length"] - 2 * MM["edge_trim"])
    rows = []
    for number in range(1, count + 1):
        tell(f"random job {number}")
        with tempfile.TemporaryDirectory() as folder:
            folder = pathlib.Path(folder)
            (folder / "job.toml").write_text(random_job(number))
            best, cpu = nested(program, folder, "job.toml", "--divide", "if it saves")
        by_area = math.ceil(best["piece_area"] / room - 1e-9)
        rows.append((len(best["boards"]), by_area, best["least_boards"], cpu))
    return rows
