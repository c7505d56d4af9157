"""The protractor: what it reads for a swing, and back.

Expected readings are worked by hand from two sentences on protractors: the reading is square + swing where it
grows to the feed side, square - swing where it grows to the discharge side, |swing| where it is two-sided; and at
square 90, feed-side, a right +45 reads 135 and a left +45 reads 45. A fixed jaw on the right changes the sign of
every swing.
"""

from __future__ import annotations

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.packet.words import reading_words, scale_words
from mitertool.saw import Scale

LAW = settings(deadline=None, derandomize=True)
TUBE = mt.rect_tube(40, 80, 3)

READINGS = [
    # end, fixed jaw, reading grows to, swing, side, reads from 90, reads from 0
    ("right", "left", "feed-side", 45, "feed", 135, 45),
    ("left", "left", "feed-side", -45, "discharge", 45, -45),
    ("right", "left", "discharge-side", 45, "feed", 45, -45),
    ("left", "left", "discharge-side", -45, "discharge", 135, 45),
    ("right", "right", "feed-side", -45, "discharge", 45, -45),
    ("left", "right", "feed-side", 45, "feed", 135, 45),
    ("right", "right", "discharge-side", -45, "discharge", 135, 45),
    ("left", "right", "discharge-side", 45, "feed", 45, -45),
]
ROW = ("end", "jaw", "positive", "swing", "side", "from_90", "from_0")


def saw_with(scale: Scale, jaw: str = "left") -> mt.Saw:
    return mt.Saw(name="made up", scale=scale, fixed_jaw=jaw)


@pytest.mark.parametrize(ROW, READINGS)
def test_a_miter_of_45_at_either_end_of_either_saw(
    end: str, jaw: str, positive: str, swing: float, side: str, from_90: float, from_0: float
) -> None:
    for square, expected in ((90, from_90), (0, from_0)):
        reach = saw_with(Scale(square, positive), jaw).reach(TUBE, mt.Cut(45), end)
        assert (reach.ok, reach.reasons, reach.roll, reach.tilt) == (True, (), 0, 0)
        assert (reach.swing, reach.side, reach.scale) == (swing, side, expected)


@pytest.mark.parametrize(ROW, READINGS)
def test_the_opposite_miter_swings_to_the_other_side(
    end: str, jaw: str, positive: str, swing: float, side: str, from_90: float, from_0: float
) -> None:
    """45 on the scale from 90 becomes 135 and 135 becomes 45; from 0 the sign changes."""
    for square, expected in ((90, 180 - from_90), (0, -from_0)):
        reach = saw_with(Scale(square, positive), jaw).reach(TUBE, mt.Cut(-45), end)
        assert (reach.swing, reach.scale) == (-swing, expected)
        assert {reach.side, side} == {"feed", "discharge"}


@pytest.mark.parametrize(("end", "jaw", "side"), [row[:2] + row[4:5] for row in READINGS[::2]])
def test_a_two_sided_scale_reads_up_both_ways(end: str, jaw: str, side: str) -> None:
    reach = saw_with(Scale(0, two_sided=True), jaw).reach(TUBE, mt.Cut(22.5), end)
    assert (reach.scale, reach.side) == (22.5, side)


@pytest.mark.parametrize("square", [0, 90])
@pytest.mark.parametrize("end", ["left", "right"])
def test_a_square_cut_reads_square_and_has_no_side(square: float, end: str) -> None:
    reach = saw_with(Scale(square)).reach(TUBE, mt.Cut(), end)
    assert (reach.scale, reach.swing, reach.side) == (square, 0, "square")


@pytest.mark.parametrize(
    ("scale", "swing", "reading"),
    [
        (Scale(90, "feed-side", offset=0.25), 45, 135.25),
        (Scale(90, "feed-side", offset=0.25), -45, 45.25),
        (Scale(90, "discharge-side", offset=-0.5), 30, 59.5),
        (Scale(0, "discharge-side", offset=0.5), 30, -29.5),
    ],
)
def test_a_kept_correction_is_added_to_the_reading(scale: Scale, swing: float, reading: float) -> None:
    assert scale.reading(swing) == reading
    assert scale.swing(reading) == swing


@pytest.mark.parametrize("out", [1.0, -1.0, 0.25])
@pytest.mark.parametrize("swing", [45.0, -45.0, 0.0, 0.5, -0.5, 22.5])
def test_an_arm_that_stands_out_cuts_right_on_both_sides_of_a_two_sided_scale(out: float, swing: float) -> None:
    """The arm stands `out` degrees further to the feed side than its pointer, whatever it is set to.

    A pointer that shows so many degrees to a side stands at plus or minus that many; the operator sets the number on
    the side that is told. The correction is that of a right cut that was set to 45 and came out at 45 + `out`.
    """
    scale = Scale(0, two_sided=True)
    kept = attrs.evolve(scale, offset=scale.corrected(out))
    number, side = kept.reading(swing), kept.reading_side(swing)
    assert number >= 0
    pointer = {"feed": number, "discharge": -number, "square": 0.0}[side]
    assert pointer + out == pytest.approx(swing, abs=1e-12)
    assert kept.swing(number, side) == pytest.approx(swing, abs=1e-12)


def test_the_side_of_a_square_cut_on_a_corrected_two_sided_scale() -> None:
    """The arm stands 1 degree further to the feed side than it shows: square is 1 on the discharge side."""
    reach = saw_with(Scale(0, two_sided=True, offset=-1.0)).reach(TUBE, mt.Cut(), "right")
    assert (reach.scale, reach.side, reach.scale_side) == (1.0, "square", "discharge")
    assert reading_words(reach) == "1° discharge"
    assert scale_words(reach) == "1° discharge"
    ends = [saw_with(Scale(0, two_sided=True, offset=-1.0)).reach(TUBE, mt.Cut(45), end) for end in ("left", "right")]
    assert [(end.scale, end.scale_side) for end in ends] == [(46.0, "discharge"), (44.0, "feed")]
    assert [scale_words(end) for end in ends] == ["46°", "44°"]


@LAW
@given(
    square=st.sampled_from([0, 90]),
    positive=st.sampled_from(["feed-side", "discharge-side"]),
    offset=st.floats(-5, 5),
    swing=st.floats(-89, 89),
)
def test_a_reading_leads_back_to_its_swing(square: float, positive: str, offset: float, swing: float) -> None:
    """The tolerance is the rounding of sums of up to 200 degrees."""
    scale = Scale(square, positive, offset=offset)
    assert scale.swing(scale.reading(swing)) == pytest.approx(swing, abs=1e-12)


@LAW
@given(offset=st.floats(-5, 5), swing=st.just(0.0) | st.floats(-89, -1e-6) | st.floats(1e-6, 89))
def test_a_two_sided_reading_and_its_side_lead_back_to_the_swing(offset: float, swing: float) -> None:
    """A reading of less than 1e-9 degrees has no side: that is what is lost of it."""
    scale = Scale(0, two_sided=True, offset=offset)
    assert scale.swing(scale.reading(swing), scale.reading_side(swing)) == pytest.approx(swing, abs=2e-9)


def test_a_two_sided_reading_without_its_side_is_refused() -> None:
    with pytest.raises(BadInput, match="side: found None; a two-sided scale needs the side: feed or discharge"):
        Scale(0, two_sided=True).swing(45)
    assert Scale(0, two_sided=True).swing(0) == 0


@pytest.mark.parametrize(
    ("swing", "reached"), [(60, True), (60 + 1e-12, True), (60.01, False), (-45, True), (-45.01, False), (0, True)]
)
def test_the_arm_goes_so_far_to_each_side(swing: float, reached: bool) -> None:
    assert Scale(feed_side_most=60, discharge_side_most=45).reaches(swing) is reached
