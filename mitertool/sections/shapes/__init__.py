"""The shapes in which sections are made, one file each: a file put here is known wherever a shape may be named.

A file is called as its shape's word, and holds `SHAPE` and the maker that it names. Only the files that are asked for
are loaded.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pathlib import Path

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.sections.dimension import Dimension
from mitertool.sections.section import FrameWord, Shape


@cache
def words() -> tuple[str, ...]:
    """The words of all shapes, in the order of the alphabet."""
    files = (file for folder in __path__ for file in Path(folder).glob("[!_]*.py"))
    return tuple(sorted(file.stem.replace("_", "-") for file in files))


def of(word: str) -> Shape:
    """The shape of a word. Raises `BadInput` with the words that there are."""
    if word not in words():
        raise BadInput("shape", word, among(words()))
    found: Shape = import_module(f"{__name__}.{word.replace('-', '_')}").SHAPE
    return found


@cache
def dimensions() -> tuple[Dimension, ...]:
    """The dimensions of all shapes, those that several share once."""
    return tuple(dict.fromkeys(one for word in words() for one in of(word).dimensions))


@cache
def frame_words() -> tuple[FrameWord, ...]:
    """What a frame asks of the sections that may lie in it in several ways, of all shapes."""
    return tuple(dict.fromkeys(one for word in words() for one in of(word).frame_words))


@cache
def tape_words() -> tuple[str, ...]:
    """The words for the lines on which a tape measures a frame, of all shapes."""
    return tuple(dict.fromkeys(one for word in words() for one in of(word).tape_words))
