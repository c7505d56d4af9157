"""An end of a piece that is cut more than once: its first cut and the further ones, and where they meet; knows cut.

At an end the steel is what lies inside all planes, so an end stands out as a roof does: at every place as far as the
plane that reaches the least. Heights count from the first plane's x at (0, 0), out of the piece at either end.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, isfinite

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut.cut import Cut
from mitertool.geometry import Point
from mitertool.geometry.roof import Roof, Slant
from mitertool.sections import Section
from mitertool.words import counted, phrase

Meets = float | Point | None


def _place(_: object, attribute: attrs.Attribute[Meets], value: Meets) -> None:
    parts = value if isinstance(value, tuple) else (value,)
    numbers = [part for part in parts if isinstance(part, int | float) and not isinstance(part, bool)]
    if value is not None and not (len(numbers) == len(parts) <= 2 and all(map(isfinite, numbers))):
        raise BadInput(attribute.name, value, phrase("refuse.meets-mm"))


@attrs.frozen
class Further:
    """A further cut of an end, and where its plane meets that of the first cut.

    `meets` is how far from the fixed side both planes cross, at half the height, mm; or the place (from the fixed
    side, above the bed); None is the middle of the section's bounding box, so that the tip is on the centerline.

    >>> mt.Piece(mt.flat(80, 12), 1200, right=(mt.Cut(45), mt.Further(mt.Cut(-45), meets=40))).long_point
    1200.0
    """

    cut: Cut
    meets: Meets = attrs.field(default=None, validator=_place)

    def place(self, section: Section, first: Cut) -> Point:
        """Where both planes cross, (y, z), mm. Raises `BadInput` where one distance does not tell it."""
        if isinstance(self.meets, tuple):
            return self.meets
        if self.meets is not None and abs(self.cut.p - first.p) <= SAME_SLOPE:
            raise BadInput("meets", f"{self.meets:g} mm", phrase("refuse.cross-level"))
        return (section.width / 2 if self.meets is None else self.meets, section.height / 2)

    def slant(self, section: Section, first: Cut) -> Slant:
        """Its plane as it stands out beyond the first one's at (0, 0)."""
        y, z = self.place(section, first)
        return Slant(self.cut.p, self.cut.q, (first.p - self.cut.p) * y + (first.q - self.cut.q) * z)


End = Cut | Sequence[Cut | Further]
"""One cut, or the cut that parts the bar and the further ones."""


def end_of(given: End, section: Section, what: str) -> tuple[Cut, tuple[Further, ...]]:
    """The first cut and the further ones, their places as (y, z); `what` names the end.

    Raises `BadInput` for no cut, and where a cut leaves no face on the steel.
    """
    if isinstance(given, Cut):
        return given, ()
    cuts = tuple(given) if isinstance(given, Sequence) and not isinstance(given, str) else ()
    if not cuts or not isinstance(cuts[0], Cut) or not all(isinstance(one, Cut | Further) for one in cuts):
        raise BadInput(what, given, phrase("refuse.cuts"))
    first = cuts[0]
    try:
        some = [Further(one) if isinstance(one, Cut) else one for one in cuts[1:]]
        further = tuple(Further(one.cut, one.place(section, first)) for one in some)
    except BadInput as error:
        raise error.at(what) from None
    _refuse_idle(section, first, further, what)
    return first, further


def turned_end(given: End, section: Section, angle: float | None, arc: float | None = None) -> End:
    """An end turned about the bar's axis, clockwise seen from the left end: by degrees, or by an arc of its skin, mm.

    Raises `BadInput` for an end with several cuts, and for an arc where the section is not round.
    """
    if not isinstance(given, Cut):
        raise BadInput("turned", counted("found.cuts", len(given)), phrase("refuse.turned-cuts"))
    if arc is not None and not section.shape.round:
        raise BadInput("turned_arc", section.name, phrase("refuse.turned-arc"))
    return given.turned(degrees(2 * arc / section.width) if arc is not None else angle or 0.0)


def end_roof(section: Section, first: Cut, further: Sequence[Further]) -> Roof:
    """How far an end stands out over the material."""
    slants = (Slant(first.p, first.q),)
    return Roof(section.region, (*slants, *(one.slant(section, first) for one in further)) if further else slants)


def _refuse_idle(section: Section, first: Cut, further: Sequence[Further], what: str) -> None:
    roof = end_roof(section, first, further)
    working = {facet.slant for facet in roof.facets}
    for number, (slant, cut) in enumerate(zip(roof.slants, (first, *(one.cut for one in further)), strict=True), 1):
        if slant not in working or roof.slants.index(slant) < number - 1:
            raise BadInput(
                phrase("what.cut", what=what, cut=number),
                phrase("found.cut/bevel" if cut.bevel else "found.cut", miter=cut.miter, bevel=cut.bevel),
                phrase("refuse.idle-cut"),
            )
