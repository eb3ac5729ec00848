"""Whether board of the butt allowance all around closes a hole of a layer of liner: no circle wider than it lies in the hole as it
is on the board, of each face or, where `cut` is outer, of both at once. The widest one is looked for on grids that close in."""
import math

import numpy as np

import openings
import saddle

GRID = 41
ROUNDS = 5


def closes(wish, _):
    first, base = wish.get("inside", (0.0, wish))
    faces = (first, first + wish["thickness"])
    allowance = wish.get("butt_allowance", 0.0)
    for radius, edges in _holes(base, faces):
        fibre = radius - first - wish.get("neutral_factor", 0.0) * wish["thickness"]
        share = 1.0 - wish.get("fit_allowance", 19.05) / (2.0 * math.pi * fibre)
        outlines = [np.array(edge) * (fibre * share, 1.0) for edge in edges]
        together = [outlines] if wish.get("cut", "outer") == "outer" else [[outline] for outline in outlines]
        if any(_widest(each) < allowance + 0.1 for each in together):
            return True
    return False


def _holes(wish, faces):
    """(radius of the wall, its edge on each face as (angle, along)) of every hole."""
    body, t = 0.5 * wish["diameter"], wish["thickness"]
    for b in saddle.branches_of(wish) if wish["kind"] == "tee" else ():
        stands = {"mitre": lambda w: w, "over": lambda _: t, "through": lambda _: 0.0}[wish.get("joint", "mitre")]
        edges = [saddle.curve(body, b, stands(w), w, 1.0) for w in faces]
        if None not in edges:
            yield body, [[(angle, z) for angle, z, _ in edge] for edge in edges]
    for wall, part, _, _ in openings.holes_of(wish):
        edges = [openings.outline(wall, part, w) for w in faces]
        if None not in edges:
            yield wall.radius, edges


def _depths(points, outline):
    """How deep each point lies in the outline; below zero outside."""
    ends = np.roll(outline, -1, axis=0)
    sides, away = ends - outline, points[:, None, :] - outline
    along = np.clip((away * sides).sum(axis=2) / np.maximum((sides * sides).sum(axis=1), 1e-30), 0.0, 1.0)
    left = away - along[:, :, None] * sides
    nearest = np.hypot(left[:, :, 0], left[:, :, 1]).min(axis=1)
    across = (away[:, :, 1] < 0.0) != (away[:, :, 1] < sides[:, 1])
    rise = np.where(sides[:, 1] == 0.0, 1.0, sides[:, 1])
    inside = np.count_nonzero(across & (away[:, :, 0] < away[:, :, 1] / rise * sides[:, 0]), axis=1) % 2 == 1
    return np.where(inside, nearest, -nearest)


def _widest(outlines):
    low = np.max([outline.min(axis=0) for outline in outlines], axis=0)
    high = np.min([outline.max(axis=0) for outline in outlines], axis=0)
    widest = 0.0
    for _ in range(ROUNDS if (low < high).all() else 0):
        grid = np.stack(np.meshgrid(*(np.linspace(a, b, GRID) for a, b in zip(low, high))), axis=-1).reshape(-1, 2)
        depths = np.min([_depths(grid, outline) for outline in outlines], axis=0)
        best = grid[depths.argmax()]
        widest = max(widest, float(depths.max()))
        step = 4.0 * (high - low) / GRID
        low, high = best - step, best + step
    return widest
