"""Density by grade, where it is not that of structural steel; knows only names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.sections.section import DENSITY

_BY_START: Final[Mapping[str, float]] = {
    "1.4301": 7900.0,
    "1.4307": 7900.0,
    "1.4401": 8000.0,
    "1.4404": 8000.0,
    "304": 7900.0,
    "316": 8000.0,
    "EN AW-6060": 2700.0,
    "EN AW-6063": 2700.0,
    "EN AW-6082": 2700.0,
    "6060": 2700.0,
    "6061": 2700.0,
    "6063": 2700.0,
    "6082": 2700.0,
}
"""kg/m3 by how the grade starts: stainless as in EN 10088-1, aluminium as in EN 1999-1-1 (both from memory)."""


def density(grade: str) -> float:
    """Density of a grade, kg/m3; 7850 for every grade that is not known to differ."""
    name = grade.strip().upper()
    return next((value for start, value in _BY_START.items() if name.startswith(start)), DENSITY)
