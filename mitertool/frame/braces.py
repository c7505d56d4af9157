"""A brace of real width between two faces: corner to corner, by rise and run, or as a knee; knows pieces.

The brace lies at an angle to the level; its moving side is the upper one. Ends are cut level, plumb or square.
"""

from __future__ import annotations

from cmath import exp
from collections.abc import Callable, Sequence
from math import asin, atan2, cos, degrees, hypot, radians
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import all_of
from mitertool.cut import Cut
from mitertool.frame.assembly import Assembly, Closure, Member, Resolution, plan_end, rounded
from mitertool.frame.closure import Move
from mitertool.frame.facts import Fact, fact
from mitertool.frame.sizes import refuse_no_size
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, angles, lengths
from mitertool.sections import Section
from mitertool.words import phrase

ENDS: Final = ("level", "plumb", "square")
POINT: Final = "point"


def corner_to_corner(
    section: Section,
    inside_width: float,
    inside_height: float,
    ends: Sequence[str],
    mark: str = "BRACE",
    resolution: Resolution | None = None,
) -> Assembly:
    """A brace from the lower left to the upper right corner inside a rectangle (mm), touching both corners.

    `ends` are the lower and the upper one, "level" (on the rail), "plumb" (on the post), or both "point" (two planes,
    level and plumb, that meet in a tip on the centerline). The angle of the others is not the diagonal's: with the
    diagonal R at angle d, an edge of the brace runs through each corner, so sin(angle - d) = width / R for two level
    ends. Raises `BadInput` for a brace that does not fit.
    """
    refuse_no_size(inside_width=inside_width, inside_height=inside_height)
    reach, slope = hypot(inside_width, inside_height), degrees(atan2(inside_height, inside_width))
    if tuple(ends) == (POINT, POINT):
        facts = (*_diagonal(inside_width, inside_height), *_end_facts(("level", "plumb"), slope))
        return attrs.evolve(_pointed(section, reach, slope, mark, resolution), facts=facts)
    lower, upper = _two(ends, ("level", "plumb"))
    y_low = section.width if lower == "level" else 0.0
    y_high = 0.0 if upper == "level" else section.width
    angle = slope - _rise(y_high - y_low, reach, section)
    if not 0 < angle < 90:
        fits = Remark("refuse.brace-fits", lengths(width=inside_width, height=inside_height))
        raise BadInput("brace", _wide(section), fits)
    left, right = _lower_cut(lower, angle), _upper_cut(upper, angle)
    along = reach * cos(radians(slope - angle))
    inner = along - left.p * y_low - right.p * y_high
    piece = _made(section, inner, left, right)
    far = complex(inside_width, inside_height)
    solved = _assembly(mark, piece, angle, lambda p, a: _misses(p, a, lower, upper, far), resolution)
    found = (
        *_diagonal(inside_width, inside_height),
        fact("brace-angle", d=slope, o=y_low - y_high, R=reach),
        *_end_facts((lower, upper), angle),
        fact("brace-length", R=reach, d=slope, a=angle),
        fact("brace-edge", L=along, pl=left.p, yl=y_low, pr=right.p, yh=y_high),
    )
    return attrs.evolve(solved, facts=found)


def _diagonal(width: float, height: float) -> tuple[Fact, Fact]:
    return fact("diagonal", X=width, Y=height), fact("diagonal-angle", Y=height, X=width)


def rise_and_run(
    section: Section,
    rise: float,
    run: float,
    ends: Sequence[str],
    mark: str = "BRACE",
    resolution: Resolution | None = None,
) -> Assembly:
    """A brace whose centerline rises `rise` over `run` (mm) between the middles of its two cuts."""
    refuse_no_size(rise=rise, run=run)
    lower, upper = _two(ends, ENDS)
    angle = degrees(atan2(rise, run))
    piece = Piece(section, hypot(rise, run), _lower_cut(lower, angle), _upper_cut(upper, angle), at="centerline")

    def misses(made: Piece, at: float) -> float:
        return max(abs(made.centerline * exp(1j * radians(at)) - complex(run, rise)), _skew(made, at, lower, upper))

    solved = _assembly(mark, piece, angle, misses, resolution)
    found = (fact("slope-angle", v=rise, h=run), fact("slope-length", v=rise, h=run))
    return attrs.evolve(solved, facts=(*found, *_end_facts((lower, upper), angle)))


def knee(
    section: Section, run: float, rise: float, mark: str = "BRACE", resolution: Resolution | None = None
) -> Assembly:
    """A knee brace under a beam: its long edge ends `run` along the beam and `rise` (mm) down the post.

    The left end is cut level on the beam, the right end plumb on the post, the long edge on the moving side.
    """
    refuse_no_size(run=run, rise=rise)
    angle = degrees(atan2(rise, run))
    piece = Piece(section, hypot(rise, run), Cut(90 - angle), Cut(angle), at="moving-bottom")

    def misses(made: Piece, at: float) -> float:
        edge = made.edges.moving_bottom * exp(1j * radians(at))
        return max(abs(edge - complex(run, rise)), _skew(made, at, "level", "plumb"))

    solved = _assembly(mark, piece, angle, misses, resolution)
    found = (fact("slope-angle", v=rise, h=run), fact("slope-length", v=rise, h=run))
    return attrs.evolve(
        solved,
        facts=(*found, *_end_facts(("level", "plumb"), angle)),
        places=_at(angle + 180),
    )


def _end_facts(ends: tuple[str, str], angle: float) -> tuple[Fact, ...]:
    keys = {"level": "level-miter", "plumb": "plumb-miter"}
    return tuple(fact(keys[end], a=angle) for end in dict.fromkeys(ends) if end in keys)


def _lower_cut(end: str, angle: float) -> Cut:
    return Cut({"level": 90 - angle, "plumb": -angle, "square": 0.0}[end])


def _upper_cut(end: str, angle: float) -> Cut:
    return Cut({"level": angle - 90, "plumb": angle, "square": 0.0}[end])


def _wide(section: Section) -> Remark:
    return Remark("found.wide", lengths(width=section.width))


def _rise(offset: float, reach: float, section: Section) -> float:
    if abs(offset) >= reach:
        raise BadInput("brace", _wide(section), Remark("refuse.brace-wide", lengths(reach=reach)))
    return degrees(asin(offset / reach))


def _made(section: Section, inner: float, left: Cut, right: Cut) -> Piece:
    try:
        return Piece(section, inner, left, right, at="fixed-bottom")
    except BadInput:
        raise BadInput("brace", _wide(section), phrase("refuse.brace-cuts")) from None


def _misses(piece: Piece, angle: float, lower: str, upper: str, far: complex) -> float:
    """How far the faces and tips of a brace laid at `angle` miss the faces and corners that they should touch, mm."""
    width, turn = piece.section.width, exp(1j * radians(angle))
    left = (complex(0, 0), complex(-piece.left.p * width, width))
    right = (complex(piece.s, 0), complex(piece.s + piece.right.p * width, width))
    start = left[lower == "level"]
    end = turn * (right[upper == "plumb"] - start) - far
    other_low = turn * (left[lower != "level"] - start)
    other_high = turn * (right[upper != "plumb"] - start) - far
    flat_low = other_low.imag if lower == "level" else other_low.real
    flat_high = other_high.imag if upper == "level" else other_high.real
    return max(abs(end), abs(flat_low), abs(flat_high))


def _skew(piece: Piece, angle: float, left: str, right: str) -> float:
    """How far a level or plumb face of a brace laid at `angle` stands off at its far corner, mm."""
    width, turn = piece.section.width, exp(1j * radians(angle))
    faces = ((left, complex(-piece.left.p, 1) * width * turn), (right, complex(piece.right.p, 1) * width * turn))
    off = ({"level": abs(face.imag), "plumb": abs(face.real)}.get(end, 0.0) for end, face in faces)
    return max(off)


def _assembly(
    mark: str,
    piece: Piece,
    angle: float,
    misses: Callable[[Piece, float], float],
    resolution: Resolution | None,
) -> Assembly:
    miss = misses(piece, angle)
    opened = misses(rounded(piece, resolution or Resolution()), angle)
    note = Remark("note.brace-lies", angles(angle=angle))
    return Assembly(
        mark,
        "brace",
        (Member(f"{mark}-1", 1, piece),),
        (f"{mark}-1",),
        Closure(miss, 0.0, opened),
        (),
        _at(angle),
        (note,),
    )


def _at(angle: float) -> tuple[Move]:
    return (Move(exp(1j * radians(angle))),)


def _pointed(section: Section, reach: float, slope: float, mark: str, resolution: Resolution | None) -> Assembly:
    """Both ends cut level and plumb, their tips in the corners; the bar is parted with the flatter cut of the two."""
    left, right = (
        tuple(sorted((cut("level", slope), cut("plumb", slope)), key=lambda one: abs(one.miter)))
        for cut in (_lower_cut, _upper_cut)
    )
    try:
        piece = Piece(section, reach, left, right, at="centerline")
    except BadInput:
        raise BadInput("brace", _wide(section), phrase("refuse.brace-points")) from None
    far = reach * exp(1j * radians(slope))
    return _assembly(mark, piece, slope, lambda made, at: _stands_off(made, at, far), resolution)


def _stands_off(piece: Piece, angle: float, far: complex) -> float:
    """How far the upper tip of a pointed brace, the lower one in its corner, misses `far`, and its faces their sides.

    The lower face of an end is that of the fixed side: level at the lower end and plumb at the upper one.
    """
    turn = exp(1j * radians(angle))
    outlines = (plan_end(piece, "left"), plan_end(piece, "right"))
    (low, tip, high), (low_far, tip_far, high_far) = (tuple(turn * point for point in end) for end in outlines)
    faces = ((low - tip).imag, (high - tip).real, (low_far - tip_far).real, (high_far - tip_far).imag)
    return max(abs(tip_far - tip - far), *map(abs, faces))


def _two(ends: Sequence[str], allowed: Sequence[str]) -> tuple[str, str]:
    given = tuple(ends)
    if len(given) != 2 or any(end not in allowed for end in given):
        words = ", ".join((*allowed, *((phrase("list.both", name=POINT),) if "square" not in allowed else ())))
        raise BadInput("ends", all_of(given), phrase("refuse.brace-ends", ends=words))
    return given[0], given[1]
