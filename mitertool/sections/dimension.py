"""The dimensions that sections are made from: key, what it measures, which values it may have; knows quantity."""

from __future__ import annotations

from math import isfinite
from typing import Final, Literal

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import either
from mitertool.base.tolerances import LARGEST_SECTION, SAME_LENGTH
from mitertool.quantity import Units, show_angle, show_length
from mitertool.words import own, phrase

Kind = Literal["length", "length-from-zero", "percent", "angle", "word"]


@attrs.frozen(eq=False)
class Dimension:
    """A number or a word that a section is made from: the maker's parameter `key`, as it stands in files.

    A length is more than 0 mm, which a nanometre is not, one from zero may be 0, an angle is more than 0 degrees and at
    most `most`, a word is one of `words`. `wall` says that it is the thickness of a wall, `grows` that it grows with
    the wall of a tube.
    `means` is the name of what it means in the table of words.
    """

    key: str
    means: str
    kind: Kind = "length"
    needed: bool = True
    wall: bool = False
    grows: bool = False
    most: float = LARGEST_SECTION
    words: tuple[str, ...] = ()

    @property
    def word(self) -> str:
        """Its name among the dimensions of a section."""
        return self.key.replace("_", " ")

    @property
    def says(self) -> str:
        """Its name as it is printed."""
        return named(self.word)

    @property
    def is_length(self) -> bool:
        """Whether it is in mm."""
        return self.kind in ("length", "length-from-zero")

    def check(self, value: float | str) -> None:
        """Raises `BadInput` for a value that it may not have."""
        if isinstance(value, str):
            if value not in self.words:
                raise BadInput(self.key, value, phrase("refuse.allowed", allowed=either(self.words)))
        elif self.kind in ("length", "angle"):
            if not (isfinite(value) and SAME_LENGTH <= value <= self.most):
                raise BadInput(self.says, value, phrase(f"refuse.{self.kind}-limit", most=self.most))
        elif not (isfinite(value) and value >= 0) or (self.is_length and 0 < value < SAME_LENGTH):
            raise BadInput(self.says, value, phrase("refuse.0-or-more"))


WIDTH: Final = Dimension("width", "section.width")
HEIGHT: Final = Dimension("height", "section.height")
DIAMETER: Final = Dimension("diameter", "section.diameter")
WALL: Final = Dimension("wall", "section.wall", wall=True, grows=True)
WEB: Final = Dimension("web", "section.web", wall=True)
FLANGE: Final = Dimension("flange", "section.flange", wall=True)
ROOT_RADIUS: Final = Dimension("root_radius", "section.root_radius", "length-from-zero", needed=False)
TOE_RADIUS: Final = Dimension("toe_radius", "section.toe_radius", "length-from-zero", needed=False)
TAPER: Final = Dimension("taper", "section.taper", "percent", needed=False)


_NO_LENGTHS: Final = {" %": "_percent", " deg": "_deg"}
"""How the name of a printed dimension ends that is no length, and how its key then ends in a record."""


def named(word: str) -> str:
    """The name of a section's dimension as it is printed."""
    ending = next((end for end in _NO_LENGTHS if word.endswith(end)), "")
    plain = word.removesuffix(ending)
    return own(f"dimension.{plain.replace(' ', '-')}", plain)


def shown(word: str, value: float, units: Units) -> tuple[str, str]:
    """The name and the value of a section's dimension as they are printed."""
    if word.endswith(" %"):
        return named(word), f"{value:g} %"
    return named(word), show_angle(value) if word.endswith(" deg") else show_length(value, units)


def record_key(word: str) -> str:
    """The key of a section's dimension in a record, with its unit."""
    ending = next((end for end in _NO_LENGTHS if word.endswith(end)), "")
    return word.removesuffix(ending).replace(" ", "_") + _NO_LENGTHS.get(ending, "_mm")


def below(name: str, value: float, limit: float, which: str) -> None:
    """Refuse a length (mm) that is not less than a limit; both are named by the code of their words."""
    if value >= limit:
        raise BadInput(phrase(name), f"{value:g} mm", phrase("refuse.not-below", what=phrase(which), limit=limit))


def radius(name: str, value: float, most: float) -> float:
    """A radius (mm), refused outside 0 to `most`."""
    if not (isfinite(value) and 0 <= value <= most + 1e-12):
        raise BadInput(named(name.replace("_", " ")), f"{value:g} mm", phrase("refuse.radius", most=most))
    return min(value, most)


def flange_fits(root: float, toe: float, height: float) -> None:
    """Refuse a tapered flange that runs out before its toe, or leaves no room for the other at the web (mm)."""
    if toe <= 0:
        raise BadInput(named("taper"), phrase("found.toe", left=toe), phrase("refuse.taper"))
    below("what.flange-at-web", root, height / 2, "limit.half-height")
