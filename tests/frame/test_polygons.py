"""Polygons by hand: regular ones by each size and on each line, by corner points, by sides and angles; what is none."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from tests.frame.runs import HEAD, around, by_mark, checked, command, frame, refusal, tube

R3 = math.sqrt(3)
TUBE = tube("T", 50)
TRAPEZOID = [[0, 0], [200, 400], [800, 400], [1000, 0]]
"""Clockwise; legs of 200 sqrt 5 that rise 2 in 1, so the lower corners have atan 2."""


def outer_edges(record: dict[str, object]) -> list[float]:
    return [piece["edges_mm"]["moving_bottom"] for piece in around(record)]


def miters(record: dict[str, object]) -> list[tuple[float, float]]:
    return [(piece["left"]["miter_deg"], piece["right"]["miter_deg"]) for piece in around(record)]


@pytest.mark.parametrize(
    ("size", "side"),
    [
        ({"side": 300}, 300),
        ({"across_corners": 600}, 300),
        ({"across_flats": 300 * R3}, 300),
        ({"across_flats": 600}, 200 * R3),
    ],
    ids=str,
)
@pytest.mark.parametrize(("measured", "outside"), [("outside", 0), ("centerline", 25), ("inside", 50)])
def test_a_hexagon(tmp_path: Path, size: dict[str, float], side: float, measured: str, outside: float) -> None:
    """A side of a hexagon is half its width across corners and 1/sqrt 3 of its width across flats; moved out by d it
    grows by 2 d tan 30."""
    record = checked(tmp_path, TUBE, frame("polygon", sides=6, measured=measured, **size))
    (piece,) = record["pieces"]
    assert (piece["mark"], piece["quantity"]) == ("F-1", 6)
    assert outer_edges(record) == pytest.approx([side + 2 * outside / R3] * 6, abs=1e-9)
    assert piece["edges_mm"]["fixed_bottom"] == pytest.approx(side + 2 * (outside - 50) / R3, abs=1e-9)
    assert miters(record) == [pytest.approx((30, 30), abs=1e-9)] * 6


@pytest.mark.parametrize(("sides", "miter"), [(3, 60), (4, 45), (5, 36), (8, 22.5), (12, 15), (360, 0.5)])
def test_the_miter_is_a_half_turn_shared_by_the_sides(tmp_path: Path, sides: int, miter: float) -> None:
    record = checked(tmp_path, TUBE, frame("polygon", sides=sides, side=400, measured="outside"))
    assert miters(record) == [pytest.approx((miter, miter), abs=1e-9)] * sides
    assert record["assemblies"][0]["order"] == ["F-1"] * sides


def test_a_square_of_two_widths(tmp_path: Path) -> None:
    """40 and 80 in turn: the seams are diagonals of 40 by 80."""
    tables = (
        tube("N", 40),
        tube("W", 80),
        frame("polygon", ["W", "N", "W", "N"], sides=4, side=900, measured="outside"),
    )
    steep, shallow = math.degrees(math.atan(2)), math.degrees(math.atan(0.5))
    record = checked(tmp_path, *tables)
    assert miters(record) == [pytest.approx(pair) for pair in [(shallow, shallow), (steep, steep)] * 2]
    assert [piece["edges_mm"]["fixed_bottom"] for piece in around(record)] == pytest.approx([820, 740] * 2)


def test_a_trapezoid_by_its_corners(tmp_path: Path) -> None:
    """Corners of a = atan 2 and 180 - a; a miter is 90 less half the corner. Legs are mirrored: marks of their own."""
    record = checked(tmp_path, TUBE, frame("polygon", points=TRAPEZOID, measured="outside"))
    wide = math.degrees(math.atan(2)) / 2
    sharp, blunt = 90 - wide, wide
    assert miters(record) == [
        pytest.approx(pair) for pair in [(sharp, blunt), (blunt, blunt), (blunt, sharp), (sharp, sharp)]
    ]
    assert outer_edges(record) == pytest.approx([200 * math.sqrt(5), 600, 200 * math.sqrt(5), 1000])
    assert record["assemblies"][0]["order"] == ["F-1", "F-2", "F-3", "F-4"]


@pytest.mark.parametrize("first", range(4))
def test_the_way_round_makes_no_other_frame(tmp_path: Path, first: int) -> None:
    """From any corner, either way round, each side with its section: the same four pieces around the frame."""
    names = ["A", "B", "C", "D"]
    tubes = [tube(name, 30 + 10 * i) for i, name in enumerate(names)]
    begun = [*TRAPEZOID[first:], *TRAPEZOID[:first]], [*names[first:], *names[:first]]
    turned = [begun[0][0], *begun[0][:0:-1]], begun[1][::-1]
    found = []
    for points, sections in (begun, turned):
        record = checked(tmp_path, *tubes, frame("polygon", sections, points=points, measured="inside"))
        found.append([(piece["section"], pytest.approx(piece["edges_mm"])) for piece in around(record)])
    assert [section for section, _ in found[0]] == begun[1]
    assert found[0] == [(section, edges.expected) for section, edges in found[1]]


def test_lengths_with_units(tmp_path: Path) -> None:
    """A foot and a half is 18 inches or 457.2 mm; a bare number of this job is in inches."""
    points = [[0, 0], [0, "1' 6\""], [18, "0.4572 m"], ["457.2 mm", 0]]
    head = HEAD + 'units = "ft-in"\n'
    record = checked(tmp_path, tube("T", 2, wall=0.1), frame("polygon", points=points, measured="outside"), head=head)
    assert outer_edges(record) == pytest.approx([457.2] * 4, abs=1e-9)


def test_sides_and_angles(tmp_path: Path) -> None:
    """A right triangle of 900, 1200, 1500: after 1200 comes the angle whose tangent is 900/1200. The last angle may be
    left out."""
    sharp = math.degrees(math.atan(0.75))
    for angles in ([90, sharp], [90, sharp, 90 - sharp]):
        shape = {"lengths": [900, 1200, 1500], "angles": angles}
        record = checked(tmp_path, TUBE, frame("polygon", measured="outside", **shape))
        assert outer_edges(record) == pytest.approx([900, 1200, 1500])
        halves = [45 + sharp / 2, 45, 90 - sharp / 2]
        assert miters(record) == [
            pytest.approx((before, after)) for before, after in zip(halves, [*halves[1:], halves[0]], strict=True)
        ]


OPEN = {"lengths": [500, 600, 700], "angles": [90, 120]}
"""Along the level, down, and 60 further round: corners at (0, 0), (500, 0), (500, -600) and 700 on at 150 below."""
OPEN_POINTS = [[0, 0], [500, 0], [500, -600], [500 - 350 * math.sqrt(3), -950]]


def test_sides_and_angles_of_an_open_frame(tmp_path: Path) -> None:
    """Its free ends are square, the corners halved: 45 at the first, (180 - 120)/2 = 30 at the second."""
    record = checked(tmp_path, TUBE, frame("polygon", measured="outside", closed=False, **OPEN))
    assert outer_edges(record) == pytest.approx([500, 600, 700])
    assert miters(record) == [pytest.approx(pair) for pair in ((0, 45), (45, 30), (30, 0))]
    again = checked(tmp_path, TUBE, frame("polygon", measured="outside", closed=False, points=OPEN_POINTS))
    assert outer_edges(again) == pytest.approx(outer_edges(record))


def test_an_open_frame_by_command() -> None:
    sizes = ("--lengths", "500 600 700", "--angles", "90 120", "--measured", "outside", "--open")
    code, out, err = command("frame", "polygon", "--section", "SHS 50x50x3", *sizes, "--json")
    assert (code, err) == (0, "")
    assert miters(json.loads(out)) == [pytest.approx(pair) for pair in ((0, 45), (45, 30), (30, 0))]


def test_sides_and_angles_of_a_notched_corner(tmp_path: Path) -> None:
    """An L: an angle of 270 turns the other way; on the outside its two miters are -45."""
    shape = {"lengths": [400, 500, 600, 500, 1000, 1000], "angles": [90, 270, 90, 90, 90]}
    record = checked(tmp_path, TUBE, frame("polygon", measured="outside", **shape))
    assert [pair for pair in miters(record) if min(pair) < 0] == [pytest.approx((45, -45)), pytest.approx((-45, 45))]
    assert sorted(by_mark(record)) == ["F-1", "F-2", "F-3", "F-4", "F-5"]


@pytest.mark.parametrize(
    ("shape", "says"),
    [
        ({"sides": 2, "side": 100}, "sides: found 2; it is below the range; write a whole number from 3 to 360"),
        ({"sides": 361, "side": 100}, "sides: found 361; it is above the range; write a whole number from 3 to 360"),
        ({"sides": 6, "side": 0}, "side: found 0; it must be more than 0; "),
        ({"sides": 6, "side": -5}, "side: found -5; it must be more than 0; "),
        ({"sides": 6}, "polygon: found 'no size'; give one of side, across_flats, across_corners"),
        (
            {"sides": 6, "side": 300, "across_flats": 500},
            "polygon: found 'side and across_flats'; give one of side, across_flats, across_corners",
        ),
        ({}, "polygon: found 'no size'; give sides, or points, or lengths and angles"),
        ({"sides": 4, "points": TRAPEZOID}, "polygon: found 'sides and points'; give sides, or points, or lengths and"),
        (
            {"points": [[0, 0], [0, 900]]},
            "points: found '2 points'; a closed frame has 3 or more, an open one 2 or more",
        ),
        ({"points": [[0, 0], [0, 900], 5]}, "points, point 3: found 5; must be two lengths, [x, y]"),
        ({"points": [[0, 0], [0, 900], [5, "x"]]}, "points, point 3: found 'x'; "),
        (
            {"lengths": [900, 1200], "angles": [90]},
            "sides and angles: found '2 sides and 1 angles'; give at least 3 sides",
        ),
        ({"lengths": [9, 9, 9, 9], "angles": [90, 90]}, "sides and angles: found '4 sides and 2 angles'; "),
        (
            {"lengths": [900], "angles": [], "closed": False},
            "sides and angles: found '1 sides and 0 angles'; an open frame has at least 2 sides and an angle between",
        ),
        ({"lengths": [9, 9], "angles": [90, 90], "closed": False}, "sides and angles: found '2 sides and 2 angles'; "),
    ],
    ids=str,
)
def test_no_polygon(tmp_path: Path, shape: dict[str, object], says: str) -> None:
    assert refusal(tmp_path, TUBE, frame("polygon", measured="outside", **shape)).startswith(f"[[frame]] F: {says}")


@pytest.mark.parametrize(
    ("lengths", "angles", "found"),
    [
        ([1000, 1000, 1000, 996], [90, 90, 90], "4 mm open (x 0 mm, y -4 mm)"),
        ([1000, 1000, 1003, 996], [90, 90, 90], "5 mm open (x -3 mm, y -4 mm)"),
        ([1000, 1000, 1000], [60, 60.1], "1.7453 mm open (x "),
    ],
)
def test_a_polygon_that_does_not_close(tmp_path: Path, lengths: list[int], angles: list[float], found: str) -> None:
    """The first side runs along x and the frame lies below it: what is missing is told by how much and which way. 0.1
    degree over 1000 is 1.745."""
    says = refusal(tmp_path, TUBE, frame("polygon", lengths=lengths, angles=angles, measured="outside"))
    assert says.startswith(f"[[frame]] F: polygon: found '{found}")
    assert says.endswith("; the last side must end where the first begins, within 0.1 mm")


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([[0, 0], [0, 500], [0, 1000], [900, 1000], [900, 0]], "corner after side 1: corner angle: found 180.0; "),
        ([[0, 0], [0, 500], [1, 1000], [900, 1000], [900, 0]], "corner after side 1: corner angle: found 179.8"),
        ([[0, 0], [0, 1000], [1, 0]], "corner after side 1: corner angle: found 0.057"),
        ([[0, 0], [0, 0], [0, 1000], [900, 1000]], "side 1: found '0 mm'; a side must have a length"),
        ([[0, 0], [0, 1000], [900, 1000], [0, 0]], "side 4: found '0 mm'; a side must have a length"),
        (
            [[0, 0], [600, 900], [600, 0], [0, 600]],
            "members: found 'sides 1 and 3 crossing at (240 mm, 360 mm)'; members must not cross",
        ),
    ],
    ids=str,
)
def test_no_corner_no_side_no_crossing(tmp_path: Path, points: list[list[float]], says: str) -> None:
    """The line from (0, 0) to (600, 900) and that from (600, 0) to (0, 600) cross where 1.5 x = 600 - x."""
    assert refusal(tmp_path, TUBE, frame("polygon", points=points, measured="outside")).startswith(
        f"[[frame]] F: {says}"
    )


def test_sides_in_one_line_of_two_widths(tmp_path: Path) -> None:
    points = [[0, 0], [0, 500], [0, 1000], [900, 1000], [900, 0]]
    tables = (TUBE, tube("U", 40), frame("polygon", ["T", "U", "T", "T", "T"], points=points, measured="inside"))
    assert refusal(tmp_path, *tables) == (
        "[[frame]] F: corner: found 'straight at corner 2'; sides in one line need one width"
    )


@pytest.mark.parametrize("sections", [["T", "T"], ["T"] * 5])
def test_a_section_for_each_side(tmp_path: Path, sections: list[str]) -> None:
    says = refusal(tmp_path, TUBE, frame("polygon", sections, sides=6, side=900, measured="outside"))
    assert says == (
        f"[[frame]] F: section: found '{len(sections)} sections'; one for all sides, or one for each of the 6"
    )


def test_a_side_too_short_for_its_cuts(tmp_path: Path) -> None:
    """A hexagon of 50 x 50 needs 2 x 50 tan 30 = 57.735 on the outside."""
    assert refusal(tmp_path, TUBE, frame("polygon", sides=6, side=50, measured="outside")) == (
        "[[frame]] F: side 1: length at moving-bottom: found '50 mm'; the two cuts cross inside the section, "
        "7.735 mm past a pointed piece; allowed here: 57.8 mm or more"
    )
    pointed = checked(tmp_path, TUBE, frame("polygon", sides=6, side=57.7350270, measured="outside"))
    assert pointed["pieces"][0]["short_point_mm"] == pytest.approx(0, abs=1e-7)


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([[0, 0], [600, 0], [0, 0]], "side 3: found '0 mm'; a side must have a length"),
        ([[0, 0], [600, 0], [600, 0], [0, 900]], "side 2: found '0 mm'; a side must have a length"),
        (
            [[0, 0], [600, 900], [0, 600], [600, 0]],
            "members: found 'sides 1 and 3 crossing at (240 mm, 360 mm)'; ",
        ),
        ([[0, 0], [600, 0], [900, 0], [900, 900]], "corner after side 1: corner angle: found 180.0; "),
        ([[0, 0], [900, 0], [900, 900], [900, 901], [0, 900]], "corner after side 2: corner angle: found 180.0; "),
        ([[0, 0], [900, 0], [900, 900], [800, 950], [0, 900]], "side 3: "),
    ],
    ids=str,
)
def test_sides_are_numbered_as_they_were_given(tmp_path: Path, points: list[list[float]], says: str) -> None:
    """Counter-clockwise too, though the frame is walked clockwise."""
    wide = tube("T", 200)
    assert refusal(tmp_path, wide, frame("polygon", points=points, measured="outside")).startswith(
        f"[[frame]] F: {says}"
    )


def waist(high: float) -> list[list[float]]:
    """An H of 1000 by 1000 lying on its side, the bar in its middle `high` from outside to outside."""
    low, top = 500 - high / 2, 500 + high / 2
    left: list[list[float]] = [[0, 1000], [300, 1000], [300, top], [700, top], [700, 1000], [1000, 1000]]
    return [*left, [1000.0, 0], [700, 0], [700, low], [300, low], [300, 0], [0, 0]]


@pytest.mark.parametrize("turn", [1, -1])
def test_members_that_take_up_the_same_room(tmp_path: Path, turn: int) -> None:
    """No corner and no edge shows it: two members of 50 side by side in a waist of 60 overlap by 40; in one of 100 they
    touch."""
    shape = frame("polygon", points=waist(60)[::turn], measured="outside")
    assert refusal(tmp_path, TUBE, shape) == (
        "[[frame]] F: members: found 'sides 3 and 9 overlapping by 40 mm'; members must not take up the same room"
    )
    assert checked(tmp_path, TUBE, frame("polygon", points=waist(100)[::turn], measured="outside"))
