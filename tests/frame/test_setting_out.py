"""Corners, check measures and coordinates that a fitter sets a frame out by; expected values by hand."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, sqrt, tan

import pytest

import mitertool as mt
from mitertool.frame import Assembly, Joint, planar, rectangle
from mitertool.frame.braces import corner_to_corner
from mitertool.frame.polygons import regular
from mitertool.frame.setting_out import SettingOut, setting_out

BAR = mt.flat(80, 12)


def polygon(lines: list[complex], joint: Joint | None = None, closed: bool = True) -> Assembly:
    count = len(lines) if closed else len(lines) - 1
    joints = [joint or Joint()] * (count if closed else count - 1)
    return planar("polygon", lines, [BAR] * count, "outside", joints, closed)


def out(assembly: Assembly) -> SettingOut:
    found = setting_out(assembly)
    assert found is not None
    return found


def near(*values: float) -> object:
    return pytest.approx(values if len(values) > 1 else values[0], abs=1e-9)


def flat(corners: tuple[object, ...], name: str = "at") -> list[float]:
    return [part for one in corners for part in (getattr(one, name).real, getattr(one, name).imag)]


def test_a_rectangle_begins_at_its_lower_left_corner_and_goes_round_clockwise() -> None:
    corners = out(rectangle(BAR, 2000, 1000, "outside", 3.0)).corners
    assert [one.number for one in corners] == [1, 2, 3, 4]
    assert flat(corners) == near(0, 0, 0, 1000, 2000, 1000, 2000, 0)
    assert [(one.before, one.after) for one in corners] == [
        ("FRAME-1", "FRAME-2"),
        ("FRAME-2", "FRAME-1"),
        ("FRAME-1", "FRAME-2"),
        ("FRAME-2", "FRAME-1"),
    ]
    assert [(one.angle, one.gap) for one in corners] == [(near(90), 3.0)] * 4


def test_both_diagonals_of_a_rectangle_are_its_hypotenuse() -> None:
    measures = out(rectangle(BAR, 2000, 1000, "outside")).measures
    assert [(one.first, one.second) for one in measures] == [(1, 3), (2, 4)]
    assert [one.length for one in measures] == [near(sqrt(2000**2 + 1000**2))] * 2


def test_over_mitered_points_a_tape_lies_in_the_middle_of_the_gap() -> None:
    """Each point stands back gap / 2 / cos 45 along its edge, so their middle half of that along both."""
    frame = out(rectangle(BAR, 2000, 1000, "outside", 4.0))
    back = 4.0 / 2 / cos(pi / 4) / 2
    assert flat(frame.corners, "over")[:2] == near(back, back)
    assert [one.length for one in frame.measures] == [near(hypot(2000 - 2 * back, 1000 - 2 * back))] * 2


def test_over_a_butted_corner_a_tape_lies_on_the_member_that_runs_through() -> None:
    corners = out(rectangle(BAR, 2000, 1000, "outside", 4.0, corners="butt", through="height")).corners
    assert flat(corners, "over") == near(0, 0, 0, 1000, 2000, 1000, 2000, 0)
    assert flat(corners) == near(0, 0, 0, 1000, 2000, 1000, 2000, 0)


def test_a_regular_hexagon_has_a_fan_and_one_more() -> None:
    """Side a: from a corner to the next but one a * sqrt(3), to the one across 2 a."""
    measures = out(polygon(list(regular(6, "side", 500.0)))).measures
    short, wide = near(500 * sqrt(3)), near(1000)
    assert [(one.first, one.second, one.length) for one in measures] == [
        (1, 3, short),
        (1, 4, wide),
        (1, 5, short),
        (2, 6, short),
    ]


def test_many_corners_are_proved_across() -> None:
    measures = out(polygon(list(regular(24, "across_corners", 4000.0)))).measures
    assert len(measures) <= 6
    assert all(one.second - one.first == 12 for one in measures)
    assert [one.length for one in measures] == [near(4000)] * len(measures)


def test_three_sides_prove_themselves() -> None:
    assert out(polygon([0j, 400 + 900j, 1000 + 0j])).measures == ()


def test_an_open_frame_begins_and_ends_free() -> None:
    """A leg up 800, then 600 to the right: its ends are hypot(600, 800) = 1000 apart."""
    frame = out(polygon([0j, 800j, 600 + 800j], closed=False))
    corners = frame.corners
    assert flat(corners) == near(0, 0, 0, 800, 600, 800)
    assert [(one.before, one.joint, one.angle) for one in corners] == [
        ("", None, None),
        ("FRAME-1", 0, near(90)),
        ("FRAME-2", None, None),
    ]
    (across,) = frame.measures
    assert (across.first, across.second, across.length) == (1, 3, near(1000))


def test_a_brace_has_no_corners() -> None:
    assert setting_out(corner_to_corner(BAR, 1000, 900, ["level", "plumb"])) is None


def test_a_slanted_side() -> None:
    """A house: from (0, 0) up 700, the roof at 40 degrees over a width of 1000."""
    top = 500 + (700 + 500 * tan(radians(40))) * 1j
    corners = out(polygon([0j, 700j, top, 1000 + 700j, 1000 + 0j])).corners
    assert flat(corners)[4:6] == near(500, 700 + 500 * sin(radians(40)) / cos(radians(40)))
    assert corners[2].angle == near(100)
