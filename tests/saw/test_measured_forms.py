"""Figures of a saw file in the form in which a shop can measure them: what is made of them, by hand arithmetic."""

from __future__ import annotations

import re
from math import cos, radians, sin, tan
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.cut.blade.arms import Column, HingedArm
from mitertool.saw.file.explain import explain

HINGED = """
[saw]
name = "bench saw"
kind = "hinged"
kerf = 1.3
[scale]
square = 90
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 45
[arm]
hinge_u = -300
hinge_z = 60
below_bed = 5
lift_highest = 30
stop_u = 300
[bed]
swing_axis = 40
[guides]
fixed_u = -60
half_thickness = 1
[vise]
fixed_jaw = "left"
"""

COLUMN = """
[saw]
name = "column saw"
units = "{units}"
kind = "column"
kerf = "1.3 mm"
[scale]
square = 90
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 45
[arm]
below_bed = "5 mm"
{lift}
cant = 3
[bed]
swing_axis = "40 mm"
[vise]
fixed_jaw = "left"
"""

PLATE = '[[obstacle]]\nname = "plate"\nstands = "across"\ndepth = 300\n'
ALPHA = radians(30)
FOOT = (-300 + 65 * sin(ALPHA), 60 - 65 * cos(ALPHA))
LIFTED = FOOT[1] + (300 - FOOT[0]) * tan(ALPHA)
"""mm. The edge passes 60 + 5 = 65 below the hinge; lifted 30 degrees, its foot from the hinge lies there, and it rises
from the foot by tan 30: so high it stands 300 along the blade from the axis, which is 340 from the jaw."""


def load(folder: Path, text: str) -> mt.Saw:
    (folder / "saw.toml").write_text(text, encoding="utf-8")
    return mt.Saw.load(folder / "saw.toml")


def changed(old: str, new: str) -> str:
    assert old in HINGED
    return HINGED.replace(old, new)


def test_the_lift_by_the_height_of_the_edge_at_a_spot(tmp_path: Path) -> None:
    saw = load(tmp_path, changed("lift_highest = 30", f"lift_height = {LIFTED!r}\nlift_at = 340"))
    assert isinstance(saw.arm, HingedArm)
    assert saw.arm.lift_highest == pytest.approx(30, abs=1e-9)
    assert pytest.approx(331.35, abs=0.01) == LIFTED


@pytest.mark.parametrize(
    ("units", "lift"),
    [("mm", "lift_height = 220\nlift_at = 140"), ("in", 'lift_height = "220 mm"\nlift_at = "140 mm"')],
)
def test_the_lift_of_a_canted_column(tmp_path: Path, units: str, lift: str) -> None:
    """100 out from the axis a blade canted 3 degrees stands 100 tan 3 higher; the lift counts from 5 below the bed."""
    saw = load(tmp_path, COLUMN.format(units=units, lift=lift))
    assert isinstance(saw.arm, Column)
    assert saw.arm.lift_highest == pytest.approx(220 - 100 * tan(radians(3)) + 5, abs=1e-9)


def test_places_from_the_fixed_jaw(tmp_path: Path) -> None:
    """The axis stands 40 from the jaw, so each place is 40 less from the axis."""
    text = changed("hinge_u = -300", "hinge_y = -260").replace("stop_u = 300", "stop_y = 340")
    assert load(tmp_path, text.replace("fixed_u = -60", "fixed_y = -20")) == load(tmp_path, HINGED)


def test_the_whole_thickness_of_a_guide(tmp_path: Path) -> None:
    assert load(tmp_path, changed("half_thickness = 1", "thickness = 2")) == load(tmp_path, HINGED)


@pytest.mark.parametrize(("more", "feed", "discharge"), [("slot = 60\nedge = 20", 40, 20), ("slot = 60", 30, 30)])
def test_a_plate_with_a_slot_stands_on_both_sides(tmp_path: Path, more: str, feed: float, discharge: float) -> None:
    saw = load(tmp_path, HINGED + PLATE + more)
    assert [(one.name, one.side, one.edge, one.depth) for one in saw.obstacles] == [
        ("plate, feed", "feed", feed, 300),
        ("plate, discharge", "discharge", discharge, 300),
    ]


@pytest.mark.parametrize(("miter", "hit"), [(6, ""), (9, "plate, feed"), (-6, "plate, discharge")])
def test_a_slot_lets_the_blade_swing_so_far(tmp_path: Path, miter: float, hit: str) -> None:
    """The far end of the plate stands 300 - 40 = 260 from the axis: the blade gets 260 tan 6 + 1 / cos 6 = 28.3 there,
    more than 20 on the discharge side, less than 40 on the feed side; at 9 degrees it is 42.2."""
    saw = load(tmp_path, HINGED + PLATE + "slot = 60\nedge = 20\n")
    reach = saw.reach(mt.flat(60, 20), mt.Cut(miter), "right")
    needed = 260 * tan(radians(abs(miter))) + 1 / cos(radians(miter))
    assert reach.set_backs["plate, feed" if miter > 0 else "plate, discharge"] == pytest.approx(needed, abs=1e-9)
    assert [one.code for one in reach.reasons] == (["obstacle"] if hit else [])


REFUSED = [
    (
        "lift_highest = 30",
        "lift_highest = 30\nlift_height = 300\nlift_at = 340",
        "lift_height: .*lift_highest beside it",
    ),
    ("lift_highest = 30", "lift_height = 300", "lift_at: .*needed"),
    ("lift_highest = 30", "lift_at = 300", "lift_height: .*needed"),
    (
        "lift_highest = 30",
        "lift_height = 300\nlift_at = -220",
        r"lift_at: found '40 mm from the hinge'; further .* 65 mm",
    ),
    ("hinge_u = -300", "hinge_u = -300\nhinge_y = -260", "hinge_y: .*hinge_u beside it"),
    ("hinge_u = -300\n", "", "hinge_u: found 'nothing'"),
    ("hinge_u = -300", "hinge_y = -10", r"hinge_u: found '-50 mm'; the hinge must stand further"),
    ("stop_u = 300", "stop_u = 300\nstop_y = 340", "stop_y: .*stop_u beside it"),
    ("fixed_u = -60", "fixed_u = -60\nfixed_y = -20", "fixed_y: .*fixed_u beside it"),
    ("half_thickness = 1", "half_thickness = 1\nthickness = 2", "thickness: .*half_thickness beside it"),
    ("swing_axis = 40\n[guides]\nfixed_u = -60", "[guides]\nfixed_y = -20", "fixed_y: found 'no swing_axis in .bed.'"),
]


@pytest.mark.parametrize(("old", "new", "says"), REFUSED)
def test_both_forms_or_half_of_one_are_refused(tmp_path: Path, old: str, new: str, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        load(tmp_path, changed(old, new))
    assert re.search(rf"^saw\.toml: \[(arm|guides)\]: {says}", str(refused.value)), str(refused.value)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ('side = "feed"\nslot = 60', "side: found 'slot beside it'; give one of the two"),
        ("slot = 60\nedge = 61", "edge: found '61 mm'; within the slot: at most 60 mm"),
        ("slot = 1", "edge: found '0.5 mm'; a square cut would saw it"),
        ("edge = 20", "side: found 'nothing'"),
        ('side = "feed"', "edge: found 'nothing'"),
    ],
)
def test_a_slot_and_a_side_are_refused(tmp_path: Path, more: str, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        load(tmp_path, HINGED + PLATE + more)
    assert f"saw.toml: [[obstacle]] plate: {says}" in str(refused.value)


def test_saw_check_tells_what_it_makes_of_them(tmp_path: Path) -> None:
    text = changed("lift_highest = 30", f"lift_height = {LIFTED!r}\nlift_at = 340").replace(
        "fixed_u = -60", "fixed_y = -20"
    )
    load(tmp_path, text + PLATE + "slot = 60\nedge = 20\n")
    told = {(one.table, one.key): (one.read, one.made_of) for one in explain(tmp_path / "saw.toml")}
    assert told["arm", "lift_highest"] == (("30°",), ("lift_height", "lift_at"))
    assert told["guides", "fixed_u"] == (("-60 mm",), ("fixed_y",))
    assert told["obstacle", "edge"] == (("40 mm on the feed side, 20 mm on the discharge side",), ("slot",))
    assert told["arm", "stop_u"] == (("300 mm",), ())
