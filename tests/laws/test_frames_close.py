"""Every frame closes when its pieces are put together again from the sheet alone, and a wrong miter is seen.

The pieces come out of `mitertool check JOB --json`, by marks, lengths and angles; `reassembly` lays them by rigid moves
and measures what stands open. The corners that then come out are held against those the job asked for.
"""

from __future__ import annotations

import copy
import dataclasses
import math
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.frame.runs import checked
from tests.laws.frame_cases import Case, every_kind
from tests.laws.reassembly import (
    Bar,
    Placed,
    Record,
    bars,
    corners_at,
    overlap,
    put_together,
    stands_off,
    unlike,
    widths,
)
from tests.often import times

CLOSES = 1e-6
"""mm. The most that a frame of unrounded pieces may stand open or overlap."""

LAW = settings(
    deadline=None,
    max_examples=times(15),
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
"""Same examples every run. The folder of a test holds one job at a time, so that examples may share it."""


def widths_of(record: Mapping[str, Any], case: Case) -> dict[str, float]:
    """By mark: out of the record where it tells them, else as the case has them; they must not differ."""
    pieces = record["pieces"]
    asked = {piece["mark"]: case.width[piece["section"]] for piece in pieces}
    found = widths(pieces, asked)
    assert found == pytest.approx(asked, abs=1e-7)
    return found


def standing(record: Mapping[str, Any], width: Mapping[str, float]) -> tuple[list[Placed], Sequence[Record]]:
    """The bars where they come to lie, and their joints."""
    (assembly,) = record["assemblies"]
    return put_together(bars(record["pieces"], assembly, width), assembly["joints"]), assembly["joints"]


def off(record: Mapping[str, Any], case: Case, width: Mapping[str, float]) -> float:
    """What the frame is off by, mm; an open one by what its corners miss of those asked for, as nothing closes it."""
    placed, joints = standing(record, width)
    return max(stands_off(placed, joints), 0.0 if case.closed else misses_corners(record, case, placed))


def misses_corners(record: Mapping[str, Any], case: Case, placed: Sequence[Placed]) -> float:
    section = {piece["mark"]: piece["section"] for piece in record["pieces"]}
    depths = [case.depth[section[mark]] for mark in record["assemblies"][0]["order"]]
    return unlike(corners_at(placed, depths, case.closed), case.corners)


def moved_miters(record: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The record with each miter at a joint in turn 0.01 degree larger or smaller, lengths as they are."""
    assembly = record["assemblies"][0]
    order, joints = assembly["order"], assembly["joints"]
    joined = {(order[i], "right") for i in range(len(joints))}
    joined |= {(order[(i + 1) % len(order)], "left") for i in range(len(joints))}
    for mark, end in sorted(joined):
        for by in (0.01, -0.01):
            moved = copy.deepcopy(record)
            next(piece for piece in moved["pieces"] if piece["mark"] == mark)[end]["miter_deg"] += by
            yield moved


def check_edges(record: Mapping[str, Any], placed: Sequence[Placed]) -> None:
    """The inner edge and the long point of the record are those of the plan: the outer corners of a tube are sharp, and
    a leg or a flange fills the edges of its box."""
    pieces = {piece["mark"]: piece for piece in record["pieces"]}
    for mark, stands in zip(record["assemblies"][0]["order"], placed, strict=True):
        inner, piece = stands.bar.inner_right.real, pieces[mark]
        assert piece["edges_mm"]["fixed_bottom"] == pytest.approx(inner, abs=CLOSES)
        assert piece["long_point_mm"] == pytest.approx(max(inner, stands.bar.outer), abs=CLOSES)


def check_closes(record: dict[str, Any], case: Case) -> None:
    """By its own account, by the independent reassembly, and into the shape that was asked for."""
    closure = record["assemblies"][0]["closure"]
    assert max(closure["gap_mm"], closure["overlap_mm"]) <= CLOSES
    width = widths_of(record, case)
    placed, joints = standing(record, width)
    assert stands_off(placed, joints) <= CLOSES
    assert overlap(placed) <= CLOSES
    assert misses_corners(record, case, placed) <= CLOSES
    check_edges(record, placed)


@pytest.mark.parametrize("kind", every_kind)
@LAW
@given(data=st.data())
def test_a_frame_closes(kind: str, data: st.DataObject, tmp_path: Path) -> None:
    case = data.draw(every_kind[kind])
    record = checked(tmp_path, *case.job)
    check_closes(record, case)
    width = widths_of(record, case)
    for moved in moved_miters(record):
        assert off(moved, case, width) > 100 * CLOSES


# The reassembly itself, by hand


R2 = math.sqrt(2)
SQUARE = [Bar(50, 1000, 45, 45)] * 4


def joint(kind: str = "miter", gap: float = 0.0) -> Record:
    return {"kind": kind, "gap_mm": gap}


def both(sides: Sequence[Bar], joints: Sequence[Record]) -> tuple[float, float]:
    """What stands off and what overlaps."""
    placed = put_together(sides, joints)
    return stands_off(placed, joints), overlap(placed)


def test_a_square() -> None:
    """Outside 1000, inside 900, clockwise from its upper left corner at (-50, 50)."""
    assert both(SQUARE, [joint()] * 4) == pytest.approx((0, 0), abs=1e-9)
    corners = corners_at(put_together(SQUARE, [joint()] * 4), [0] * 4, True)
    assert corners == pytest.approx([-50 + 50j, 950 + 50j, 950 - 950j, -50 - 950j])
    inner = corners_at(put_together(SQUARE, [joint()] * 4), [50] * 4, True)
    assert inner == pytest.approx([0j, 900 + 0j, 900 - 900j, -900j])


@pytest.mark.parametrize(
    ("sides", "joints"),
    [
        ([Bar(50, 1000 - 2 * R2, 45, 45)] * 4, [joint(gap=2)] * 4),
        ([Bar(50, 800, 30, 30)] * 6, [joint()] * 6),
        ([Bar(50, 1000, 0, 0), Bar(60, 600 - 100, 0, 0)] * 2, [joint("first-through"), joint("second-through")] * 2),
        ([Bar(50, 1000 - 62, 0, 0), Bar(60, 600 - 52, 0, 0)] * 2, [joint("first-through", 2)] * 4),
        ([Bar(50, 1000 - 62, 0, 0), Bar(60, 600 - 52, 0, 0)] * 2, [joint("second-through", 2)] * 4),
        ([Bar(50, 900 - 100 / math.sqrt(3), 30, 30)] * 3, [joint("first-through")] * 3),
    ],
    ids=["root gap", "hexagon", "butted", "pinwheel", "pinwheel the other way", "triangle"],
)
def test_frames_by_hand(sides: Sequence[Bar], joints: Sequence[Record]) -> None:
    """Half a gap of 2 is sqrt 2 along a bar mitered 45; butted, a bar loses the other's width and the gap, over the
    sine of 60 in a triangle."""
    assert both(sides, joints) == pytest.approx((0, 0), abs=1e-9)
    corners = corners_at(put_together(sides, joints), [0] * len(sides), True)
    across = abs(corners[0] - corners[2])
    expected = {3: 900, 4: math.hypot(1000, 600), 6: 800 * math.sqrt(3)}[len(sides)]
    assert across == pytest.approx(1000 * R2 if joints[0]["gap_mm"] and sides[0].left else expected)


@pytest.mark.parametrize(
    ("change", "off_by", "overlaps"),
    [
        ({"outer": 1001}, 1, 1 / R2),
        ({"outer": 999}, 1, 0),
        ({"width": 51}, R2, 0),
        ({"right": 45.01}, 2000 * math.sin(math.radians(0.005)), None),
    ],
    ids=str,
)
def test_what_does_not_close(change: dict[str, float], off_by: float, overlaps: float | None) -> None:
    """The top a millimetre longer brings the left side as far into its end, 1 / sqrt 2 square to the face; shorter, it
    stands off. A bar wider by 1 has a seam longer by sqrt 2. A miter of 0.01 more turns the rest about a corner that is
    1000 away from where it closes."""
    sides = [dataclasses.replace(SQUARE[0], **change), *SQUARE[1:]]
    stands, deep = both(sides, [joint()] * 4)
    assert stands == pytest.approx(off_by)
    assert overlaps is None or deep == pytest.approx(overlaps, abs=1e-9)


def test_an_overlap_across_the_frame_is_seen() -> None:
    """A U of two arms with only 40 between their outer edges, each 30 wide: the arms overlap by 20."""
    arms = [Bar(30, 500, 0, 45), Bar(30, 40, 45, 45), Bar(30, 500, 45, 0)]
    assert overlap(put_together(arms, [joint()] * 2)) == pytest.approx(20)


def test_widths_of_a_record() -> None:
    """From the edges where the cuts slope against each other; from beside where they run parallel."""
    edges = {"moving_bottom": 1000, "fixed_bottom": 900}
    sloped = {"mark": "A", "left": {"miter_deg": 45}, "right": {"miter_deg": 45}, "edges_mm": edges}
    parallel = {"mark": "B", "left": {"miter_deg": 45}, "right": {"miter_deg": -45}, "edges_mm": edges}
    assert widths([sloped, parallel], {"A": 7, "B": 8}) == pytest.approx({"A": 50, "B": 8})
