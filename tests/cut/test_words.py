"""Cuts as a person gives them: from square, from the bar, as a corner, as rise and run."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.cut import cut_from, from_bar, from_corner


@pytest.mark.parametrize(
    ("given", "miter", "bevel"),
    [
        (45, 45, 0),
        (-22.5, -22.5, 0),
        ("45", 45, 0),
        ("-22 1/2", -22.5, 0),
        ("22°30'", 22.5, 0),
        ("60 from bar", 30, 0),
        ("60 from-bar", 30, 0),
        ("90 From Bar", 0, 0),
        ("90 corner", 45, 0),
        ("120 corner", 30, 0),
        ("180 corner", 0, 0),
        ("1:1", 45, 0),
        ("3:12", math.degrees(math.atan(0.25)), 0),
        ({}, 0, 0),
        ({"miter": 30, "bevel": -10}, 30, -10),
        ({"bevel": "15"}, 0, 15),
        ({"slope": "1:1", "bevel": 5}, 45, 5),
        ({"from_bar": 60}, 30, 0),
        ({"from_bar": 60, "long": "moving"}, 30, 0),
        ({"from_bar": 60, "long": "fixed"}, -30, 0),
        ({"corner": 120}, 30, 0),
        ({"corner": "100"}, 40, 0),
    ],
)
def test_read(given: object, miter: float, bevel: float) -> None:
    cut = cut_from(given, "left")
    assert (cut.miter, cut.bevel) == pytest.approx((miter, bevel))


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (90, r"left: miter: found 90.0?; a miter must be more than -90 and less than 90"),
        ("95", r"left: miter: found 95.0?; a miter must be"),
        ("nan", r"left: found 'nan'"),
        (math.nan, r"left: found nan"),
        (True, r"left: found True"),
        ("square", r"left: found 'square'"),
        ("", r"left: found ''"),
        ("0 from bar", r"left: found 0.0?; an angle to the bar is more than 0 and at most 90"),
        ("91 from bar", r"left: found 91.0?; an angle to the bar"),
        ("0 corner", r"left: found 0.0?; an included angle is more than 0 and at most 180"),
        ("200 corner", r"left: found 200.0?; an included angle"),
        ({"miter": 30, "corner": 90}, r"left: found 'miter and corner'; give the cut one way only"),
        ({"long": "fixed"}, r"left: found 'long'; long goes with from_bar"),
        ({"from_bar": 60, "long": "left"}, r"long: found 'left'; allowed: moving, fixed"),
        ({"mitre": 45}, r"left, unknown key: found 'mitre'; did you mean miter\?"),
        ({"bevel": 90}, r"left: bevel: found 90.0?; a bevel must be"),
        ({"from_bar": 120}, r"left from_bar: found 120.0?; an angle to the bar"),
    ],
)
def test_refused(given: object, says: str) -> None:
    with pytest.raises(mt.BadInput, match=says):
        cut_from(given, "left")


def test_plain_functions() -> None:
    assert (from_bar(90), from_bar(45), from_bar(30, "fixed")) == (0, 45, -60)
    assert (from_corner(90), from_corner(180), from_corner(60)) == (45, 0, 60)
