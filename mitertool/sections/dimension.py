"""The dimensions that sections are made from: key, what it measures, which values it may have; knows quantity."""

from __future__ import annotations

from math import isfinite
from typing import Final, Literal

import attrs

from mitertool.base.errors import BadInput
from mitertool.quantity import Units, show_angle, show_length

LARGEST: Final = 5000.0
"""mm. No bar that goes in a vise is larger; guards against a slipped decimal point."""

Kind = Literal["length", "length from zero", "percent", "angle", "word"]


@attrs.frozen(eq=False)
class Dimension:
    """A number or a word that a section is made from: the maker's parameter `key`, as it stands in files.

    A length is more than 0 mm, one from zero may be 0, an angle is more than 0 degrees and at most `most`, a word is
    one of `words`. `wall` says that it is the thickness of a wall, `grows` that it grows with the wall of a tube.
    """

    key: str
    says: str
    kind: Kind = "length"
    needed: bool = True
    wall: bool = False
    grows: bool = False
    most: float = LARGEST
    words: tuple[str, ...] = ()

    @property
    def word(self) -> str:
        """Its name as it is printed."""
        return self.key.replace("_", " ")

    @property
    def is_length(self) -> bool:
        """Whether it is in mm."""
        return self.kind in ("length", "length from zero")

    def check(self, value: float | str) -> None:
        """Raises `BadInput` for a value that it may not have."""
        if isinstance(value, str):
            if value not in self.words:
                raise BadInput(self.key, value, f"allowed: {' or '.join(self.words)}")
        elif self.kind in ("length", "angle"):
            unit = "degrees" if self.kind == "angle" else "mm"
            if not (isfinite(value) and 0 < value <= self.most):
                raise BadInput(self.word, value, f"must be more than 0 and at most {self.most:g} {unit}")
        elif not (isfinite(value) and value >= 0):
            raise BadInput(self.word, value, "must be 0 or more")


WIDTH: Final = Dimension("width", "Across the bed, as the section lies before any lay.")
HEIGHT: Final = Dimension("height", "Above the bed, as the section lies before any lay.")
DIAMETER: Final = Dimension("diameter", "The outside diameter.")
WALL: Final = Dimension("wall", "The wall of a tube.", wall=True, grows=True)
WEB: Final = Dimension("web", "The thickness of the web.", wall=True)
FLANGE: Final = Dimension("flange", "The thickness of a flange.", wall=True)
ROOT_RADIUS: Final = Dimension(
    "root_radius", "The radius in the heel or between web and flange.", "length from zero", needed=False
)
TOE_RADIUS: Final = Dimension("toe_radius", "The radius at the toes.", "length from zero", needed=False)
TAPER: Final = Dimension("taper", "The slope of a flange's inner face, per cent.", "percent", needed=False)


_NO_LENGTHS: Final = {" %": "_percent", " deg": "_deg"}
"""How the name of a printed dimension ends that is no length, and how its key then ends in a record."""


def shown(word: str, value: float, units: Units) -> tuple[str, str]:
    """The name and the value of a section's dimension as they are printed."""
    if word.endswith(" %"):
        return word.removesuffix(" %"), f"{value:g} %"
    if word.endswith(" deg"):
        return word.removesuffix(" deg"), show_angle(value)
    return word, show_length(value, units)


def record_key(word: str) -> str:
    """The key of a section's dimension in a record, with its unit."""
    ending = next((end for end in _NO_LENGTHS if word.endswith(end)), "")
    return word.removesuffix(ending).replace(" ", "_") + _NO_LENGTHS.get(ending, "_mm")


def below(name: str, value: float, limit: float, words: str) -> None:
    """Refuse a length (mm) that is not less than a limit, which `words` say."""
    if value >= limit:
        raise BadInput(name, f"{value:g} mm", f"must be less than {words}, {limit:g} mm")


def radius(name: str, value: float, most: float) -> float:
    """A radius (mm), refused outside 0 to `most`."""
    if not (isfinite(value) and 0 <= value <= most + 1e-12):
        raise BadInput(name.replace("_", " "), f"{value:g} mm", f"must be from 0 to {most:g} mm here")
    return min(value, most)


def flange_fits(root: float, toe: float, height: float) -> None:
    """Refuse a tapered flange that runs out before its toe, or leaves no room for the other at the web (mm)."""
    if toe <= 0:
        raise BadInput("taper", f"{toe:g} mm left at the toe", "the flange must not run out before its toe")
    below("flange at the web", root, height / 2, "half the height")
