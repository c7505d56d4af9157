"""Layers and their line habits; knows pen widths, dash lengths and grey levels only."""

from __future__ import annotations

from typing import Final, Literal

from attrs import frozen

LineKind = Literal["solid", "dashed", "center"]

_PATTERNS: Final[dict[LineKind, tuple[float, ...]]] = {
    "solid": (),
    "dashed": (12, 3),
    "center": (24, 3, 6, 3),
}
"""Dash and gap lengths in pen widths, ISO 128-2 (long dash 24, dash 12, short dash 6, gap 3). The chain has a
short dash in place of the dot of half a pen width, which a shop's printer or a small screen loses."""


@frozen
class Layer:
    """What is drawn with one pen: its `weight` (mm, 0: no pen), kind of `line`, `grey` (0 black, 1 white)."""

    name: str
    weight: float
    line: LineKind = "solid"
    grey: float = 0.0

    @property
    def dashes(self) -> tuple[float, ...]:
        """Dash, gap, dash, gap ... in mm; empty for a solid line."""
        return tuple(self.weight * length for length in _PATTERNS[self.line])


# ISO 128 pairs a wide line with one half as wide; 0.5 with 0.25 is its usual pair for A4. Center lines,
# dimensions and other auxiliary lines go one step narrower, so that they stay back where a sheet is crowded.
OUTLINE: Final = Layer("outline", 0.5)
HIDDEN: Final = Layer("hidden edge", 0.25, "dashed")
CENTER: Final = Layer("center line", 0.18, "center")
DIMENSION: Final = Layer("dimension", 0.18)
TEXT: Final = Layer("lettering", 0.25)
THIN: Final = Layer("thin", 0.18)
FRAME: Final = Layer("border", 0.35)
MOVED: Final = Layer("moved", 0.7)
MARKED: Final = Layer("marked", 1.4)
WRONG: Final = Layer("wrong", 0.5)
"""What a screen shows in colours of its own: what moves, what is marked on it, and what is not as it must be."""

FILL: Final = Layer("fill", 0.0)
