"""How open sections lie in a frame, by the words of the trade; the frame's outside is the moving side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.sections import Section

_ANGLE: Final = (("in", "up"), ("out", "up"), ("out", "down"), ("in", "down"))
"""Heel and standing leg for every quarter that the heel has gone round from the lower corner on the inside."""

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
        words = (_word(section, "heel", heel, "out", "in"), _word(section, "leg", leg, "up", "down"))
        return _angle(section, words)
    _refuse(section, heel=heel, leg=leg)
    if section.shape == "channel":
        _refuse_lay(section)
        return section.lay(*_CHANNEL[_word(section, "toes", toes, *_CHANNEL)])
    _refuse(section, toes=toes)
    return section


def _angle(section: Section, words: tuple[str, str]) -> Section:
    """The angle with the leg that lies flat still flat, its heel and its other leg where the words have them."""
    if section.rotation % 90:
        _refuse_lay(section)
    ways = (section.lay(rotation, turned) for rotation in (0, 180) for turned in (False, True))
    return next(laid for laid in ways if _ANGLE[int(laid.rotation // 90 + laid.turned) % 4] == words)


def _refuse_lay(section: Section) -> None:
    if section.rotation or section.turned:
        raise BadInput(
            "lay", f"{section.rotation:g}", f"the words for {section.name} say how it lies; leave the lay out"
        )


def _word(section: Section, key: str, given: str | None, *allowed: str) -> str:
    if given in allowed:
        return str(given)
    found = "nothing" if given is None else given
    raise BadInput(key, found, f"a frame of {section.name} must say how it lies: {key} = {' or '.join(allowed)}")


def _refuse(section: Section, **words: str | None) -> None:
    for key, given in words.items():
        if given is not None:
            raise BadInput(key, given, f"{section.name} has no {key}; leave the word out")
