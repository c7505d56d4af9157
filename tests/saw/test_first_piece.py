"""A first piece judged: pieces are made up from known errors by the length function of two planes, then measured.

L(y) = c + (tan left + tan right)(y - W/2) with the centerline c; the bar is a sharp tube 40 wide and 80 high, whose
material reaches both sides, so long and short are L at the sides.
"""

from __future__ import annotations

import math

import attrs
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.saw import Scale
from mitertool.saw.file.machine import Bed, Feed
from mitertool.saw.proof.first_piece import PARALLEL, ROLLED, SWUNG, Measured, Readings, first_piece, way_of

TUBE = mt.rect_tube(40, 80, 3, 0, 0)
FRAME = mt.Piece(TUBE, 1000, mt.Cut(45), mt.Cut(45), at="centerline")
BOTH = mt.Saw(name="made up", scale=Scale(0), bed=Bed(30.0), feed=Feed(400.0))
ONE_WAY = attrs.evolve(BOTH, scale=Scale(90, feed_side_most=60, discharge_side_most=0))
SHARP = Readings(1e-6, 1e-6)


def slope(degrees: float) -> float:
    return math.tan(math.radians(degrees))


def made(left: float, right: float, centerline: float = 1000.0, width: float | None = None) -> Measured:
    """What a tape reads on a piece with these miters."""
    p = slope(left) + slope(right)
    at_sides = (centerline - 20 * p, centerline + 20 * p)
    return Measured(max(at_sides), min(at_sides), width)


def angles(found: object) -> dict[str, float]:
    return {finding.on: finding.error for finding in found.angles}  # type: ignore[attr-defined]


def test_how_a_saw_makes_the_second_end() -> None:
    parallel = mt.Piece(TUBE, 1000, mt.Cut(-30), mt.Cut(30))
    assert (way_of(BOTH, FRAME), way_of(ONE_WAY, FRAME)) == (SWUNG, ROLLED)
    assert (way_of(BOTH, parallel), way_of(ONE_WAY, parallel)) == (PARALLEL, PARALLEL)
    assert way_of(ONE_WAY, mt.Piece(TUBE, 1000, mt.Cut(45), mt.Cut(30))) == SWUNG


def test_a_rolled_bar_shows_its_angle_in_long_less_short() -> None:
    """Both ends at 45.5 where 45 was meant, 0.8 mm too long on the centerline, which is what the feed moves by."""
    found = first_piece(FRAME, made(45.5, 45.5, 1000.8), readings=SHARP, saw=ONE_WAY)
    assert angles(found) == pytest.approx({"left": 0.5, "right": 0.5}, abs=1e-6)
    assert (found.length.on, found.length.error) == ("centerline", pytest.approx(0.8))
    assert found.slope_sum.error == pytest.approx(2 * slope(45.5) - 2)


def test_uncertainty_of_a_rolled_bar() -> None:
    """Two readings of 0.5 mm over 2 x 40 mm: r2 * 0.5 / 80 of slope, and the drawn width's own 0.5 mm, by which the
    slope of 1 goes by 0.5 / 40; cos^2 45 = 1/2 of both as squares, in radians."""
    found = first_piece(FRAME, made(45, 45), ROLLED, Readings(0.5, 0.25))
    expected = math.degrees(math.hypot(math.sqrt(2) * 0.5 / 80, 0.5 / 40) / 2)
    assert [finding.uncertainty for finding in found.angles] == pytest.approx([expected, expected])
    assert found.length.uncertainty == pytest.approx(0.5 * math.hypot(0.5, 0.5))
    assert [told.in_units("mm") for told in found.change] == [
        "nothing: every error is within what the readings can tell"
    ]


def test_a_measured_width_is_used_and_adds_its_reading() -> None:
    """The bar is 41 mm wide: 82 mm of difference are still 45 degrees; 2 * 0.5/41 of slope come from the width."""
    measured = Measured(1041, 959, 41)
    found = first_piece(FRAME, measured, ROLLED, Readings(0.5, 0.25))
    assert angles(found) == pytest.approx({"left": 0, "right": 0}, abs=1e-9)
    assert found.slope_sum.uncertainty == pytest.approx(math.hypot(math.sqrt(2) * 0.5 / 41, 2 * 0.5 / 41))


def test_a_swung_arm_shows_only_the_sum() -> None:
    """45.5 and 44.6: no angle of either end is known before one is measured, and the sheet asks for it."""
    found = first_piece(FRAME, made(45.5, 44.6), readings=SHARP, saw=BOTH)
    assert found.angles == ()
    assert found.slope_sum.error == pytest.approx(slope(45.5) + slope(44.6) - 2)
    assert any("tells only both ends together" in told.in_units("mm") for told in found.measure)
    sure = first_piece(FRAME, made(46, 46, width=40), readings=SHARP, saw=BOTH)
    assert [told.code for told in sure.change if told.code == "advice.apart"] == ["advice.apart"]
    sure = first_piece(FRAME, made(45, 45), readings=SHARP, saw=BOTH)
    assert [told.code for told in sure.change if told.code == "advice.apart"] == []
    assert found.correction is None


def test_a_swung_arm_with_one_end_by_protractor_shows_both() -> None:
    measured = attrs.evolve(made(45.5, 44.6), left=45.5)
    found = first_piece(FRAME, measured, readings=SHARP, saw=BOTH)
    assert angles(found) == pytest.approx({"left": 0.5, "right": -0.4}, abs=1e-6)
    assert not any("only both ends" in told.in_units("mm") for told in found.measure)
    assert not any("contradict" in told.in_units("mm") for told in found.measure)
    assert [told.code for told in found.change if told.code == "advice.apart"] == []
    wide = first_piece(FRAME, attrs.evolve(measured, width=40), readings=SHARP, saw=BOTH)
    assert not any("contradict" in told.in_units("mm") for told in wide.measure)


def test_uncertainty_of_the_other_end() -> None:
    """At 45 the known end's 0.25 degrees are 2 * 0.25 of slope, beside r2 * 0.5 / 40 from the tape and 2 * 0.5 / 40
    from the width of the drawing; half as angle."""
    measured = attrs.evolve(made(45, 45), left=45)
    other = first_piece(FRAME, measured, SWUNG, Readings(0.5, 0.25)).angles[1]
    slack = math.hypot(math.sqrt(2) * 0.5 / 40, 2 * 0.5 / 40, 2 * math.radians(0.25))
    assert (other.on, other.uncertainty) == ("right", pytest.approx(math.degrees(slack / 2)))


def test_a_swung_length_is_judged_over_the_axis() -> None:
    """The axis is at y = 30, 10 mm past the middle: there the piece is 1000.8 + 10 (tan 45.5 + tan 44.6), not 1020."""
    found = first_piece(FRAME, made(45.5, 44.6, 1000.8), readings=SHARP, saw=BOTH)
    assert found.length.on == "over-axis"
    assert found.length.error == pytest.approx(0.8 + 10 * (slope(45.5) + slope(44.6) - 2))
    assert found.change[-1].in_units("mm").startswith("shorten the stop or the length keyed by 0.8")


def test_parallel_ends_need_a_protractor() -> None:
    piece = mt.Piece(TUBE, 1000, mt.Cut(-30), mt.Cut(30), at="centerline")
    found = first_piece(piece, Measured(999.2, 999.2), readings=SHARP, saw=BOTH)
    assert found.angles == ()
    assert (found.length.on, found.length.error) == ("side", pytest.approx(-0.8))
    assert any("ends are parallel" in told.in_units("mm") for told in found.measure)
    told = first_piece(piece, Measured(999.2, 999.2, right=30.5), readings=SHARP, saw=BOTH)
    assert angles(told) == pytest.approx({"left": -0.5, "right": 0.5}, abs=1e-6)
    assert not any("ends are parallel" in one.in_units("mm") for one in told.measure)


def test_a_blade_that_leads_is_no_scale_error() -> None:
    """1.4 mm over a height of 80 mm; over 40 mm of it where that is what was measured."""
    found = first_piece(FRAME, attrs.evolve(made(45, 45), out_of_square=1.4), ROLLED, Readings(0.5, 0.25))
    assert found.lead is not None
    assert found.lead.error == pytest.approx(math.degrees(math.atan(1.4 / 80)))
    assert found.lead.uncertainty == pytest.approx(math.degrees(0.5 / 80))
    assert any("see to guides, tension, teeth and descent" in told.in_units("mm") for told in found.change)
    part = first_piece(FRAME, attrs.evolve(made(45, 45), out_of_square=1.4, over=40), ROLLED)
    assert part.lead is not None
    assert part.lead.error == pytest.approx(math.degrees(math.atan(1.4 / 40)))
    assert any("hold a square" in told.in_units("mm") for told in first_piece(FRAME, made(45, 45), ROLLED).measure)


CORRECTIONS = [
    # square, positive, two_sided, jaw, kept offset, error of the right miter (the left has its opposite), new offset
    (90, "feed-side", False, "left", 0.0, 0.5, -0.5),
    (90, "discharge-side", False, "left", 0.0, 0.5, 0.5),
    (0, "feed-side", False, "right", 0.25, 0.5, 0.75),
    (0, "feed-side", True, "left", 0.25, 0.5, -0.25),
    (0, "feed-side", True, "right", 0.25, 0.5, 0.75),
    (0, "feed-side", True, "left", 0.0, -1.0, 1.0),
]


@pytest.mark.parametrize(("square", "positive", "two", "jaw", "kept", "error", "new"), CORRECTIONS)
def test_the_correction_makes_the_scale_true(
    square: float, positive: str, two: bool, jaw: str, kept: float, error: float, new: float
) -> None:
    """Set to the readings for 45 the arm cut 45.5 at one end and 44.5 at the other, so it stood 0.5 degrees to one
    side for both; with the new offset the readings for what was cut are what the scale showed, on the same sides."""
    scale = Scale(square, positive, two, offset=kept)
    saw = attrs.evolve(BOTH, scale=scale, fixed_jaw=jaw)
    cut = {"left": 45 - error, "right": 45 + error}
    found = first_piece(FRAME, attrs.evolve(made(**cut), **cut), SWUNG, Readings(10, 1e-6), saw)
    assert found.correction == pytest.approx(new)
    for end, miter in cut.items():
        shown = saw.reach(TUBE, mt.Cut(45), end)
        swung = saw.reach(TUBE, mt.Cut(miter), end).swing
        kept_scale = attrs.evolve(scale, offset=new)
        assert kept_scale.reading(swung) == pytest.approx(shown.scale)
        assert kept_scale.reading_side(swung) == shown.scale_side


def test_ends_that_err_alike_on_a_two_way_saw_are_no_error_of_the_scale() -> None:
    """Both 0.35 too large, one swung to either side: the arm went 0.35 too far each time, away from square.

    One swing for both would put one end right and the other 0.7 out.
    """
    found = first_piece(FRAME, attrs.evolve(made(45.35, 45.35), left=45.35, right=45.35), saw=BOTH)
    assert (found.arm, found.correction) == (None, None)
    swings = [told.in_units("mm") for told in found.change if "swing the arm" in told.in_units("mm")]
    assert swings == [
        "for the left end swing the arm 0.35 degrees further to the feed side",
        "for the right end swing the arm 0.35 degrees further to the discharge side",
    ]
    assert any("no error of the scale" in told.in_units("mm") for told in found.change)


def test_an_error_of_the_arm_shows_with_opposite_signs_on_a_two_way_saw() -> None:
    """The arm stands 0.7 too far to the feed side: the right miter is so much larger, the left so much smaller."""
    measured = attrs.evolve(made(44.3, 45.7), left=44.3, right=45.7)
    found = first_piece(FRAME, measured, saw=BOTH)
    assert found.arm is not None
    assert (found.arm.error, found.correction) == (pytest.approx(0.7), pytest.approx(-0.7))
    assert [told.in_units("mm") for told in found.change if "swing the arm" in told.in_units("mm")] == [
        "swing the arm 0.70 degrees further to the discharge side"
    ]


def test_one_end_and_the_tape_tell_an_error_of_the_arm_where_they_can() -> None:
    """The right end 0.8 too large by protractor, long less short as drawn: alike, it would be 40 (2 tan 45.8 - 2) =
    2.27 mm too large, where tape and width can make it 40 hypot(r2 0.5 / 40, 2 * 0.5 / 40) = 1.22."""
    found = first_piece(FRAME, attrs.evolve(made(44.2, 45.8), right=45.8), saw=BOTH)
    assert found.correction == pytest.approx(-0.8)
    alike = first_piece(FRAME, attrs.evolve(made(45.8, 45.8), right=45.8), saw=BOTH)
    assert (alike.arm, alike.correction) == (None, None)


def test_one_end_alone_is_no_error_of_the_scale() -> None:
    """The right end by protractor, 0.6 too large; the tape cannot tell the left within 0.6: no correction is known."""
    found = first_piece(FRAME, attrs.evolve(made(45, 45.6), right=45.6), saw=BOTH)
    assert (found.arm, found.correction) == (None, None)
    assert "for the right end swing the arm 0.60 degrees further to the discharge side" in [
        told.in_units("mm") for told in found.change
    ]
    assert any("measure the other end by protractor too" in told.in_units("mm") for told in found.measure)


def test_a_correction_within_what_the_readings_can_tell_is_not_known() -> None:
    """0.5 mm of tape either way on 40 mm is more than 0.2 degrees."""
    found = first_piece(FRAME, made(45.2, 45.2), saw=ONE_WAY)
    assert found.arm is not None
    assert not found.arm.sure
    assert found.correction is None


def test_an_angle_is_judged_at_the_measured_width_where_the_long_point_is_drawn() -> None:
    """Drawn 1000 to the long point, 40 wide; a bar 42 wide cut right is 1000 and 916."""
    piece = mt.Piece(TUBE, 1000, mt.Cut(45), mt.Cut(45))
    for saw in (BOTH, ONE_WAY):
        found = first_piece(piece, Measured(1000, 916, 42.0, 45.0, 45.0), readings=SHARP, saw=saw)
        assert angles(found) == pytest.approx({"left": 0, "right": 0}, abs=1e-6)
        assert found.length.error == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("tape", [None, 0.02, 0.2, 0.5, 1.0, 3.0])
@pytest.mark.parametrize("wide", [40.0, 120.0])
def test_a_width_that_was_not_measured_makes_nothing_surer(tape: float | None, wide: float) -> None:
    piece = mt.Piece(mt.rect_tube(wide, 80, 3, 0, 0), 1000, mt.Cut(45), mt.Cut(45))
    measured, readings = Measured(1000, 1000 - 2 * wide - 1), Readings(tape)
    without, given = (
        first_piece(piece, one, ROLLED, readings) for one in (measured, attrs.evolve(measured, width=wide))
    )
    for one, other in zip(
        (*without.angles, without.slope_sum, without.length),
        (*given.angles, given.slope_sum, given.length),
        strict=True,
    ):
        assert one.error == pytest.approx(other.error)
        assert one.uncertainty >= other.uncertainty - 1e-9


def test_what_long_and_short_point_become_is_told() -> None:
    """Both ends at 46 where 45 was meant, right on the centerline: 40 mm of slope 1 either side of 1000 remain."""
    found = first_piece(FRAME, made(46, 46), saw=ONE_WAY)
    assert found.angle_right == pytest.approx((1040, 960))
    off = 40 * slope(46)
    (told,) = (told for told in found.change if told.code == "advice.then")
    values = [number.value for number in told.numbers]
    assert values == pytest.approx([1000 + off, 1040, 1000 - off, 960])


ASSUMED = [
    ({"saw": ONE_WAY}, {}, ["the width as drawn, 40 mm within 0.5 mm", "the tape right within 0.5 mm", "bar rolled"]),
    ({"way": ROLLED, "readings": Readings(0.2)}, {"width": 40.0}, ["a feed that moved the bar"]),
    (
        {"saw": attrs.evolve(BOTH, feed=None), "readings": Readings(0.2)},
        {"width": 40.0, "left": 45.0},
        ["protractor right within 0.25 degrees", "the arm swung between the ends", "a stop at the long tip"],
    ),
    ({"saw": BOTH, "way": SWUNG, "readings": Readings(0.2, 0.1)}, {"width": 40.0, "left": 45.0}, []),
    ({"saw": BOTH, "way": ROLLED, "readings": Readings(0.2)}, {"width": 40.0}, ["no side of the arm"]),
]


@pytest.mark.parametrize(("given", "measures", "says"), ASSUMED)
def test_what_nobody_said_is_named(given: dict[str, object], measures: dict[str, float], says: list[str]) -> None:
    found = first_piece(FRAME, attrs.evolve(made(45, 45), **measures), **given)  # type: ignore[arg-type]
    told = [sentence.in_units("mm") for sentence in found.assumed]
    assert len(told) == len(says)
    assert all(part in sentence for part, sentence in zip(says, told, strict=True))


def test_a_length_that_hangs_on_what_is_not_known_waits_for_it() -> None:
    """Both ends 1 degree out, and nobody says where the arm swings about or which end it is: no length is changed."""
    measured = made(46, 46, 1003)
    no_axis = first_piece(FRAME, attrs.evolve(measured, left=46, right=46), SWUNG)
    at_a_stop = first_piece(FRAME, attrs.evolve(measured, width=40), SWUNG, SHARP, BOTH, "long")
    for found in (no_axis, at_a_stop):
        assert not any("shorten" in told.in_units("mm") for told in found.change)
        assert any("measure the length anew" in told.in_units("mm") for told in found.measure)


@pytest.mark.parametrize(
    ("way", "left", "right"), [(ROLLED, 45, 30), (PARALLEL, 45, 45), (ROLLED, -30, 30), (PARALLEL, 0, 10)]
)
def test_a_way_that_cannot_have_made_both_miters_is_refused(way: str, left: float, right: float) -> None:
    piece = mt.Piece(TUBE, 1000, mt.Cut(left), mt.Cut(right))
    with pytest.raises(BadInput, match="an arm left alone makes"):
        first_piece(piece, Measured(1000, 950), way)


def test_the_correction_of_a_rolled_bar() -> None:
    """One way to the feed side: both ends were cut at 135 on the scale and came out at 45.5: 135 is a swing of 45.5."""
    found = first_piece(FRAME, made(45.5, 45.5), readings=SHARP, saw=ONE_WAY)
    assert found.correction == pytest.approx(-0.5, abs=1e-6)
    assert any(
        told.in_units("mm") == "swing the arm 0.50 degrees further to the discharge side" for told in found.change
    )


@pytest.mark.parametrize(("apart", "contradicts"), [(0.03, False), (0.04, True), (-0.03, False), (-0.04, True)])
def test_how_far_a_tape_may_be_from_two_protractors(apart: float, contradicts: bool) -> None:
    """At 60 a quarter of a degree is 0.25 / 57.3 / cos^2 60 of slope, 0.0175 at each end, 0.0349 together."""
    piece = mt.Piece(TUBE, 1000, mt.Cut(60), mt.Cut(60), at="centerline")
    p = 2 * slope(60) + apart
    measured = Measured(1000 + 20 * p, 1000 - 20 * p, 40, left=60, right=60)
    found = first_piece(piece, measured, SWUNG, Readings(1e-6, 0.25))
    assert any("contradict" in told.in_units("mm") for told in found.measure) == contradicts


@pytest.mark.parametrize(("left", "right", "contradicts"), [(-30, 30, False), (-30.5, 30.5, False), (-30.5, 30, True)])
def test_ends_that_are_alike_show_their_difference_unsigned(left: float, right: float, contradicts: bool) -> None:
    """One end 0.5 past the other opens long less short by 40 (tan 30.5 - tan 30); the tape found none."""
    piece = mt.Piece(TUBE, 1000, mt.Cut(-30), mt.Cut(30), at="centerline")
    found = first_piece(piece, Measured(1000, 1000, 40, left=left, right=right), SWUNG, Readings(1e-6, 0.1))
    assert any("contradict" in told.in_units("mm") for told in found.measure) == contradicts
    apart = slope(left) + slope(right)
    other = Measured(1000 + 20 * abs(apart), 1000 - 20 * abs(apart), 40, left=left, right=right)
    fits = first_piece(piece, other, SWUNG, Readings(1e-6, 0.1))
    assert not any("contradict" in told.in_units("mm") for told in fits.measure)


def test_the_swing_axis_is_asked_for_where_its_place_counts() -> None:
    """Swung between unlike ends; ends that are alike move nothing along the bar that the axis would tell."""
    alike = mt.Piece(TUBE, 1000, mt.Cut(-30), mt.Cut(30), at="centerline")
    unlike = first_piece(FRAME, made(45, 45), SWUNG).measure
    assert [told.code for told in unlike if "axis" in told.code] != []
    assert [told.code for told in first_piece(alike, Measured(1000, 1000), SWUNG).measure if "axis" in told.code] == []
    assert [told.code for told in first_piece(FRAME, made(45, 45), saw=BOTH).measure if "axis" in told.code] == []


def test_a_length_that_waits_is_told_on_the_centerline() -> None:
    """0.8 too long in the middle, both ends 1 degree out, the axis not known: 0.8 is what the centerline is out."""
    found = first_piece(FRAME, attrs.evolve(made(46, 46, 1000.8), left=46, right=46), SWUNG, SHARP)
    assert (found.length.on, found.length.error) == ("centerline", pytest.approx(0.8, abs=1e-4))


def test_readings_that_contradict_each_other_are_told() -> None:
    measured = attrs.evolve(made(45.5, 45.5), left=44, right=44)
    found = first_piece(FRAME, measured, SWUNG, Readings(0.1, 0.1))
    assert any("contradict" in told.in_units("mm") for told in found.measure)
    fine = attrs.evolve(made(45.5, 45.5), left=45.5, right=45.5)
    assert not any(
        "contradict" in told.in_units("mm") for told in first_piece(FRAME, fine, SWUNG, Readings(0.1, 0.1)).measure
    )


@pytest.mark.parametrize(
    ("measured", "what"),
    [
        (Measured(0, 0), "long"),
        (Measured(950, 1000), "short"),
        (Measured(1000, -1), "short"),
        (Measured(1000, 950, width=0), "width"),
        (Measured(1000, 950, left=-45), "left angle"),
        (Measured(1000, 950, right=61), "right angle"),
        (Measured(float("nan"), 950), "long"),
        (Measured(1000, 700), "long less short"),
    ],
)
def test_measures_that_cannot_be_of_the_piece_are_refused(measured: Measured, what: str) -> None:
    with pytest.raises(BadInput) as caught:
        first_piece(FRAME, measured, ROLLED)
    assert caught.value.what == what


def test_a_way_or_a_saw_is_needed() -> None:
    with pytest.raises(BadInput, match="rolled, swung, parallel, or give the saw"):
        first_piece(FRAME, made(45, 45))
    with pytest.raises(BadInput, match="bevel"):
        first_piece(mt.Piece(TUBE, 1000, mt.Cut(45, 5), mt.Cut(45)), made(45, 45), ROLLED)
    with pytest.raises(BadInput, match="ends of one plane"):
        first_piece(mt.Piece(TUBE, 1000, mt.Cut(45), (mt.Cut(45), mt.Cut(-30))), made(45, 45), SWUNG)
