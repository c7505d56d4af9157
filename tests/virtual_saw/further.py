"""Pieces with more than one plane at an end: parted from the bar by the first, then cut again piece by piece."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from tests.virtual_saw.judge import SAME_ARM, Drawing
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.steel import Plane, Point, Solid, Turn, at, error, less


@dataclass(frozen=True)
class Further:
    """A cut of so many pieces of a mark after they are parted.

    The piece lies as drawn, or end for end, and is then rolled, its top toward the moving jaw. Along the edges named in
    `back` the face comes so far behind that of the end's first cut, and in `long` stands how long the piece then is
    there, both ends finished; `longs` are such lengths where it is not told of which edge, mm.
    """

    mark: str
    pieces: int
    end: str
    reading: float
    side: str
    tilt: float
    roll: float
    turned: bool
    back: Mapping[str, float]
    long: Mapping[str, float] = field(default_factory=dict)
    longs: Sequence[float] = ()


def faults(
    saw: Machine, drawing: Drawing, rows: Sequence[Further], arm: tuple[float, float] | None, near: float
) -> tuple[list[str], int]:
    """What is wrong with further cuts, and how often arm or blade were set; `arm` is how they stood before."""
    made, swings, wrong = dict(drawing.blanks), 0, []
    for row in rows:
        swing = saw.swing(row.reading, row.side)
        swings += arm is None or abs(arm[0] - swing) + abs(arm[1] - row.tilt) > SAME_ARM
        arm = (swing, row.tilt)
        wrong += _cut(saw, drawing, row, arm, made, near)
    for mark, solid in made.items():
        if (out := error(solid, drawing.pieces[mark])) > near:
            wrong.append(f"{mark} comes out {out:.6g} wrong after its further cuts")
    return wrong, swings


def _cut(
    saw: Machine, drawing: Drawing, row: Further, arm: tuple[float, float], made: dict[str, Solid], near: float
) -> Iterator[str]:
    solid, first = made[row.mark], drawing.blanks[row.mark]
    blade = _as_drawn(saw, solid, row, arm)
    begins = row.end == "left"
    places = [_place(first, edge) for edge in row.back]
    faces = [
        first.begins(place) + back if begins else first.ends(place) - back
        for place, back in zip(places, row.back.values(), strict=True)
    ]
    offs = [face - at((0.0, *blade[1:]), place) for face, place in zip(faces, places, strict=True)]
    if not offs or max(offs) - min(offs) > 2 * near:
        yield f"{row.mark}, {row.end} end: not told where to cut again, or told twice differently: {offs}"
        return
    plane = (sum(offs) / len(offs), *blade[1:])
    made[row.mark] = solid.behind(plane) if begins else solid.before(plane)
    if row.pieces != drawing.quantity[row.mark]:
        yield f"{row.mark}: {row.pieces} to cut again, {drawing.quantity[row.mark]} are drawn"
    for edge, long in row.long.items():
        if abs(drawing.pieces[row.mark].length(_place(first, edge)) - long) > near:
            yield f"{row.mark}, {row.end} end: {long:g} told at the {edge} edge, drawn otherwise"
    drawn = [drawing.pieces[row.mark].length(place) for place in places]
    for long in row.longs:
        if all(abs(one - long) > near for one in drawn):
            yield f"{row.mark}, {row.end} end: then {long:g} long told, {drawn} drawn"


def _place(solid: Solid, edge: str) -> Point:
    side, level = edge.split("_")
    section = solid.section
    return (section.width if side == "moving" else 0.0, section.height if level == "top" else 0.0)


def _as_drawn(saw: Machine, solid: Solid, row: Further, arm: tuple[float, float]) -> Plane:
    """The blade over the piece as it is drawn; turned end for end twice it lies as before."""
    over = solid.section.turn(0.0, over=True) if row.turned else Turn(0.0)
    section = solid.section.turned(over)
    blade = section.turn(row.roll).back(saw.blade(*arm)[0])
    return over.plane(blade if saw.jaw_left else less(blade))


def add_plane(planes: Sequence[Plane], slopes: tuple[float, float], meets: Point) -> tuple[Plane, ...]:
    """The planes of an end with a further one, of these slopes in x, that meets the first over a place."""
    p, q = slopes
    return (*planes, (at(planes[0], meets) - p * meets[0] - q * meets[1], p, q))
