"""How far a bar is rolled until it lies as another lay of its section; knows sections."""

from __future__ import annotations

from typing import Final

from mitertool.sections import Section

_ROLLS: Final = (0.0, 180.0, 90.0, -90.0)
"""Degrees. Lays whose boxes are one box on its other sides; of others no bar is a bar of both."""


def roll_to(stands: Section, lies: Section) -> float | None:
    """The roll (degrees, top to the moving jaw where positive) after which a bar that lies as `stands` lies as `lies`.

    None where no roll by quarter turns does: then it is turned end for end, or rolled to where its box is another.
    """
    return next((roll for roll in _ROLLS if (stands.lay(-roll) if roll else stands).looks_like(lies)), None)
