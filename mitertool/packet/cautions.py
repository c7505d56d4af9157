"""The usual cautions of metal sawing, in plain words, as every sheet carries them."""

from __future__ import annotations

from typing import Final

CAUTIONS: Final = (
    "Guards in place. Motor stopped and locked out before hands go near the blade or the arm is swung.",
    "On many saws the arm falls when power, air or the emergency stop goes: keep clear of it.",
    "After every swing prove the clearance of blade, guides, vise and support with the motor off, as the "
    "machine's manual says.",
    "Hands clear of the vises. Do not reach for a trim piece. Support long pieces on both sides.",
    "Measure the first piece before the run.",
    "The machine's own manual, local codes and the shop's qualified people go before anything printed here. "
    "This sheet gives geometry only; it says nothing about strength.",
)
FEED_CAUTION: Final = "Bar feed: prove a program with the blade up before the first bar is cut by it."
"""Common practice, no source."""

SHORT: Final = "Manual, local codes and qualified people go before this sheet. Prove clearance with the motor off."
