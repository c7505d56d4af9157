"""What the worked jobs of the gallery ask for: sizes and angles of each mark, and the sections by their own sizes.

Sections stand here by the sizes in their names and in the standards, with sharp corners where no cut of the gallery
runs over a rounding (every bevel there is square across, so its long point lies on a flat).
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from math import cos, radians, tan
from pathlib import Path
from typing import Any, Final

from tests.virtual_saw import lays, steel
from tests.virtual_saw.figures import length
from tests.virtual_saw.further import add_plane
from tests.virtual_saw.judge import Drawing
from tests.virtual_saw.lays import Stock
from tests.virtual_saw.steel import SAME, Section, Solid, error

INCH: Final = 25.4

STRAKE_HULL: Final = ((0.0, 0.0, 0.0), (62.0, 8.0, 8.0), (70.0, 0.0, 0.0), (8.0, 40.0, 8.0), (0.0, 48.0, 0.0))
"""The outer corners of the outline of keel-jig's drawing: three sharp ones, two of radius 8."""

STOCKS: Final[Mapping[str, Stock]] = {
    "RHS 80x40x3": Stock("rect-tube", steel.rect_tube(40, 80, 3, 6)),
    "RHS 60x40x3": Stock("rect-tube", steel.rect_tube(40, 60, 3, 6)),
    "SHS 40x40x3": Stock("rect-tube", steel.rect_tube(40, 40, 3, 6)),
    "SHS 60x60x4": Stock("rect-tube", steel.rect_tube(60, 60, 4, 8)),
    "SHS 30x30x2": Stock("rect-tube", steel.rect_tube(30, 30, 2, 4)),
    "HSS4x2x3/16": Stock("rect-tube", steel.rect_tube(2 * INCH, 4 * INCH, 4.4, 8.8)),
    "FLAT 50x10": Stock("flat", steel.flat(50, 10)),
    "FLAT 150x6": Stock("flat", steel.flat(150, 6)),
    "FLAT 2x1/4": Stock("flat", steel.flat(2 * INCH, INCH / 4)),
    "SQUARE 1/2": Stock("flat", steel.flat(INCH / 2, INCH / 2)),
    "L3x3x1/4": Stock("angle", steel.angle(3 * INCH, 3 * INCH, INCH / 4)),
    "L 50x50x5": Stock("angle", steel.angle(50, 50, 5)),
    "PIPE 2 SCH 40": Stock("round-tube", steel.round_section(2.375 * INCH, 0.154 * INCH)),
    "PIPE 1-1/4 SCH 40": Stock("round-tube", steel.round_section(1.66 * INCH, 0.14 * INCH)),
    "CHS 42.4x3.2": Stock("round-tube", steel.round_section(42.4, 3.2)),
    "CHS 60.3x4": Stock("round-tube", steel.round_section(60.3, 4)),
    "CHS 114.3x5": Stock("round-tube", steel.round_section(114.3, 5)),
    "ROUND 40": Stock("round-bar", steel.round_section(40)),
    "OLD TUBE": Stock("round-tube", steel.round_section(60.6, 2.9)),
    "C6x8.2": Stock("channel", steel.channel(1.92 * INCH, 6 * INCH, 0.2 * INCH, 0.343 * INCH)),
    "STRAKE": Stock(
        "dxf", steel.rounded(steel.angle(70, 48, 16), ((0, 0, 0), (62, 8, 8), (70, 0, 0), (8, 40, 8), (0, 48, 0)))
    ),
    "UPN 100": Stock("channel", steel.channel(50, 100, 6, 8.5)),
    "IPE 120": Stock("i-section", steel.i_section(64, 120, 4.4, 6.3)),
}
"""Widths and heights before any lay, mm: by the names, the standards, keel-jig's drawing."""


def drawing(job: Path, marks: list[Mapping[str, Any]]) -> Drawing:
    """The drawing of a job; `marks` are the ends and edges of each mark, as the job's check tells them."""
    file = tomllib.loads(job.read_text())
    pieces, quantity = {}, {}
    for mark in marks:
        solid = _solid(mark, _laid(file, mark))
        pieces[mark["mark"]], quantity[mark["mark"]] = solid, mark["quantity"]
        if mark["opposite"] and error(solid.mirrored(), solid) > SAME:
            pieces[f"{mark['mark']}-OH"], quantity[f"{mark['mark']}-OH"] = solid.mirrored(), mark["opposite"]
        else:
            quantity[mark["mark"]] += mark["opposite"]
    blanks = {mark: _blank(solid) for mark, solid in pieces.items() if len(solid.low) + len(solid.high) > 2}
    return Drawing(pieces, quantity, _trim(file), STOCKS, blanks)


def _trim(file: Mapping[str, Any]) -> float:
    return length(file.get("nest", {}).get("trim", 0.0), file["job"].get("units", "mm"))


def _solid(mark: Mapping[str, Any], section: Section) -> Solid:
    """The planes of either end, and those of the right end so far off that the edge is as long as told."""
    left, right = (_slopes(mark[end]) for end in ("left", "right"))
    solid = Solid(section, ((0.0, -left[0], -left[1]),), ((0.0, *right),))
    for one in mark["left_further"]:
        p, q = _slopes(one)
        solid = replace(solid, low=add_plane(solid.low, (-p, -q), tuple(one["meets_mm"])))
    for one in mark["right_further"]:
        solid = replace(solid, high=add_plane(solid.high, _slopes(one), tuple(one["meets_mm"])))
    off = mark["edges_mm"]["fixed_bottom"] - solid.ends((0.0, 0.0)) + solid.begins((0.0, 0.0))
    return replace(solid, high=tuple((k + off, p, q) for k, p, q in solid.high))


def _blank(solid: Solid) -> Solid:
    """With the first plane of either end only."""
    return replace(solid, low=solid.low[:1], high=solid.high[:1])


def _slopes(cut: Mapping[str, float]) -> tuple[float, float]:
    miter, bevel = radians(cut["miter_deg"]), radians(cut["bevel_deg"])
    return tan(miter), tan(bevel) / cos(miter)


def _laid(file: Mapping[str, Any], mark: Mapping[str, Any]) -> Section:
    """As the job says that it lies: degrees, or the words of its frame; the outside of a frame is the moving side."""
    stock, order = STOCKS[mark["section"]], _order(file, mark["mark"])
    if "heel" in order:
        side = "moving" if order["heel"] == "out" else "fixed"
        return lays.by_words(stock, f"heel at the {'bottom' if order['leg'] == 'up' else 'top'}, {side}-jaw side")
    if "toes" in order:
        return lays.by_words(
            stock, {"in": "toes toward the fixed jaw", "out": "toes toward the moving jaw"}[order["toes"]]
        )
    names = order["section"] if isinstance(order["section"], list) else [order["section"]]
    on_side = any(name.startswith("RHS") and _turned(name) == mark["section"] for name in names)
    return stock.section.laid(90.0 if on_side else -float(order.get("lay", 0)))


def _turned(name: str) -> str:
    """RHS 40x80x3 is RHS 80x40x3 lying on its wide side."""
    high, wide, wall = name.removeprefix("RHS ").split("x")
    return f"RHS {wide}x{high}x{wall}"


def _order(file: Mapping[str, Any], mark: str) -> Mapping[str, Any]:
    tables = [*file.get("piece", ()), *file.get("frame", ())]
    return next(table for table in tables if mark in (table["mark"], f"{table['mark']}-{mark.rpartition('-')[2]}"))
