"""Segmented bends of pipe against worked examples in print.

Source: `data/pipe_bends.csv`: L1 = 2 R tan(theta), theta = D/(2N), ends half of it, half cut-back = (OD/2) tan(theta),
inside and outside (2R -+ OD) tan(theta); rows COMPUTED from these but for what `published` holds, READ in stored
copies: a piping-engineering article (10 in pipe by four cuts), a worksheet after ASME B31.1 104.3.3 (R 1000, three
cuts, mean radius 490, which its S, end x and throat B are told by), and a fitters' article whose cut-back is cut
short after two decimals.

Tolerance: half a unit of the last figure, the throat B and the end x half a mm as printed.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.frame import elbow

Row = dict[str, str]

with (Path(__file__).with_name("data") / "pipe_bends.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))

every_row = pytest.mark.parametrize("row", ROWS, ids=[row["case"] for row in ROWS])

TENTH = 5.1e-5
"""mm. The file has four decimals."""


def given(row: Row) -> tuple[float, float, float, int]:
    return float(row["OD"]), float(row["R"]), float(row["bend_deg"]), int(row["cuts_N"])


@every_row
def test_figures(row: Row) -> None:
    made = mt.bend(*given(row))
    assert made.miter == float(row["theta_deg"])
    found = made.centerline, made.end_centerline, made.cut_back, made.throat, made.heel
    names = "full_piece_centre", "end_piece_centre", "cutback_total_half", "full_inside", "full_outside"
    assert found == pytest.approx([float(row[name]) for name in names], abs=TENTH)


@every_row
def test_the_pieces_of_an_elbow_are_these(row: Row) -> None:
    od, radius, angle, cuts = given(row)
    made = elbow(mt.round_tube(od, 5), radius, angle, cuts)
    piece = {member.mark: member.piece for member in made.pieces}
    assert len(made.order) == int(row["pieces"])
    assert piece[made.order[0]].centerline == pytest.approx(float(row["end_piece_centre"]), abs=TENTH)
    for mark in made.order[1:-1]:
        assert piece[mark].long_point == pytest.approx(float(row["full_outside"]), abs=TENTH)
        assert piece[mark].short_point == pytest.approx(float(row["full_inside"]), abs=TENTH)


def test_as_printed() -> None:
    ten_inch = mt.bend(273, 381, 90, 4)
    assert ten_inch.centerline == pytest.approx(151.6, abs=0.05)
    assert ten_inch.end_centerline == pytest.approx(75.8, abs=0.05)
    assert ten_inch.cut_back == pytest.approx(27.15, abs=0.005)
    wide = mt.bend(980, 1000, 90, 3)
    assert wide.centerline == pytest.approx(535.90, abs=0.005)
    assert wide.throat == pytest.approx(273, abs=0.5)
    assert wide.end_centerline == pytest.approx(268, abs=0.5)
    assert 22.50 <= mt.bend(168, 228.5, 90, 3).cut_back < 22.51
