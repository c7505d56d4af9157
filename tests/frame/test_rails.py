"""Rails in space: figures by hand, what turns where, and what is refused; lots of them in `tests/laws`."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.frame.rails import Held, along_flights, rail
from tests.frame.runs import command

TUBE = mt.round_tube(42.4, 2.6)
RAIL = mt.rect_tube(60, 40, 3)
LEVEL_THEN_UP = [(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (1800.0, 0.0, 600.0)]
"""Level, then 3-4-5 up: a turn of atan 3/4, halved by its miter."""
HALF = math.degrees(math.atan2(3, 4)) / 2


def test_a_rail_that_turns_up() -> None:
    """The long point of a joint that turns up is below: a bevel of minus half of the turn, no miter."""
    lower, upper = (member.piece for member in rail(LEVEL_THEN_UP, RAIL).pieces)
    assert (lower.right.miter, lower.right.bevel) == pytest.approx((0, -HALF), abs=1e-9)
    assert (upper.left.miter, upper.left.bevel) == pytest.approx((0, -HALF), abs=1e-9)
    assert (lower.centerline, upper.centerline) == (1000, 1000)
    assert lower.long_point == pytest.approx(1000 + 20 * math.tan(math.radians(HALF)), abs=1e-9)


def test_a_rail_that_turns_left() -> None:
    """To the left is +Y, the moving side of a bar along X with its top up: that side is the short one."""
    nodes = [(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (1000.0, 800.0, 0.0)]
    first, second = (member.piece for member in rail(nodes, RAIL).pieces)
    assert (first.right.miter, first.right.bevel) == pytest.approx((-45, 0), abs=1e-9)
    assert (second.left.miter, second.left.bevel) == pytest.approx((-45, 0), abs=1e-9)


def test_the_two_cuts_of_a_landing() -> None:
    """A rail comes up a stair, turns by 90 in plan on a level landing and goes on: the spatial angle at each joint by
    the scalar product of its directions."""
    down, level, on = (0.8, 0.0, 0.6), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)
    nodes = [(0.0, 0.0, 0.0)]
    for way, run in ((down, 1500), (level, 600), (on, 700)):
        nodes.append(tuple(a + run * b for a, b in zip(nodes[-1], way, strict=True)))  # type: ignore[arg-type]
    pieces = [member.piece for member in rail(nodes, TUBE).pieces]
    for (a, b), cut in zip(((down, level), (level, on)), (pieces[0].right, pieces[1].right), strict=True):
        turn = math.degrees(math.acos(sum(x * y for x, y in zip(a, b, strict=True))))
        assert math.degrees(math.atan(math.hypot(cut.p, cut.q))) == pytest.approx(turn / 2, abs=1e-9)


def test_the_turn_between_two_joints() -> None:
    """Over the landing the long point is above at the first joint (it turns down) and on the right of the second: a
    quarter round. On a tube of 42.4 a quarter of the skin is 33.30."""
    nodes = [(0.0, 0.0, 0.0), (800.0, 0.0, 600.0), (1800.0, 0.0, 600.0), (1800.0, 900.0, 600.0)]
    turn = rail(nodes, TUBE).turns[1]
    assert abs(turn.degrees) == pytest.approx(90, abs=1e-9)
    assert turn.arc is not None
    assert abs(turn.arc) == pytest.approx(math.pi * 42.4 / 4, abs=1e-9)
    assert rail(nodes, RAIL).turns[1].arc is None


def test_a_saw_that_swings_one_way_turns_the_bar_over_between() -> None:
    """The same quarter round: half a turn and a quarter past that, a quarter the other way. The cuts halve 3-4-5
    and a square corner, each by its swing alone."""
    nodes = [(0.0, 0.0, 0.0), (800.0, 0.0, 600.0), (1800.0, 0.0, 600.0), (1800.0, 900.0, 600.0)]
    made = rail(nodes, TUBE)
    turn = made.turns[1]
    assert (turn.both_ways, turn.one_way) == pytest.approx((-turn.degrees, turn.degrees), abs=1e-9)
    assert turn.one_way_arc == pytest.approx(math.pi * 42.4 / 4 * math.copysign(1, turn.degrees), abs=1e-9)
    assert turn.swings == pytest.approx((HALF, 45), abs=1e-9)
    says = made.notes[1].in_units("mm")
    assert "tip to tip 10" in says
    assert "rolled 90.00 degrees" in says
    assert "rolled half a turn and 90.00 past that" in says
    assert "33.3 mm on the skin" in says
    assert [note.code for note in made.notes[3:]] == []


def test_how_a_bar_is_held_that_is_rolled_by_no_quarter() -> None:
    nodes = [(0.0, 0.0, 0.0), (800.0, 0.0, 600.0), (1800.0, 300.0, 600.0), (1800.0, 900.0, 900.0)]
    for section, held in ((TUBE, "round"), (RAIL, "flat")):
        assert [note.case for note in rail(nodes, section).notes if note.code == "note.hold"] == [held]


def test_a_top_that_is_kept_up_twists_where_slope_and_turn_meet() -> None:
    """Up a slope and round a corner at once: the flush section leans. By hand: the fold's axis is square to
    both ways a and b; what is up on a, turned with the fold, makes an angle with what is up on b."""
    nodes = [(0.0, 0.0, 0.0), (800.0, 0.0, 600.0), (800.0, 1000.0, 600.0)]
    up, carried = rail(nodes, RAIL), rail(nodes, RAIL, held=Held("carried"))
    assert carried.twists == pytest.approx((0,), abs=1e-9)
    # a = (.8, 0, .6), b = (0, 1, 0): the fold turns a to b and leaves a x b alone; up on a is
    # (-.6, 0, .8) = a x b itself, and plumb lies from there toward +X, clockwise seen along b
    assert up.twists[0] == pytest.approx(math.degrees(math.atan2(0.6, 0.8)), abs=1e-9)
    assert [note.code for note in up.notes] == ["note.member", "note.member", "note.not-flush"]
    assert [note.code for note in carried.notes] == ["note.member", "note.member", "note.leans"]
    assert up.notes[-1].in_units("mm").startswith("the joint at node 2, RAIL-1 to RAIL-2, is not flush")


def test_a_closed_rail_carried_round_leaves_the_rest_to_its_last_joint() -> None:
    nodes = [(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (1400.0, 1000.0, 500.0), (0.0, 900.0, 300.0)]
    found = rail(nodes, RAIL, closed=True, held=Held("carried"))
    assert found.notes[-1].in_units("mm").startswith("the joint at node 1, RAIL-4 to RAIL-1, cannot be flush")
    twists = found.twists
    assert twists[:3] == pytest.approx((0, 0, 0), abs=1e-9)
    assert abs(twists[3]) > 1
    assert rail(nodes, TUBE, closed=True, held=Held("carried")).twists == (0, 0, 0, 0)


def test_a_square_tube_is_flush_a_quarter_round() -> None:
    """A plumb member between level ones that go off square to each other: carried by a quarter, it looks alike."""
    nodes = [(0.0, 0.0, 0.0), (500.0, 0.0, 0.0), (500.0, 0.0, 700.0), (500.0, 400.0, 700.0)]
    assert rail(nodes, mt.rect_tube(50, 50, 3)).twists == pytest.approx((0, 0), abs=1e-9)
    assert max(map(abs, rail(nodes, RAIL).twists)) == pytest.approx(90, abs=1e-9)


def test_a_tube_turned_half_over_is_flush_and_an_angle_is_not() -> None:
    """A switchback in a plumb plane: carried over the fold the top comes to lie below."""
    nodes = [(0.0, 0.0, 0.0), (1000.0, 0.0, 500.0), (0.0, 0.0, 1000.0)]
    assert rail(nodes, RAIL).twists == pytest.approx((0,), abs=1e-9)
    assert abs(rail(nodes, mt.angle(50, 50, 5)).twists[0]) == pytest.approx(180, abs=1e-9)


def test_free_ends_plumb_and_level() -> None:
    """A 3-4-5 slope cut plumb leans atan 3/4 from square, cut level atan 4/3."""
    nodes = [(0.0, 0.0, 0.0), (800.0, 0.0, 600.0)]
    (member,) = rail(nodes, RAIL, held=Held(ends=("plumb", "level"))).pieces
    slope = math.degrees(math.atan2(3, 4))
    assert abs(member.piece.left.bevel) == pytest.approx(slope, abs=1e-9)
    assert abs(member.piece.right.bevel) == pytest.approx(90 - slope, abs=1e-9)
    assert member.piece.left.bevel * member.piece.right.bevel > 0


@pytest.mark.parametrize(
    ("nodes", "given", "says"),
    [
        ([(0, 0, 0)], {}, "nodes: found '1 nodes'"),
        ([(0, 0, 0), (0, 0, 0)], {}, "member 1 from a node to itself"),
        ([(0, 0, 0), (1000, 0, 0), (2000, 0, 0)], {}, "leave a node on a straight line out"),
        ([(0, 0, 0), (1000, 0, 0), (0, 10, 0)], {}, "a turn of 179.43 degrees after member 1"),
        ([(0, 0, 0), (20, 0, 0), (20, 1000, 0), (0, 1000, 0)], {}, "member 2|cross inside"),
        ([(0, 0, 0), (1000, 0, 0)], {"closed": True}, "a closed rail has at least 3"),
        (LEVEL_THEN_UP, {"held": Held(ends=("level", "square"))}, "the first member runs that way itself"),
        (LEVEL_THEN_UP, {"roll": float("nan")}, "roll: found nan"),
    ],
)
def test_what_is_no_rail(nodes: list[tuple[float, float, float]], given: dict[str, object], says: str) -> None:
    section = mt.rect_tube(200, 200, 5) if "cross" in says else RAIL
    with pytest.raises(mt.BadInput, match=says):
        rail(nodes, section, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("given", "says"), [({"tops": "down"}, "tops: found 'down'"), ({"ends": ("slanted", "plumb")}, "ends")]
)
def test_what_is_no_way_to_hold_a_rail(given: dict[str, object], says: str) -> None:
    with pytest.raises(mt.BadInput, match=says):
        Held(**given)  # type: ignore[arg-type]


def test_flights_of_a_stair() -> None:
    """A run of 800 and a rise of 600, a level 500, then a quarter turn to the left: to +Y."""
    nodes = along_flights([(800, 600, 0), (500, 0, 0), (400, 300, 90)])
    wanted = [(0, 0, 0), (800, 0, 600), (1300, 0, 600), (1300, 400, 900)]
    assert [pytest.approx(node, abs=1e-9) for node in wanted] == list(nodes)


def test_both_hands_of_a_rail_of_angle() -> None:
    """The mirror image of the nodes with the mirror image of the section: the miters change sides and nothing else. The
    section left as it is would make other pieces."""
    nodes = [(0.0, 0.0, 0.0), (900.0, 0.0, 400.0), (1500.0, 700.0, 500.0), (2300.0, 800.0, 900.0)]
    mirrored = [(x, -y, z) for x, y, z in nodes]
    section = mt.angle(80, 40, 6)
    right, left = rail(nodes, section), rail(mirrored, section.lay(turned=True))
    for one, other in zip(right.pieces, left.pieces, strict=True):
        for end in ("left", "right"):
            cut, opposite = getattr(one.piece, end), getattr(other.piece, end)
            assert (cut.miter, cut.bevel) == pytest.approx((-opposite.miter, opposite.bevel), abs=1e-9)
        assert one.piece.long_point == pytest.approx(other.piece.long_point, abs=1e-9)
        assert one.piece.volume == pytest.approx(other.piece.volume, rel=1e-12)
    assert left.closure.gap < 1e-6
    wrong = rail(mirrored, section).pieces[1].piece
    assert abs(wrong.volume - right.pieces[1].piece.volume) > 1


def test_a_round_rail_drawn_by_its_cuts() -> None:
    """It turns by atan 3/4 up to level and by 90 in plan: each first cut that is not square is a miter alone, halves of
    these, with its long point at the moving side; what is left to roll is the quarter between the two in the middle."""
    nodes = [(0.0, 0.0, 0.0), (800.0, 0.0, 600.0), (1800.0, 0.0, 600.0), (1800.0, 900.0, 600.0)]
    made = rail(nodes, TUBE, held=Held(by_cuts=True))
    first, level, last = (member.piece for member in made.pieces)
    firsts = [(cut.miter, cut.bevel) for cut in (first.right, level.left, last.left)]
    assert firsts == [pytest.approx(want, abs=1e-9) for want in ((HALF, 0), (HALF, 0), (45, 0))]
    assert (level.right.miter, abs(level.right.bevel)) == pytest.approx((0, 45), abs=1e-9)
    assert max(made.closure.gap, made.closure.overlap) < 1e-6
    flat_sided = rail(nodes, RAIL, held=Held(by_cuts=True))
    assert [one.piece.left for one in flat_sided.pieces] == [one.piece.left for one in rail(nodes, RAIL).pieces]


def test_what_stands_open_says_where() -> None:
    """Rounding adds up along a chain in space: the sentence after it says of what corner that is told."""
    said = command("frame", "rail", "--section", "RHS 60x40x3", "--nodes", "0,0,0 1003,0,0 1800,200,600")[1]
    told = said.splitlines()
    (at,) = [i for i, line in enumerate(told) if "open" in line]
    assert told[at + 1].startswith("That is the furthest corner of an end, the pieces laid together from the first one")
