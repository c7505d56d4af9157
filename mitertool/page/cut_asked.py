"""A cut as the address of its screen asks for it, and what it is read as; knows cut and the folder's files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cut import Cut, cut_from
from mitertool.page.folder import Folder
from mitertool.page.own_sections import section_of
from mitertool.page.saws import saw_of
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import Units, angle, length_from_zero, units
from mitertool.quantity.numerals import count
from mitertool.saw import Saw
from mitertool.sections import Section, laid_by
from mitertool.words import phrase

STEPS: Final = 1000
"""Of the arm on its way from lifted clear to through."""

TOUCH: Final = 200
"""Of these, that at which it first touches: the same for every cut, so that its mark stands still."""

WAYS: Final[Mapping[str, str]] = {"square": "miter", "slope": "slope", "corner": "corner", "bar": "from_bar"}
"""How an angle is given, by the key of a cut in a file."""

_ONE_SIDED: Final = ("corner", "bar")
"""Ways that tell no side: there a minus puts the long point at the fixed jaw."""


@attrs.frozen
class CutAsked:
    """A cut, each part of it as it was typed; `arm` counts the `STEPS` from lifted clear to through."""

    section: str = "RHS 80x40x3"
    lay: str = "0"
    way: str = "square"
    angle: str = "45"
    bevel: str = "0"
    end: str = "right"
    length: str = "500 mm"
    units: str = "mm"
    saw: str = ""
    arm: str = "0"
    grade: str = ""


@attrs.frozen
class CutRead:
    """The same, read: the section as it is `named` and as it lies; `steps` that the arm is down."""

    named: Section
    section: Section
    cut: Cut
    end: str
    length: float
    units: Units
    saw: Saw | None
    steps: int


def read(asked: CutAsked, folder: Folder) -> CutRead:
    """A cut as it is asked for. Raises `BadInput` as the command line does."""
    said = units(asked.units, phrase("page.cut.units"))
    if asked.end not in OTHER_END:
        raise BadInput(phrase("page.cut.end"), asked.end, among(OTHER_END))
    named = section_of(folder, asked.section)
    return CutRead(
        named,
        laid_by(named, asked.lay),
        Cut(_miter(asked), angle(asked.bevel, phrase("page.cut.bevel"))),
        asked.end,
        length_from_zero(asked.length, said, phrase("page.cut.length")),
        said,
        saw_of(folder, asked.saw),
        count(asked.arm, phrase("page.cut.arm"), 0, STEPS),
    )


def _miter(asked: CutAsked) -> float:
    if asked.way not in WAYS:
        raise BadInput(phrase("page.cut.way"), asked.way, among(WAYS))
    text, side = asked.angle.strip(), 1
    if asked.way in _ONE_SIDED and text[:1] in ("-", "−"):
        text, side = text[1:], -1
    return side * cut_from({WAYS[asked.way]: text}, phrase("page.cut.angle")).miter
