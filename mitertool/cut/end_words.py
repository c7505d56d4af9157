"""An end as a person gives it: one cut, or a list of cuts and where each further one meets the first; knows cut."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.cut.cut import Cut
from mitertool.cut.ends import End, Further, Meets
from mitertool.cut.words import cut_from
from mitertool.quantity import Units, length
from mitertool.words import phrase

MEETS: Final = "meets"
_WORD: Final = f" {MEETS} "


def end_from(value: object, what: str, units: Units) -> End:
    """The end given by one cut, or by a list of them: the first parts the bar, the further ones are cut afterwards.

    Each is given as `cut_from` takes it. A further one may say where it meets the first: a table by
    `meets = 20` (from the fixed side at half the height) or `meets = [20, 35]` (from the fixed side, above the bed), a
    text as "-45 meets 20". Raises `BadInput` naming `what`.
    """
    if not isinstance(value, list):
        return cut_from(value, what)
    if not value:
        raise BadInput(what, phrase("found.empty-list"), phrase("refuse.end"))
    first, *further = value
    return (
        cut_from(first, phrase("what.cut", what=what, cut=1)),
        *(_further(one, phrase("what.cut", what=what, cut=number), units) for number, one in enumerate(further, 2)),
    )


def beveled(cut: Cut | Further, bevel: float) -> Cut | Further:
    """The same cut with a bevel, degrees."""
    if isinstance(cut, Cut):
        return Cut(cut.miter, bevel)
    return Further(Cut(cut.cut.miter, bevel), cut.meets)


def _further(value: object, what: str, units: Units) -> Cut | Further:
    if isinstance(value, Mapping) and MEETS in value:
        cut = cut_from({key: one for key, one in value.items() if key != MEETS}, what)
        return Further(cut, _meets(value[MEETS], f"{what}, {MEETS}", units))
    if isinstance(value, str) and _WORD in value:
        words, place = value.split(_WORD, 1)
        return Further(cut_from(words, what), length(place, units, f"{what}, {MEETS}"))
    return cut_from(value, what)


def _meets(value: object, what: str, units: Units) -> Meets:
    if not isinstance(value, list):
        return length(value, units, what)
    if len(value) != 2:
        raise BadInput(what, value, phrase("refuse.meets"))
    across, up = (length(one, units, what) for one in value)
    return across, up
