"""Laws of pieces over all specimens and over random pieces."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

import mitertool as mt
from tests.laws.checks import (
    check_crossing_cuts_are_refused,
    check_every_basis_gives_the_same_piece,
    check_length_is_linear,
    check_long_point,
    check_opposite_hand,
    check_order_of_lengths,
    check_overall,
    check_pose,
    check_rolled_with_its_planes,
    check_short_point,
    check_split,
    check_turned_end_for_end,
    check_volume,
    same,
)
from tests.laws.strategies import LAW, cuts, pieces, rotations, sections
from tests.specimens import SPECIMENS, lays_of

every_specimen = pytest.mark.parametrize("name", SPECIMENS)

ENDS = [
    (mt.Cut(45), mt.Cut(45)),
    (mt.Cut(-45), mt.Cut(45)),
    (mt.Cut(), mt.Cut(22.5)),
    (mt.Cut(30, 20), mt.Cut(-52, 35)),
    (mt.Cut(0, -30), mt.Cut(0, -30)),
]

Check = Callable[[mt.Piece], None]

LENGTH_CHECKS: list[Check] = [
    check_long_point,
    check_short_point,
    check_overall,
    check_order_of_lengths,
    check_length_is_linear,
    check_every_basis_gives_the_same_piece,
    check_crossing_cuts_are_refused,
    check_opposite_hand,
    check_turned_end_for_end,
    check_volume,
]


@every_specimen
@pytest.mark.parametrize("check", LENGTH_CHECKS)
def test_every_specimen(name: str, check: Check) -> None:
    for section in lays_of(name):
        for left, right in ENDS:
            check(mt.Piece(section, 700.0, left, right, at="short-point"))


@pytest.mark.parametrize("check", LENGTH_CHECKS)
def test_any_piece(check: Check) -> None:
    LAW(given(pieces())(check))()


@every_specimen
def test_poses_are_half_turns_of_the_solid(name: str) -> None:
    for section in lays_of(name):
        for left, right in ENDS:
            piece = mt.Piece(section, 300.0, left, right, at="short-point")
            for pose in piece.poses:
                check_pose(piece, pose)


@LAW
@given(pieces())
def test_poses_of_any_piece_are_half_turns(piece: mt.Piece) -> None:
    for pose in piece.poses:
        check_pose(piece, pose)


@every_specimen
def test_poses_form_a_group(name: str) -> None:
    """A pose twice is as drawn, and two poses one after the other are a third that is allowed as well."""
    for section in lays_of(name):
        piece = mt.Piece(section, 500.0, mt.Cut(30, 10), mt.Cut(-20, 5), at="short-point")
        by_cuts = {_cuts(piece.posed(pose)): pose for pose in piece.poses}
        assert len(by_cuts) == len(piece.poses)
        for first in piece.poses:
            assert _cuts(piece.posed(first).posed(first)) == _cuts(piece)
            for second in piece.poses:
                assert _cuts(piece.posed(first).posed(second)) in by_cuts


def _cuts(piece: mt.Piece) -> tuple[float, ...]:
    return (piece.left.miter, piece.left.bevel, piece.right.miter, piece.right.bevel)


@LAW
@given(pieces())
def test_the_opposite_hand_of_the_opposite_hand_is_the_piece(piece: mt.Piece) -> None:
    back = piece.opposite_hand().opposite_hand()
    assert (back.left, back.right, back.section) == (piece.left, piece.right, piece.section)
    same(back.s, piece.s, piece.overall)


@LAW
@given(pieces(), rotations)
def test_bar_and_planes_rolled_together_are_the_same_piece(piece: mt.Piece, roll: float) -> None:
    check_rolled_with_its_planes(piece, roll)


@LAW
@given(
    sections,
    cuts,
    st.floats(0.2, 0.8),
    st.one_of(st.just(0.0), st.floats(0.5, 10)),
    st.sampled_from(["keep", "drop", "shared"]),
)
def test_kept_kerf_and_drop_are_the_bar(section: mt.Section, cut: mt.Cut, share: float, kerf: float, side: str) -> None:
    reach = section.support(cut.p, cut.q) + section.support(-cut.p, -cut.q) + cut.kerf_along(kerf)
    length = 10 * reach + 50
    check_split(section, length, cut, share * length, kerf, side)


@pytest.mark.parametrize("side", ["keep", "drop", "shared"])
@every_specimen
def test_kept_kerf_and_drop_of_every_specimen_are_the_bar(name: str, side: str) -> None:
    for section in lays_of(name):
        for cut in (mt.Cut(), mt.Cut(45), mt.Cut(-30, 25)):
            check_split(section, 6000.0, cut, 3000.0, 1.3, side)


@every_specimen
def test_mass_is_volume_times_density(name: str) -> None:
    piece = mt.Piece(SPECIMENS[name], 1000.0)
    same(piece.mass, SPECIMENS[name].mass_per_metre)
    same(piece.mass, SPECIMENS[name].area * 1000 * 7850e-9)
