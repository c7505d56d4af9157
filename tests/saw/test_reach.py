"""Settings of a cut where the arm swings one way only, and where a bevel must be made without a tilting blade.

Expected values are worked by hand: a half turn about the bar axis changes the sign of both slopes, so the swing
changes its sign; a bevel on an upright blade needs roll = atan2(q, p) and swing = atan(sqrt(p^2 + q^2)), for the
plane turned about the bar keeps its steepness.
"""

from __future__ import annotations

import importlib

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.saw import Scale
from mitertool.saw.file.machine import Tilt
from mitertool.saw.setting.setting import Setting

ONE_WAY = mt.Saw(name="made up", scale=Scale(90, feed_side_most=60, discharge_side_most=0))
TILTING = mt.Saw(name="made up", tilt=Tilt(-10, 45))

SAFE = {
    "rectangular tube": mt.rect_tube(40, 80, 3),
    "flat": mt.flat(80, 10),
    "round tube": mt.round_tube(60.3, 3.6),
    "channel, web standing": mt.channel(50, 100, 6, 8.5),
    "channel, toes up": mt.channel(50, 100, 6, 8.5).lay(90),
    "I section": mt.i_section(55, 100, 4.1, 5.7),
}
LEGS = {
    "equal angle": mt.angle(50, 50, 5, 7, 3.5),
    "unequal angle": mt.angle(100, 65, 8, 10, 5),
    "heel away from the fixed jaw": mt.angle(50, 50, 5).lay(0, turned=True),
}


@pytest.mark.parametrize("name", SAFE)
def test_the_bar_is_rolled_where_the_arm_does_not_go(name: str) -> None:
    """A left +45 asks for 45 to the discharge side; rolled half a turn, for 45 to the feed side: 135 on the scale."""
    reach = ONE_WAY.reach(SAFE[name], mt.Cut(45), "left")
    assert (reach.ok, reach.reasons) == (True, ())
    assert (reach.roll, reach.swing, reach.side, reach.scale) == (180, 45, "feed", 135)


@pytest.mark.parametrize("name", [*SAFE, *LEGS])
def test_the_bar_is_not_rolled_where_the_arm_goes(name: str) -> None:
    reach = ONE_WAY.reach({**SAFE, **LEGS}[name], mt.Cut(45), "right")
    assert (reach.ok, reach.roll, reach.swing, reach.scale) == (True, 0, 45, 135)


@pytest.mark.parametrize("name", LEGS)
def test_an_angle_with_a_leg_flat_is_not_rolled_onto_its_toe(name: str) -> None:
    section = LEGS[name]
    reach = ONE_WAY.reach(section, mt.Cut(45), "left")
    assert (reach.ok, reach.roll, reach.swing) == (False, 0, -45)
    assert [(reason.code, reason.have, reason.need) for reason in reach.reasons] == [("swing", 0, 45)]
    assert reach.reasons[0].says == (
        "needs a swing of 45.00 degrees to the discharge side, where the arm goes to 0; "
        f"{section.name} does not lie safely rolled half a turn: pack it or cut it elsewhere"
    )


def test_a_z_lies_rolled_as_it_was_laid() -> None:
    """On one flange it wants packing either way up; half a turn shows the same section, which was laid so."""
    section = mt.z_section(150, 55, 2, 3, 18)
    reach = ONE_WAY.reach(section, mt.Cut(45), "left")
    assert (reach.ok, reach.roll, reach.swing, reach.scale) == (True, 180, 45, 135)
    assert reach.pack == ONE_WAY.reach(section, mt.Cut(45), "right").pack
    nesting = ONE_WAY.reach(mt.z_section(150, 55, 2, 3, 18, top_flange_width=49), mt.Cut(45), "left")
    assert not nesting.ok


def test_a_swing_beyond_both_sides_is_refused_without_talk_of_rolling() -> None:
    reach = ONE_WAY.reach(SAFE["flat"], mt.Cut(61.5), "right")
    assert not reach.ok
    assert [reason.says for reason in reach.reasons] == [
        "needs a swing of 61.50 degrees to the feed side, where the arm goes to 60"
    ]


def test_a_larger_swing_on_the_other_side_is_reached_by_rolling() -> None:
    """60 one way and 45 the other: a right -50 goes to the discharge side, or rolled to the feed side."""
    saw = mt.Saw(name="made up", scale=Scale(feed_side_most=60, discharge_side_most=45))
    reach = saw.reach(SAFE["flat"], mt.Cut(-50), "right")
    assert (reach.ok, reach.roll, reach.swing) == (True, 180, 50)


@pytest.mark.parametrize(
    ("slopes", "roll", "swing"),
    [
        ((0, 3**-0.5), 90, 30),
        ((0, -1), -90, 45),
        ((1, 1), 45, 54.735610317245346),
        ((-1, 1), 135, 54.735610317245346),
        ((4 / 3, 0), 0, 53.13010235415598),
        ((2, 2), 45, 70.52877936550931),
    ],
)
def test_an_upright_blade_makes_a_bevel_by_rolling_the_bar(
    slopes: tuple[float, float], roll: float, swing: float
) -> None:
    """atan(4/3) is the wide angle of the 3-4-5 triangle, atan(sqrt 2) half the tetrahedral angle of 109.4712 degrees,
    and atan(sqrt 8) the tetrahedron's dihedral angle of 70.5288 degrees."""
    saw = mt.Saw(name="made up", scale=Scale(feed_side_most=80, discharge_side_most=80))
    for end, sign in (("right", 1), ("left", -1)):
        reach = saw.reach(SAFE["rectangular tube"], mt.Cut.from_slopes(*slopes), end)
        assert reach.ok
        assert (reach.roll, reach.swing) == pytest.approx((roll, sign * swing), abs=1e-9)
        assert reach.tilt == 0


def test_a_tilting_blade_takes_miter_and_bevel_as_they_are() -> None:
    reach = TILTING.reach(SAFE["flat"], mt.Cut(30, 20), "right")
    assert (reach.ok, reach.swing, reach.tilt, reach.roll) == (True, 30, 20, 0)


def test_a_tilt_is_refused_with_what_the_blade_has() -> None:
    """Rolled half a turn it would want -50, which is further out still."""
    reach = TILTING.reach(SAFE["flat"], mt.Cut(0, 50), "right")
    assert not reach.ok
    assert [(r.code, r.says, r.have, r.need) for r in reach.reasons] == [
        ("tilt", "needs a tilt of 50.00 degrees, where the blade goes to 45", 45, 50)
    ]


def test_every_reason_is_told_at_once() -> None:
    reach = TILTING.reach(SAFE["flat"], mt.Cut(75, 50), "right")
    assert [reason.code for reason in reach.reasons] == ["swing", "tilt"]


def test_an_end_is_left_or_right() -> None:
    with pytest.raises(BadInput, match=r"^end: found 'top'; allowed: left, right$"):
        ONE_WAY.reach(SAFE["flat"], mt.Cut(), "top")


@pytest.mark.parametrize(("end", "settings"), [("right", 1), ("left", 2)])
def test_the_rolled_bar_is_settled_only_where_the_bar_as_drawn_is_refused(
    end: str, settings: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A right +37 swings to the side to which the arm goes: one setting answers. A left one needs the roll."""
    asked: list[str] = []
    module = importlib.import_module("mitertool.saw.setting.reach")
    monkeypatch.setattr(module, "Setting", lambda *how: asked.append("") or Setting(*how))
    assert ONE_WAY.reach(mt.rect_tube(41.5, 83.5, 3), mt.Cut(37), end).ok
    assert len(asked) == settings
