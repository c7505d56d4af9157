"""Outlines out of DXF files: areas and perimeters of lines and arcs in closed form, holes, units, layers, and what is no
outline, named with its place.

Files are written as text by `dxf_text`, so reading them does not lean on the library that reads them; only splines,
ellipses and blocks are written with ezdxf. Areas to 1e-9 relative; curves other than arcs within the chord error that the
source of such a section states, times the perimeter.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.geometry import Region
from mitertool.geometry.dxf_outline import read_outline
from tests.geometry.dxf_text import (
    INCH,
    MM,
    NO_UNIT,
    Vertex,
    arc,
    box,
    circle,
    line,
    polyline,
    write,
)

EXACT = 1e-9
CHORD_ERROR = 1e-3
"""mm, as the source of a section from a drawing says."""

QUARTER = math.tan(math.pi / 8)
"""The bulge of a quarter circle."""


def read(folder: Path, *entities: str, unit: int | None = MM, **words: str) -> Region:
    return read_outline(write(folder / "drawn.dxf", *entities, unit=unit), **words)


def refused(folder: Path, *entities: str, unit: int | None = MM, **words: str) -> str:
    with pytest.raises(mt.BadInput) as caught:
        read(folder, *entities, unit=unit, **words)
    says = str(caught.value)
    assert "\n" not in says
    assert "drawn.dxf" in says
    return says.removeprefix("drawn.dxf: ")


SLOT = [(0, 0), (40, 0, 1.0), (40, 30), (0, 30, 1.0)]
ROUNDED = [
    *((5, 0), (45, 0, QUARTER), (50, 5), (50, 25, QUARTER)),
    *((45, 30), (5, 30, QUARTER), (0, 25), (0, 5, QUARTER)),
]
SHAPES: dict[str, tuple[list[str], float, float]] = {
    "square": ([box(0, 0, 40, 40)], 1600, 160),
    "circle": ([circle((7, -3), 20)], 400 * math.pi, 40 * math.pi),
    "whole arc": ([arc((0, 0), 20, 0, 360)], 400 * math.pi, 40 * math.pi),
    "circle of two bulges": ([polyline([(0, 0, 1.0), (40, 0, 1.0)])], 400 * math.pi, 40 * math.pi),
    "slot": ([polyline(SLOT)], 1200 + 225 * math.pi, 80 + 30 * math.pi),
    "slot of lines and arcs": (
        [line((0, 0), (40, 0)), arc((40, 15), 15, -90, 90), line((40, 30), (0, 30)), arc((0, 15), 15, 90, 270)],
        1200 + 225 * math.pi,
        80 + 30 * math.pi,
    ),
    "rounded": ([polyline(ROUNDED)], 1500 - (4 - math.pi) * 25, 120 + 10 * math.pi),
    "bitten": (
        [polyline([(0, 0), (40, 0), (40, 30), (30, 30, -1.0), (10, 30), (0, 30)])],
        1200 - 50 * math.pi,
        120 + 10 * math.pi,
    ),
    "three quarters of a circle": (
        [arc((0, 0), 20, 90, 360), line((0, 0), (0, 20)), line((20, 0), (0, 0))],
        300 * math.pi,
        30 * math.pi + 40,
    ),
    "lens": ([arc((-10, 0), 20, -60, 60), arc((10, 0), 20, 120, 240)], 400 * (2 * math.pi / 3 - math.sqrt(3) / 2), 80 * math.pi / 3),
    "ring": ([circle((0, 0), 30), circle((0, 0), 27)], (900 - 729) * math.pi, 114 * math.pi),
    "hole first": ([circle((50, 50), 4), box(0, 0, 100, 100)], 10000 - 16 * math.pi, 400 + 8 * math.pi),
    "two holes": (
        [box(0, 0, 60, 40), circle((15, 20), 10), box(35, 10, 55, 30)],
        2400 - 100 * math.pi - 400,
        200 + 20 * math.pi + 80,
    ),
    "rounded tube": (
        [polyline(ROUNDED), polyline([(x * 0.8 + 5, y * 0.8 + 3, *b) for x, y, *b in ROUNDED][::-1] and _scaled)]
        if (_scaled := [])
        else [polyline(ROUNDED), box(10, 8, 40, 22)],
        1500 - (4 - math.pi) * 25 - 420,
        120 + 10 * math.pi + 88,
    ),
}
