"""How wide a text is, and how to make it fit; knows characters and mm only.

The height of a text is the height of its capitals in mm, as in ISO 3098; the font size is that height divided
by the height of a capital in Helvetica.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import Final

from mitertool.base.faces import face_of
from mitertool.base.totals import summed
from mitertool.drawing.helvetica import BOLD, CAP_HEIGHT, DEPTH, REGULAR

ELLIPSIS: Final = "…"

_UNKNOWN: Final = 1000
"""A character that no face has counts a whole font size: no common script is wider."""

_KNOWN: Final = frozenset(REGULAR)

_TEXTS: Final = 8192
"""Texts whose width is kept: each is asked for to fit it, to measure what it stands in, and to set it."""

_NOT_PRINTABLE: Final = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]")
"""Control characters, line separators, and code points that no encoded file may hold."""


_BETWEEN_WORDS: Final = re.compile(r"(?<!\d) | (?!\d+/\d)")


def clean(says: str) -> str:
    """The text with composed accents, and with a space for every character that cannot be printed."""
    if says.isascii() and says.isprintable():
        return says
    return _NOT_PRINTABLE.sub(" ", unicodedata.normalize("NFC", says))


def in_helvetica(says: str) -> bool:
    """Whether the width tables, and so the core PDF fonts, hold every character of the text."""
    return _KNOWN.issuperset(says)


def font_size(height: float) -> float:
    """The font size, mm, of lettering whose capitals are `height` mm high."""
    return height / CAP_HEIGHT


def depth(height: float) -> float:
    """How far a descender reaches below the baseline, mm, for capitals `height` mm high."""
    return font_size(height) * DEPTH


def text_width(says: str, height: float, bold: bool = False) -> float:
    """The advance width of a text, mm, for capitals `height` mm high."""
    return _ems(says, bold) * font_size(height)


def fit(says: str, width: float, height: float, bold: bool = False, least: float = 2.5) -> float:
    """The largest height, mm, up to `height`, at which the text is no wider than `width`; not below `least`.

    A text that is too wide at `least` comes back at `least`: `shorten` it.
    """
    natural = text_width(says, height, bold)
    if natural <= max(width, 0.0):
        return height
    return min(height, max(least, height * width / natural))


def shorten(says: str, width: float, height: float, bold: bool = False) -> str:
    """The text, cut and ended with an ellipsis where it is wider than `width` mm; empty if nothing fits."""
    if text_width(says, height, bold) <= width:
        return says
    starts = (says[:count].rstrip() + ELLIPSIS for count in range(len(says) - 1, -1, -1))
    return next((start for start in starts if text_width(start, height, bold) <= width), "")


def wrap(says: str, width: float, height: float, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no wider than `width` mm, broken at spaces; inside a word that is itself too wide.

    No end of a line parts a whole number from its fraction: 4 13/16 would be read as 4.
    """
    lines: list[str] = []
    for word in _words(says):
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(joined, height, bold) <= width:
            lines[-1] = joined
        else:
            lines.extend(_broken(word, width, height, bold))
    return tuple(lines)


def wrap_evenly(says: str, width: float, height: float, bold: bool = False) -> tuple[str, ...]:
    """The text in as few lines as `wrap` has, the widest of them as narrow as it can be without parting a word."""
    lines = wrap(says, width, height, bold)
    least = max((text_width(word, height, bold) for word in _words(says)), default=0.0)
    while (narrower := max((text_width(line, height, bold) for line in lines), default=0.0) - _NARROWER) >= least:
        closer = wrap(says, narrower, height, bold)
        if len(closer) > len(lines):
            break
        lines = closer
    return lines


_NARROWER: Final = 0.01
"""mm less than the widest line that lines are tried in."""


def _words(says: str) -> list[str]:
    """The parts of a text that are not parted where a line ends."""
    parts = _BETWEEN_WORDS.split(clean(says)) if "/" in says else clean(says).split(" ")
    return [part for part in parts if part]


def _broken(word: str, width: float, height: float, bold: bool) -> tuple[str, ...]:
    parts = [""]
    for character in word:
        if parts[-1] and text_width(parts[-1] + character, height, bold) > width:
            parts.append("")
        parts[-1] += character
    return tuple(parts)


@lru_cache(maxsize=_TEXTS)
def _ems(says: str, bold: bool) -> float:
    table = BOLD if bold else REGULAR
    if in_helvetica(says):
        return summed(map(table.__getitem__, says)) / 1000.0
    return summed(table[one] if one in table else _elsewhere(one, bold) for one in says) / 1000.0


def _elsewhere(one: str, bold: bool) -> float:
    """The width of a letter in the face that has it, in thousandths of the font size of Helvetica as high."""
    face = face_of(one, bold)
    return 1000.0 * face.advance(one) * CAP_HEIGHT / face.cap if face else _UNKNOWN
