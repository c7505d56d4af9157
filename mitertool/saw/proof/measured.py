"""What was measured on a piece, how sure each reading is, and how that carries into what is worked out from it."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot
from typing import Final, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.piece import Piece
from mitertool.saw.setting.reach import ENDS
from mitertool.words import phrase

TAPE: Final = 0.5
"""mm. How sure a tape is read where nobody says: half of its smallest division (common practice, no source)."""

PROTRACTOR: Final = 0.25
"""degrees. How sure a protractor is read where nobody says: a quarter division (common practice, no source)."""

_WIDTH_LEAST: Final = 0.5
_WIDTH_SHARE: Final = 0.01
"""mm, and per width. How far a bar may be off the width it is drawn with: EN 10219-2 allows sides of a cold-formed
tube 1 %, and never less than 0.5 mm (from memory of its table of tolerances)."""

LARGEST: Final = 15.0
"""degrees. A cut further out is no setting error: something else was cut or measured."""

_STEP: Final = 1e-4
"""mm or degrees. A step for slopes: of lengths up to 1e5 mm it leaves eight figures in double precision."""


@attrs.frozen
class Measured:
    """What was measured on a piece, mm and degrees; None where it was not.

    `long` and `short` are the longest and shortest line of material, `width` the bar across the bed. `left` and
    `right` are the ends' angles from a square cut by protractor, signed as the drawing's miters. `out_of_square` is how
    far the top of the end stands out beyond its bottom along the bar, `over` (the bar's height where None) between.
    """

    long: float
    short: float
    width: float | None = None
    left: float | None = None
    right: float | None = None
    out_of_square: float | None = None
    over: float | None = None

    @property
    def by_protractor(self) -> tuple[str, ...]:
        """The ends whose angle was measured."""
        return tuple(end for end in ENDS if getattr(self, end) is not None)


@attrs.frozen
class Readings:
    """How sure a reading is, plus or minus: tape in mm, protractor in degrees; None: nobody said, a usual one."""

    tape: float | None = None
    protractor: float | None = None

    @property
    def by_tape(self) -> float:
        """Plus or minus of a tape reading, mm."""
        return TAPE if self.tape is None else self.tape

    @property
    def by_protractor(self) -> float:
        """Plus or minus of a protractor reading, degrees."""
        return PROTRACTOR if self.protractor is None else self.protractor


@attrs.frozen
class Finding:
    """An error, measured less nominal, and its uncertainty either way, mm or degrees; `on` says of what."""

    on: str
    error: float
    uncertainty: float

    @property
    def sure(self) -> bool:
        """Whether the error is larger than the readings can make it."""
        return abs(self.error) > self.uncertainty

    def times(self, sign: float) -> Self:
        """The same error counted the other way where `sign` is -1."""
        return attrs.evolve(self, error=sign * self.error)


@attrs.frozen
class Taken:
    """The readings as they go into the work: a width always, and what else was measured; and each one's plus or minus.

    `long` may fall below `short` while a reading is tried a little off.
    """

    long: float
    short: float
    width: float
    left: float | None
    right: float | None
    within: tuple[tuple[str, float], ...] = attrs.field(eq=False)

    def finding(self, on: str, of: Callable[[Taken], float]) -> Finding:
        """What is worked out from the readings, each taken as right within its own plus or minus, independent ones
        added as squares."""
        return Finding(on, of(self), hypot(*(self._slope(of, name) * sure for name, sure in self.within)))

    def _slope(self, of: Callable[[Taken], float], name: str) -> float:
        value = getattr(self, name)
        up, down = (of(attrs.evolve(self, **{name: value + step})) for step in (_STEP, -_STEP))
        return (up - down) / (2 * _STEP)


def taken(piece: Piece, measured: Measured, readings: Readings) -> Taken:
    """The readings of a piece; a width that was not measured is that of the drawing, within what a bar may be off.

    A tape on the width makes its slope no less sure than none, whatever the tape.
    """
    width = measured.width
    drawn = width_within(piece, readings)
    tape, protractor = readings.by_tape, readings.by_protractor
    sure = [("long", tape), ("short", tape), ("width", drawn if width is None else tape)]
    sure += [(end, protractor) for end in measured.by_protractor]
    wide = piece.section.width if width is None else width
    return Taken(measured.long, measured.short, wide, measured.left, measured.right, tuple(sure))


def width_within(piece: Piece, readings: Readings) -> float:
    """How far the width of the drawing may be off the bar, mm: never surer than the tape that did not measure it."""
    return max(readings.by_tape, _WIDTH_LEAST, _WIDTH_SHARE * piece.section.width)


def refuse(piece: Piece, measured: Measured) -> None:
    """Raise `BadInput` for measures that cannot be of the piece."""
    for name in ("long", "short", "width", "over"):
        value = getattr(measured, name)
        if value is not None and not (0 < value < float("inf") or (name == "short" and value == 0)):
            raise BadInput(name, value, phrase("refuse.measured-length"))
    if measured.short > measured.long:
        raise BadInput("short", f"{measured.short:g} mm", phrase("refuse.short-longer", long=measured.long))
    if piece.left.bevel or piece.right.bevel:
        raise BadInput(phrase("what.first-piece"), phrase("found.bevel"), phrase("refuse.bevel"))
    if piece.further:
        raise BadInput(phrase("what.first-piece"), phrase("found.planes"), phrase("refuse.planes"))
    for end in measured.by_protractor:
        found, nominal = getattr(measured, end), getattr(piece, end).miter
        if abs(found - nominal) > LARGEST:
            allowed = phrase("refuse.far-angle", most=LARGEST, drawn=nominal)
            raise BadInput(phrase("what.end-angle", end=phrase(f"end.{end}")), found, allowed)
