"""The batch equals the scalar engine for every section in every lay, and refuses what it refuses.

Tolerance: 1e-12 relative, a few roundings of doubles. A sum of terms of opposite sign (p*y + q*z, and the lengths made
from it) is held to 1e-12 of its largest term, since both engines carry that term's rounding.
"""

from __future__ import annotations

import itertools
import subprocess
import sys
from math import cos, hypot, inf, isnan, nan, nextafter, pi, radians, sin, tan
from typing import Any

import attrs
import numpy as np
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.geometry import Arc, Line, Region
from mitertool.geometry.lengths import _joined
from mitertool.piece import AT
from mitertool.piece.batch import Pieces
from mitertool.sections.own import outlined
from tests.laws.strategies import egg
from tests.specimens import LAID, SPECIMENS

RELATIVE = 1e-12
SPECIAL = (0.0, 1e-7, 22.5, -45.0, 60.0, 89.0, -89.0, 89.9, -89.99)
PAIRS = [*itertools.product(SPECIAL, SPECIAL), *np.random.default_rng(5).uniform(-89.5, 89.5, (30, 2)).tolist()]
MITERS, BEVELS = (np.array(angles) for angles in zip(*PAIRS, strict=True))


def close(batch: float, scalar: float, size: float = 0.0) -> bool:
    return abs(batch - scalar) <= RELATIVE * max(abs(scalar), size)


@pytest.mark.parametrize("name", LAID)
def test_cuts_are_those_of_the_face(name: str) -> None:
    section = LAID[name]
    batch = mt.batch.cuts(section, MITERS, BEVELS)
    for i, (miter, bevel) in enumerate(PAIRS):
        cut = mt.Cut(miter, bevel)
        face, terms = cut.face(section), abs(cut.p) * section.width + abs(cut.q) * section.height
        assert close(batch.area[i], face.area), (miter, bevel)
        assert close(batch.perimeter[i], face.perimeter), (miter, bevel)
        assert close(batch.height[i], face.height), (miter, bevel)
        assert close(batch.width[i], face.width, terms * cos(radians(bevel))), (miter, bevel)
        assert close(batch.furthest[i], section.support(cut.p, cut.q), terms), (miter, bevel)
        assert close(batch.nearest[i], -section.support(-cut.p, -cut.q), terms), (miter, bevel)


@pytest.mark.parametrize("rotation", [0, 90])
def test_an_outline_that_is_alike_only_left_and_right(rotation: float) -> None:
    """The hull of two circles reaches as far as the further of them: p*y + q*z of its middle and r * hypot(p, q)."""
    batch = mt.batch.cuts(egg(50, 20, 90).lay(rotation), MITERS, BEVELS)
    for i, (miter, bevel) in enumerate(PAIRS):
        p, q = mt.Cut(miter, bevel).p, mt.Cut(miter, bevel).q
        middles = [(50, 50, 50), (50, 140, 20)] if rotation == 0 else [(110, 50, 50), (20, 50, 20)]
        size = 160 * (abs(p) + abs(q))
        assert close(batch.furthest[i], max(p * y + q * z + r * hypot(p, q) for y, z, r in middles), size)
        assert close(batch.nearest[i], min(p * y + q * z - r * hypot(p, q) for y, z, r in middles), size)


def test_corners_that_stand_far_from_a_rounding() -> None:
    """A sail: a rounding of 20 about (20, 20), from it two sides of 90 that lean in by 20 degrees, to corners whose
    height, or whose place across, is nearly that of the middle of the rounding."""
    lean = radians(20)
    foot, way = (20 - 20 * cos(lean), 20 + 20 * sin(lean)), (sin(lean), cos(lean))
    high = foot[0] + 90 * way[0], foot[1] + 90 * way[1]
    low = high[1], high[0]
    round_off = Arc((20, 20), 20, pi - lean, pi / 2 + 2 * lean)
    loop = (round_off, Line(round_off.end, low), Line(low, high), Line(high, round_off.start))
    batch = mt.batch.cuts(outlined(Region((loop,)), "sail.dxf", "sail"), MITERS, BEVELS)
    for i, (miter, bevel) in enumerate(PAIRS):
        p, q = mt.Cut(miter, bevel).p, mt.Cut(miter, bevel).q
        reach, size = [p * y + q * z for y, z in (low, high)], 112 * (abs(p) + abs(q))
        assert close(batch.furthest[i], max(*reach, 20 * p + 20 * q + 20 * hypot(p, q)), size)
        assert close(batch.nearest[i], min(*reach, 20 * p + 20 * q - 20 * hypot(p, q)), size)


def test_steps_of_one_radius_are_joined() -> None:
    """From an angle on, over so much of it, at a radius: neighbours alike are one, behind another one too."""
    assert _joined([(0.0, 0.5, 1.0), (0.5, 0.25, 2.0), (0.75, 0.5, 2.0), (1.25, 0.5, 1.0)]) == [
        *((0.0, 0.5, 1.0), (0.5, 0.75, 2.0)),
        (1.25, 0.5, 1.0),
    ]


def test_what_is_not_said_of_pieces_is_square() -> None:
    """Of a flat 80 wide a miter of 45 takes 80 off at an end; arrays are told apart as they stand, and hashed so."""
    flat = mt.flat(80, 12)
    assert mt.batch.pieces(flat, [1200.0]).short_point.tolist() == [1200.0]
    one, other = (mt.batch.pieces(flat, 1200.0, left_miter=[45.0, 0.0]) for _ in range(2))
    assert one.short_point == pytest.approx([1120.0, 1200.0])
    assert len({one, other}) == 2
    assert len({mt.batch.cuts(flat, [45.0]), mt.batch.cuts(flat, [45.0])}) == 2


@pytest.mark.parametrize("at", AT)
@pytest.mark.parametrize("name", SPECIMENS)
def test_pieces_are_those_of_piece_or_cross_where_it_refuses(name: str, at: str) -> None:
    section = SPECIMENS[name].lay(30, turned=True)
    rows = piece_rows(section)
    length, left_miter, left_bevel, right_miter, right_bevel = np.array(rows).T
    batch = mt.batch.pieces(section, length, left_miter, left_bevel, right_miter, right_bevel, at)
    for i, (mm, *degrees) in enumerate(rows):
        left, right = mt.Cut(*degrees[:2]), mt.Cut(*degrees[2:])
        try:
            piece = mt.Piece(section, mm, left, right, at)
        except BadInput:
            assert batch.crosses[i], rows[i]
            assert isnan(batch.volume[i]) and isnan(batch.mass[i])
        else:
            assert not batch.crosses[i], rows[i]
            compare_piece(batch, i, piece)


def piece_rows(section: mt.Section) -> list[list[float]]:
    """Length, left and right angles: gentle pieces, steep ones, and some of cuts that cross."""
    rng = np.random.default_rng(17)
    size = hypot(section.width, section.height)
    gentle = [[rng.uniform(0, 9) * size, *rng.uniform(-60, 60, 4)] for _ in range(25)]
    steep = [[rng.uniform(0, 1e4) * size, *rng.uniform(-89.5, 89.5, 4)] for _ in range(10)]
    plain = [[size, 0.0, 0.0, 0.0, 0.0], [2 * size, 45.0, 0.0, -45.0, 0.0], [2 * size, 30.0, 10.0, -30.0, -10.0]]
    return [*gentle, *steep, *plain]


def compare_piece(batch: Pieces, i: int, piece: mt.Piece) -> None:
    section, cuts = piece.section, (piece.left, piece.right)
    terms = sum(abs(c.p) * section.width + abs(c.q) * section.height for c in cuts)
    size = max(piece.length, abs(piece.s), terms)
    for name in ("long_point", "short_point", "centerline", "overall"):
        assert close(getattr(batch, name)[i], getattr(piece, name), size), (name, piece)
    assert close(batch.volume[i], piece.volume, section.area * size), piece
    assert close(batch.mass[i], piece.mass, section.area * section.density * 1e-9 * size), piece


def test_a_square_cut_shows_the_section_itself() -> None:
    """A square tube 50 x 50 x 3 with roundings of 6 and 3 mm: area and perimeter worked by hand from squares and
    quarter circles."""
    cut = mt.batch.cuts(mt.rect_tube(50, 50, 3), 0.0)
    assert cut.area == pytest.approx(50**2 - 44**2 - (4 - pi) * (6**2 - 3**2), rel=1e-14)
    assert cut.perimeter == pytest.approx(4 * 38 + 4 * 38 + 2 * pi * (6 + 3), rel=1e-14)
    assert [float(one) for one in (cut.nearest, cut.furthest)] == [0.0, 0.0]
    assert [float(one) for one in (cut.width, cut.height)] == [50.0, 50.0]


def test_a_round_bar_at_60_shows_an_ellipse_of_half_ratio() -> None:
    """Perimeter over half major axis of an ellipse with b/a = 1/2: 4.84422411027384 (mpmath, 30 digits, from the
    complete elliptic integral)."""
    cut = mt.batch.cuts(mt.round_bar(60), [60.0, 0.0, -60.0], [0.0, 60.0, 0.0])
    assert cut.perimeter == pytest.approx([60 * 4.84422411027384] * 3, rel=1e-14)
    assert cut.area == pytest.approx([2 * pi * 30**2] * 3, rel=1e-14)


def test_a_pointed_flat_piece_by_hand() -> None:
    """A flat 80 wide with two miters of 45: the short point is the long point less 160."""
    piece = mt.batch.pieces(mt.flat(80, 10), [160.0, 159.0, 300.0], 45, 0, 45, 0)
    assert piece.short_point == pytest.approx([0.0, -1.0, 140.0], abs=1e-12)
    assert piece.centerline == pytest.approx([80.0, 79.0, 220.0], rel=1e-14)
    assert piece.overall == pytest.approx([160.0, 159.0, 300.0], rel=1e-14)
    assert piece.crosses.tolist() == [False, True, False]
    assert piece.volume[[0, 2]] == pytest.approx([64000.0, 176000.0], rel=1e-14)
    assert piece.mass[[0, 2]] == pytest.approx([0.5024, 1.3816], rel=1e-14)


def test_nothing_between_parallel_cuts_counts_as_crossing() -> None:
    piece = mt.batch.pieces(mt.flat(80, 10), [0.0, 1.0], 30, 0, -30, 0, at="centerline")
    assert piece.crosses.tolist() == [True, False]


def test_arguments_broadcast_and_results_are_not_writable() -> None:
    section = mt.round_tube(60, 3)
    cuts = mt.batch.cuts(section, [[0], [30]], [0, 10, 20])
    pieces = mt.batch.pieces(section, 500, left_miter=[[0], [30]], right_bevel=[0, 10, 20])
    for answer in (cuts, pieces):
        arrays = [getattr(answer, field.name) for field in attrs.fields(type(answer))]
        assert [array.shape for array in arrays] == [(2, 3)] * len(arrays)
        assert not any(array.flags.writeable for array in arrays)
    assert cuts.area[1] == pytest.approx([mt.Cut(30, bevel).face(section).area for bevel in (0, 10, 20)], rel=1e-12)


def test_only_what_is_asked_for_is_worked_out() -> None:
    """A flat 80 x 12 at 60: twice as wide, 80 tan 60 from its near corner to its far one."""
    cuts = mt.batch.cuts(mt.flat(80, 12), [60.0, 0.0], only=["width", "furthest"])
    assert cuts.width == pytest.approx([160.0, 80.0], rel=1e-14)
    assert cuts.furthest == pytest.approx([80 * 3**0.5, 0.0], rel=1e-14)
    assert cuts.area.shape == cuts.perimeter.shape == cuts.nearest.shape == cuts.height.shape == (0,)
    with pytest.raises(BadInput) as caught:
        mt.batch.cuts(mt.flat(80, 12), 0, only=["volume"])
    assert str(caught.value).startswith("only: found 'volume'; allowed: area, perimeter")


def test_no_cuts_give_no_numbers() -> None:
    assert mt.batch.cuts(SPECIMENS["tapered channel"], [], []).perimeter.shape == (0,)
    assert mt.batch.pieces(SPECIMENS["equal angle"], []).crosses.shape == (0,)


def test_the_steepest_cut_there_is_stays_finite() -> None:
    """A round bar of 1 mm cut next to 90 degrees shows a needle: its outline is twice 1 mm times the slope, its area
    that of the round times the slope."""
    steepest = nextafter(90, 0)
    p, sec = tan(radians(steepest)), 1 / cos(radians(steepest))
    slope = hypot(p, p * sec)
    cut = mt.batch.cuts(mt.round_bar(1), steepest, steepest)
    assert cut.perimeter == pytest.approx(2 * slope, rel=1e-12)
    assert cut.area == pytest.approx(pi / 4 * slope, rel=1e-12)


BAD_CUTS = [
    (([0, 90, 91],), "miter[1]: found 90; an angle must be more than -90 and less than 90 degrees"),
    (([0.0, -90.0],), "miter[1]: found -90.0; an angle must be more than -90 and less than 90 degrees"),
    ((0, [[0, 1], [nan, inf]]), "bevel[1, 0]: found nan; an angle must be more than -90 and less than 90 degrees"),
    ((inf,), "miter: found inf; an angle must be more than -90 and less than 90 degrees"),
    (([1.0, "2"],), "miter[0]: found '1.0'; an angle must be more than -90 and less than 90 degrees"),
    (([1.0, None],), "miter[1]: found None; an angle must be more than -90 and less than 90 degrees"),
    (([True, False],), "miter[0]: found True; an angle must be more than -90 and less than 90 degrees"),
    (([1j],), "miter[0]: found 1j; an angle must be more than -90 and less than 90 degrees"),
    (([0, 10**400],), f"miter[1]: found 1{'0' * 119}…; an angle must be more than -90 and less than 90 degrees"),
    (
        (np.array([1, 2.5, True], dtype=object),),
        "miter[2]: found True; an angle must be more than -90 and less than 90 degrees",
    ),
    (([[1, 2], [3]],), "miter: found 'list'; must be a number or an array of numbers in even rows"),
    (([1, 2, 3], [1, 2]), "shapes: found 'miter (3,), bevel (2,)'; they must broadcast together"),
]


@pytest.mark.parametrize(("arguments", "says"), BAD_CUTS)
def test_cuts_refuse_with_the_first_index(arguments: tuple[Any, ...], says: str) -> None:
    with pytest.raises(BadInput) as caught:
        mt.batch.cuts(mt.flat(20, 10), *arguments)
    assert str(caught.value) == says


BAD_PIECES = [
    ({"length": [5, -1]}, "length[1]: found -1; a length must be a number of mm, 0 or more"),
    ({"length": [nan]}, "length[0]: found nan; a length must be a number of mm, 0 or more"),
    ({"length": inf}, "length: found inf; a length must be a number of mm, 0 or more"),
    ({"length": "5"}, "length: found '5'; a length must be a number of mm, 0 or more"),
    (
        {"length": 5, "right_bevel": [0, 0, -90]},
        "right_bevel[2]: found -90; an angle must be more than -90 and less than 90 degrees",
    ),
    ({"length": 5, "at": "heel"}, f"at: found 'heel'; allowed: {', '.join(AT)}"),
    (
        {"length": [5, 6], "left_miter": [0, 0, 0]},
        "shapes: found 'length (2,), left_miter (3,), left_bevel (), right_miter (), right_bevel ()'; "
        "they must broadcast together",
    ),
]


@pytest.mark.parametrize(("arguments", "says"), BAD_PIECES)
def test_pieces_refuse_with_the_first_index(arguments: dict[str, Any], says: str) -> None:
    with pytest.raises(BadInput) as caught:
        mt.batch.pieces(mt.flat(20, 10), **arguments)
    assert str(caught.value) == says


def test_numpy_is_loaded_by_the_batch_alone() -> None:
    script = (
        "import sys, mitertool as mt, mitertool.piece; before = 'numpy' in sys.modules; "
        "mt.batch.cuts; print(before, 'numpy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True"]
