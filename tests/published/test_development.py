"""The development of an oblique cut by stations, as a sheet-metal table has it.

Source: y(x) = r tan(t) (1 - cos(x/r)) from the short point, x along the skin: T. Apostol and M. Mnatsakanian,
Unwrapping curves from cylinders and cones, Amer. Math. Monthly 114 (2007), section 2, READ. `data/development.csv`:
three curves by thirteen stations, COMPUTED from it.

Tolerance: half a unit of the last of four decimals.
"""

from __future__ import annotations

import csv
from itertools import groupby
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.piece.skin import Template

Row = dict[str, str]

with (Path(__file__).with_name("data") / "development.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))

CURVES = [(key, list(rows)) for key, rows in groupby(ROWS, lambda r: (r["od_mm"], r["cut_angle_from_square_deg"]))]


@pytest.mark.parametrize(("given", "rows"), CURVES, ids=[f"{od} at {angle}" for (od, angle), _ in CURVES])
@pytest.mark.parametrize("end", ["left", "right"])
def test_ordinates(given: tuple[str, str], rows: list[Row], end: str) -> None:
    """The short point at the top, where a template begins: a bevel whose long point lies at the bottom."""
    od, angle = map(float, given)
    cut = mt.Cut(0, -angle)
    piece = mt.Piece(mt.round_tube(od, 3), 900, **{end: cut})
    found = Template(piece, end).stations(len(rows) - 1)
    wanted = [(float(row["arc_x_mm"]), float(row["ordinate_from_short_point_mm"])) for row in rows]
    assert [part for spot in found for part in spot] == pytest.approx(
        [part for spot in wanted for part in spot], abs=5.1e-5
    )
