"""Bars inside a frame: by hand, and put together again from the record at random sizes with a library of polygons."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from tests.frame.runs import by_mark, checked, command, frame, refusal, tube
from tests.frame.standing import inside, ring, shared, stands_off
from tests.often import times

T, B, P = tube("T", 50), tube("B", 40), tube("P", 20)
RECTANGLE = {"width": 1100, "height": 1100, "measured": "outside"}
"""Clear 1000 by 1000 in tube of 50."""

LAW = settings(
    deadline=None,
    max_examples=times(4),
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)


def solved(folder: Path, *bars: dict[str, Any], **keys: Any) -> dict[str, Any]:
    """The record of a square frame with bars inside; inline tables are written as TOML has them."""
    return checked(folder, T, B, P, filled("rectangle", *bars, **{**RECTANGLE, **keys}))


def filled(shape: str, *bars: dict[str, Any], **keys: Any) -> str:
    tables = ", ".join(f"{{ {', '.join(f'{key} = {toml(value)}' for key, value in bar.items())} }}" for bar in bars)
    return f"{frame(shape, **keys)}inside = [{tables}]\n"


def toml(value: object) -> str:
    return f'"{value}"' if isinstance(value, str) else str(value).replace("'", '"')


def lengths(record: dict[str, Any], called: str) -> list[float]:
    """The centerlines of the bars of a kind, as they stand."""
    pieces = by_mark(record)
    bars = record["assemblies"][0]["inside"]
    return [pieces[bar["mark"]]["centerline_mm"] for bar in bars if bar["bars"] == called]


UPRIGHTS = {"bars": "uprights", "section": "P", "clear_most": 100}
BRACE = {"bars": "brace", "section": "B"}


def test_uprights_in_a_rectangle(tmp_path: Path) -> None:
    """Clear 1000, bars of 20, gaps of at most 100: 8 bars leave gaps of 840 / 9, all cut square and of one mark.

    Bars 20 high lie in the middle of a frame 50 high on (50 - 20) / 2.
    """
    record = solved(tmp_path, UPRIGHTS)
    assert lengths(record, "uprights") == pytest.approx([1000] * 8)
    assert by_mark(record)["F-2"]["quantity"] == 8
    middles = [bar["x_mm"] for bar in record["assemblies"][0]["inside"]]
    assert middles == pytest.approx([50 + 840 / 9 * (i + 1) + 20 * i + 10 for i in range(8)])
    assert record["assemblies"][0]["notes"] == [
        "8 uprights across 1000 mm clear, every clear gap 93.3333 mm",
        "flush at the bottom, the middle or the top on a bench is the fitter's choice: F-1 50 mm high; "
        "under F-2, 20 mm high, put nothing for the bottom, 15 mm for the middle, 30 mm for the top",
    ]


def test_more_bars_than_a_frame_takes_are_refused(tmp_path: Path) -> None:
    """Clear 100000, bars of 20, gaps of at most 100: (100000 - 100) / 120 rounded up, 833."""
    wide = filled("rectangle", UPRIGHTS, **{**RECTANGLE, "width": 100100})
    assert "found '833 bars of 20 mm'; allowed: 1 to 500" in refusal(tmp_path, T, P, wide)


def test_both_sides_of_a_brace(tmp_path: Path) -> None:
    """A brace at 45 degrees: its edges are 20 sqrt 2 above and below its middle, so that an upright whose middle lies
    at x is x - 20 sqrt 2 long below and 1000 - x - 20 sqrt 2 above, and above x is below 1000 - x."""
    record = solved(tmp_path, BRACE, {"bars": "uprights", "section": "P", "count": 3})
    half = 20 * math.sqrt(2)
    xs = [235 * (i + 1) + 20 * i + 10 for i in range(3)]
    below, above = [x - half for x in xs], [1000 - x - half for x in xs]
    assert sorted(lengths(record, "uprights")) == pytest.approx(sorted(below + above))
    counts = {mark: piece["quantity"] for mark, piece in by_mark(record).items()}
    assert counts == {"F-1": 4, "F-2": 1, "F-3": 2, "F-4": 2, "F-5": 2}
    miters = {abs(by_mark(record)[mark][end]["miter_deg"]) for mark in ("F-3", "F-5") for end in ("left", "right")}
    assert sorted(miters) == pytest.approx([0, 45])
    brace = by_mark(record)["F-2"]
    assert brace["centerline_mm"] == pytest.approx(1000 * math.sqrt(2))
    assert [abs(brace[end]["miter_deg"]) for end in ("left", "right")] == pytest.approx([45, 45])


def test_a_rail_first_and_bays(tmp_path: Path) -> None:
    """A rail with its middle 400 up leaves 375 below and 575 above; uprights in the second bay only."""
    record = solved(tmp_path, {"bars": "rails", "at": [400]}, {**UPRIGHTS, "bays": [2]})
    assert lengths(record, "rails") == pytest.approx([1000])
    assert lengths(record, "uprights") == pytest.approx([575] * 8)


def test_a_post_parts_the_width(tmp_path: Path) -> None:
    """A middle post of 50 leaves twice 475: 4 bars of 20 leave gaps of 79, 3 would leave 103.75."""
    record = solved(tmp_path, {"bars": "uprights", "at": [500]}, UPRIGHTS)
    assert len(lengths(record, "uprights")) == 1 + 2 * 4


@pytest.mark.parametrize("crossing", ["cut", "lapped"])
def test_crossed_braces(tmp_path: Path, crossing: str) -> None:
    """Cut: each half of the second ends on the first's edge, 20 from the middle, and is 500 sqrt 2 - 20 long."""
    record = solved(tmp_path, BRACE, {**BRACE, "rising": "left", "crossing": crossing})
    whole = 1000 * math.sqrt(2)
    halves = [whole / 2 - 20] * 2 if crossing == "cut" else [whole]
    assert lengths(record, "brace") == pytest.approx([whole, *halves])


@pytest.mark.parametrize("ends", ["level", "plumb"])
def test_a_brace_on_one_side_of_its_corners(tmp_path: Path, ends: str) -> None:
    """Both ends on the rails: sin(d - 45) = -40 / R, as for a brace by itself; the mitre is the rest to 90."""
    record = solved(tmp_path, {**BRACE, "ends": ends}, height=1100, width=1600)
    reach, slope = math.hypot(1500, 1000), math.degrees(math.atan2(1000, 1500))
    lean = math.degrees(math.asin(40 / reach)) * (1 if ends == "level" else -1)
    brace = next(piece for piece in record["pieces"] if piece["section"] == "B")
    angle = slope + lean
    expected = 90 - angle if ends == "level" else angle
    assert abs(brace["left"]["miter_deg"]) == pytest.approx(expected)
    assert brace["left_further"] == []


@pytest.mark.parametrize("gap", [0, 6])
def test_a_brace_with_square_ends(tmp_path: Path, gap: float) -> None:
    """Its middle on the corners of 1500 by 1000, 40 wide, at d to the level: an edge of its end, 20 off the middle,
    comes to the rail 20 / tan d before the corner, to the post 20 tan d before it; a gap is square to that side."""
    record = solved(tmp_path, {**BRACE, "ends": "square", "gap": gap}, height=1100, width=1600)
    slope = math.atan2(1000, 1500)
    back = max((20 + gap / math.cos(slope)) / math.tan(slope), (20 + gap / math.sin(slope)) * math.tan(slope))
    assert lengths(record, "brace") == pytest.approx([math.hypot(1500, 1000) - 2 * back])
    brace = next(piece for piece in record["pieces"] if piece["section"] == "B")
    assert (brace["left"]["miter_deg"], brace["right"]["miter_deg"]) == (0, 0)
    assert max(record["assemblies"][0]["closure"][key] for key in ("gap_mm", "overlap_mm")) < 1e-6
    rail = by_mark(record)["F-1"]
    (place,) = rail["places"]
    assert place["at_mm"] == pytest.approx(1500 - back * math.cos(slope) - 20 * math.sin(slope))


def test_under_a_sloping_rail_and_in_its_corner(tmp_path: Path) -> None:
    """The top rises by 300 over 1000 outside, so by its slope everywhere; an upright below a bend of an arch is cut
    twice."""
    keys = {"width": 1000, "height": 1000, "right_height": 1300, "measured": "outside"}
    record = checked(tmp_path, T, P, filled("sloping", {"bars": "uprights", "section": "P", "count": 2}, **keys))
    one, two = lengths(record, "uprights")
    assert two - one == pytest.approx((900 - 2 * 20) / 3 * 0.3 + 20 * 0.3)
    arch = {"width": 1200, "height": 1000, "rise": 300, "chords": 2, "measured": "outside"}
    record = checked(tmp_path, T, P, filled("arch", {"bars": "uprights", "section": "P", "at": [550]}, **arch))
    (bar,) = record["assemblies"][0]["inside"]
    piece = by_mark(record)[bar["mark"]]
    assert len(piece["right_further"]) == 1
    cuts = [piece["right"]["miter_deg"], piece["right_further"][0]["miter_deg"]]
    assert sorted(cuts) == pytest.approx([-math.degrees(math.atan(0.5)), math.degrees(math.atan(0.5))])


@pytest.mark.parametrize(
    ("gaps", "corner", "says"),
    [
        ([{}], 2, ["the bars inside are cut tight, gap 0"]),
        ([{}, {"gap": 1}], 2, ["the other bars inside are cut tight, gap 0"]),
        ([{"gap": 1}], 2, []),
        ([{}], 0, []),
    ],
)
def test_tight_bars_beside_corners_with_a_gap_are_told(
    tmp_path: Path, gaps: list[dict[str, Any]], corner: float, says: list[str]
) -> None:
    """Clear 1000 less what the bars leave, 1 at either end: the gap of the corners makes none shorter."""
    bars = [{"bars": "uprights", "section": "P", "at": [200 * i], **gap} for i, gap in enumerate(gaps, 1)]
    record = solved(tmp_path, *bars, root_gap=corner)
    assert sorted(lengths(record, "uprights")) == pytest.approx(sorted(1000 - 2 * one.get("gap", 0) for one in gaps))
    told = [note.split(":")[0] for note in record["assemblies"][0]["notes"] if "tight" in note]
    assert told == says


def test_ends_with_a_gap(tmp_path: Path) -> None:
    """2 mm off both rails; off a brace at 45 it is 2 sqrt 2 along the bar."""
    record = solved(tmp_path, {"bars": "uprights", "section": "P", "count": 1, "gap": 2})
    assert lengths(record, "uprights") == pytest.approx([996])
    record = solved(tmp_path, BRACE, {"bars": "uprights", "section": "P", "at": [300], "gap": 2})
    both = sorted(lengths(record, "uprights"))
    assert both == pytest.approx([300 - 22 * math.sqrt(2) - 2, 700 - 22 * math.sqrt(2) - 2])


def test_short_ones_are_left_out_and_told(tmp_path: Path) -> None:
    record = solved(tmp_path, BRACE, {**UPRIGHTS, "shortest": 200})
    assert min(lengths(record, "uprights")) > 190
    told = "at 4 places there is no room for a whole bar, or it would be shorter than 200 mm"
    assert any(told in note for note in record["assemblies"][0]["notes"])


@pytest.mark.parametrize(
    ("bars", "says"),
    [
        ({"bars": "uprights", "clear_most": 100, "count": 3}, "give one of clear_most, count and at"),
        ({"bars": "uprights", "clear_most": 2000}, "found 'no place for a bar'"),
        ({"bars": "uprights", "count": 100}, "they must fit 1000 mm clear"),
        ({"bars": "uprights", "count": 2, "bays": [2]}, "inside 1: bays: found [2]; "),
        ({"bars": "posts"}, "allowed: uprights, rails, brace"),
        ({"bars": "brace", "rising": "up"}, "allowed: right, left, in, out"),
        ({"bars": "brace", "ends": "round"}, "ends: found 'round'"),
        ({"bars": "uprights", "rising": "left"}, "rising"),
    ],
    ids=str,
)
def test_what_is_refused(tmp_path: Path, bars: dict[str, Any], says: str) -> None:
    assert says in refusal(tmp_path, T, filled("rectangle", bars, **RECTANGLE))


L_SHAPE = [0j, 1000j, 500 + 1000j, 500 + 500j, 1000 + 500j, 1000 + 0j]


def reentrant(folder: Path, outer: list[complex], *bars: dict[str, Any]) -> dict[str, Any]:
    points = [[point.real, point.imag] for point in outer]
    return checked(folder, T, P, filled("polygon", *bars, points=points, measured="outside"))


@pytest.mark.parametrize(("most", "count", "long"), [(100, 7, 3), (70, 11, 5)])
def test_uprights_in_an_l(tmp_path: Path, most: float, count: int, long: int) -> None:
    """Clear 900 in all: 7 bars leave gaps of 95, three of them end before the corner at 450, 900 long, the others are
    400. Ten would leave 700 / 11, the fifth of them from 448 to 468, over the corner, so there are eleven."""
    record = reentrant(tmp_path, L_SHAPE, {**UPRIGHTS, "clear_most": most})
    found = lengths(record, "uprights")
    assert sorted(found) == pytest.approx([400] * (count - long) + [900] * long)
    gap = (900 - 20 * count) / (count + 1)
    assert any(f"every clear gap {gap:.6g} mm" in note for note in record["assemblies"][0]["notes"])


@LAW
@given(st.tuples(*[st.integers(-120, 120)] * 12), st.sampled_from(["uprights", "rails"]), st.integers(150, 300))
def test_any_l_closes(tmp_path: Path, off: tuple[int, ...], called: str, clear_most: int) -> None:
    """No two bars share any room, and every corner of every bar touches something else."""
    outer = [2 * corner + complex(*off[2 * i : 2 * i + 2]) for i, corner in enumerate(L_SHAPE)]
    record = reentrant(tmp_path, outer, {"bars": called, "section": "P", "clear_most": clear_most})
    (assembly,) = record["assemblies"]
    assert max(assembly["closure"]["gap_mm"], assembly["closure"]["overlap_mm"]) <= 1e-6
    found = [complex(corner["x_mm"], corner["y_mm"]) for corner in assembly["corners"]]
    around, shapes = ring(found, 50), inside(record)
    assert shared([around, *shapes]) == pytest.approx(0, abs=1e-3)
    assert stands_off(shapes, around) <= 1e-6


def test_what_an_l_does_not_take(tmp_path: Path) -> None:
    """A brace first, and rails across the place where uprights have left the opening parted."""
    points = [[point.real, point.imag] for point in L_SHAPE]
    told = refusal(tmp_path, T, B, filled("polygon", BRACE, points=points, measured="outside"))
    assert "points into it" in told
    bars = {"bars": "uprights", "count": 2}, {"bars": "rails", "at": [200]}
    assert "ends at an open side" in refusal(tmp_path, T, filled("polygon", *bars, points=points, measured="outside"))


def test_typed_at_the_command() -> None:
    sizes = ("--width", "1100", "--height", "1100", "--measured", "outside")
    inside_it = ("--inside", "bars='uprights', section='FLAT 20x5', lay=0, clear_most=100")
    code, out, err = command("frame", "rectangle", "--section", "SHS 50x50x3", *sizes, *inside_it)
    assert (code, err) == (0, "")
    assert "8 uprights across 1000 clear, every clear gap 93.3" in out
    code, _, err = command("frame", "rectangle", "--section", "SHS 50x50x3", *sizes, "--inside", "uprights")
    assert code == 2
    assert "such as bars='uprights', clear_most=110" in err


@st.composite
def quads(draw: st.DrawFn) -> list[complex]:
    """Four corners, clockwise from the upper left one, each up to 250 from those of a rectangle."""
    wide, high = draw(st.integers(900, 2500)), draw(st.integers(900, 2500))
    off = st.integers(-250, 250)
    square = (complex(0, high), complex(wide, high), complex(wide, 0), 0j)
    return [corner + complex(draw(off), draw(off)) for corner in square]


@LAW
@given(quads(), st.sampled_from(["right", "left"]), st.booleans(), st.integers(150, 300))
def test_any_four_corners_close(tmp_path: Path, outer: list[complex], rising: str, rail: bool, clear_most: int) -> None:
    """With a brace and uprights on both sides of it, and with a rail between: no two share any room, and every corner
    of every bar touches something else."""
    bars = [{"bars": "rails", "at": [500]}] if rail else []
    bars += [{**BRACE, "rising": rising}, {**UPRIGHTS, "clear_most": clear_most}]
    points = [[point.real, point.imag] for point in outer]
    record = checked(tmp_path, T, B, P, filled("polygon", *bars, points=points, measured="outside"))
    (assembly,) = record["assemblies"]
    assert max(assembly["closure"]["gap_mm"], assembly["closure"]["overlap_mm"]) <= 1e-6
    found = [complex(corner["x_mm"], corner["y_mm"]) for corner in assembly["corners"]]
    around, shapes = ring(found, 50), inside(record)
    assert shared([around, *shapes]) == pytest.approx(0, abs=1e-3)
    assert stands_off(shapes, around) <= 1e-6
    assert sum(piece["quantity"] for piece in record["pieces"]) == 4 + len(shapes)


def test_a_bar_a_millimetre_short_is_seen() -> None:
    """The measure itself: a bar of 1000 in a clear 1000 touches, one of 999 stands off."""
    around = ring([0j, 1100j, 1100 + 1100j, 1100 + 0j], 50)
    for length, off in ((1000, 0), (999, 1), (990, 10)):
        assert stands_off([Polygon([(400, 50), (420, 50), (420, 50 + length), (400, 50 + length)])], around) == (
            pytest.approx(off)
        )
