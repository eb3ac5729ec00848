"""Texts of jobs on boards, put together in one place."""


def table(head, **keys):
    """[head] or [[head]] with its keys: text in quotes, the rest bare."""
    lines = [head] + [f'{key} = "{value}"' if isinstance(value, str) else f"{key} = {value}" for key, value in keys.items()]
    return "\n".join(lines) + "\n"


def fitting(tag, kind, **keys):
    return table("[[fitting]]", tag=tag, kind=kind, **keys)


def straight(tag, diameter, length, **keys):
    return fitting(tag, "straight", diameter=diameter, length=length, **keys)


def elbow(tag="E", diameter=315, **keys):
    return fitting(tag, "elbow", diameter=diameter, **{"angle": 90, "pieces": 5, **keys})


def tee(tag="T"):
    return fitting(tag, "tee", diameter=400, length=900, branch_diameter=250, branch_length=400)


def metric_job(*fittings, name="Boards", **stock):
    """Millimetres, 25 mm of liner, boards of 1220 x 3050."""
    return (table("[job]", name=name, units="mm") + table("[liner]", thickness=25)
            + table("[[stock]]", **{"width": 1220, "length": 3050, **stock}) + "".join(fittings))


def inch_job(*fittings, **stock):
    """Inches, 1 in of liner, boards of 48 x 120 with a quarter inch of trim."""
    return (table("[job]", units="in") + table("[liner]", thickness=1)
            + table("[[stock]]", **{"width": 48, "length": 120, "edge_trim": 0.25, **stock}) + "".join(fittings))
