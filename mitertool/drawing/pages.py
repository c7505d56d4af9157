"""A page: a size and what is drawn on it; knows paper only."""

from __future__ import annotations

import math
from typing import Final

from attrs import frozen

from mitertool.base.errors import BadInput
from mitertool.drawing.drawing import Drawing
from mitertool.words import phrase

A4: Final = (210.0, 297.0)
"""mm, ISO 216."""

LETTER: Final = (215.9, 279.4)
"""mm: 8 1/2 by 11 inches, ANSI/ASME Y14.1 size A."""


@frozen
class Page:
    """A sheet `width` by `height` mm with `drawing` on it, origin at the lower left corner."""

    width: float
    height: float
    drawing: Drawing

    def __attrs_post_init__(self) -> None:
        for what, size in (("width", self.width), ("height", self.height)):
            if not 0.0 < size < math.inf:
                raise BadInput(phrase(f"drawing.page-{what}"), size, phrase("drawing.is/positive"))
