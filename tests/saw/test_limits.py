"""Every limit of a saw, moved one at a time past what a cut needs, flips the verdict exactly there.

What the cut needs is found by trying with points of the bar, the blade, its guides and the blocks in its way (see
machines.py), never by a formula of the package. `NEAR` is what lies between the two sides of a flip: ten times what the
points may miss of a round outline.
"""

from __future__ import annotations

import math

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.cut.blade.arms import BladeArm
from mitertool.saw import Scale
from mitertool.saw.file.machine import Guides, Obstacle, Tilt
from tests.often import times
from tests.saw import machines
from tests.specimens import SPECIMENS

NEAR = 10 * machines.CHORD
LAW = settings(deadline=None, derandomize=True, max_examples=times(30))

NAMES = ("rectangular tube", "round tube", "unequal angle", "tapered channel", "flat bar", "tube with a sharp hole")
SECTIONS = st.sampled_from([SPECIMENS[name] for name in NAMES])
ENDS = st.sampled_from(["left", "right"])
JAWS = st.sampled_from(["left", "right"])
MITERS = st.floats(-60, -0.1) | st.floats(0.1, 60)
CUTS = st.builds(mt.Cut, MITERS) | st.builds(mt.Cut, st.floats(-35, 35), st.floats(0.1, 35) | st.floats(-35, -0.1))
MIRRORED = attrs.evolve(machines.HINGE, hinge_u=560.0)
ARMS = st.sampled_from([machines.HINGE, machines.COLUMN, MIRRORED, attrs.evolve(machines.COLUMN, cant=-3.0)])


def codes(saw: mt.Saw, section: mt.Section, cut: mt.Cut, end: str) -> set[str]:
    return {reason.code for reason in saw.reach(section, cut, end).reasons}


def settled(saw: mt.Saw, cut: mt.Cut, end: str) -> tuple[mt.Saw, float, float]:
    """The saw made to swing one way only, so that no roll half over helps; the swing and the roll.

    By turning the plane about the bar: an upright blade makes a bevel with the bar rolled by atan2(q, p).
    """
    sign = (1 if end == "right" else -1) * (1 if saw.fixed_jaw == "left" else -1)
    swing, roll = sign * cut.miter, 0.0
    if cut.bevel:
        swing, roll = sign * math.degrees(math.atan(math.hypot(cut.p, cut.q))), math.degrees(math.atan2(cut.q, cut.p))
    scale = Scale(feed_side_most=80 if swing > 0 else 0, discharge_side_most=0 if swing > 0 else 80)
    return attrs.evolve(saw, scale=scale), swing, roll


@LAW
@given(SECTIONS, CUTS, ENDS, JAWS, ARMS)
def test_lift(section: mt.Section, cut: mt.Cut, end: str, jaw: str, arm: BladeArm) -> None:
    saw = machines.roomy(arm, jaw)
    saw, swing, roll = settled(saw, cut, end)
    face = machines.in_blade_plane(machines.bar_points(section, roll), saw, swing)
    need = machines.lift_to_clear(face, arm, 5.0)
    for lift, refused in ((need + NEAR, False), (need - NEAR, True)):
        there = attrs.evolve(saw, arm=attrs.evolve(arm, lift_highest=lift))
        assert ("lift" in codes(there, section, cut, end)) is refused
    reach = saw.reach(section, cut, end)
    assert reach.arm_lift == pytest.approx(need, abs=NEAR)
    assert reach.first_touch == pytest.approx(machines.lift_to_clear(face, arm, 0.0), abs=NEAR)
    assert reach.through == pytest.approx(machines.through(face, arm), abs=NEAR)


@LAW
@given(SECTIONS, CUTS, ENDS, JAWS)
def test_a_canted_blade_at_rest_must_be_through(section: mt.Section, cut: mt.Cut, end: str, jaw: str) -> None:
    saw = machines.roomy(machines.COLUMN, jaw)
    saw, swing, roll = settled(saw, cut, end)
    face = machines.in_blade_plane(machines.bar_points(section, roll), saw, swing)
    deep = machines.COLUMN.below_bed - machines.through(face, machines.COLUMN)
    for below, refused in ((deep + NEAR, False), (deep - NEAR, True)):
        there = attrs.evolve(saw, arm=attrs.evolve(machines.COLUMN, below_bed=below))
        assert ("lift" in codes(there, section, cut, end)) is refused


@LAW
@given(SECTIONS, CUTS, ENDS, JAWS)
def test_guides(section: mt.Section, cut: mt.Cut, end: str, jaw: str) -> None:
    """Each guide's points must stay the clearance of 5 mm from the sides of the bar."""
    saw = machines.roomy(jaw=jaw)
    assert saw.guides is not None
    saw, swing, roll = settled(saw, cut, end)
    width = float(machines.bar_points(section, roll)[:, 0].max())
    fixed = -machines.least_true(lambda u: bool(machines.guide_y(saw, swing, -u).max() <= -5.0), -3000, 3000)
    for at, refused in ((fixed - NEAR, False), (fixed + NEAR, True)):
        there = attrs.evolve(saw, guides=attrs.evolve(saw.guides, fixed_u=at))
        assert ("fixed-guide" in codes(there, section, cut, end)) is refused
    moving = machines.least_true(lambda u: bool(machines.guide_y(saw, swing, u).min() >= width + 5.0), -3000, 3000)
    for most, refused in ((moving + 430 + NEAR, False), (moving + 430 - NEAR, True)):
        there = attrs.evolve(saw, guides=attrs.evolve(saw.guides, opening_most=most))
        assert ("opening" in codes(there, section, cut, end)) is refused
    reach = saw.reach(section, cut, end)
    assert reach.guide_opening == pytest.approx(moving - fixed, abs=NEAR)
    assert reach.guide_setting == pytest.approx(moving + 430, abs=NEAR)


@LAW
@given(
    SECTIONS,
    CUTS,
    ENDS,
    JAWS,
    st.sampled_from(["feed", "discharge"]),
    st.sampled_from(["moving-jaw", "fixed-jaw", "across"]),
    st.floats(5, 200),
    st.sampled_from([0.0, 13.0]),
)
def test_obstacles(
    section: mt.Section, cut: mt.Cut, end: str, jaw: str, side: str, stands: str, depth: float, thick: float
) -> None:
    saw = machines.roomy(jaw=jaw)
    saw = attrs.evolve(saw, guides=Guides(-430.0, half_thickness=thick, clearance=5.0))
    saw, swing, roll = settled(saw, cut, end)
    width = float(machines.bar_points(section, roll)[:, 0].max())
    block = {"moving-jaw": (width, width + depth), "fixed-jaw": (-depth, 0.0), "across": (0.0, depth)}[stands]
    need = machines.blade_reach(saw, swing, block, side) + 5.0
    for edge, refused in ((need + NEAR, False), (need - NEAR, True)):
        there = attrs.evolve(saw, obstacles=(Obstacle("post", side, stands, depth, edge, 60.0),))
        assert there.reach(section, cut, end).set_backs["post"] == pytest.approx(need, abs=NEAR)
        assert ("obstacle" in codes(there, section, cut, end)) is refused


@LAW
@given(SECTIONS, CUTS, ENDS, JAWS)
def test_width_and_height_as_the_bar_lies(section: mt.Section, cut: mt.Cut, end: str, jaw: str) -> None:
    saw, _, roll = settled(machines.roomy(jaw=jaw), cut, end)
    width, height = machines.bar_points(section, roll).max(axis=0)
    for by, refused in ((NEAR, False), (-NEAR, True)):
        narrow = attrs.evolve(saw, bed=attrs.evolve(saw.bed, width=float(width) + by))
        assert ("width" in codes(narrow, section, cut, end)) is refused
        low = attrs.evolve(saw, bed=attrs.evolve(saw.bed, height=float(height) + by))
        assert ("height" in codes(low, section, cut, end)) is refused


@LAW
@given(SECTIONS, CUTS, ENDS, JAWS)
def test_swing(section: mt.Section, cut: mt.Cut, end: str, jaw: str) -> None:
    """The swing is the angle between two points of the blade on the cut's plane and a square line, in plan."""
    saw, _, roll = settled(machines.roomy(jaw=jaw), cut, end)
    a = math.radians(roll)
    slope = (1 if end == "right" else -1) * (cut.p * math.cos(a) + cut.q * math.sin(a))
    need = math.degrees(math.atan2(slope if jaw == "left" else -slope, 1.0))
    for most, refused in ((abs(need) + NEAR, False), (abs(need) - NEAR, True)):
        ways = {"feed_side_most": most if need > 0 else 0, "discharge_side_most": 0 if need > 0 else most}
        assert ("swing" in codes(attrs.evolve(saw, scale=Scale(**ways)), section, cut, end)) is refused


@LAW
@given(SECTIONS, st.floats(-50, 50), st.floats(0.1, 40) | st.floats(-40, -0.1), ENDS, JAWS)
def test_tilt(section: mt.Section, miter: float, bevel: float, end: str, jaw: str) -> None:
    """The tilt is how far the cut's plane leans from upright along the bar, square to the blade's line on the bed."""
    cut = mt.Cut(miter, bevel)
    sign = (1 if end == "right" else -1) * (1 if jaw == "left" else -1)
    need = sign * math.degrees(math.atan(cut.q * math.cos(math.atan(cut.p))))
    for most, refused in ((abs(need) + NEAR, False), (abs(need) - NEAR, True)):
        tilt = Tilt(0 if need > 0 else -most, most if need > 0 else 0)
        saw, _, _ = settled(attrs.evolve(machines.roomy(jaw=jaw), tilt=tilt), mt.Cut(miter or 1.0), end)
        assert ("tilt" in codes(saw, section, cut, end)) is refused


@LAW
@given(SECTIONS, CUTS, ENDS, JAWS, st.floats(0, 300))
def test_grip(section: mt.Section, cut: mt.Cut, end: str, jaw: str, grip: float) -> None:
    """Bar lines over the box of the section, each shorter by what the cut slants there and the kerf along the bar."""
    saw, _, roll = settled(attrs.evolve(machines.roomy(jaw=jaw), grip=grip), cut, end)
    width, height = machines.bar_points(section, roll).max(axis=0)
    swing = math.atan(math.hypot(cut.p, cut.q) if cut.bevel else cut.p)
    taken = max(abs(math.tan(swing)) * abs(y - width / 2) for y in (0.0, width)) + 1.4 / math.cos(swing)
    for by, refused in ((NEAR, False), (-NEAR, True)):
        reach = saw.reach(section, cut, end, held=float(grip + taken + by))
        assert ("grip" in {reason.code for reason in reach.reasons}) is refused
        assert height > 0


def test_a_bar_that_lies_in_the_hinge_is_refused() -> None:
    """The hinge stands 520 mm from the axis and the edge 81 mm below it: 439 mm are left, less the clearance of 5."""
    for axis, refused in ((433.9, False), (434.1, True)):
        saw = attrs.evolve(machines.roomy(), bed=attrs.evolve(machines.roomy().bed, swing_axis=axis))
        reasons = saw.reach(mt.flat(80, 12), mt.Cut()).reasons
        assert ("width" in {reason.code for reason in reasons}) is refused
