"""Exercises of practice: every answer beside one found another way, from the figures of the saw by plane geometry.

The blade is laid out in plan here, as two points on a line, and what it meets is found by walking along it; nothing of
the package's settings is asked.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin
from pathlib import Path

import attrs
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.practice import Exercise, exercises

SAWS = Path(__file__).resolve().parents[2] / "gallery" / "saws"
NAMES = ("SHS 50x50x3", "L 50x50x5", "FLAT 60x10", "UPN 80")
SECTIONS = tuple(mt.section(name) for name in NAMES)
MANY, SEED = 18, 3
NEAR = 1e-9

Place = tuple[float, float]
"""x along the bar toward the feed, y across the bed from the fixed jaw; mm."""


def drawn(saw: mt.Saw, kind: str = "") -> list[Exercise]:
    return [one for one in exercises(saw, SECTIONS, MANY, SEED) if kind in ("", one.kind)]


@pytest.fixture(params=["hinged", "column"])
def saw(request: pytest.FixtureRequest) -> mt.Saw:
    found: mt.Saw = mt.Saw.load(SAWS / f"{request.param}.toml")
    return attrs.evolve(found, scale=attrs.evolve(found.scale, offset=0.25))


def number(exercise: Exercise, name: str) -> float:
    value = next(one.value for one in exercise.asks.numbers if one.name == name)
    assert isinstance(value, float)
    return value


def word(exercise: Exercise, name: str) -> str:
    return str(next(one.value for one in exercise.asks.numbers if one.name == name))


def blade(saw: mt.Saw, exercise: Exercise) -> tuple[Place, Place]:
    """A point of the blade's line and the way along it toward the moving jaw, turned about the axis at (0, a).

    In a square cut the blade stands `blade_offset` to the feed side, and x counts from that line, the square cut line.
    """
    swing = radians(number(exercise, "swing")) * (1 if word(exercise, "side").endswith("feed") else -1)
    offset, axis = saw.bed.blade_offset, saw.bed.swing_axis or 0.0
    along = (sin(swing), cos(swing))
    return (offset * cos(swing) - offset, axis - offset * sin(swing)), along


def where(line: tuple[Place, Place], y: float) -> tuple[float, float]:
    """How far along the blade, and at what x, it crosses a line along the bar at y."""
    (x0, y0), (dx, dy) = line
    return (y - y0) / dy, x0 + dx * (y - y0) / dy


def test_the_scale_for_a_corner(saw: mt.Saw) -> None:
    """A corner of 90 takes 45 of each bar: both halves and the square angle beside them make the half turn."""
    for one in drawn(saw, "read"):
        from_square = 180 - 90 - number(one, "corner") / 2
        side = next(str(n.value) for n in one.says.numbers if n.name == "side").rpartition("/")[2]
        sign = -1.0 if side == "discharge" else 1.0
        scale = saw.scale
        expected = (
            abs(sign * from_square + scale.offset)
            if scale.two_sided
            else scale.square + sign * from_square + scale.offset
        )
        assert one.answer.value == pytest.approx(expected, abs=NEAR)
        assert one.answer.is_met_by(f"{expected:g}", "mm")
        assert not one.answer.is_met_by(f"{expected + 1:g}", "mm")


def test_a_picture_frame_is_45() -> None:
    """The gallery's hinged saw reads 90 square and grows to the feed: a frame's trailing end stands at 135."""
    found = [one for one in drawn(mt.Saw.load(SAWS / "hinged.toml"), "read") if number(one, "corner") == 90]
    assert all(one.answer.value == 135 for one in found)


def test_which_side_is_long(saw: mt.Saw) -> None:
    """The piece lies toward the feed from the blade where its leading end is cut; both sides are walked."""
    for one in drawn(saw, "long"):
        line, width = blade(saw, one), one.reach.section.width
        fixed, moving = where(line, 0.0)[1], where(line, width)[1]
        toward_feed = word(one, "end").endswith(saw.fixed_jaw)
        longer_at_moving = moving < fixed if toward_feed else moving > fixed
        assert one.answer.value == ("moving" if longer_at_moving else "fixed")
        assert next(n.value for n in one.says.numbers if n.name == "more") == pytest.approx(abs(moving - fixed))


def test_where_the_guide_goes(saw: mt.Saw) -> None:
    """Both edges of a guide, half its thickness off the blade, are kept the clearance from the bar's far side."""
    assert saw.guides is not None and saw.guides.fixed_u is not None
    for one in drawn(saw, "guide"):
        (x0, y0), (dx, dy) = blade(saw, one)
        half, clear = saw.guides.half_thickness, saw.guides.clearance
        edges = [((x0 + side * half * dy, y0 - side * half * dx), (dx, dy)) for side in (1, -1)]
        clear_of_bar = max(where(edge, one.reach.section.width + clear)[0] for edge in edges)
        assert one.answer.value == pytest.approx(clear_of_bar - saw.guides.fixed_u, abs=1e-6)


def figures(exercise: Exercise) -> dict[str, float]:
    """The lengths that the question itself tells, the blade's distance from the axis positive on the feed side."""
    found = {one.name: float(one.value) for told in exercise.question for one in told.numbers if one.kind == "length"}
    away = next((told for told in exercise.given if told.code == "practice.given.offset"), None)
    side = away and next(str(one.value) for one in away.numbers if one.name == "side")
    return {"offset": 0.0, **found} | ({"offset": -found["offset"]} if side == "practice.side/discharge" else {})


def told_blade(exercise: Exercise, told: dict[str, float]) -> tuple[Place, Place]:
    """As `blade`, of what the question tells alone."""
    machine = mt.Saw("told", bed=attrs.evolve(exercise.reach.setting.saw.bed, swing_axis=told["axis"]))
    return blade(attrs.evolve(machine, bed=attrs.evolve(machine.bed, blade_offset=told["offset"])), exercise)


def test_a_question_of_the_guide_tells_all_that_its_answer_takes(saw: mt.Saw) -> None:
    found = drawn(saw, "guide")
    assert found
    for one in found:
        told = figures(one)
        (x0, y0), (dx, dy) = told_blade(one, told)
        edges = [((x0 + side * told["half"] * dy, y0 - side * told["half"] * dx), (dx, dy)) for side in (1, -1)]
        clear_of_bar = max(where(edge, told["width"] + told["clear"])[0] for edge in edges)
        assert one.answer.value == pytest.approx(clear_of_bar + told["fixed"], abs=1e-6)


def test_a_question_of_a_block_tells_all_that_its_answer_takes(saw: mt.Saw) -> None:
    found = drawn(saw, "support")
    assert found
    for one in found:
        told, stands = figures(one), one.given[0].case
        near = {"moving-jaw": told.get("width", 0.0), "fixed-jaw": -told["depth"], "across": 0.0}[stands]
        (x0, y0), (dx, dy) = told_blade(one, told)
        band = [((x0 + side * told["half"] * dy, y0 - side * told["half"] * dx), (dx, dy)) for side in (1, -1)]
        toward = 1 if word(one, "stood").endswith("feed") else -1
        furthest = max(toward * where(edge, y)[1] for edge in band for y in (near, near + told["depth"]))
        assert one.answer.value == ("clear" if told["edge"] - furthest >= told["clear"] else "cut")


def test_whether_a_block_is_cut(saw: mt.Saw) -> None:
    """The band of the blade and its guides, with the clearance along the bar, walked along the block's far corners."""
    seen = set()
    for one in drawn(saw, "support"):
        block = next(b for b in one.reach.setting.saw.obstacles if b.name == word(one, "block"))
        width = one.reach.section.width
        spans = {"moving-jaw": (width, width + block.depth), "fixed-jaw": (-block.depth, 0.0)}
        ys = spans.get(block.stands, (0.0, block.depth))
        (x0, y0), (dx, dy) = blade(saw, one)
        half = max(saw.kerf / 2, saw.guides.half_thickness if saw.guides else 0.0)
        toward = 1 if block.side == "feed" else -1
        band = [((x0 + side * half * dy, y0 - side * half * dx), (dx, dy)) for side in (1, -1)]
        furthest = max(toward * where(edge, y)[1] for edge in band for y in ys)
        clear = number(one, "edge") - furthest >= (saw.guides.clearance if saw.guides else 0.0)
        assert one.answer.value == ("clear" if clear else "cut")
        seen.add(one.answer.value)
    assert seen == {"clear", "cut"}


def test_what_is_keyed(saw: mt.Saw) -> None:
    """Two parallel kerfs: the bar goes by the piece and by the kerf's own way along the bar, a hypotenuse."""
    assert saw.feed is not None
    for one in drawn(saw, "key"):
        swing = radians(number(one, "swing"))
        along = hypot(saw.kerf, saw.kerf * sin(swing) / cos(swing))
        less = saw.kerf if saw.feed.counts_kerf else 0.0
        assert one.answer.value == pytest.approx(number(one, "length") + along - less, abs=NEAR)


def test_where_the_stop_stands(saw: mt.Saw) -> None:
    """The tip stands out past the short side by what the blade goes along the bar from side to side."""
    for one in drawn(saw, "stop"):
        line, width = blade(saw, one), one.reach.section.width
        past = abs(where(line, width)[1] - where(line, 0.0)[1])
        assert one.answer.value == pytest.approx(number(one, "short") + past, abs=NEAR)
        assert one.piece is not None and one.piece.long_point == pytest.approx(one.answer.value)


def test_every_kind_comes_in_its_turn(saw: mt.Saw) -> None:
    kinds = [one.kind for one in drawn(saw)]
    assert {*kinds[:6]} == {*kinds[6:12]} == {*kinds[12:]} == {"read", "long", "guide", "support", "key", "stop"}


def test_the_same_seed_gives_the_same_exercises(saw: mt.Saw) -> None:
    assert exercises(saw, SECTIONS, 7, 5) == exercises(saw, SECTIONS, 7, 5)
    assert exercises(saw, SECTIONS, 7, 5) != exercises(saw, SECTIONS, 7, 6)


def test_a_saw_of_a_scale_alone_asks_what_it_can() -> None:
    assert {one.kind for one in drawn(mt.Saw("bench saw"))} == {"read", "long", "stop"}


def test_no_cut_of_a_section_is_refused() -> None:
    with pytest.raises(BadInput, match="no mitered cut of these fits"):
        exercises(mt.Saw.load(SAWS / "hinged.toml"), [mt.section("IPE 400")], 1, 1)


@pytest.mark.parametrize(("given", "right"), [("126.3", True), ("0.1263 m", True), ('4.973"', True), ("118", False)])
def test_an_answer_as_it_is_written(given: str, right: bool) -> None:
    saw = mt.Saw.load(SAWS / "hinged.toml")
    found = attrs.evolve(drawn(saw, "guide")[0].answer, value=126.34)
    assert found.is_met_by(given, "mm") is right


def test_an_answer_that_is_no_figure_is_refused() -> None:
    answer = drawn(mt.Saw.load(SAWS / "hinged.toml"), "read")[0].answer
    with pytest.raises(BadInput, match="your answer"):
        answer.is_met_by("left", "mm")
