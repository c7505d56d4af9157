"""The words for laying a section, the lays that differ, and how a square cut compares in each: by hand.

A lay is worth looking at by the largest contact over the mean width of cut, which is the area over the height.
"""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.cut.survey import LaySurvey, survey
from mitertool.sections import laid_by, lies_safely
from mitertool.sections.lay import base, distinct_lays
from mitertool.sections.shapes.angle import heel_up
from tests.specimens import SPECIMENS, scanline

R2 = math.sqrt(2)
EQUAL = mt.angle(50, 50, 5)
UNEQUAL = mt.angle(60, 40, 6)
CHANNEL = mt.channel(40, 80, 5, 6)
ANGLES = [
    *(EQUAL, UNEQUAL, mt.angle(40, 60, 6), mt.angle(50, 50, 5, 7, 3.5)),
    *(mt.angle(65, 100, 8, 10, 5), mt.angle(100, 65, 8, 10, 5), mt.angle(40, 40, 4, 5, 4)),
]


def name_of(value: object) -> str:
    return value.name if isinstance(value, mt.Section) else str(value)


@pytest.mark.parametrize("angle", ANGLES, ids=name_of)
def test_heel_up_rests_on_both_toes(angle: mt.Section) -> None:
    """Just above the bed there is metal in two places, a toe at either side, and the bed reaches from one to the other;
    the heel is all that there is at the top."""
    laid = laid_by(angle, "heel up")
    assert len(scanline(laid, 1e-4)) == 2
    left, right = base(laid)
    assert 0 <= left < right <= laid.width
    assert right - left > 0.7 * laid.width
    assert lies_safely(laid)
    ((a, b),) = scanline(laid, laid.height - 1e-4)
    assert b - a < 1e-3


@pytest.mark.parametrize("angle", [angle for angle in ANGLES if angle.width == angle.height], ids=name_of)
def test_equal_legs_lie_at_225(angle: mt.Section) -> None:
    assert heel_up(angle) == pytest.approx(225)


def test_heel_up_of_a_sharp_angle() -> None:
    """On the inner corners of the toes, (60, 6) and (6, 40): the bed is the line through them, 54 by 34, and the heel
    is as high over it as (0, 0) is from that line."""
    laid = laid_by(UNEQUAL, "heel up")
    assert laid.rotation == pytest.approx(180 + math.degrees(math.atan2(34, 54)))
    assert laid.height == pytest.approx((60 * 40 - 6 * 6) / math.hypot(54, 34))


@pytest.mark.parametrize(
    ("section", "words"),
    [
        (EQUAL, ["leg flat", "heel up"]),
        (CHANNEL, ["toes up", "toes down"]),
        (mt.rect_tube(50, 50, 3), []),
        (mt.i_section(55, 100, 4.1, 5.7), []),
        (mt.tee(60, 60, 7, 7), []),
    ],
    ids=name_of,
)
def test_words(section: mt.Section, words: list[str]) -> None:
    assert list(section.shape.lays(section)) == words
    for word in words:
        assert laid_by(section, word) == laid_by(section, f"  {word.upper().replace(' ', '   ')} ")


def test_toes_up_and_down() -> None:
    """The web, 80 by 5, is at the bottom or at the top."""
    up, down = laid_by(CHANNEL, "toes up"), laid_by(CHANNEL, "toes down")
    assert (up.width, up.height, down.width, down.height) == pytest.approx((80, 40, 80, 40))
    assert scanline(up, 2.5) == [pytest.approx((0, 80))]
    assert scanline(up, 37) == [pytest.approx((0, 6)), pytest.approx((74, 80))]
    assert scanline(down, 37.5) == [pytest.approx((0, 80))]
    assert scanline(down, 3) == [pytest.approx((0, 6)), pytest.approx((74, 80))]


@pytest.mark.parametrize(
    ("lay", "rotation"), [(90, 90), ("90", 90), ("-90°", 270), (0, 0), ("22 1/2", 22.5), (450.0, 90)]
)
def test_degrees(lay: object, rotation: float) -> None:
    assert laid_by(UNEQUAL, lay).rotation == pytest.approx(rotation)


@pytest.mark.parametrize(
    ("section", "lay", "says"),
    [
        (EQUAL, "toes up", "lay: found 'toes up'; angle 50x50x5 may lie leg flat, heel up, or give degrees such as 90"),
        (EQUAL, "heel", "lay: found 'heel'; angle 50x50x5 may lie leg flat, heel up, or give degrees such as 90"),
        (CHANNEL, "heel up", "lay: found 'heel up'; channel 80x40x5 may lie toes up, toes down, or give degrees"),
        (mt.flat(80, 12), "heel up", "lay: found 'heel up'; flat 80x12 has no such words, or give degrees such as 90"),
        (EQUAL, "9O", "lay: found '9O'; it cannot be read; write an angle in degrees"),
        (EQUAL, "", "lay: found ''; it is empty; write an angle in degrees"),
        (EQUAL, None, "lay: found None; it must be a number or text; write an angle in degrees"),
        (EQUAL, math.nan, "lay: found nan; "),
    ],
    ids=name_of,
)
def test_no_lay(section: mt.Section, lay: object, says: str) -> None:
    with pytest.raises(mt.BadInput) as caught:
        laid_by(section, lay)
    assert str(caught.value).startswith(says)


@pytest.mark.parametrize(
    ("section", "rotations"),
    [
        (mt.round_bar(50), [0]),
        (mt.round_tube(60, 3), [0]),
        (mt.rect_tube(50, 50, 3), [0]),
        (mt.flat(80, 12), [0, 90]),
        (mt.rect_tube(40, 80, 3), [0, 90]),
        (mt.i_section(55, 100, 4.1, 5.7), [0, 90]),
        (mt.tee(60, 70, 7, 7), [0, 90, 180]),
        (CHANNEL, [0, 90, 270]),
        (EQUAL, [0, 180, 225]),
        (UNEQUAL, [0, 90, 180, 270, 180 + math.degrees(math.atan2(34, 54))]),
    ],
    ids=name_of,
)
def test_lays_that_differ(section: mt.Section, rotations: list[float]) -> None:
    """Left and right are alike: an equal angle at 90 shows the same as at 0, mirrored."""
    assert [laid.rotation for laid in distinct_lays(section)] == pytest.approx(rotations)


def in_ranks(section: mt.Section) -> list[LaySurvey]:
    found = list(survey(section))
    assert [one.rank for one in found] == list(range(1, len(found) + 1))
    return found


def test_a_flat_is_even_either_way() -> None:
    """Then the lower one goes first."""
    lying, on_edge = in_ranks(mt.flat(80, 12))
    assert (lying.largest, lying.mean, lying.evenness) == pytest.approx((80, 80, 1))
    assert (on_edge.largest, on_edge.mean, on_edge.evenness) == pytest.approx((12, 12, 1))


def test_a_sharp_tube() -> None:
    """264 mm2; the walls above and below are met all at once."""
    lying, standing = in_ranks(mt.rect_tube(40, 30, 2, 0, 0))
    assert (lying.largest, lying.thinnest, lying.mean) == pytest.approx((40, 2, 264 / 30))
    assert (standing.largest, standing.thinnest, standing.mean) == pytest.approx((30, 2, 264 / 40))


def test_an_angle_is_best_heel_up() -> None:
    """475 mm2. On its toes, 55 / sqrt 2 high, the blade meets two legs of 5 sqrt 2; flat it meets a whole leg. Upside
    down it does not lie safely and comes last."""
    toes, flat, upside_down = in_ranks(EQUAL)
    assert toes.section.rotation == pytest.approx(225)
    assert (toes.largest, toes.mean) == pytest.approx((10 * R2, 475 / (55 / R2)))
    assert (flat.section.rotation, flat.largest, flat.mean) == pytest.approx((0, 50, 9.5))
    assert (toes.safe, flat.safe, upside_down.safe) == (True, True, False)


@pytest.mark.parametrize("name", SPECIMENS)
def test_ranks(name: str) -> None:
    """Safe lays first, among these the more even, and nothing is more even than even."""
    found = in_ranks(SPECIMENS[name])
    keys = [(not one.safe, round(one.evenness, 6)) for one in found]
    assert keys == sorted(keys)
    for one in found:
        assert one.evenness >= 1 - 1e-9
        assert one.thinnest <= one.largest + 1e-9
        assert one.safe == lies_safely(one.section)
