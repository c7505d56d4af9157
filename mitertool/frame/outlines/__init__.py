"""Frames by the few sizes that a drawing gives, one file each: a file put here is known wherever a frame is named.

A file is called as its frame's word, and holds `OUTLINE`: its keys, and what they make. Only files that are asked for
are loaded.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from typing import Final

from mitertool.frame.outlines.outline import Around, Drawn, Outline, one_a_side, solved

WORDS: Final = ("sloping", "trapezoid", "arch", "truss", "ladder", "cross")
"""The words of all of them, in the order in which help shows them."""


@cache
def of(word: str) -> Outline:
    """The outline of a word."""
    found: Outline = import_module(f"{__name__}.{word}").OUTLINE
    return found


__all__ = ["WORDS", "Around", "Drawn", "Outline", "of", "one_a_side", "solved"]
