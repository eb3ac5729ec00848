"""Reads the sample files with ezdxf (0.18) and compares regions with shapely (1.8): readers and geometry not our own.

Run as: ezdxf_audit.py DRAW_SAMPLES. DRAW_SAMPLES writes the files and samples.json, which holds the drawing as the
program meant it and what its own polygon functions made of it.
"""

import json
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml
from pathlib import Path

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

MM_PER_INCH = 25.4
failures = []
checks = 0


def check(condition, message):
    global checks
    checks += 1
    if not condition:
        failures.append(message)


def contours(modelspace):
    """Every polyline as (layer, closed, points), whatever the version calls it."""
    found = []
    for entity in modelspace:
        if entity.dxftype() == "LWPOLYLINE":
            points = [(x, y) for x, y in entity.get_points("xy")]
            check(not entity.has_arc, "an arc in a file of straight segments")
            found.append((entity.dxf.layer, entity.closed, points))
        elif entity.dxftype() == "POLYLINE":
            points = [(p.x, p.y) for p in entity.points()]
            check(all(p.z == 0 for p in entity.points()), "z is not 0")
            found.append((entity.dxf.layer, entity.is_closed, points))
    return found


def check_file(path, drawing, options):
    name = path.name
    document = ezdxf.readfile(path)
    auditor = document.audit()
    check(not auditor.errors, f"{name}: errors {[e.message for e in auditor.errors]}")
    check(not auditor.fixes, f"{name}: fixes {[e.message for e in auditor.fixes]}")
    modern = options["version"] == "r2000"
    check(document.dxfversion == ("AC1015" if modern else "AC1009"), f"{name}: version {document.dxfversion}")
    inch = options["units"] == "in"
    if modern:
        check(document.header["$INSUNITS"] == (1 if inch else 4), f"{name}: $INSUNITS")
        check(document.header["$MEASUREMENT"] == (0 if inch else 1), f"{name}: $MEASUREMENT")
    scale = MM_PER_INCH if inch else 1.0

    short = options["cut_only"] or options["single_layer"]
    wanted = [line for line in drawing["lines"] if not short or line["layer"] == "CUT"]
    found = contours(document.modelspace())
    strokes = options["text"] == "strokes" and not short
    check(len(found) > len(wanted) + 20 if strokes else len(found) == len(wanted), f"{name}: {len(found)} lines")
    for line, (layer, closed, points) in zip(wanted, found):
        check(layer == ("0" if options["single_layer"] else line["layer"]), f"{name}: layer {layer}")
        check(bool(closed) == line["closed"], f"{name}: closed flag on {layer}")
        check(len(points) == len(line["points"]), f"{name}: {len(points)} vertices on {layer}")
        for (x, y), (u, v) in zip(points, line["points"]):
            check(abs(x * scale - u) < 1e-4 and abs(y * scale - v) < 1e-4, f"{name}: vertex {x}, {y} on {layer}")

    texts = list(document.modelspace().query("TEXT"))
    if options["text"] == "entities" and not short:
        check(len(texts) == len(drawing["texts"]), f"{name}: {len(texts)} texts")
        for text, wanted_text in zip(texts, drawing["texts"]):
            words = decode_dxf_unicode(text.dxf.text).replace("%%%", "%")
            check(words == wanted_text["text"], f"{name}: text {words!r}")
            check(text.dxf.layer == wanted_text["layer"], f"{name}: text on {text.dxf.layer}")
            check(abs(text.dxf.height * scale - wanted_text["height"]) < 1e-4, f"{name}: height of {words!r}")
    else:
        check(not texts, f"{name}: {len(texts)} texts")

    box = [p for _, _, points in found for p in points] + [(t.dxf.insert.x, t.dxf.insert.y) for t in texts]
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
    for axis in (0, 1):
        check(abs(low[axis] - min(p[axis] for p in box)) < 1e-9, f"{name}: $EXTMIN")
        check(abs(high[axis] - max(p[axis] for p in box)) < 1e-9, f"{name}: $EXTMAX")

    used = {layer for layer, _, _ in found} | {text.dxf.layer for text in texts}
    listed = {layer.dxf.name for layer in document.layers} - {"Defpoints"}  # ezdxf adds this one
    check(listed == used | {"0"}, f"{name}: layer table {sorted(listed)}, in use {sorted(used)}")


def polygon_of(region):
    return Polygon(region["outer"], region["holes"])


def check_regions(cases):
    for case in cases:
        name = case["name"]
        a, b = Polygon(case["a"]), Polygon(case["b"])
        check(a.is_valid != case["a_crosses"], f"{name}: crossing or not")
        check(abs(abs(case["a_area"]) - a.area) <= 1e-9 * max(1.0, a.area) or not a.is_valid, f"{name}: area")
        check((case["a_area"] > 0) == a.exterior.is_ccw, f"{name}: direction")
        for x, y, inside in case["points"]:
            point = Point(x, y)
            if a.is_valid and a.exterior.distance(point) > 1e-6:
                check(a.contains(point) == inside, f"{name}: point {x}, {y}")
        if not a.is_valid:
            continue
        # Clipper rounds to 1e-5 mm: an outline of length L moves by no more than that, its area by 1e-5 L.
        tolerance = 2e-5 * (a.length + b.length)
        for operation, expected in (("united", a.union(b)), ("subtracted", a.difference(b)), ("intersected", a.intersection(b))):
            regions = [polygon_of(region) for region in case[operation]]
            check(all(region.is_valid for region in regions), f"{name}: {operation} is not valid")
            together = unary_union(regions)
            check(abs(sum(r.area for r in regions) - together.area) < 1e-6, f"{name}: {operation} overlaps itself")
            check(together.symmetric_difference(expected).area <= tolerance, f"{name}: {operation}")
        # Both draw round corners by chords that stray by no more than 0.01 mm.
        grown = unary_union([polygon_of(region) for region in case["grown"]])
        expected = a.buffer(case["grown_by"], resolution=128)
        check(grown.symmetric_difference(expected).area <= 0.02 * expected.length, f"{name}: grown")


def main():
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        subprocess.run([sys.argv[1], str(folder)], check=True)
        samples = json.loads((folder / "samples.json").read_text(encoding="utf-8"))
        check(len(samples["files"]) == 12, f"{len(samples['files'])} files")
        for options in samples["files"]:
            check_file(folder / options["name"], samples["drawing"], options)
        check(len(samples["regions"]) >= 40, f"{len(samples['regions'])} regions")
        check_regions(samples["regions"])
        svg = xml.parse(folder / "sample.svg").getroot()
        space = "{http://www.w3.org/2000/svg}"
        check(len(svg.findall(f".//{space}path")) == len(samples["drawing"]["lines"]), "SVG: paths")
        words = [text.text for text in svg.findall(f".//{space}text")]
        check(sorted(words) == sorted(t["text"] for t in samples["drawing"]["texts"]), f"SVG: texts {words}")
    for failure in failures[:40]:
        print(failure)
    print(f"{checks} checks, {len(failures)} failed")
    return 1 if failures or checks < 3000 else 0


if __name__ == "__main__":
    sys.exit(main())
