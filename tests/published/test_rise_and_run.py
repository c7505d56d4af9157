"""Braces by rise and run against the rafter table of the framing square.

Source: `data/rise_and_run.csv`. The cells under "published" are READ: hip length 18 per foot at 6 in 12 (Radford's
Cyclopedia of Construction, vol. 3, roof framing); common lengths 17.69 at 13 in 12 and 20.00 at 16 in 12 (US Army
carpentry manual, framing-square table, stored web copy). All other cells are COMPUTED from sqrt(12^2 + r^2) and
sqrt(288 + r^2). A hip runs over the diagonal of a square foot, 16.97 in for 12 (READ: Griffith, Carpentry, sec. 20).

Tolerance: half a unit of the last printed figure: four decimals of an inch, five of a degree; two decimals where the
published cell has two.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.frame.braces import rise_and_run
from mitertool.piece import Piece

INCH = 25.4
TIMBER = mt.flat(1.5 * INCH, 3.5 * INCH)
HIP_RUN = math.hypot(12, 12)

Row = dict[str, str]


def rows() -> list[Row]:
    file = Path(__file__).with_name("data") / "rise_and_run.csv"
    with file.open(encoding="utf-8", newline="") as opened:
        return list(csv.DictReader(opened))


every_row = pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['rise_in_per_12']} in 12")


def member(rise: float, run: float, *ends: str) -> Piece:
    """The piece for a rise and a run in inches."""
    return rise_and_run(TIMBER, rise * INCH, run * INCH, ends or ("square", "square")).pieces[0].piece


@every_row
def test_common(row: Row) -> None:
    """Per foot of run."""
    piece = member(float(row["rise_in_per_12"]), 12)
    assert piece.centerline / INCH == pytest.approx(float(row["common_per_ft_run"]), abs=5.01e-5)


@every_row
def test_hip(row: Row) -> None:
    piece = member(float(row["rise_in_per_12"]), HIP_RUN)
    assert piece.centerline / INCH == pytest.approx(float(row["hip_per_ft_run"]), abs=5.01e-5)


@every_row
def test_difference_of_jacks(row: Row) -> None:
    """Jacks 16 in apart differ by the common length over 16 in of run."""
    piece = member(float(row["rise_in_per_12"]) * 16 / 12, 16)
    assert piece.centerline / INCH == pytest.approx(float(row["jack_diff_16oc_in"]), abs=5.01e-5)


@every_row
def test_cuts(row: Row) -> None:
    """From square a plumb cut shows the slope of the roof, a level cut (the seat) the rest of the right angle."""
    slope = float(row["roof_slope_deg"])
    piece = member(float(row["rise_in_per_12"]), 12, "level", "plumb")
    assert piece.right.miter == pytest.approx(slope, abs=5.01e-6)
    assert piece.left.miter == pytest.approx(90 - slope, abs=5.01e-6)


@pytest.mark.parametrize(
    ("rise", "run", "published", "tolerance"),
    [(6, HIP_RUN, 18, 1e-9), (13, 12, 17.69, 5.01e-3), (16, 12, 20.00, 1e-9), (0.001, HIP_RUN, 16.97, 5.01e-3)],
    ids=["hip at 6", "common at 13", "common at 16", "run of a hip"],
)
def test_printed(rise: float, run: float, published: float, tolerance: float) -> None:
    assert member(rise, run).centerline / INCH == pytest.approx(published, abs=tolerance)
