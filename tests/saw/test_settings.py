"""The values of a reach against numbers worked by hand from the plane geometry of a swung blade.

The saw: swing axis at a = 40 mm, kerf 1.2 mm, guides 10 mm half thick, clearance 5 mm, fixed guide at u = -90 mm; arm
hinged at u = -400, z = 90 with its edge 10 mm below the bed at rest, so d = 100. The bar: 60 wide, 40 high.
"""

from __future__ import annotations

import math

import attrs
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import Column, HingedArm
from mitertool.saw import Scale
from mitertool.saw.file.machine import Bed, Guides, Obstacle, Tilt
from mitertool.saw.setting.lays import lays_that_work, lays_told, turned_cut
from mitertool.saw.setting.packing import packing
from mitertool.saw.setting.rows import lead_in, refuse_row, row

BLOCKS = (
    Obstacle("jaw", "feed", "moving-jaw", 30, 200),
    Obstacle("far jaw", "feed", "fixed-jaw", 25, 200),
    Obstacle("support", "discharge", "across", 250, 200),
)
MADE_UP = mt.Saw(
    name="made up",
    kerf=1.2,
    scale=Scale(feed_side_most=60, discharge_side_most=60),
    arm=HingedArm(below_bed=10, lift_highest=60, hinge_u=-400, hinge_z=90, stop_u=350),
    bed=Bed(40, 300, 200),
    guides=Guides(-90, 50, 400, 10, 5),
    obstacles=BLOCKS,
)
SAW = attrs.evolve(MADE_UP, obstacles=tuple(attrs.evolve(block, edge=900) for block in BLOCKS))
COLUMN = attrs.evolve(SAW, kind="column", arm=Column(below_bed=10, lift_highest=300))
OPEN = attrs.evolve(SAW, guides=None)
BAR = mt.rect_tube(60, 40, 4, 0, 0)
R2 = math.sqrt(2)


def test_guides_at_45() -> None:
    """Least gap 60 r2 + 2*10 + 2*5 r2 = 70 r2 + 20; moving guide at (60 - 40) r2 + 10 + 5 r2 + 90 = 25 r2 + 100."""
    reach = SAW.reach(BAR, mt.Cut(45))
    assert reach.guide_opening == pytest.approx(70 * R2 + 20, rel=1e-12)
    assert reach.guide_setting == pytest.approx(25 * R2 + 100, rel=1e-12)


def test_the_fixed_guide_at_45() -> None:
    """It must stand at -40 r2 - 10 - 5 r2 = -45 r2 - 10 = -73.64 or further out."""
    inner = attrs.evolve(SAW, guides=attrs.evolve(SAW.guides, fixed_u=-70))
    (reason,) = inner.reach(BAR, mt.Cut(45)).reasons
    assert (reason.code, reason.have, reason.need) == ("fixed-guide", -70, pytest.approx(-45 * R2 - 10))
    assert inner.reach(BAR, mt.Cut(40)).ok


def test_a_guide_setting_below_the_least_opening_is_no_reason_to_refuse() -> None:
    """A square cut of a 12 mm flat: (12 - 40) + 5 + 90 = 67 mm, where the guides close to 80 mm."""
    wide = attrs.evolve(SAW, guides=attrs.evolve(SAW.guides, opening_least=80))
    reach = wide.reach(mt.flat(12, 50), mt.Cut())
    assert (reach.ok, reach.guide_setting) == (True, pytest.approx(67))


def test_where_both_guides_move_the_setting_is_the_least_gap() -> None:
    loose = attrs.evolve(SAW, guides=attrs.evolve(SAW.guides, fixed_u=None))
    assert loose.reach(BAR, mt.Cut(45)).guide_setting == pytest.approx(70 * R2 + 20)


def test_set_backs_at_45() -> None:
    """Half thickness 10 r2 and clearance 5 for all. The moving jaw's back corner is at y = 90, 50 from the axis; the
    fixed jaw's front at y = 0 is 40 on the side from which the blade swings away; the support's near end is 40 away.
    """
    assert SAW.reach(BAR, mt.Cut(45)).set_backs == pytest.approx(
        {"jaw": 50 + 10 * R2 + 5, "far jaw": -40 + 10 * R2 + 5, "support": 40 + 10 * R2 + 5}
    )
    assert SAW.reach(BAR, mt.Cut(45), "left").set_backs == pytest.approx(
        {"jaw": -20 + 10 * R2 + 5, "far jaw": 65 + 10 * R2 + 5, "support": 210 + 10 * R2 + 5}
    )


def test_a_thick_blade_counts_where_the_guides_are_thin() -> None:
    thin = attrs.evolve(SAW, kerf=3.0, guides=Guides(clearance=5))
    assert thin.reach(BAR, mt.Cut(45)).set_backs["jaw"] == pytest.approx(50 + 1.5 * R2 + 5)


def test_an_adjustable_obstacle_is_set_back_and_refuses_nothing() -> None:
    for adjustable in (True, False):
        block = Obstacle("jaw", "feed", "moving-jaw", 30, 20, 50, adjustable)
        reach = attrs.evolve(SAW, obstacles=(block,)).reach(BAR, mt.Cut(45))
        assert reach.set_backs["jaw"] == pytest.approx(50 + 10 * R2 + 5)
        assert reach.ok is adjustable


def test_a_roll_that_would_clear_an_obstacle_is_told_and_not_taken() -> None:
    """Swung to the other side the blade goes away from the jaw, but a person decides whether the bar is rolled."""
    block = Obstacle("jaw", "feed", "moving-jaw", 30, 20)
    for section, more in ((BAR, "no hindrance"), (mt.angle(60, 60, 6), "does not lie safely")):
        reach = attrs.evolve(SAW, obstacles=(block,)).reach(section, mt.Cut(45))
        assert (reach.ok, reach.roll, [reason.code for reason in reach.reasons]) == (False, 0, ["obstacle"])
        assert more in reach.reasons[0].says


def test_every_obstacle_in_the_way_is_a_reason() -> None:
    close = attrs.evolve(SAW, scale=Scale(feed_side_most=60, discharge_side_most=0))
    close = attrs.evolve(close, obstacles=tuple(attrs.evolve(block, edge=30) for block in BLOCKS))
    reasons = close.reach(BAR, mt.Cut(45)).reasons
    assert [(r.code, r.have) for r in reasons] == [("obstacle", 30), ("obstacle", 30)]
    assert [r.need for r in reasons] == pytest.approx([55 + 10 * R2, 45 + 10 * R2])
    assert "jaw" in reasons[0].says
    assert "support" in reasons[1].says


def test_a_blade_off_its_axis() -> None:
    """8 mm to the feed side: swung to 45 the blade stands 8 r2 - 8 further there, and its foot 8 mm along itself."""
    off = attrs.evolve(SAW, bed=attrs.evolve(SAW.bed, blade_offset=8.0))
    reach = off.reach(BAR, mt.Cut(45))
    assert reach.set_backs["jaw"] == pytest.approx(50 + 10 * R2 + 5 + 8 * R2 - 8)
    assert reach.set_backs["support"] == pytest.approx(40 + 10 * R2 + 5 - 8 * R2 + 8)
    assert reach.guide_setting == pytest.approx(25 * R2 + 100 + 8)


def test_a_tilted_blade_reaches_further_at_the_top_of_an_obstacle() -> None:
    """Tilted by 30 degrees it stands 90 tan 30 further to the feed side at a height of 90 mm; a guide or blade of half
    thickness 10 is 10/cos 30 thick along the bar.
    """
    tilting = attrs.evolve(SAW, tilt=Tilt(0, 45), obstacles=(Obstacle("jaw", "feed", "moving-jaw", 30, 200, 90),))
    tan30 = 1 / math.sqrt(3)
    assert tilting.reach(BAR, mt.Cut(0, 30)).set_backs["jaw"] == pytest.approx(90 * tan30 + 10 * 2 * tan30 + 5)


def test_a_hinged_arm() -> None:
    """alpha = phi + asin(d/r), square cut: the far upper corner is at u = 20, 420 from the hinge and 50 below it; the
    near one at u = -40, 360 from it. First touch is the larger alpha; through the least of the lower corners'.
    """

    def alpha(du: float, dv: float, d: float) -> float:
        return math.degrees(math.atan2(dv, du) + math.asin(d / math.hypot(du, dv)))

    first, through = max(alpha(420, -50, 100), alpha(360, -50, 100)), min(alpha(420, -90, 100), alpha(360, -90, 100))
    lift = max(alpha(420, -50, 105), alpha(360, -50, 105))
    reach = SAW.reach(BAR, mt.Cut())
    assert (reach.first_touch, reach.through) == pytest.approx((first, through), rel=1e-12)
    assert reach.travel == pytest.approx(first - through, rel=1e-10)
    assert reach.arm_lift == pytest.approx(lift, rel=1e-12)
    a = math.radians(lift)
    assert reach.stop_height == pytest.approx(90 + (750 * math.sin(a) - 100) / math.cos(a), rel=1e-12)


def test_the_height_of_the_edge_along_the_blade() -> None:
    """At first touch the edge passes through the corner that it touches, at through through the last lower corner: the
    hinge is at u = -400, so these are the near upper corner (u = -40, 40 up) and the far lower one (u = 20, 0 up).
    """
    reach = SAW.reach(BAR, mt.Cut())
    assert reach.first_touch is not None
    assert reach.through is not None
    assert reach.passage is not None
    arm = reach.passage.arm
    heights = [arm.height(reach.first_touch, u) for u in (-40, 20)]
    assert min(h - 40 for h in heights) == pytest.approx(0, abs=1e-9)
    assert max(arm.height(reach.through, u) for u in (-40, 20)) == pytest.approx(0, abs=1e-9)
    assert attrs.evolve(SAW, arm=None).reach(BAR, mt.Cut()).passage is None


def test_a_hinge_on_the_other_side_is_the_mirror_image() -> None:
    """With the bar's middle over the axis (y = 30) nothing else changes."""
    left = attrs.evolve(SAW, bed=attrs.evolve(SAW.bed, swing_axis=30.0))
    right = attrs.evolve(left, arm=attrs.evolve(left.arm, hinge_u=400, stop_u=-350))
    for cut in (mt.Cut(), mt.Cut(30)):
        one, other = left.reach(BAR, cut), right.reach(BAR, cut)
        for key in ("arm_lift", "first_touch", "through", "stop_height", "largest_contact", "mean_contact"):
            assert getattr(one, key) == pytest.approx(getattr(other, key), rel=1e-9), key


def test_an_arm_is_of_the_kind_of_its_saw() -> None:
    """What a file with that kind and those keys is refused for."""
    with pytest.raises(BadInput, match=r'^arm: found .column.; a saw of kind = "hinged" has another$'):
        attrs.evolve(SAW, arm=Column(10, 300))


def test_a_column() -> None:
    """Level: the top at 40 mm, 10 mm more from rest, 5 mm to clear. The mean is 60*40 - 52*32 = 736 mm2 over 40 mm."""
    reach = COLUMN.reach(BAR, mt.Cut(45))
    assert (reach.first_touch, reach.through, reach.travel) == pytest.approx((50, 10, 40), abs=1e-9)
    assert (reach.arm_lift, reach.stop_height) == pytest.approx((55, 45), abs=1e-9)
    assert (reach.largest_contact, reach.mean_contact) == pytest.approx((60 * R2, 736 / 40 * R2), rel=1e-9)
    assert reach.thinnest_wall == pytest.approx(4 * R2, rel=1e-9)


def test_a_canted_column() -> None:
    """The moving-jaw end higher by 6 degrees: the near upper corner (u = -40) takes the most lift, the far lower
    one (u = 20) the least; to clear by 5 mm square to the edge takes 5/cos 6 of lift.
    """
    t, c = math.tan(math.radians(6)), math.cos(math.radians(6))
    canted = attrs.evolve(COLUMN, arm=attrs.evolve(COLUMN.arm, cant=6))
    reach = canted.reach(BAR, mt.Cut())
    assert (reach.first_touch, reach.through) == pytest.approx((40 + 40 * t + 10, -20 * t + 10), rel=1e-12)
    assert reach.arm_lift == pytest.approx(50 + 40 * t + 5 / c, rel=1e-12)
    assert reach.mean_contact == pytest.approx(736 / c / (40 + 60 * t), rel=1e-9)


@pytest.mark.parametrize(
    ("part", "values"),
    [
        ({"arm": None}, ("arm_lift", "stop_height", "first_touch", "through", "travel", "largest_contact")),
        ({"arm": None}, ("mean_contact", "thinnest_wall", "minutes")),
        ({"guides": None}, ("guide_opening", "guide_setting")),
        ({"bed": Bed()}, ("guide_setting", "arm_lift", "first_touch", "largest_contact", "minutes")),
    ],
)
def test_what_the_file_does_not_say_is_not_given(part: dict[str, None], values: tuple[str, ...]) -> None:
    reach = attrs.evolve(SAW, **part).reach(BAR, mt.Cut(30))
    assert reach.ok
    assert [getattr(reach, key) for key in values] == [None] * len(values)


def test_without_a_swing_axis_obstacles_are_not_judged() -> None:
    assert attrs.evolve(SAW, bed=Bed()).reach(BAR, mt.Cut(30)).set_backs == {}


# bars rolled for a bevel


def test_the_rolled_section_and_its_packing() -> None:
    """Slopes of (1, 1): rolled by 45 degrees, the sharp tube 60 x 40 is (60 + 40)/r2 wide and high.

    Its weight stands 10/r2 past its lowest corner, on the side of the longer wall, whose far end is 60/r2 up.
    """
    reach = OPEN.reach(BAR, mt.Cut.from_slopes(1, 1))
    assert (reach.ok, reach.roll) == (True, pytest.approx(45))
    assert (reach.section.width, reach.section.height) == pytest.approx((100 / R2, 100 / R2))
    assert [pack.height for pack in reach.packs] == pytest.approx([60 / R2, 40 / R2])
    assert reach.pack == reach.packs[0]
    assert reach.pack is not None


def test_the_other_roll_where_the_arm_goes_only_there() -> None:
    """Slopes (1, 1) at the right ask for 54.74 to the feed side at roll 45, or to the discharge side at roll -135."""
    for most, swing, roll in (((60, 0), 54.7356, 45), ((0, 60), -54.7356, -135)):
        reach = attrs.evolve(OPEN, scale=Scale(0, "feed-side", False, *most)).reach(BAR, mt.Cut.from_slopes(1, 1))
        assert (reach.ok, reach.swing, reach.roll) == (True, pytest.approx(swing, abs=1e-4), pytest.approx(roll))
        assert (reach.section.width, reach.section.height) == pytest.approx((100 / R2, 100 / R2))


def test_a_quarter_roll_needs_no_packing() -> None:
    reach = SAW.reach(BAR, mt.Cut(0, 30))
    assert (reach.roll, reach.pack, reach.packs) == (90, None, ())
    assert (reach.section.width, reach.section.height) == pytest.approx((40, 60))


@pytest.mark.parametrize(
    ("section", "heights", "y"),
    [
        (mt.flat(40, 40).lay(45), (20 * R2, 20 * R2), None),
        (mt.flat(60, 10).lay(30), (30, 10 * math.cos(math.pi / 6)), 10 * 0.5 + 60 * math.cos(math.pi / 6)),
        (mt.flat(60, 10).lay(-30), (30, 10 * math.cos(math.pi / 6)), 0),
        (mt.flat(0.6, 0.1).lay(30), (0.3, 0.1 * math.cos(math.pi / 6)), 0.1 * 0.5 + 0.6 * math.cos(math.pi / 6)),
        (mt.angle(50, 50, 5).lay(180), (45, 50), 0),
    ],
)
def test_packing(section: mt.Section, heights: tuple[float, ...], y: float | None) -> None:
    """A square on its corner: both neighbours are 20 r2 up. A flat 60 x 10 raised by 30 degrees: its broad side ends
    60 sin 30 up, its edge 10 cos 30; one of a
    hundredth of its size does the same. A sharp angle 50 x 50 x 5 upside down stands on one toe, at y = 45 to 50, with
    the toe of the other at y = 0, 45 mm up; over the far side of its leg it tips onto the heel, 50 mm up.
    """
    packs = packing(section)
    assert [pack.height for pack in packs] == pytest.approx(list(heights), rel=1e-6)
    if y is not None:
        assert packs[0].y == pytest.approx(y, abs=1e-6)


# other lays


def test_the_lays_that_work_are_named() -> None:
    """Only 50 mm high bars pass: a 40 x 80 tube standing does not, lying it does."""
    low = attrs.evolve(SAW, bed=Bed(40, 300, 50))
    assert not low.reach(mt.rect_tube(40, 80, 3), mt.Cut()).ok
    (lay,) = lays_that_work(low, mt.rect_tube(40, 80, 3), mt.Cut())
    assert (lay.rotation, lay.says) == (90, "rolled a quarter")
    assert (lay.reach.section.width, lay.reach.section.height) == pytest.approx((80, 40))
    assert (lays_told([lay]).code, lays_told([]).code) == ("lays", "no-lay")


def test_a_cut_turns_with_its_bar() -> None:
    """A quarter turn makes a miter a bevel, so an upright blade cannot make it of a tube laid down."""
    low = attrs.evolve(SAW, bed=Bed(40, 300, 50))
    assert lays_that_work(low, mt.rect_tube(40, 80, 3), mt.Cut(30)) == ()
    assert turned_cut(mt.Cut(30), 90).bevel == pytest.approx(30)
    assert turned_cut(mt.Cut(30), 180).miter == pytest.approx(-30)
    tilting = attrs.evolve(low, tilt=Tilt(-45, 45))
    (lay,) = lays_that_work(tilting, mt.rect_tube(40, 80, 3), mt.Cut(30))
    assert (lay.rotation, lay.reach.tilt) == (90, pytest.approx(30))


def test_worded_lays_are_named_by_their_words() -> None:
    lays = lays_that_work(SAW, mt.angle(50, 50, 5), mt.Cut())
    assert [lay.says for lay in lays] == ["laid leg flat", "rolled a quarter", "laid heel up"]
    assert all(lay.reach.ok for lay in lays)


def test_rolling_cures_only_what_it_can() -> None:
    """An arm that swings to the feed side only, and a bar that is too wide: rolled, only the width is left."""
    one_way = attrs.evolve(SAW, scale=Scale(feed_side_most=60, discharge_side_most=0), bed=Bed(40, 50, 200))
    one_way = attrs.evolve(one_way, obstacles=())
    reach = one_way.reach(BAR, mt.Cut(45), "left")
    assert (reach.roll, [reason.code for reason in reach.reasons]) == (180, ["width"])
    angle = mt.angle(60, 60, 6)
    stuck = one_way.reach(angle, mt.Cut(45), "left")
    assert [reason.code for reason in stuck.reasons] == ["swing", "width"]
    assert ["pack it" in reason.says for reason in stuck.reasons] == [True, False]


# rows


def test_a_row_grows_by_its_count() -> None:
    """Three bars of 60: 180 wide. At 45 the moving jaw's back corner is at y = 210, the least gap 190 r2 + 20."""
    one, three = COLUMN.reach(BAR, mt.Cut(45)), COLUMN.reach(BAR, mt.Cut(45), count=3)
    assert three.section.width == 180
    assert three.guide_opening == pytest.approx(190 * R2 + 20)
    assert three.set_backs["jaw"] == pytest.approx(170 + 10 * R2 + 5)
    assert three.set_backs["support"] == one.set_backs["support"]
    assert (three.largest_contact, three.mean_contact) == pytest.approx((180 * R2, 3 * 736 / 40 * R2), rel=1e-9)
    assert three.thinnest_wall == pytest.approx(one.thinnest_wall or 0, rel=1e-9)
    assert three.section.area == pytest.approx(3 * 736)


def test_a_row_too_wide_for_the_vise() -> None:
    assert COLUMN.reach(BAR, mt.Cut(), count=5).ok
    (reason,) = attrs.evolve(COLUMN, guides=None).reach(BAR, mt.Cut(), count=6).reasons
    assert (reason.code, reason.have, reason.need) == ("width", 300, 360)


def test_the_lead_in_wedge_of_a_row() -> None:
    """At 45 degrees a bar 60 wide loses a wedge of 60 mm, three of them 180; with a slope 1/2 upward 20 more."""
    assert lead_in(BAR, mt.Cut(45)) == pytest.approx(60)
    assert lead_in(BAR, mt.Cut(45), 3) == pytest.approx(180)
    assert lead_in(BAR, mt.Cut.from_slopes(1, 0.5), 3) == pytest.approx(200)


def test_only_parallel_cuts_in_a_row() -> None:
    refuse_row(4, mt.Cut(-30), mt.Cut(30))
    refuse_row(1, mt.Cut(30), mt.Cut(30))
    with pytest.raises(BadInput, match="only pieces with parallel cuts come out alike in a row"):
        refuse_row(2, mt.Cut(30), mt.Cut(30))
    with pytest.raises(BadInput, match="only pieces with parallel cuts"):
        refuse_row(2, mt.Cut(0, 5), mt.Cut(0, 5))


@pytest.mark.parametrize("count", [0, -1, 1.5, True])
def test_a_row_has_a_whole_number_of_bars(count: object) -> None:
    with pytest.raises(BadInput, match="a whole number, 1 or more"):
        row(BAR, count)  # type: ignore[arg-type]
