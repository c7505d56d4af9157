"""How open sections lie in a frame, by the words of the trade; the frame's outside is the moving side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.sections import Section

_ANGLE: Final[Mapping[tuple[str, str], tuple[int, bool]]] = {
    ("in", "up"): (0, False),
    ("out", "up"): (0, True),
    ("out", "down"): (180, False),
    ("in", "down"): (180, True),
}
"""(heel, leg) to the rotation and whether the bar is turned end for end; the width leg lies flat throughout."""

_CHANNEL: Final[Mapping[str, tuple[int, bool]]] = {
    "out": (0, False),
    "in": (0, True),
    "up": (90, False),
    "down": (270, False),
}


def laid(section: Section, heel: str | None = None, leg: str | None = None, toes: str | None = None) -> Section:
    """`section` as it lies in a frame. Angle needs `heel` (in, out) and `leg` (up, down), channel needs `toes`.

    Raises `BadInput` where a word is missing, wrong, or given to a section that has no such part.
    """
    if section.shape == "angle":
        _refuse(section, toes=toes)
        return section.lay(*_ANGLE[_word(section, "heel", heel, "out", "in"), _word(section, "leg", leg, "up", "down")])
    _refuse(section, heel=heel, leg=leg)
    if section.shape == "channel":
        return section.lay(*_CHANNEL[_word(section, "toes", toes, *_CHANNEL)])
    _refuse(section, toes=toes)
    return section


def _word(section: Section, key: str, given: str | None, *allowed: str) -> str:
    if given in allowed:
        return str(given)
    found = "nothing" if given is None else given
    raise BadInput(key, found, f"a frame of {section.name} must say how it lies: {key} = {' or '.join(allowed)}")


def _refuse(section: Section, **words: str | None) -> None:
    for key, given in words.items():
        if given is not None:
            raise BadInput(key, given, f"{section.name} has no {key}; leave the word out")
