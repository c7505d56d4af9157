"""The one table of sentences for what cannot be made, and how their numbers are shown; knows problems and show."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, cast

import attrs

from mitertool.quantity.problem import Number, Problem, Remark
from mitertool.quantity.sentence import Sentence
from mitertool.quantity.show import Way, rounded_angle_limit
from mitertool.quantity.units import Units

SENTENCES: Final[Mapping[str, str]] = {
    "swing": "needs a swing of {need:up} to the {side} side, where the arm goes to {have}",
    "tilt": "needs a tilt of {need:away}, where the blade goes to {have}",
    "opening": "the guides must stand {need:up} apart, where they open to {have:down}",
    "fixed-guide": "the fixed guide stands at {have:up} along the blade from the swing axis, "
    "where it needs {need:down} or further out",
    "width": "the bar is {need:up} wide as it lies, where the vise takes {have:down}",
    "width/hinge": "the bar comes within {have:down} of the hinge along the blade and must stay {need:up} off",
    "height": "the bar is {need:up} high as it lies, where the saw takes {have:down}",
    "lift": "the arm must lift {need:up} above rest to clear the bar, where it goes to {have:down}",
    "lift/through": "the blade is through only {need:below} below rest: it does not part the bar",
    "obstacle": "the blade needs {obstacle} {need:up} back from the square cut line on the {side} side, "
    "where it stands at {have:down}",
    "grip": "{have:down} of bar are left behind the cut, where kerf, slant and grip take {need:up}",
    "unsafe-rolled": "{section} does not lie safely rolled half a turn: pack it or cut it elsewhere",
    "fine-rolled": "with the bar rolled half a turn that is no hindrance",
    "lays": "lays that work: {lays}",
    "no-lay": "no lay in which it lies safely makes this cut",
    "too-short": "{have:down} long, too short to hold: the feed takes {need:up} or more",
    "no-stock": "no stock of {section}{grade:next} is given",
    "too-long": "needs a bar of {need}, the longest of {section} is {have}",
    "stock-short": "{missing} more do not fit the bars of {section} in stock",
}
"""Every sentence by its code, with /case behind that where the code has a further one.

In braces stand names of numbers, and how they are shown: up and down, limits rounded that way; away, one rounded away
from 0; below, one less than 0 as how far below; next, a name after a space, or nothing where there is none.
"""

PLACES: Final[Mapping[str, str]] = {
    "mark": "",
    "end": "{end} end",
    "cut": "{end} end, cut {cut}",
    "bar": "on bar {bar}",
}
"""Where a problem of a mark lies, by how closely it is told."""

CODES: Final = tuple(dict.fromkeys(code.partition("/")[0] for code in SENTENCES))
"""Every code, once."""

_MORE: Final = "; "


def reason_says(told: Remark | Problem, units: Units) -> str:
    """The sentence of a reason, its lengths in `units`, without its place; what more is told stands behind it."""
    text = SENTENCES[f"{told.code}/{told.case}" if told.case else told.code]
    sentence = text.format(**{number.name: _Shown(number, units) for number in told.numbers})
    return _MORE.join((sentence, *(reason_says(more, units) for more in told.more)))


def problem_says(problem: Problem, units: Units) -> str:
    """The sentence of a problem, with the mark that it is told of and where at its front."""
    where = ", ".join(filter(None, (problem.mark, _place(problem))))
    return f"{where}: {reason_says(problem, units)}"


def problem_why(problem: Problem, units: Units) -> str:
    """The same without the mark."""
    return ": ".join(filter(None, (_place(problem), reason_says(problem, units))))


def _place(problem: Problem) -> str:
    closely = "cut" if problem.cut > 1 else "end" if problem.end else "bar" if problem.bar else "mark"
    return PLACES[closely].format(end=problem.end, cut=problem.cut, bar=problem.bar)


@attrs.frozen
class _Shown:
    """A number on its way into a sentence, as its place there asks for it."""

    number: Number
    units: Units

    def __format__(self, asked: str) -> str:
        kind, value = self.number.kind, self.number.value
        if kind == "names":
            return ", ".join(cast(tuple[str, ...], value))
        if isinstance(value, str):
            return f" {value}" if asked == "next" and value else value
        if kind == "count":
            return str(value)
        shown, way = _limit(cast(float, value), asked)
        if kind == "angle":
            return f"{rounded_angle_limit(shown, cast(Way, way)):.2f} degrees" if way else f"{shown:g}"
        return Sentence(f"{{:{way}}}", (shown,)).in_units(self.units)


def _limit(value: float, asked: str) -> tuple[float, str]:
    """A number and how it is rounded: up, down or, where nothing is asked, not as a limit."""
    if asked == "below":
        return -value, "up"
    if asked == "away":
        return value, "up" if value > 0 else "down"
    return value, asked
