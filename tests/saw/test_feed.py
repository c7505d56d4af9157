"""What is keyed into a bar feed, where a stop stands, how many teeth are in the work: against values worked by hand.

The saw: swing axis 30 mm from the fixed jaw, kerf 2 mm. The bar: a flat 40 x 10. Pieces have a centerline of 1000 mm.
A cut of 45 degrees takes 2 r2 of bar; where the arm is swung the bar moves by the piece's length on the line y = 30 and
half of each kerf along the bar.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import attrs
import pytest

import mitertool as mt
from mitertool.bar import BarPiece, Kerf, kerfs_of
from mitertool.cut.blade.arms import Column
from mitertool.quantity.problem import Remark
from mitertool.saw import Scale
from mitertool.saw.feed.feed import (
    CENTERLINE,
    CLOSING,
    OVER_AXIS,
    SIDE,
    FeedLine,
    FeedList,
    SetCut,
    cuts_as_set,
    feed_list,
)
from mitertool.saw.feed.stops import Stop, Tally, blanks_first, stops
from mitertool.saw.file.machine import Bed, Blade, Feed, Guides, Tilt
from mitertool.saw.setting.teeth import pitch_for, teeth, time_says

R2 = math.sqrt(2)
FLAT = mt.flat(40, 10)
FEED = Feed(stroke=600, shortest=5, longest=5000, counts_kerf=True, lines=20, dead_length=150)
SAW = mt.Saw(name="made up", kerf=2.0, scale=Scale(0, two_sided=True), bed=Bed(30.0), feed=FEED)
ONE_WAY = attrs.evolve(SAW, scale=Scale(90, feed_side_most=60, discharge_side_most=0))


def said(told: Iterable[Remark | None]) -> list[str]:
    return [one.in_units("mm") for one in told if one]


def bar(
    *miters: tuple[float, float], first: float = 100.0, length: float = 1000.0, kerf: float = 2.0
) -> list[BarPiece]:
    """Pieces one behind the other with one shared kerf between them; (left, right) miters of each."""
    found, at = [], first
    for i, (left, right) in enumerate(miters):
        found.append(BarPiece(f"P{i}" if len(set(miters)) > 1 else "P", FLAT, mt.Cut(left), mt.Cut(right), length, at))
        at += length + kerf / math.cos(math.radians(right))
    return found


def led(saw: mt.Saw, pieces: list[BarPiece]) -> list[BarPiece]:
    """The pieces with the end in front that meets this saw's blade first."""
    return [attrs.evolve(piece, leads=saw.leads) for piece in pieces]


def cuts_of(saw: mt.Saw, pieces: list[BarPiece]) -> tuple[SetCut, ...]:
    """The cuts of a bar, each set as the saw would make the piece."""

    def asked(kerf: Kerf) -> mt.saw.Reach:
        piece, end = (kerf.before, saw.trails) if kerf.before else (kerf.behind, saw.leads)
        return saw.reach(FLAT, getattr(piece, end), end)

    kerfs = kerfs_of(led(saw, pieces), saw.kerf)
    return cuts_as_set(kerfs, FLAT, [asked(kerf) for kerf in kerfs])


def fed(saw: mt.Saw, pieces: list[BarPiece], stock: float | None = None) -> FeedList | None:
    return feed_list(saw, cuts_of(saw, pieces), stock)


def stopped(saw: mt.Saw, pieces: list[BarPiece]) -> tuple[Stop, ...]:
    return stops(led(saw, pieces), [cut.reach for cut in cuts_of(saw, pieces) if cut.mark])


def lines(saw: mt.Saw, pieces: list[BarPiece], stock: float | None = None) -> tuple[FeedLine, ...]:
    found = fed(saw, pieces, stock)
    assert found is not None
    return found.lines


def test_square_pieces_are_one_line_and_a_lead_cut() -> None:
    """The lead cut's kerf ends at 100 mm, so its middle is at 99; a control that adds the kerf is given 1000."""
    lead, many = lines(SAW, bar((0, 0), (0, 0), (0, 0)))
    assert (lead.quantity, lead.counted, lead.travel, lead.strokes) == (1, False, 99, 1)
    assert (many.quantity, many.mark, many.counted, many.on, many.manual) == (3, "P", True, SIDE, None)
    assert (many.travel, many.key, many.short_by) == pytest.approx((1002, 1000, 0))
    assert many.strokes == 2


@pytest.mark.parametrize("asked", [True, False])
def test_a_list_ends_with_zeros_only_where_the_saw_file_asks_for_them(asked: bool) -> None:
    found = lines(attrs.evolve(SAW, feed=attrs.evolve(FEED, ends_with_zero=asked)), bar((0, 0), (0, 0)))
    assert [(line.quantity, line.key, line.mark) for line in found[2:]] == ([(0, 0.0, "")] if asked else [])
    assert (found[-1] == CLOSING) is asked


def test_a_control_that_does_not_count_the_kerf_is_given_all_of_it() -> None:
    plain = attrs.evolve(SAW, feed=attrs.evolve(FEED, counts_kerf=False))
    assert lines(plain, bar((0, 0)))[1].key == pytest.approx(1002)


def test_parallel_miters_run_automatically_and_a_plain_kerf_is_short() -> None:
    """At 45 the kerf along the bar is 2 r2: the plain kerf of 2 comes up 2 r2 - 2 short."""
    found = fed(SAW, bar((-45, 45), (-45, 45)))
    assert found is not None
    lead, many = found.lines
    assert (many.quantity, many.on, many.manual) == (2, SIDE, None)
    assert (many.travel, many.key, many.short_by) == pytest.approx((1000 + 2 * R2, 998 + 2 * R2, 2 * R2 - 2))
    assert lead.travel == pytest.approx(100 - R2 + 10)
    assert found.automatic
    assert found.count == 1
    assert any("0.8 mm more" in note.in_units("mm") for note in found.notes)


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_an_arm_swung_between_the_cuts_is_measured_over_its_axis(jaw: str) -> None:
    """L(30) = 1000 + (1 + 1)(30 - 20) = 1020; the next piece is rolled over, so L(30) = 980 between the same swings."""
    saw = attrs.evolve(SAW, fixed_jaw=jaw)
    lead, first, second = lines(saw, bar((45, 45), (-45, -45)))
    assert (first.on, second.on) == (OVER_AXIS, OVER_AXIS)
    assert (first.travel, second.travel) == pytest.approx((1020 + 2 * R2, 980 + 2 * R2))
    assert (first.key, first.short_by) == pytest.approx((1018 + 2 * R2, 2 * R2 - 2))
    assert (said(first.set_up), said([first.manual])) == (
        ["swing the arm to 45 on the scale"],
        ["set by hand before it"],
    )
    assert lead.travel == pytest.approx(90 - R2)


def test_a_bar_rolled_between_the_cuts_is_measured_on_its_centerline() -> None:
    _, first, second = lines(ONE_WAY, bar((45, 45), (-45, -45)))
    assert (first.on, second.on) == (CENTERLINE, CENTERLINE)
    assert (first.travel, second.travel) == pytest.approx((1000 + 2 * R2, 1000 + 2 * R2))
    assert said(first.set_up) == ["roll the bar half a turn"]


def test_different_swings_take_half_of_each_kerf() -> None:
    """Left square, right 60: half of 2 and half of 4; L(30) = 1000 + r3 * 10."""
    line = lines(SAW, bar((0, 60)))[1]
    assert line.travel == pytest.approx(1000 + 10 * math.sqrt(3) + 3)
    assert line.short_by == pytest.approx(1)


def test_without_a_swing_axis_a_swung_length_is_not_given() -> None:
    blind = attrs.evolve(SAW, bed=Bed())
    line = lines(blind, bar((0, 60)))[1]
    assert (line.travel, line.key) == (None, None)
    assert lines(blind, bar((-45, 45)))[1].travel == pytest.approx(1000 + 2 * R2)


def test_a_blade_off_its_axis_moves_as_it_swings() -> None:
    """5 mm to the feed side: at 60 degrees the blade crosses the axis line 10 mm off, so the bar is moved 5 mm less."""
    off = attrs.evolve(SAW, bed=Bed(30.0, blade_offset=5.0))
    assert lines(off, bar((0, 60)))[1].travel == pytest.approx(1000 + 10 * math.sqrt(3) + 3 - 5)


def test_a_tilted_blade_is_measured_on_the_bed() -> None:
    """Left square, right bevel 45 (q = 1): on the bed the piece is 5 mm shorter than at half the height of 10."""
    saw = attrs.evolve(SAW, tilt=Tilt(-45, 45))
    piece = BarPiece("P", FLAT, mt.Cut(), mt.Cut(0, 45), 1000, 100)
    line = lines(saw, [piece])[1]
    assert line.travel == pytest.approx(1000 - 5 + 1 + R2)
    assert said(line.set_up) == ["tilt the blade to 45 degrees"]


def test_a_wedge_between_pieces_is_a_line_that_is_not_counted() -> None:
    """A right 45 and a left 45 behind it, besides two kerfs: 40 mm apart on the centerline, 0 at y = 40, 20 at 30."""
    first, second = bar((0, 45), (45, 0))
    second = attrs.evolve(second, at=1100 + 4 * R2 + 40)
    found = lines(SAW, [first, second])
    assert [line.mark for line in found] == ["", "P0", "", "P1"]
    assert found[2].travel == pytest.approx(20 + 2 * R2)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"shortest": 1001.0}, "shorter than the 1001 mm that the control takes"),
        ({"longest": 999.0}, "longer than the 999 mm that the control takes"),
        ({"dead_length": 901.5}, "within the last 901.5 mm of the bar, which the feed cannot push"),
    ],
)
def test_what_the_automatic_cycle_cannot_make_is_manual(change: dict[str, float], why: str) -> None:
    """The stock of 2000 mm ends 899 mm behind the middle of the last kerf, at 1101 mm."""
    saw = attrs.evolve(SAW, feed=attrs.evolve(FEED, **change))
    found = fed(saw, bar((0, 0)), 2000)
    assert found is not None
    assert (found.lines[1].manual.in_units("mm"), found.automatic) == (why, False)
    near = {key: value + (-5 if key != "longest" else 5) for key, value in change.items()}
    again = fed(attrs.evolve(SAW, feed=attrs.evolve(FEED, **near)), bar((0, 0)), 2000)
    assert again is not None
    assert again.automatic


def test_more_lines_than_the_control_holds() -> None:
    few = attrs.evolve(SAW, feed=attrs.evolve(FEED, lines=3))
    found = fed(few, bar((0, 0), (0, 30), (-30, 0)))
    assert found is not None
    assert any("holds 3 lines" in note for note in said(found.notes))


def test_no_feed_no_list() -> None:
    assert fed(attrs.evolve(SAW, feed=None), bar((0, 0))) is None


@pytest.mark.parametrize(("travel", "strokes"), [(1198.0, 2), (1199.0, 3), (598.0, 1), (10.0, 1)])
def test_strokes(travel: float, strokes: int) -> None:
    """A stroke of 600 mm: 1198 and a kerf of 2 are just two."""
    assert lines(SAW, bar((0, 0), length=travel))[1].strokes == strokes


def test_a_stroke_of_24_inches_makes_a_part_of_60_in_three() -> None:
    """Common practice: a bar feed makes a longer part by several strokes, and adds the kerf by itself."""
    saw = attrs.evolve(SAW, feed=attrs.evolve(FEED, stroke=24 * 25.4))
    line = lines(saw, bar((0, 0), length=60 * 25.4))[1]
    assert (line.strokes, line.key) == (3, pytest.approx(60 * 25.4))


def test_the_trim_cut_is_keyed_as_every_line_is() -> None:
    """The face stands 100 from the raw end, the middle of the kerf of 2 so 99: a control that adds the kerf gets 97."""
    first = lines(SAW, bar((0, 0)))[0]
    assert (first.travel, first.key) == pytest.approx((99, 97))
    plain = attrs.evolve(SAW, feed=attrs.evolve(FEED, counts_kerf=False))
    assert lines(plain, bar((0, 0)))[0].key == pytest.approx(99)


def test_odd_rolls_are_told_from_one_datum() -> None:
    """Bevels on a blade that does not tilt: miter 30 and bevel 20 roll the bar by atan2(q, p), q = tan 20 / cos 30.
    From there to the next cut the bar is told by how it then stands, not by the difference."""
    roll = math.degrees(math.atan2(math.tan(math.radians(20)) / math.cos(math.radians(30)), math.tan(math.radians(30))))
    pieces = [
        BarPiece("A", FLAT, mt.Cut(0), mt.Cut(30, 20), 1000.0, 100.0),
        BarPiece("B", FLAT, mt.Cut(30, -20), mt.Cut(0, 0), 1000.0, 1400.0),
    ]
    cuts = cuts_of(SAW, pieces)
    said = [cut.rolled(before) for before, cut in zip((None, *cuts[:-1]), cuts, strict=True)]
    assert said == [
        "",
        f"to {roll:.2f} degrees from as drawn, its top to the moving jaw",
        f"to {roll:.2f} degrees from as drawn, its top to the fixed jaw",
        "back to as drawn",
    ]


# stops


@pytest.mark.parametrize("jaw", ["left", "right"])
def test_a_stop_touches_the_tip_that_stands_out(jaw: str) -> None:
    """Left and right 45, 40 wide, 1000 in the middle: the tip of either end is at the moving side, 1040 apart."""
    (stop,) = stopped(attrs.evolve(SAW, fixed_jaw=jaw), bar((45, 45)))
    assert (stop.from_blade, stop.y, stop.touches) == (pytest.approx(1040), 40, "tip at the moving side")
    assert stop.holds


def test_a_stop_for_square_and_for_parallel_ends() -> None:
    """Parallel ends are 1000 on every line; a square end touches all over, and its longest line is measured."""
    (square,) = stopped(SAW, bar((0, 0)))
    assert (square.from_blade, square.touches) == (1000, "whole end")
    (parallel,) = stopped(SAW, bar((-45, 45)))
    assert (parallel.from_blade, parallel.y) == (pytest.approx(1000), 0)
    (half,) = stopped(SAW, bar((0, 45)))
    assert (half.from_blade, half.y) == (pytest.approx(1020), 40)
    assert half.touches == "whole end, measured at the moving side"


def test_a_stop_where_the_bar_is_rolled() -> None:
    """Left and right -45: rolled half over for its trailing cut, the piece lies as one of 45 and 45."""
    for miters, roll in (((45, 45), 0), ((-45, -45), 180)):
        (stop,) = stopped(ONE_WAY, bar(miters))
        assert stop.reach.roll == roll
        assert (stop.from_blade, stop.y) == (pytest.approx(1040), pytest.approx(40))


def test_a_stop_needs_no_swing_axis() -> None:
    """On the steel itself the distance is the piece's own."""
    blind = attrs.evolve(SAW, bed=Bed())
    assert [s.from_blade for s in stopped(blind, bar((45, 45)))] == [pytest.approx(1040)]


def test_a_stop_is_never_short_of_the_blade() -> None:
    """A short picket of parallel ends, 9 long: from tip to blade 9, however far the tip lies from the swing axis."""
    (stop,) = stopped(SAW, bar((-60, 60), length=9.0))
    assert (stop.from_blade, stop.holds) == (pytest.approx(9), True)


def test_no_stop_where_blade_and_guides_go() -> None:
    """Left -45 and right 60 that meet at the fixed side: the tip is there, and the piece is 0 long on that line.
    Guides 13 thick to one side and a clearance of 5 take (13 - 1) r2 + 5 = 21.97 beside the blade's face at 45."""
    (pointed,) = stopped(SAW, bar((-45, 60), length=20 * (math.sqrt(3) - 1)))
    assert (pointed.touches, pointed.holds) == ("tip at the fixed side", False)
    assert pointed.from_blade == pytest.approx(0, abs=1e-9)
    wide = attrs.evolve(SAW, guides=Guides(half_thickness=13.0, clearance=5.0))
    for length, holds in ((21.9, False), (22.0, True)):
        (stop,) = stopped(wide, bar((-45, 45), length=length))
        assert stop.holds is holds


# blanks


def test_blanks_beside_the_plan() -> None:
    """Two pieces, left and right 45, the second rolled. As planned: 3 cuts; swings -45, 45, -45: two.
    It ends at 2100 + 4 r2 and 20 of slant. Blanks at the left's slope: 40 mm and a kerf longer each, 2 r2 between; a
    wedge of 40 and a kerf to begin. The second has the first's ends the other way round, so it has slopes of its own.
    """
    pieces = bar((45, 45), (-45, -45))
    found = blanks_first(SAW, pieces, cuts_of(SAW, pieces))
    assert found.as_planned == Tally(3, 2, pytest.approx(2100 + 4 * R2 + 20))
    assert found.blanks == Tally(6, 3, pytest.approx(2 * (1040 + 4 * R2) + 2 * (40 + 2 * R2)))


def test_the_steel_of_a_bar_that_is_rolled_for_its_last_cut() -> None:
    """Left square, right a bevel of 45 that the bar is rolled for: the plane goes 10 along in the height of 10, so half
    of that, 5, behind its place at 1100, and a kerf of 2 r2; how the bar is rolled makes no piece longer."""
    pieces = [BarPiece("P", FLAT, mt.Cut(), mt.Cut(0, 45), 1000, 100)]
    found = blanks_first(SAW, pieces, cuts_of(SAW, pieces))
    assert found.as_planned.steel == pytest.approx(1100 + 2 * R2 + 5)


def test_parallel_blanks_of_parallel_pieces_are_the_pieces() -> None:
    pieces = bar((-45, 45), (-45, 45))
    found = blanks_first(SAW, pieces, cuts_of(SAW, pieces), count=3)
    assert (found.as_planned.cuts, found.as_planned.set_ups) == (9, 0)
    assert (found.blanks.cuts, found.blanks.set_ups) == (9, 0)


def test_the_cuts_of_a_bar_share_their_kerfs() -> None:
    assert len(cuts_of(SAW, bar((0, 45), (-45, 0)))) == 3
    assert len(cuts_of(SAW, bar((0, 45), (45, 0)))) == 4


# teeth


COLUMN = attrs.evolve(SAW, kind="column", arm=Column(5.0, 500.0), blade=Blade(4.0))


def test_teeth_in_the_work() -> None:
    """A sharp tube 40 x 80 x 3 at 60 degrees: mean (3200 - 2516)/80 * 2 = 17.1 mm, walls 6, longest 80; pitch 4."""
    found = teeth(COLUMN.reach(mt.rect_tube(40, 80, 3, 0, 0), mt.Cut(60)))
    assert found is not None
    assert (found.in_mean, found.in_thinnest, found.in_longest) == pytest.approx((17.1 / 4, 1.5, 20))
    assert len(found.warnings) == 1
    assert "1.5 teeth" in found.warnings[0]
    assert "20 teeth" in found.notes[0]
    assert any("blade maker's chart" in note for note in found.notes)


def test_three_teeth_in_the_thinnest_wall_are_enough() -> None:
    reach = COLUMN.reach(mt.rect_tube(40, 80, 12, 0, 0), mt.Cut())
    found = teeth(reach)
    assert found is not None
    assert (found.in_thinnest, found.warnings) == (pytest.approx(3), ())
    assert pitch_for(reach) == pytest.approx(4)


def test_no_pitch_or_no_arm_no_teeth() -> None:
    assert teeth(attrs.evolve(COLUMN, blade=Blade()).reach(FLAT, mt.Cut())) is None
    assert teeth(attrs.evolve(COLUMN, arm=None).reach(FLAT, mt.Cut())) is None
    assert pitch_for(attrs.evolve(COLUMN, arm=None).reach(FLAT, mt.Cut())) is None


def test_the_time_in_a_sentence() -> None:
    """400 mm2 at 160 mm2/min: two and a half minutes."""
    assert time_says(attrs.evolve(COLUMN, blade=Blade(None, 160)).reach(FLAT, mt.Cut())) == (
        "The cut takes 2.5 min by the shop's rates."
    )
    assert "no rates of the shop" in time_says(COLUMN.reach(FLAT, mt.Cut()))
    assert "no [arm]" in time_says(attrs.evolve(COLUMN, arm=None, blade=Blade(None, 160)).reach(FLAT, mt.Cut()))
