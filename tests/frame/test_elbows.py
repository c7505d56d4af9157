"""Bends of straight segments by hand; printed worked examples in `tests/published`."""

from __future__ import annotations

from math import pi, tan
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.frame import elbow
from mitertool.frame.elbows import Straights
from tests.frame.runs import command


def test_heel_and_throat_by_hand() -> None:
    """Both cuts of a segment lean 15 degrees: outside and inside are 2 (R +- d/2) tan 15."""
    made = mt.bend(100, 400, 60, 2)
    assert (made.heel, made.throat) == pytest.approx((900 * tan(pi / 12), 700 * tan(pi / 12)), abs=1e-9)


def test_the_segments_of_an_elbow() -> None:
    """Two halves, each with its tangent, and two full segments; the middle of all is as long as the polygon around the
    arc: 6 R tan 15."""
    made = elbow(mt.round_tube(168.3, 5), 300, 90, 3, Straights((50, 20)))
    assert [member.quantity for member in made.pieces] == [1, 2, 1]
    middles = [member.piece.centerline * member.quantity for member in made.pieces]
    assert sum(middles) == pytest.approx(6 * 300 * tan(pi / 12) + 70, abs=1e-9)
    assert max(made.closure.gap, made.closure.overlap) < 1e-6


def test_an_elbow_goes_round_by_its_angle() -> None:
    """Its two free ends are square to each other and stand R and the tangent from the crossing of their lines."""
    made = elbow(mt.round_tube(60.3, 3), 200, 90, 4, Straights((30, 30)))
    begin, end = made.edges[0], made.edges[-1]
    start, way = (begin[0] + begin[1]) / 2, begin[2] - begin[1]
    stop, last = (end[2] + end[3]) / 2, end[2] - end[1]
    assert (way.conjugate() * last).real == pytest.approx(0, abs=1e-6)
    along = way / abs(way)
    assert (along.conjugate() * (stop - start)).real == pytest.approx(230, abs=1e-9)
    assert abs((along.conjugate() * (stop - start)).imag) == pytest.approx(230, abs=1e-9)


@pytest.mark.parametrize(
    ("sizes", "says"),
    [
        ((100, 50, 90, 3), "radius: found '50 mm'"),
        ((100, 300, 171, 1), "angle: found 171"),
        ((100, 300, 90, 0), "cuts: found 0"),
        ((0, 300, 90, 3), "diameter: found 0"),
        ((100, 300, float("nan"), 3), "angle: found nan"),
    ],
)
def test_what_is_no_bend(sizes: tuple[float, float, float, int], says: str) -> None:
    with pytest.raises(mt.BadInput, match=says):
        mt.bend(*sizes)


def test_a_tangent_below_nothing() -> None:
    with pytest.raises(mt.BadInput, match="tangents"):
        Straights((-1, 0))


def test_an_s_is_set_over_by_its_offset() -> None:
    """Two bends of 45 degrees, radius 200: 2 R (1 - cos 45) = 117.16 over alone; for 300 the straight between them is
    (300 - 117.16) / sin 45 = 258.58, and the middle piece is longer by both half segments."""
    made = elbow(mt.round_tube(60.3, 3), 200, 45, 2, Straights(offset=300))
    begin, end = made.edges[0], made.edges[-1]
    start, way = (begin[0] + begin[1]) / 2, begin[2] - begin[1]
    stop, last = (end[2] + end[3]) / 2, end[2] - end[1]
    along = way / abs(way)
    assert (along.conjugate() * last).imag == pytest.approx(0, abs=1e-9)
    assert abs((along.conjugate() * (stop - start)).imag) == pytest.approx(300, abs=1e-9)
    longest = max(member.piece.centerline for member in made.pieces)
    straight = (300 - 400 * (1 - 0.5**0.5)) / 0.5**0.5
    assert longest == pytest.approx(straight + 2 * 200 * tan(pi / 16), abs=1e-9)
    assert max(made.closure.gap, made.closure.overlap) < 1e-6


def test_an_s_whose_bends_go_further() -> None:
    with pytest.raises(mt.BadInput, match=r"the two bends alone set over by 117\.2 mm"):
        elbow(mt.round_tube(60.3, 3), 200, 45, 2, Straights(offset=100))


def test_end_pieces_of_their_own_lengths() -> None:
    made = elbow(mt.round_tube(60.3, 3), 150, 90, 3, Straights(ends=(60, 120)))
    piece = {member.mark: member.piece for member in made.pieces}
    assert [piece[made.order[i]].centerline for i in (0, -1)] == pytest.approx([60, 120], abs=1e-9)
    with pytest.raises(mt.BadInput, match=r"ends: found '8 mm'; must be 8\.1 mm or more"):
        elbow(mt.round_tube(60.3, 3), 150, 90, 3, Straights(ends=(8, 120)))  # 30.15 tan 15 is 8.08


def test_the_cut_list_of_one_bar() -> None:
    """Halves of 150 tan 15 at both ends, two full segments between: 6 of them, 241.15 by hand. Every second turned."""
    made = elbow(mt.round_tube(60.3, 3), 150, 90, 3)
    says = made.notes[-1].in_units("mm")
    assert "BEND-1, BEND-2*, BEND-2, BEND-1*" in says or "BEND-1, BEND-2*, BEND-2, BEND-3*" in says
    assert 6 * 150 * tan(pi / 12) == pytest.approx(241.15, abs=0.005)
    assert "241.2 mm of it along the middle, and a kerf for each of 3 cuts" in says


def test_of_an_s_the_middle_piece_is_not_turned_again() -> None:
    """Its ends are parallel, so it lies on the bar as the one before leaves it, and the next is turned against it."""
    says = elbow(mt.round_tube(60.3, 3), 150, 45, 1, Straights(offset=400)).notes[-1].in_units("mm")
    assert "BEND-1, BEND-2*, BEND-3" in says


def test_a_section_that_looks_other_turned_over_shares_no_cut() -> None:
    drawn = mt.from_dxf(Path(__file__).resolve().parents[2] / "gallery" / "keel-jig" / "strake.dxf")
    made = elbow(drawn, 150, 90, 2)
    assert [note.code for note in made.notes] == ["note.segment"]


def test_a_square_elbow_by_one_cut() -> None:
    assert mt.bend(100, 300, 90, 1).miter == 45


def test_a_check_length_that_proves_no_corner_is_not_said_to(tmp_path: Path) -> None:
    """The first segment of a five-cut elbow of 300 is half of one, 357.15 tan 9 = 56.6 at its heel: the length over two
    corners moves a corner of 162 degrees by some degrees a millimetre. It has six pieces, and says so."""
    (tmp_path / "job.toml").write_text(
        '[job]\nname = "E"\nunits = "mm"\n[[section]]\nname = "T"\nshape = "round-tube"\ndiameter = 114.3\nwall = 3.6\n'
        '[[frame]]\nmark = "E"\nshape = "bend"\nsection = "T"\nradius = 300\nangle = 90\ncuts = 5\n'
    )
    code, said = command("check", str(tmp_path / "job.toml"))[:2]
    assert code == 0
    assert "up to 4.87° out" not in said
    assert "a check length" not in said.lower()
    assert "6 pieces from one bar in this order" in said
    assert "a kerf for each of 5 cuts" in said
