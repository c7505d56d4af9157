"""Butted and mixed corners by hand, closed and open: who runs through, what the other loses, what is taken off ends.

A member that runs through keeps its outer edge from corner to corner; the other ends at its inner edge. At a corner of
S both are cut at 90 - S from square, and the butted one loses (width + gap) / sin S.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.frame.runs import around, checked, frame, refusal, tube

R2, R3 = math.sqrt(2), math.sqrt(3)
TUBE = tube("T", 50)
L_SHAPE = [[0, 0], [0, 1000], [500, 1000], [500, 500], [1000, 500], [1000, 0]]

Side = tuple[float, float, float]


def sides(record: dict[str, object]) -> list[Side]:
    """Left miter, outer edge, right miter, around the frame."""
    return [
        (piece["left"]["miter_deg"], piece["edges_mm"]["moving_bottom"], piece["right"]["miter_deg"])
        for piece in around(record)
    ]


def approx(expected: list[Side]) -> list[object]:
    return [pytest.approx(side, abs=1e-9) for side in expected]


@pytest.mark.parametrize("gap", [0, 3])
@pytest.mark.parametrize(("measured", "more"), [("outside", 0), ("centerline", 50), ("inside", 100)])
@pytest.mark.parametrize("through", ["width", "height", None])
def test_a_butted_rectangle(tmp_path: Path, gap: float, measured: str, more: float, through: str | None) -> None:
    """All cuts are square; the width sides run through where nothing else is said."""
    size = {"width": 1000, "height": 600, "corners": "butt", "through": through, "root_gap": gap}
    record = checked(tmp_path, TUBE, frame("rectangle", measured=measured, **size))
    width, height, off = 1000 + more, 600 + more, 2 * (50 + gap)
    lengths = (width - off, height) if through == "height" else (width, height - off)
    assert sides(record) == approx([(0, length, 0) for length in lengths * 2])
    closure = record["assemblies"][0]["closure"]
    assert max(closure["gap_mm"], closure["overlap_mm"], closure["rounded_gap_mm"]) <= 1e-6


def test_a_butted_rectangle_of_two_widths(tmp_path: Path) -> None:
    """Heights of 80 run through: widths lose 80 at either end, whatever their own width."""
    size = {"width": 1000, "height": 600, "corners": "butt", "through": "height", "measured": "outside"}
    record = checked(tmp_path, tube("W", 80), tube("N", 40), frame("rectangle", ["N", "W"], **size))
    assert sides(record) == approx([(0, 840, 0), (0, 600, 0)] * 2)


@pytest.mark.parametrize(
    "tables",
    [
        (TUBE, frame("rectangle", width=900, height=600, measured="outside", corners="butt")),
        (
            *(tube("T", 50), tube("W", 100)),
            frame("polygon", ["T", "W"] * 3, sides=6, side=900, measured="outside"),
        ),
    ],
    ids=["butted", "hexagon of two widths"],
)
def test_a_square_cut_is_square_to_the_last_figure(tmp_path: Path, tables: tuple[str, ...]) -> None:
    """Sheets ask whether a miter is 0: at 90 degrees butted, and where 100 meets 50 at 120, the cut of the wide one."""
    found = [miter for left, _, right in sides(checked(tmp_path, *tables)) for miter in (left, right)]
    assert not [miter for miter in found if miter and abs(miter) < 1]


@pytest.mark.parametrize(
    ("kind", "side"),
    [
        ("miter", (60, 900 - 2 * 2, 60)),
        ("butt", (30, 900 - 52 * 2 / R3, 30)),
        ("first-through", (30, 900 - 52 * 2 / R3, 30)),
        ("second-through", (30, 900 - 52 * 2 / R3, 30)),
    ],
)
def test_a_triangle(tmp_path: Path, kind: str, side: Side) -> None:
    """At 60 degrees with a gap of 2: mitered, each end stays 1 / cos 60 = 2 back; butted, each piece runs through at
    one end and is butted at the other, cut at 90 - 60, less 52 / sin 60."""
    keys = {"sides": 3, "side": 900, "root_gap": 2, "corners": kind}
    record = checked(tmp_path, TUBE, frame("polygon", measured="outside", **keys))
    assert sides(record) == approx([side] * 3)


@pytest.mark.parametrize(
    ("corners", "lengths"),
    [
        (["first-through", "miter", "second-through", "miter"], (1000, 600 - 50, 1000 - 70, 600)),
        (["second-through"] * 4, (1000 - 60, 600 - 80, 1000 - 70, 600 - 50)),
        (["first-through"] * 4, (1000 - 70, 600 - 50, 1000 - 60, 600 - 80)),
    ],
)
def test_each_corner_its_own_way(tmp_path: Path, corners: list[str], lengths: tuple[float, ...]) -> None:
    """Widths 50, 60, 80, 70 around 1000 by 600: a side that is butted loses the width of the one that runs through.

    In the first the top runs through over the right side, and the left side past the bottom."""
    tubes = [tube(name, size) for name, size in (("A", 50), ("B", 60), ("C", 80), ("D", 70))]
    points = [[0, 600], [1000, 600], [1000, 0], [0, 0]]
    record = checked(
        tmp_path, *tubes, frame("polygon", list("ABCD"), points=points, corners=corners, measured="outside")
    )
    assert [side[1] for side in sides(record)] == pytest.approx(lengths)


def test_who_runs_through_does_not_hang_on_the_way_round(tmp_path: Path) -> None:
    """First and second are in the order of the sides as given: counter-clockwise the bottom comes first and runs
    through to the right, where clockwise the right side comes first."""
    points = [[0, 0], [1000, 0], [1000, 600], [0, 600]]
    tubes = [tube(name, size) for name, size in (("BOTTOM", 50), ("RIGHT", 60), ("TOP", 80), ("LEFT", 70))]
    kinds = ["first-through", "second-through", "first-through", "second-through"]
    given = frame("polygon", ["BOTTOM", "RIGHT", "TOP", "LEFT"], points=points, corners=kinds, measured="outside")
    lengths = {p["section"]: p["long_point_mm"] for p in checked(tmp_path, *tubes, given)["pieces"]}
    assert lengths == pytest.approx({"BOTTOM": 1000, "TOP": 1000, "RIGHT": 600 - 50 - 80, "LEFT": 600 - 50 - 80})
    points, names = [points[0], *points[:0:-1]], ["LEFT", "TOP", "RIGHT", "BOTTOM"]
    given = frame("polygon", names, points=points, corners=kinds, measured="outside")
    lengths = {p["section"]: p["long_point_mm"] for p in checked(tmp_path, *tubes, given)["pieces"]}
    assert lengths == pytest.approx({"LEFT": 600, "RIGHT": 600, "TOP": 1000 - 70 - 60, "BOTTOM": 1000 - 70 - 60})


@pytest.mark.parametrize("deduct", [None, 0, 10])
@pytest.mark.parametrize("gap", [0, 2])
def test_an_open_corner(tmp_path: Path, deduct: float | None, gap: float) -> None:
    """Up 600 and to the right 1000: mitered where they meet, square at the free ends, less a cap on each of these."""
    keys = {"points": [[0, 0], [0, 600], [1000, 600]], "closed": False, "deduct": deduct, "root_gap": gap}
    record = checked(tmp_path, TUBE, frame("polygon", measured="outside", **keys))
    off = (deduct or 0) + gap / R2
    assert sides(record) == approx([(0, 600 - off, 45), (45, 1000 - off, 0)])
    assert [joint["kind"] for joint in record["assemblies"][0]["joints"]] == ["miter"]


@pytest.mark.parametrize(("measured", "out"), [("outside", 0), ("centerline", 25), ("inside", 50)])
def test_an_open_frame_lies_to_the_right_of_its_line(tmp_path: Path, measured: str, out: float) -> None:
    """Walked as given, the outside on the left: a turn to the left is a corner that points into the frame. A portal of
    three sides, open at the bottom, and the same one walked the other way, which turns it inside out."""
    portal = [[0, 0], [0, 600], [1000, 600], [1000, 0]]
    keys = {"closed": False, "measured": measured}
    record = checked(tmp_path, TUBE, frame("polygon", points=portal, **keys))
    assert sides(record) == approx([(0, 600 + out, 45), (45, 1000 + 2 * out, 45), (45, 600 + out, 0)])
    record = checked(tmp_path, TUBE, frame("polygon", points=portal[::-1], **keys))
    assert sides(record) == approx([(0, 600 - out, -45), (-45, 1000 - 2 * out, -45), (-45, 600 - out, 0)])


def test_an_open_frame_butted_with_caps(tmp_path: Path) -> None:
    """The post runs through, the beam is butted against it and capped at its free end; the post's foot stands on a base
    plate of the same 12."""
    keys = {"points": [[0, 0], [0, 600], [1000, 600]], "closed": False, "deduct": 12, "corners": "first-through"}
    record = checked(tmp_path, TUBE, frame("polygon", measured="outside", root_gap=2, **keys))
    assert sides(record) == approx([(0, 600 - 12, 0), (0, 1000 - 52 - 12, 0)])


def test_one_member_with_both_ends_free(tmp_path: Path) -> None:
    keys = {"points": [[0, 0], [300, 400]], "closed": False, "deduct": 10}
    record = checked(tmp_path, TUBE, frame("polygon", measured="outside", **keys))
    assert sides(record) == approx([(0, 480, 0)])
    assert record["assemblies"][0]["joints"] == []


def test_the_record_names_every_joint(tmp_path: Path) -> None:
    keys = {"points": L_SHAPE, "corners": ["butt", "miter", "miter", "second-through", "miter", "miter"], "root_gap": 1}
    (assembly,) = checked(tmp_path, TUBE, frame("polygon", measured="outside", **keys))["assemblies"]
    kinds = ["first-through", "miter", "miter", "second-through", "miter", "miter"]
    assert assembly["joints"] == [{"kind": kind, "gap_mm": 1} for kind in kinds]


@pytest.mark.parametrize(
    ("shape", "keys", "says"),
    [
        ("rectangle", {"width": 900, "height": 500, "corners": "weld"}, "corners: found 'weld'; allowed: miter, butt"),
        (
            "rectangle",
            {"width": 900, "height": 500, "corners": "butt", "through": "both"},
            "through: found 'both'; allowed: width, height",
        ),
        ("polygon", {"sides": 3, "side": 500, "corners": ["miter", "butt"]}, "corners: found ['miter', 'butt']; "),
        (
            "polygon",
            {"sides": 3, "side": 500, "corners": "weld"},
            "corners: found 'weld'; allowed: miter, first-through",
        ),
        (
            "polygon",
            {"points": L_SHAPE, "corners": "butt"},
            "corner after side 3: corners: found 'butt'; a corner of 270 degrees points into the frame; miter it",
        ),
        ("polygon", {"sides": 3, "side": 500, "root_gap": -1}, "root_gap: found -1; it must be 0 or more; "),
        (
            "polygon",
            {"sides": 3, "side": 500, "deduct": 5},
            "deduct: found '5 mm'; is taken off free ends; a closed frame has none",
        ),
        (
            "polygon",
            {"points": [[0, 0], [0, 500], [0, 1000]], "closed": False},
            "corner after side 1: corner angle: found 180.0; ",
        ),
        (
            "polygon",
            {"points": [[0, 0], [0, 500], [500, 500], [500, 200], [-200, 200]], "closed": False},
            "members: found 'sides 1 and 4 crossing at (0 mm, 200 mm)'; members must not cross",
        ),
    ],
    ids=str,
)
def test_no_joint(tmp_path: Path, shape: str, keys: dict[str, object], says: str) -> None:
    assert refusal(tmp_path, TUBE, frame(shape, measured="outside", **keys)).startswith(f"[[frame]] F: {says}")


@pytest.mark.parametrize(
    ("shape", "keys", "says"),
    [
        ("rectangle", {"width": 200, "height": 200, "root_gap": 150}, "side 1: length: found '-12.132 mm'; its 200 mm"),
        (
            "rectangle",
            {"width": 200, "height": 200, "root_gap": 50, "corners": "butt"},
            "side 2: length: found '0 mm'; ",
        ),
        (
            "rectangle",
            {"width": 200, "height": 120, "root_gap": 15},
            "side 2: length at moving-bottom: found '98.7868 mm'; the two cuts cross inside the section, 1.2132 mm",
        ),
        (
            "polygon",
            {"points": [[0, 0], [0, 100]], "closed": False, "deduct": 50},
            "side 1: length: found '0 mm'; its 100 mm are too short for its joints",
        ),
    ],
    ids=str,
)
def test_a_gap_or_a_cap_larger_than_the_piece(tmp_path: Path, shape: str, keys: dict[str, object], says: str) -> None:
    """150 over sqrt 2 twice is 212.132; two members of 50 and two gaps of 50 are 200; 120 - 15 sqrt 2 is 98.787, less
    than two widths."""
    assert refusal(tmp_path, TUBE, frame(shape, measured="outside", **keys)).startswith(f"[[frame]] F: {says}")
