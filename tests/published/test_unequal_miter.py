"""The mitered corner of two members of unequal width, against the pitch cones of bevel gears.

Source: straight bevel gears at any shaft angle S, tan d1 = sin S / (u + cos S) with u = z2 / z1 and d1 + d2 = S: KHK
Gear Technical Reference, "calculation of gear dimensions" (READ in public code that cites the page); Machinery's
Handbook, bevel gearing (MEMORY). The seam of a corner is the common side of the two cones, so u is the ratio of the
widths. `data/unequal_miter.csv`: COMPUTED from the formula. The gear pair 20/40 at 90 degrees has pitch angles 26 deg
34 min and 63 deg 26 min in every table (MEMORY).

Tolerance: half a unit of the last figure in the file (six decimals); 30 seconds for the gear pair, tabled in minutes.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

import mitertool as mt

Row = dict[str, str]


def rows() -> list[Row]:
    file = Path(__file__).with_name("data") / "unequal_miter.csv"
    with file.open(encoding="utf-8", newline="") as opened:
        return list(csv.DictReader(opened))


ROWS = rows()
IDS = [f"{r['included_angle_S_deg']} 1:{r['ratio_u_w2_over_w1']}" for r in ROWS]

every_row = pytest.mark.parametrize("row", ROWS, ids=IDS)


@pytest.mark.parametrize("narrow", [1.0, 40.0])
@every_row
def test_row(row: Row, narrow: float) -> None:
    joint = mt.corner(narrow, narrow * float(row["ratio_u_w2_over_w1"]), float(row["included_angle_S_deg"]))
    assert joint.miter_a == pytest.approx(float(row["saw_from_square_narrow_deg"]), abs=5.01e-7)
    assert joint.miter_b == pytest.approx(float(row["saw_from_square_wide_deg"]), abs=5.01e-7)
    assert joint.seam / narrow == pytest.approx(float(row["cut_length_over_w1"]), abs=5.01e-7)


@every_row
def test_the_wider_first(row: Row) -> None:
    """The corner read the other way round has the two miters the other way round."""
    joint = mt.corner(float(row["ratio_u_w2_over_w1"]), 1.0, float(row["included_angle_S_deg"]))
    assert joint.miter_a == pytest.approx(float(row["saw_from_square_wide_deg"]), abs=5.01e-7)
    assert joint.miter_b == pytest.approx(float(row["saw_from_square_narrow_deg"]), abs=5.01e-7)


@pytest.mark.parametrize("angle", [20.0, 60.0, 90.0, 100.0, 150.0])
@pytest.mark.parametrize("teeth", [(20, 40), (17, 17), (15, 52), (40, 20)])
def test_pitch_cones(teeth: tuple[int, int], angle: float) -> None:
    """The formula itself, with atan2 for cones of more than 90 degrees."""
    s, u = math.radians(angle), teeth[1] / teeth[0]
    pitch = math.degrees(math.atan2(math.sin(s), u + math.cos(s)))
    joint = mt.corner(teeth[0], teeth[1], angle)
    assert 90 - joint.miter_a == pytest.approx(pitch, abs=1e-9)
    assert 90 - joint.miter_b == pytest.approx(angle - pitch, abs=1e-9)


def test_gear_pair_of_the_tables() -> None:
    joint = mt.corner(20, 40, 90)
    assert 90 - joint.miter_a == pytest.approx(26 + 34 / 60, abs=0.5 / 60)
    assert 90 - joint.miter_b == pytest.approx(63 + 26 / 60, abs=0.5 / 60)
