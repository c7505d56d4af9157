"""How far the teeth of a blade stand apart, by their distance or by their number in an inch; knows quantity."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, Final

from mitertool.base.errors import BadInput
from mitertool.quantity.kinds import POSITIVE_LENGTH, Kind, Limits, length_shown, number
from mitertool.quantity.show import from_to
from mitertool.quantity.units import MM_PER_INCH, Units
from mitertool.words import phrase

_APART: Final = Limits(least=0.1, most=100)
"""mm. Teeth closer or wider than this are on no band for metal; guards against a slip of the unit."""

_VARIABLE: Final = re.compile(r"([0-9]*\.?[0-9]+) ?(?:[/–-]|to) ?([0-9]*\.?[0-9]+)", re.IGNORECASE | re.ASCII)
_UNIT: Final = re.compile(r" ?(?:tpi|teeth (?:an|per) inch)$", re.IGNORECASE)
_TEETH: Final = number(Limits(above=0))


def _pitch(value: Any, what: str, unit: Units) -> tuple[float, ...]:
    """mm from tooth to tooth."""
    return _likely((POSITIVE_LENGTH.read(value, what, unit),), value, what)


def _teeth_per_inch(value: Any, what: str, unit: Units) -> tuple[float, ...]:
    """mm from tooth to tooth by one number, or by the two of a variable pitch, which the trade writes with a stroke.

    A dash or "to" between the two says the same, and so does "TPI" behind either form what the key says already.
    """
    plain = _UNIT.sub("", " ".join(value.split())) if isinstance(value, str) else value
    sides = _VARIABLE.fullmatch(plain) if isinstance(plain, str) else None
    if not sides:
        return _likely((MM_PER_INCH / _one(plain, what, unit),), value, what)
    coarse, fine = float(sides[1]), float(sides[2])
    if not 0 < coarse < fine:
        raise BadInput(what, value, phrase("refuse.pitch-part"))
    return _likely((MM_PER_INCH / coarse, MM_PER_INCH / fine), value, what)


def _one(value: Any, what: str, unit: Units) -> float:
    try:
        teeth: float = _TEETH.read(value, what, unit)
    except BadInput as error:
        raise BadInput(what, value, phrase("refuse.pitch-form", allowed=error.allowed)) from None
    return teeth


def _likely(pitches: tuple[float, ...], value: Any, what: str) -> tuple[float, ...]:
    if not all(map(_APART.hold, pitches)):
        raise BadInput(what, value, phrase("refuse.teeth-apart", limits=_APART.says))
    return pitches


def _teeth(pitches: Sequence[float]) -> str:
    return phrase("teeth.an-inch", teeth=from_to(*(f"{MM_PER_INCH / pitch:.4g}" for pitch in pitches)))


def _apart(pitches: Sequence[float], unit: Units) -> str:
    return from_to(*(length_shown(pitch, unit) for pitch in pitches))


PITCH: Final = Kind(_pitch, POSITIVE_LENGTH.schema, lambda pitches, unit: f"{_apart(pitches, unit)}, {_teeth(pitches)}")
TEETH_PER_INCH: Final = Kind(
    _teeth_per_inch,
    _TEETH.schema,
    lambda pitches, unit: phrase("teeth.apart", teeth=_teeth(pitches), apart=_apart(pitches, unit)),
)
"""Both read as the distances of the coarse teeth and, where the pitch varies, of the fine ones, mm."""
