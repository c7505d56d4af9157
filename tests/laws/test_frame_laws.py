"""Laws of frames: what is solved closes when put together again, and a wrong miter is seen to be wrong."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

import mitertool as mt
from mitertool.frame import Assembly, corner, rectangle
from tests.laws.checks import check_corner, same
from tests.laws.reassembly import Plate, misfit, outer_corners
from tests.laws.strategies import LAW, sections, shapes
from tests.specimens import SPECIMENS, lays_of

CLOSES = 1e-6
"""mm. The most that a frame of unrounded pieces may stand open or overlap."""

kinds = st.sampled_from(["outside", "centerline", "inside"])
sizes = st.floats(2500, 6000)
gaps = st.one_of(st.just(0.0), st.floats(0, 6))


def plates(assembly: Assembly) -> list[Plate]:
    """The sides in walking order as lengths along the outside (the moving side), widths and miters."""
    by_mark = {member.mark: member.piece for member in assembly.pieces}
    return [
        Plate(piece.edges.moving_bottom, piece.section.width, piece.left.miter, piece.right.miter)
        for piece in (by_mark[mark] for mark in assembly.order)
    ]


def check_frame_closes(assembly: Assembly, root_gap: float = 0.0) -> None:
    """By its own account and by an independent reassembly."""
    assert assembly.closure.gap <= CLOSES
    assert assembly.closure.overlap <= CLOSES
    assert misfit(plates(assembly), root_gap) <= CLOSES


def check_a_moved_miter_does_not_close(sides: list[Plate], root_gap: float = 0.0) -> None:
    """Any one miter out by 0.01 degree shows; so does any length out by 0.01 mm."""
    for i, side in enumerate(sides):
        for wrong in (
            replace(side, left=side.left + 0.01),
            replace(side, right=side.right - 0.01),
            replace(side, outside=side.outside + 0.01),
        ):
            assert misfit([*sides[:i], wrong, *sides[i + 1 :]], root_gap) > 100 * CLOSES


def test_the_reassembly_knows_a_frame() -> None:
    """By hand: a square, with a root gap of 2 that takes 2 x 1 mm / cos 45 off a side; a hexagon; what is none."""
    assert misfit([Plate(1000, 50, 45, 45)] * 4) <= 1e-9
    assert misfit([Plate(1000, 50, 30, 30)] * 6) <= 1e-9
    assert misfit([Plate(1000, 50, 45, 45), Plate(900, 50, 45, 45)] * 2) <= 1e-9
    corners = outer_corners([Plate(1000 - 2 * math.sqrt(2), 50, 45, 45)] * 4, root_gap=2)
    assert corners == pytest.approx([0, 1000, 1000 - 1000j, -1000j, 0], abs=1e-9)
    assert misfit([Plate(1000, 50, 45, 45)] * 3) > 100
    assert misfit([Plate(1000, 50, 45, 45), Plate(900, 60, 45, 45)] * 2) > 10
    assert misfit([Plate(1000, 50, 45, 45)] * 3 + [Plate(1001, 50, 45, 45)]) > 0.9


def comparable(*members: mt.Section) -> bool:
    """Within ten to one in width: beyond, a root gap runs a whole side's length along the narrow one's cut."""
    widths = [section.width for section in members]
    return max(widths) <= 10 * min(widths)


def has_a_centerline(section: mt.Section) -> bool:
    """Angle, channel and Z have no centerline that a tape could find."""
    return section.shape.word not in ("angle", "channel", "z")


@pytest.mark.parametrize("name", SPECIMENS)
def test_a_rectangle_of_every_specimen_closes(name: str) -> None:
    for section in lays_of(name):
        for measured in ("outside", "inside", *(["centerline"] if has_a_centerline(section) else [])):
            check_frame_closes(rectangle(section, 4200, 2800, measured))


@LAW
@given(sections, sizes, sizes, kinds, gaps)
def test_a_rectangle_of_one_section_closes(
    section: mt.Section, width: float, height: float, measured: str, gap: float
) -> None:
    assume(measured != "centerline" or has_a_centerline(section))
    assembly = rectangle(section, width, height, measured, gap)
    check_frame_closes(assembly, gap)
    check_a_moved_miter_does_not_close(plates(assembly), gap)


@LAW
@given(st.lists(shapes, min_size=4, max_size=4), sizes, sizes, kinds, gaps)
def test_a_rectangle_of_four_sections_closes(
    sides: list[mt.Section], width: float, height: float, measured: str, gap: float
) -> None:
    assume(comparable(*sides))
    assume(measured != "centerline" or all(has_a_centerline(section) for section in sides))
    assembly = rectangle(sides, 2 * width, 2 * height, measured, gap)
    check_frame_closes(assembly, gap)
    check_a_moved_miter_does_not_close(plates(assembly), gap)


@LAW
@given(shapes, shapes, sizes, sizes, kinds, gaps)
def test_the_measured_size_is_the_size_of_the_frame(
    one: mt.Section, other: mt.Section, width: float, height: float, measured: str, gap: float
) -> None:
    """From corner to corner of the outer edges, less what of the neighbours lies beyond the measured line."""
    assume(comparable(one, other))
    assume(measured != "centerline" or all(has_a_centerline(section) for section in (one, other)))
    corners = outer_corners(plates(rectangle([one, other], width, height, measured, gap)), gap)
    share = {"outside": 0.0, "centerline": 0.5, "inside": 1.0}[measured]
    for i, (size, neighbour) in enumerate(zip((width, height) * 2, (other, one) * 2, strict=True)):
        same(abs(corners[i + 1] - corners[i]) - 2 * share * neighbour.width, size)


@LAW
@given(st.floats(5, 500), st.floats(5, 500), st.floats(1, 179))
@example(100.0, 300.0, 120.0)
def test_the_seams_of_a_corner_meet(width_a: float, width_b: float, angle: float) -> None:
    check_corner(corner(width_a, width_b, angle))


@LAW
@given(st.floats(5, 500), st.floats(1, 179))
def test_equal_members_share_the_corner(width: float, angle: float) -> None:
    joint = corner(width, width, angle)
    same(joint.miter_a, 90 - angle / 2, 90)
    same(joint.miter_b, 90 - angle / 2, 90)
