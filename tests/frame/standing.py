"""The bars inside a frame laid out from the record of a job alone, as polygons of a general library (shapely).

A bar is a long strip along its own line, cut by a half plane for every cut: its angle from the record, through the
point of the bar's line where the record has its end. Nothing here comes out of the engine but the record.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from shapely import Point, Polygon, affinity, union_all
from shapely.geometry.base import BaseGeometry

FAR = 1e4

Record = Mapping[str, Any]

TURNS = {"as-drawn": (1, False), "rolled": (-1, False), "end-for-end": (-1, True), "end-for-end-rolled": (1, True)}
"""What a pose does to miters, and whether the ends change places."""


def ends(piece: Record, pose: str, end: str) -> list[tuple[float, float]]:
    """Each cut of an end as it lies: its miter, and how far its plane meets the bar's line behind the furthest one."""
    sign, turned = TURNS[pose]
    own = {"left": "right", "right": "left"}[end] if turned else end
    first, middle = piece[own], piece["wide_mm"] / 2
    out = [(first["miter_deg"], 0.0)]
    for more in piece[f"{own}_further"]:
        steeper = math.tan(math.radians(more["miter_deg"])) - math.tan(math.radians(first["miter_deg"]))
        out.append((more["miter_deg"], steeper * (middle - more["meets_mm"][0])))
    least = min(at for _, at in out)
    return [(sign * miter, at - least) for miter, at in out]


def strip(bar: Record, piece: Record) -> Polygon:
    """A bar where the record has it."""
    half, length = piece["wide_mm"] / 2, piece["centerline_mm"]
    shape: BaseGeometry = Polygon([(-FAR, -half), (FAR, -half), (FAR, half), (-FAR, half)])
    for end, at, side in (("left", 0.0, -1), ("right", length, 1)):
        for miter, further in ends(piece, bar["pose"], end):
            slope = side * math.tan(math.radians(miter))
            x = at + side * further
            near, far = (x + slope * y for y in (-FAR, FAR))
            beyond = -side * 1e6
            shape = shape.intersection(Polygon([(near, -FAR), (far, FAR), (beyond, FAR), (beyond, -FAR)]))
    turned = affinity.rotate(shape, bar["way_deg"], origin=(0, 0))
    return affinity.translate(turned, bar["x_mm"], bar["y_mm"])


def inside(record: Record) -> list[Polygon]:
    """Every bar inside the first frame of a record."""
    pieces = {piece["mark"]: piece for piece in record["pieces"]}
    return [strip(bar, pieces[bar["mark"]]) for bar in record["assemblies"][0]["inside"]]


def ring(outer: Sequence[complex], width: float) -> Polygon:
    """A frame of one width around its outer corners."""
    whole = Polygon([(point.real, point.imag) for point in outer])
    return whole.difference(whole.buffer(-width, join_style="mitre", mitre_limit=1e6))


def stands_off(shapes: Sequence[Polygon], around: Polygon) -> float:
    """How far the furthest corner of any bar is from all else that stands there, mm: it should touch with each."""
    worst = 0.0
    for i, one in enumerate(shapes):
        others = union_all([around, *shapes[:i], *shapes[i + 1 :]])
        worst = max(worst, *(others.distance(Point(place)) for place in corners(one)))
    return worst


def corners(shape: Polygon) -> list[tuple[float, float]]:
    """The corners of a polygon."""
    return list(shape.exterior.coords)[:-1]


def shared(shapes: Sequence[Polygon]) -> float:
    """The area that any of them have in common, mm2."""
    return sum(shape.area for shape in shapes) - union_all(shapes).area
