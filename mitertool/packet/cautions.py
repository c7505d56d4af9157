"""The usual cautions of metal sawing, in plain words, as every sheet carries them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from mitertool.job import Solution
    from mitertool.saw import Reach

CAUTIONS: Final = (
    "Guards in place. Motor stopped and locked out before hands go near the blade or the arm is swung.",
    "On many saws the arm falls when power, air or the emergency stop goes: keep clear of it.",
    "After every swing prove the clearance of blade, guides, vise and support with the motor off, as the "
    "machine's manual says.",
    "Hands clear of the vises. Do not reach for a trim piece. Support long pieces on both sides.",
    "A bar is heavy: lift, roll and turn it by the shop's rules for loads, and hold it before the vise lets go. "
    "Cut ends are sharp.",
    "Measure the first piece before the run.",
    "The machine's own manual, local codes and the shop's qualified people go before anything printed here. "
    "This sheet gives geometry only; it says nothing about strength.",
)
FEED_CAUTION: Final = "Bar feed: prove a program with the blade up before the first bar is cut by it."
"""Common practice, no source."""

SHORT: Final = "Manual, local codes and qualified people go before this sheet. Prove clearance with the motor off."

ROLLING: Final = "The bar is rolled: hold it by the shop's rules for loads before the vise lets go."

INVENTED: Final = "This saw is invented: no machine has these figures."


def for_cuts(reaches: Iterable[Reach | None]) -> str:
    """What must be said beside the settings of some cuts; "" where no saw is known."""
    known = [reach for reach in reaches if reach]
    if not known:
        return ""
    made_up = any(reach.setting.saw.invented for reach in known)
    rolled = any(reach.roll for reach in known)
    return " ".join((SHORT, *((ROLLING,) if rolled else ()), *((INVENTED,) if made_up else ())))


def for_job(solution: Solution) -> str:
    """What must be said beside the settings of a job; "" where no saw is known."""
    return for_cuts(reach for piece in solution.pieces for reach in piece.reaches)
