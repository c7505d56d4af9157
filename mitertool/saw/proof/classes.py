"""General tolerances by standard and class; knows numbers only.

ISO 2768-1:1989, tables 1 and 3, and ISO 13920 (second edition 2023), tables 1 and 2. The values were read in copies of
the tables, not in the standards themselves; `certainty` says in which, where they differ, and what is from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import inf
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import meant, nearest
from mitertool.quantity.compare import longer
from mitertool.words import phrase

Row = tuple[float | None, ...]

_PART: Final = "part"
_FRAME: Final = "frame"
"""What a class speaks of."""

_READ: Final = "read"
_DIFFER: Final = "differ"
_ONE: Final = "one-copy"
_MEMORY: Final = "memory"
"""How its figures are known."""


@attrs.frozen
class ToleranceClass:
    """A class of a standard: `lengths` (mm either way) and `angles` (minutes either way) up to each upper end, mm.

    Angles go by the shorter leg. None: the class has no value there.
    """

    standard: str
    letter: str
    lengths: tuple[tuple[float, float | None], ...]
    angles: tuple[tuple[float, float], ...]
    least: float
    speaks_of: str
    known: str

    @property
    def name(self) -> str:
        """The standard and the class."""
        return phrase("tolerance.name", standard=self.standard, letter=self.letter)

    @property
    def of(self) -> str:
        """What it speaks of, in words."""
        return phrase(f"tolerance.{self.speaks_of}")

    @property
    def certainty(self) -> str:
        """How its figures are known, in words."""
        return phrase(f"tolerance.{self.known}")

    @property
    def of_frames(self) -> bool:
        """Whether it speaks of the welded frame, not of the single part."""
        return self.speaks_of == _FRAME

    def length(self, nominal: float) -> float | None:
        """What a length of `nominal` mm may be out either way, mm; None where the class says nothing."""
        if longer(self.least, nominal):
            return None
        return next((value for upto, value in self.lengths if not longer(nominal, upto)), None)

    def angle(self, shorter_leg: float) -> float:
        """What an angle may be out either way, degrees, by its shorter leg in mm."""
        return next(minutes for upto, minutes in self.angles if not longer(shorter_leg, upto)) / 60


def _class(
    standard: str,
    letter: str,
    sizes: tuple[tuple[float, ...], tuple[float, ...]],
    row: tuple[Row, tuple[float, ...], float, str],
    of: str,
) -> ToleranceClass:
    lengths, angles, least, certainty = row
    by_length = tuple(zip(sizes[0], lengths, strict=True))
    return ToleranceClass(standard, letter, by_length, tuple(zip(sizes[1], angles, strict=True)), least, of, certainty)


_SIZES_2768: Final = ((3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0), (10.0, 50.0, 120.0, 400.0, inf))
_SIZES_13920: Final = (
    (30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0, 8000.0, 12000.0, 16000.0, 20000.0, inf),
    (400.0, 1000.0, inf),
)

_2768: Final[Mapping[str, tuple[Row, tuple[float, ...], float, str]]] = {
    "f": ((0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, None), (60, 30, 20, 10, 5), 0.5, _READ),
    "m": ((0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0), (60, 30, 20, 10, 5), 0.5, _READ),
    "c": ((0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0), (90, 60, 30, 15, 10), 0.5, _DIFFER),
    "v": ((None, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0), (180, 120, 60, 30, 20), 0.5, _READ),
}
_13920: Final[Mapping[str, tuple[Row, tuple[float, ...], float, str]]] = {
    "A": ((1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 9), (20, 15, 10), 2.0, _ONE),
    "B": ((1, 2, 2, 3, 4, 6, 8, 10, 12, 14, 16), (45, 30, 20), 2.0, _MEMORY),
    "C": ((1, 3, 4, 6, 8, 11, 14, 18, 21, 24, 27), (60, 45, 30), 2.0, _MEMORY),
    "D": ((1, 4, 7, 9, 12, 16, 21, 27, 32, 36, 40), (90, 75, 60), 2.0, _MEMORY),
}

CLASSES: Final[Mapping[str, ToleranceClass]] = {
    **{f"ISO 2768-{key}": _class("ISO 2768-1", key, _SIZES_2768, row, _PART) for key, row in _2768.items()},
    **{f"ISO 13920-{key}": _class("ISO 13920", key, _SIZES_13920, row, _FRAME) for key, row in _13920.items()},
}
"""By the name that a job gives."""


def tolerance_class(name: str) -> ToleranceClass:
    """The class of a name such as "ISO 13920-B" or "ISO 2768-m". Raises `BadInput` with the names there are."""
    key = " ".join(name.split()).replace("ISO 2768-1-", "ISO 2768-")
    if key in CLASSES:
        return CLASSES[key]
    like = nearest(key, CLASSES, 2)
    raise BadInput("tolerance", name, meant(like) or phrase("refuse.one-of", allowed=", ".join(CLASSES)))
