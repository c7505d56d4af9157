"""Compound angles of regular hoppers, the dihedral angles of Plato's solids, and a sprung moulding.

Source: D. L. Snyder and W. Gottesman, Compound-Angle Joinery (2014, revised 2015): tan(miter) = tan A cos S and
sin(bevel) = sin A sin S with A = 180/n, lying flat; on edge 90 - S stands in the place of S. `data/compound_ngon.csv`:
COMPUTED from these and derived again with vectors elsewhere. `data/compound_anchors.csv`: dihedral angles as printed in
CRC Standard Mathematical Tables, two decimals, READ; their faces have corners of 60 degrees, so the miter is 30; the
moulding, 38 and 52 degrees to the wall, of a trade article of 2007, READ.

Tolerance: half a unit of the last printed figure; a ten-thousandth of a degree on what a slope of six decimals leaves.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.frame import hopper
from mitertool.frame.hoppers import Sizes
from mitertool.frame.leaning import on_edge

Row = dict[str, str]

DATA = Path(__file__).with_name("data")
OF_SLOPE = 1e-4
SIX = 1e-6


def rows(name: str) -> list[Row]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


NGON = rows("compound_ngon.csv")
ANCHORS = rows("compound_anchors.csv")

every_hopper = pytest.mark.parametrize("row", NGON, ids=[f"{r['n']} at {r['slope_from_horizontal_deg']}" for r in NGON])
every_anchor = pytest.mark.parametrize("row", ANCHORS, ids=[r["case"] for r in ANCHORS])


@every_hopper
def test_lying_flat(row: Row) -> None:
    cut = mt.hopper_cut(int(row["n"]), float(row["slope_from_horizontal_deg"]))
    assert cut.miter == pytest.approx(float(row["miter_flat_deg"]), abs=SIX)
    assert cut.bevel == pytest.approx(float(row["bevel_flat_deg"]), abs=SIX)


@every_hopper
def test_on_edge(row: Row) -> None:
    """The bevel is told as the long point lies, below."""
    edge = on_edge(mt.hopper_cut(int(row["n"]), float(row["slope_from_horizontal_deg"])))
    assert edge.miter == pytest.approx(float(row["miter_on_edge_deg"]), abs=SIX)
    assert edge.bevel == pytest.approx(-float(row["bevel_on_edge_deg"]), abs=SIX)


@every_hopper
def test_the_same_out_of_sizes(row: Row) -> None:
    """A hopper of that slope by its bottom, top and height: its planes are crossed in space, no formula is used."""
    slope = math.radians(float(row["slope_from_horizontal_deg"]))
    made = hopper(5.0, int(row["n"]), Sizes(1000.0, 1000.0 + 200 / math.tan(slope), 100.0), "outside")
    (one,) = made.leaning
    assert one.dihedral == pytest.approx(float(row["dihedral_deg"]), abs=SIX)
    assert one.piece.left.miter == pytest.approx(float(row["miter_flat_deg"]), abs=SIX)
    assert one.piece.left.bevel == pytest.approx(float(row["bevel_flat_deg"]), abs=SIX)


@every_anchor
def test_anchor(row: Row) -> None:
    cut = mt.hopper_cut(int(row["n"]), float(row["slope_deg"]))
    printed = row["dihedral_published_deg"]
    if printed:
        assert 180 - 2 * cut.bevel == pytest.approx(float(printed), abs=0.005)
        assert cut.miter == pytest.approx(float(row["miter_expected_deg"]), abs=OF_SLOPE)
    assert 180 - 2 * cut.bevel == pytest.approx(float(row["dihedral_formula_deg"]), abs=OF_SLOPE)
    assert cut.miter == pytest.approx(float(row["miter_formula_deg"]), abs=OF_SLOPE)
    assert cut.bevel == pytest.approx(float(row["bevel_formula_deg"]), abs=OF_SLOPE)


def test_a_moulding_sprung_at_52_degrees() -> None:
    cut = mt.hopper_cut(4, 52)
    assert (round(cut.miter, 1), round(cut.bevel, 1)) == (31.6, 33.9)
