"""Every frame closes when its pieces are put together again from the sheet alone, and a wrong miter is seen.

The pieces come out of `mitertool check JOB --json`, by marks, lengths and angles; `reassembly` lays them by rigid moves
and measures what stands open. The corners that then come out are held against those the job asked for.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.frame.runs import checked
from tests.laws.frame_cases import Case, every_kind
from tests.laws.reassembly import (
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

CLOSES = 1e-6
"""mm. The most that a frame of unrounded pieces may stand open or overlap."""

MITER = {"kind": "miter", "gap_mm": 0.0}

LAW = settings(
    deadline=None,
    max_examples=40,
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
