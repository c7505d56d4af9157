"""Frames of few sizes: the few figures by hand, and each at random sizes put together again from the record alone."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.frame.random_shapes import any_outline
from tests.frame.runs import around, by_mark, checked, frame, refusal, tube
from tests.frame.standing import inside, ring, shared, stands_off
from tests.laws.reassembly import bars, overlap, put_together
from tests.laws.reassembly import stands_off as ring_stands_off
from tests.often import times

T, P = tube("T", 50), tube("P", 20)

LAW = settings(
    deadline=None,
    max_examples=times(6),
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)


def angles(record: dict[str, Any]) -> list[float]:
    """The angle inside at the corner after each side: 180 less both miters."""
    sides = around(record)
    pairs = zip(sides, [*sides[1:], sides[0]], strict=True)
    return [180 - one["right"]["miter_deg"] - other["left"]["miter_deg"] for one, other in pairs]


def long_points(record: dict[str, Any]) -> list[float]:
    return [piece["long_point_mm"] for piece in around(record)]


def test_a_sloping_top(tmp_path: Path) -> None:
    """400 over 300: the top is 500 long and leans by atan 4/3."""
    keys = {"width": 300, "height": 500, "right_height": 900, "measured": "outside"}
    record = checked(tmp_path, T, frame("sloping", **keys))
    assert long_points(record) == pytest.approx([500, 900, 300, 500])
    lean = math.degrees(math.atan2(4, 3))
    assert [180 - a for a in angles(record)] == pytest.approx([90 + lean, 90, 90, 90 - lean])


@pytest.mark.parametrize("stands_in", [None, 0, 300])
def test_a_trapezoid(tmp_path: Path, stands_in: float | None) -> None:
    keys = {"bottom": 1000, "top": 600, "height": 800, "stands_in": stands_in, "measured": "outside"}
    record = checked(tmp_path, T, frame("trapezoid", **keys))
    left = 200 if stands_in is None else stands_in
    sides = [600, math.hypot(400 - left, 800), 1000, math.hypot(left, 800)]
    assert long_points(record) == pytest.approx(sides)


def test_an_arch(tmp_path: Path) -> None:
    """A half circle of 1000 in six chords: each is 2 r sin 15 long, its middle r (1 - cos 15) inside the arch."""
    keys = {"width": 1000, "height": 1500, "rise": 500, "chords": 6, "measured": "outside"}
    record = checked(tmp_path, T, frame("arch", **keys))
    chord = 1000 * math.sin(math.radians(15))
    assert long_points(record) == pytest.approx([chord] * 6 + [1000, 1000, 1000])
    assert angles(record)[:5] == pytest.approx([150] * 5)
    off = 500 * (1 - math.cos(math.radians(15)))
    assert record["assemblies"][0]["notes"] == [
        f"corners of the chords on a radius of 500 mm; a chord is {chord:.6g} mm long there, its middle {off:.6g} mm"
        " inside the arch"
    ]


def test_half_an_arch(tmp_path: Path) -> None:
    """The left half of the same: three chords from the springing to the crown at the right."""
    keys = {"width": 500, "height": 1500, "rise": 500, "chords": 3, "half": True, "measured": "outside"}
    record = checked(tmp_path, T, frame("arch", **keys))
    chord = 1000 * math.sin(math.radians(15))
    assert long_points(record) == pytest.approx([chord] * 3 + [1500, 500, 1000])
    assert angles(record)[2] == pytest.approx(75)


def test_one_word_butts_no_chords_of_an_arch(tmp_path: Path) -> None:
    """Chords bend by so little that a butt there would be a knife's edge: they stay mitered, half of each bend."""
    keys = {"width": 1000, "height": 1500, "rise": 500, "chords": 6, "measured": "outside", "corners": "butt"}
    record = checked(tmp_path, T, frame("arch", **keys))
    assert [joint["kind"] for joint in record["assemblies"][0]["joints"]] == ["miter"] * 5 + ["first-through"] * 4
    inner = around(record)[1:5]
    assert [abs(piece[end]["miter_deg"]) for piece in inner for end in ("left", "right")] == pytest.approx([15] * 8)


def test_an_arch_that_stands_on_the_ground(tmp_path: Path) -> None:
    """Without posts there are chords and a tie alone."""
    keys = {"width": 1000, "height": 300, "rise": 300, "chords": 4, "measured": "outside"}
    assert len(around(checked(tmp_path, T, frame("arch", **keys)))) == 5


def test_a_section_by_part(tmp_path: Path) -> None:
    """Chords of their own section; one a side is taken too."""
    keys = {"width": 1000, "height": 1500, "rise": 200, "chords": 2, "measured": "outside"}
    record = checked(tmp_path, T, P, frame("arch", ["T", "P"], **keys))
    assert [piece["section"] for piece in around(record)] == ["P", "P", "T", "T", "T"]
    record = checked(tmp_path, T, P, frame("arch", ["T", "P", "T", "P", "T"], **keys))
    assert [piece["section"] for piece in around(record)] == ["T", "P", "T", "P", "T"]
    assert "or 2, one for each part" in refusal(tmp_path, T, frame("arch", ["T"] * 3, **keys))


def test_a_truss(tmp_path: Path) -> None:
    """Measured on middles: posts stand at quarters of the span; the one at 1000 reaches from the top of the tie, 25
    above its middle, to the lower edge of the rafter, which lies 25 sqrt 1.25 below its middle."""
    keys = {"span": 4000, "rise": 1000, "panels": 4, "measured": "centerline"}
    record = checked(tmp_path, T, P, frame("truss", ["T", "T", "P"], **keys))
    pieces, bars_in = by_mark(record), record["assemblies"][0]["inside"]
    posts = [pieces[bar["mark"]]["centerline_mm"] for bar in bars_in if bar["bars"] == "uprights"]
    under = 25 + 25 * math.sqrt(1.25)
    assert posts == pytest.approx([500 - under, 1000 - under, 500 - under])
    assert [bar["bars"] for bar in bars_in] == ["uprights"] * 3 + ["brace"] * 2
    diagonals = [pieces[bar["mark"]] for bar in bars_in[3:]]
    assert diagonals[0]["mark"] == diagonals[1]["mark"]


def test_a_ladder(tmp_path: Path) -> None:
    """2400 long, rungs every 300 from 200 up: 200 to 2300, eight of them, 500 less twice 50 long."""
    keys = {"width": 500, "height": 2400, "pitch": 300, "first": 200}
    record = checked(tmp_path, T, P, frame("ladder", ["T", "P"], **keys))
    pieces = by_mark(record)
    assert (pieces["F-1"]["quantity"], pieces["F-1"]["long_point_mm"]) == (2, 2400)
    assert (pieces["F-2"]["quantity"], pieces["F-2"]["long_point_mm"]) == (8, 400)
    assert [bar["y_mm"] for bar in record["assemblies"][0]["inside"]] == pytest.approx(
        [200 + 300 * i for i in range(8)]
    )


@pytest.mark.parametrize("crossing", ["cut", "lapped"])
def test_a_cross(tmp_path: Path, crossing: str) -> None:
    keys = {"inside_width": 800, "inside_height": 600, "crossing": crossing}
    record = checked(tmp_path, T, frame("cross", **keys))
    found = [(piece["quantity"], piece["centerline_mm"]) for piece in record["pieces"]]
    if crossing == "lapped":
        assert found == [(2, pytest.approx(1000))]
        return
    turn = 2 * math.atan2(600, 800)
    half = 500 - 25 / math.sin(turn)
    assert found == [(1, pytest.approx(1000)), (2, pytest.approx(half))]


SIZES = st.floats(600, 3000).map(lambda value: round(value, 2))


@LAW
@given(SIZES, SIZES, st.floats(250, 450).map(lambda value: round(value, 2)))
def test_any_ladder(tmp_path: Path, width: float, height: float, pitch: float) -> None:
    """Rungs from one pitch up, while half a rung of 20 still lies below the top; between stiles of 50."""
    count = math.floor((height - pitch - 10) / pitch) + 1
    record = checked(tmp_path, T, P, frame("ladder", ["T", "P"], width=width, height=height, pitch=pitch))
    stiles, rungs = record["pieces"]
    assert (stiles["quantity"], stiles["long_point_mm"]) == (2, pytest.approx(height))
    assert (rungs["quantity"], rungs["long_point_mm"]) == (count, pytest.approx(width - 100))
    bars_in = record["assemblies"][0]["inside"]
    assert [bar["y_mm"] for bar in bars_in] == pytest.approx([pitch * (i + 1) for i in range(count)])


@LAW
@given(SIZES, SIZES)
def test_any_cross(tmp_path: Path, width: float, height: float) -> None:
    """One brace whole, from corner to corner; the other parted by its 50, which it meets at the angle of the diagonals:
    each half loses 25 over the sine of that."""
    record = checked(tmp_path, T, frame("cross", inside_width=width, inside_height=height))
    half, turn = math.hypot(width, height) / 2, 2 * math.atan2(height, width)
    found = [(piece["quantity"], piece["centerline_mm"]) for piece in record["pieces"]]
    assert found == [(1, pytest.approx(2 * half)), (2, pytest.approx(half - 25 / math.sin(turn)))]


@pytest.mark.parametrize(
    ("shape", "keys", "says"),
    [
        ("arch", {"rise": 600}, "rise: found '600 mm'; at most 500 mm"),
        ("arch", {"chords": 1}, "chords: found 1"),
        ("arch", {"width": None}, "width: found 'nothing'; the key is needed here"),
        ("truss", {"ridge": 4000}, "ridge: found '4000 mm'; it must lie within"),
        ("ladder", {"width": 100}, "width: found '100 mm'; it must be more than both stiles, 100 mm"),
        ("ladder", {"pitch": 40}, "pitch: found '40 mm'; more than a rung is thick"),
    ],
    ids=str,
)
def test_what_is_refused(tmp_path: Path, shape: str, keys: dict[str, object], says: str) -> None:
    whole: dict[str, dict[str, object]] = {
        "arch": {"width": 1000, "height": 1500, "rise": 200, "chords": 4, "measured": "outside"},
        "truss": {"span": 4000, "rise": 1000, "panels": 4, "measured": "outside"},
        "ladder": {"width": 500, "height": 2400, "pitch": 300},
    }
    assert says in refusal(tmp_path, T, frame(shape, **{**whole[shape], **keys}))


@LAW
@given(any_outline())
def test_any_of_them_closes(tmp_path: Path, asked: str) -> None:
    """The ring by the reassembly of rings; the bars inside touch at every corner and share no room."""
    record = checked(tmp_path, T, P, asked)
    (assembly,) = record["assemblies"]
    assert max(assembly["closure"]["gap_mm"], assembly["closure"]["overlap_mm"]) <= 1e-6
    sides = bars(record["pieces"], assembly, {piece["mark"]: piece["wide_mm"] for piece in record["pieces"]})
    placed = put_together(sides, assembly["joints"])
    assert max(ring_stands_off(placed, assembly["joints"]), overlap(placed)) <= 1e-6
    whole = ring([complex(corner["x_mm"], corner["y_mm"]) for corner in assembly["corners"]], 50)
    shapes = inside(record)
    assert shapes
    assert shared([whole, *shapes]) == pytest.approx(0, abs=1e-3)
    assert stands_off(shapes, whole) <= 1e-6
