"""The sizes that a frame is given, refused at once where they are none; knows numbers only."""

from __future__ import annotations

from math import isfinite

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_LENGTH
from mitertool.words import phrase


def refuse_no_size(**sizes: float) -> None:
    """Raise `BadInput` naming the first size that is not a number of more than 0 mm, which a nanometre is not."""
    for name, size in sizes.items():
        if not (isfinite(size) and size >= SAME_LENGTH):
            raise BadInput(name, size, phrase("refuse.size"))
