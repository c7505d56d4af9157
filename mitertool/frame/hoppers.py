"""A hopper of flat plates: how each leans, the compound cuts of its corners; knows in_space.

It is narrow at the bottom and walked counter-clockwise seen from above. A plate lies flat with its outside up and its
wide edge on the moving side, so that both its miters and its bevels are positive.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, atan, cos, degrees, hypot, isfinite, pi, radians, sin, sqrt, tan
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import COINCIDENT, TYPED
from mitertool.cut import Cut
from mitertool.frame.facts import Fact, fact
from mitertool.frame.in_space import Meeting, Named, SpaceAssembly, Stand, assembled, toward_moving_side
from mitertool.frame.leaning import Leaning
from mitertool.frame.polygons import FEWEST_SIDES, MOST_SIDES
from mitertool.frame.sizes import refuse_no_size
from mitertool.geometry.vectors import Vector, across, angle_between, cross, minus, norm, plus, unit
from mitertool.piece import Piece
from mitertool.quantity.problem import Remark, counts, lengths
from mitertool.sections import Section
from mitertool.sections.shapes.flat import flat
from mitertool.words import phrase

MEASURED: Final = ("outside", "inside")

PLATES: Final = "plates"
CORNER_BARS: Final = "corner bars"
MEMBERS: Final = (PLATES, CORNER_BARS)
"""What a hopper is made of; the bars in its corners are those of `corner_bars`."""

HOPPER: Final = Named("HOPPER")


def hopper_cut(sides: int, slope: float) -> Cut:
    """The cut at both ends of a plate of a regular hopper, lying flat with its outside up.

    `slope` is that of a side from the horizontal, degrees, more than 0 and at most 90. tan(miter) = tan A cos S and
    sin(bevel) = sin A sin S with A = 180 / sides. Source: D. L. Snyder and W. Gottesman, Compound-Angle Joinery (2014).

    >>> round(mt.hopper_cut(4, 90).bevel, 9)
    45.0
    """
    _refuse_sides(sides)
    if not (isfinite(slope) and 0 < slope <= 90):
        raise BadInput("slope", slope, phrase("refuse.slope"))
    half, lean = pi / sides, radians(slope)
    level = 0.0 if slope == 90 else cos(lean)
    return Cut(degrees(atan(tan(half) * level)), degrees(asin(sin(half) * sin(lean))))


@attrs.frozen
class Sizes:
    """The sizes of a hopper, mm: `bottom` and `top` across flats, two values along X and along Y of a rectangular one.

    Without a `height` it follows from how wide its sides are.
    """

    bottom: float | tuple[float, float]
    top: float | tuple[float, float]
    height: float | None = None


def hopper(
    made_of: Section | Sequence[Section] | float,
    sides: int,
    sizes: Sizes,
    measured: str,
    named: Named = HOPPER,
) -> SpaceAssembly:
    """A hopper of flat bar or plate with so many sides.

    It is `made_of` one section for all sides, or one each, its first side along X, as wide as the side is high
    along its slope; or of plates of a thickness (mm) that are cut so wide. All sizes are `measured` on the
    "outside" or on the "inside" of the plates, whose edges are square. Raises `BadInput` for a top narrower than
    the bottom, sizes that are none, a section that is no flat or not so wide, and sides that leave no piece.
    """
    _refuse(sides, sizes, measured)
    sections = None if isinstance(made_of, float | int) else _flats(made_of, sides)
    bottom, top = sizes.bottom, sizes.top
    rise = _height(sections, bottom, top, sides) if sizes.height is None else sizes.height
    refuse_no_size(height=rise)
    low, high = outline(sides, bottom, 0.0), outline(sides, top, rise)
    stands, found = zip(*(side_stand(low, high, i) for i in range(sides)), strict=True)
    slants = _as_one(found)
    plates = _plates(made_of, slants) if sections is None else _as_wide(sections, slants)
    outward = [stand.up for stand in stands]
    planes = [minus(one, other) for one, other in zip(outward, [*outward[1:], outward[0]], strict=True)]
    at = "fixed-top" if measured == "outside" else "fixed-bottom"
    ends = ((stand.cut(planes[i - 1], "left"), stand.cut(planes[i], "right")) for i, stand in enumerate(stands))
    lengths = (norm(minus(b, a)) for a, b in zip(low, [*low[1:], low[0]], strict=True))
    pieces = [
        _piece(plate, length, *cuts, at, number)
        for number, (plate, length, cuts) in enumerate(zip(plates, lengths, ends, strict=True), 1)
    ]
    placed = [_middle(stand, piece, measured) for stand, piece in zip(stands, pieces, strict=True)]
    meet = Meeting(toward_moving_side, 1.0 if measured == "outside" else -1.0)
    made = assembled(named, "hopper", pieces, placed, True, meet)
    leaning = _leaning(made, stands, slants)
    facts = _facts(sides, leaning[0].slope) if len(leaning) == 1 else ()
    return attrs.evolve(made, leaning=leaning, facts=facts, notes=(*map(_note, leaning), Remark("note.plates")))


def _facts(sides: int, slope: float) -> tuple[Fact, ...]:
    """What the cuts of a hopper come from whose sides slope alike."""
    return fact("hopper-miter", n=sides, S=slope), fact("hopper-bevel", n=sides, S=slope)


def _flats(section: Section | Sequence[Section], sides: int) -> list[Section]:
    given = [section] if isinstance(section, Section) else list(section)
    if len(given) not in (1, 2, sides) or (len(given) == 2 and sides != RECTANGULAR):
        raise BadInput("section", phrase("found.sections", count=len(given)), phrase("refuse.sections", count=sides))
    for one in given:
        if one.shape.word != "flat":
            raise BadInput("section", one.name, phrase("refuse.no-flat"))
    return given * (sides // len(given))


def _height(
    sections: Sequence[Section] | None,
    bottom: float | tuple[float, float],
    top: float | tuple[float, float],
    sides: int,
) -> float:
    """The height at which the sides are as wide along their slope as their section, mm."""
    if sections is None:
        raise BadInput("height", phrase("found.none"), phrase("refuse.plates-height"))
    section = sections[0]
    outs = [(high - low) / 2 for low, high in zip(_both(bottom), _both(top), strict=True)]
    if sides == RECTANGULAR and abs(outs[0] - outs[1]) > TYPED:
        raise BadInput("height", phrase("found.none"), phrase("refuse.unequal-height"))
    out = max(outs)
    if section.width <= out:
        wider = Remark("refuse.short-plate", lengths(width=section.width, out=out))
        raise BadInput("section", section.name, wider)
    return sqrt(section.width**2 - out**2)


def _as_one(slants: Sequence[float]) -> list[float]:
    """The slants, each the first of those that differ from it by the rounding of the computation only."""
    return [next(one for one in slants if abs(one - slant) < COINCIDENT) for slant in slants]


def _plates(thickness: Any, slants: Sequence[float]) -> list[Section]:
    """Flats of one thickness, cut as wide as their sides are along their slope."""
    refuse_no_size(thickness=thickness)
    return [flat(slant, thickness) for slant in slants]


def _as_wide(sections: Sequence[Section], slants: Sequence[float]) -> Sequence[Section]:
    """The sections, each as wide as its side. Raises `BadInput` for one that is not."""
    for number, (section, slant) in enumerate(zip(sections, slants, strict=True), 1):
        _refuse_width(section, slant, number)
    return sections


def _refuse_width(section: Section, slant: float, number: int) -> None:
    if abs(section.width - slant) > TYPED:
        needs = Remark("refuse.plate-width", counts(side=number) + lengths(slant=slant))
        raise BadInput("section", section.name, needs)


def _refuse_sides(sides: int) -> None:
    if not (isinstance(sides, int) and FEWEST_SIDES <= sides <= MOST_SIDES):
        raise BadInput("sides", sides, phrase("refuse.from-to", least=FEWEST_SIDES, most=MOST_SIDES))


def _refuse(sides: int, sizes: Sizes, measured: str) -> None:
    if measured not in MEASURED:
        raise BadInput("measured", measured, among(MEASURED))
    refuse_no_frustum(sides, sizes)


def refuse_no_frustum(sides: int, sizes: Sizes) -> None:
    """Raise `BadInput` for sides and sizes that make no hopper."""
    _refuse_sides(sides)
    for name, given in (("bottom", sizes.bottom), ("top", sizes.top)):
        if isinstance(given, tuple) and sides != RECTANGULAR:
            raise BadInput(name, phrase("found.two-sizes", sides=sides), phrase("refuse.two-sizes"))
        for size in _both(given):
            refuse_no_size(**{name: size})
    for low, high in zip(_both(sizes.bottom), _both(sizes.top), strict=True):
        if high < low:
            wide = Remark("refuse.narrow-top", lengths(bottom=low))
            raise BadInput("top", Remark("found.length", lengths(length=high)), wide)


RECTANGULAR: Final = 4
"""Sides of a hopper that may be longer one way than the other."""


def _both(given: float | tuple[float, float]) -> tuple[float, float]:
    return given if isinstance(given, tuple) else (given, given)


def outline(sides: int, across: float | tuple[float, float], height: float) -> list[Vector]:
    """The corners of a level outline, counter-clockwise from above, the first side along X."""
    if sides == RECTANGULAR:
        x, y = (size / 2 for size in _both(across))
        return [(-x, -y, height), (x, -y, height), (x, y, height), (-x, y, height)]
    radius = _both(across)[0] / 2 / cos(pi / sides)
    turns = [-pi / 2 + pi / sides * (2 * i - 1) for i in range(sides)]
    return [(radius * cos(turn), radius * sin(turn), height) for turn in turns]


def side_stand(low: Sequence[Vector], high: Sequence[Vector], i: int) -> tuple[Stand, float]:
    """A side's directions, from its lower left corner, and its slant, mm."""
    j = (i + 1) % len(low)
    along = unit(minus(low[j], low[i]))
    rises = across(minus(plus(high[i], high[j]), plus(low[i], low[j])), along)
    upward = unit(rises)
    return Stand(low[i], along, upward, cross(along, upward)), norm(rises) / 2


def _piece(section: Section, length: float, left: Cut, right: Cut, at: str, number: int) -> Piece:
    try:
        return Piece(section, length, left, right, at=at)
    except BadInput as error:
        raise error.at(phrase("where.side", side=number)) from None


def _middle(stand: Stand, piece: Piece, measured: str) -> Stand:
    """The stand from the middle of the plate's left end; it was given from the lower corner of the measured face."""
    y, z = -piece.section.width / 2, piece.section.height / 2 * (1 if measured == "outside" else -1)
    x = -piece.left.p * y - piece.left.q * z
    return attrs.evolve(stand, at=stand.place(-x, -y, -z))


def _leaning(made: SpaceAssembly, stands: Sequence[Stand], slants: Sequence[float]) -> tuple[Leaning, ...]:
    """How each mark leans, told of the first side that has it."""
    piece = {member.mark: member.piece for member in made.pieces}
    told: dict[str, Leaning] = {}
    for mark, stand, slant, after in zip(made.order, stands, slants, [*stands[1:], stands[0]], strict=True):
        slope = degrees(atan(stand.across[2] / hypot(*stand.across[:2]))) if stand.across[2] < 1 else 90.0
        dihedral = 180 - degrees(angle_between(stand.up, after.up))
        told.setdefault(mark, Leaning(mark, piece[mark], slope, slant, dihedral, "outside"))
    return tuple(told.values())


def _note(one: Leaning) -> Remark:
    """How a side leans, what is marked out on plate, and how its cuts are set in other ways than lying flat."""
    edges = one.piece.edges
    outside = lengths(slant=one.slant, bottom=edges.fixed_top, top=edges.moving_top)
    inside = lengths(inner_bottom=edges.fixed_bottom, inner_top=edges.moving_bottom)
    return Remark("note.plate", (*one.numbers, *outside, *inside))
