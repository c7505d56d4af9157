"""Cuts by hand: slopes, stretch and kerf from the tangents and cosines of 30, 45 and 60 degrees."""

from __future__ import annotations

import math

import pytest

import mitertool as mt

R2, R3 = math.sqrt(2), math.sqrt(3)


@pytest.mark.parametrize(
    ("miter", "bevel", "p", "q", "stretch"),
    [
        (0, 0, 0, 0, 1),
        (45, 0, 1, 0, R2),
        (-45, 0, -1, 0, R2),
        (0, 45, 0, 1, R2),
        (45, 45, 1, R2, 2),
        (60, 30, R3, 2 / R3, 4 / R3),
        (-60, 30, -R3, 2 / R3, 4 / R3),
        (30, -60, 1 / R3, -2, 4 / R3),
    ],
)
def test_slopes_and_stretch(miter: float, bevel: float, p: float, q: float, stretch: float) -> None:
    """q is tan(bevel) / cos(miter); the stretch is 1 / (cos(miter) cos(bevel))."""
    cut = mt.Cut(miter, bevel)
    assert (cut.p, cut.q) == pytest.approx((p, q), abs=1e-12)
    assert cut.kerf_along(3) == pytest.approx(3 * stretch)
    back = mt.Cut.from_slopes(p, q)
    assert (back.miter, back.bevel) == pytest.approx((miter, bevel), abs=1e-12)


def test_a_square_cut_needs_no_words() -> None:
    assert mt.Cut() == mt.Cut(0, 0)
    assert mt.Cut(45).reversed == mt.Cut(-45)
    assert mt.Cut(30, -20).reversed == mt.Cut(-30, 20)


@pytest.mark.parametrize("angle", [90, -90, 90.0001, 180, -123, math.nan, math.inf, -math.inf, "45", None])
@pytest.mark.parametrize("which", ["miter", "bevel"])
def test_refused(which: str, angle: float) -> None:
    with pytest.raises(mt.BadInput, match=rf"{which}: found .*a {which} must be more than -90 and less than 90"):
        mt.Cut(**{which: angle})


@pytest.mark.parametrize("slopes", [(math.nan, 0), (0, math.nan), (math.inf, 0), (0, math.inf)])
def test_slopes_refused(slopes: tuple[float, float]) -> None:
    with pytest.raises(mt.BadInput, match=r"must be more than -90 and less than 90"):
        mt.Cut.from_slopes(*slopes)


@pytest.mark.parametrize("angle", [89.999, -89.999])
def test_just_inside(angle: float) -> None:
    assert abs(mt.Cut(angle).p) == pytest.approx(1 / math.tan(math.radians(0.001)))


def test_values_are_frozen() -> None:
    cut = mt.Cut(45)
    with pytest.raises(AttributeError):
        cut.miter = 30  # type: ignore[misc]
    assert cut == mt.Cut(45.0)
    assert hash(cut) == hash(mt.Cut(45.0))


@pytest.mark.parametrize(
    ("angle", "p", "q"), [(0, 2, 3), (90, -3, 2), (180, -2, -3), (-90, 3, -2), (45, -R2 / 2, 5 / R2)]
)
def test_a_cut_turned_about_the_bar(angle: float, p: float, q: float) -> None:
    """Its slopes (2, 3) are a vector, which a turn takes along: (2 cos - 3 sin, 2 sin + 3 cos)."""
    turned = mt.Cut.from_slopes(2, 3).turned(angle)
    assert (turned.p, turned.q) == pytest.approx((p, q), abs=1e-12)
