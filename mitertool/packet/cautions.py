"""The usual cautions of metal sawing, in plain words, as every sheet carries them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.job import Solution
    from mitertool.saw import Reach

_USUAL = ("guards", "falls", "prove", "hands", "heavy", "first-piece", "manual")


def cautions() -> tuple[str, ...]:
    """The usual ones, the last that of manual and codes."""
    return tuple(phrase(f"caution.{one}") for one in _USUAL)


def feed_caution() -> str:
    """That of a bar feed: common practice, no source."""
    return phrase("caution.feed")


def short() -> str:
    """The least that must be said."""
    return phrase("caution.short")


def invented() -> str:
    """That a saw is made up."""
    return phrase("caution.invented")


def for_cuts(reaches: Iterable[Reach | None]) -> str:
    """What must be said beside the settings of some cuts; "" where no saw is known."""
    known = [reach for reach in reaches if reach]
    if not known:
        return ""
    made_up = any(reach.setting.saw.invented for reach in known)
    rolled = [phrase("caution.rolling")] if any(reach.roll for reach in known) else []
    return " ".join((short(), *rolled, *([invented()] if made_up else [])))


def for_job(solution: Solution) -> str:
    """What must be said beside the settings of a job; "" where no saw is known."""
    return for_cuts(reach for piece in solution.pieces for reach in piece.reaches)
