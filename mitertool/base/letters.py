"""Letters as they come out on paper: which have a shape there, and which words cannot be told apart.

Paper is lettered in Helvetica, and in the `faces` where a text holds a letter that Helvetica has not.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Hashable, Iterable
from functools import cache
from typing import Final

from mitertool.base.faces import face_of
from mitertool.words import phrase

_UNSEEN: Final = frozenset(
    map(
        chr,
        [
            *(0x034F, 0x115F, 0x1160, 0x17B4, 0x17B5, 0x180B, 0x180C, 0x180D, 0x180F, 0x2065, 0x2800, 0x3164, 0xFFA0),
            *range(0xFE00, 0xFE10),
            *range(0xFFF0, 0xFFF9),
            *range(0xE0000, 0xE1000),
        ],
    )
)
"""Letters that are drawn as nothing though they are not of a kind that says so: Default_Ignorable_Code_Point of the
Unicode character database (DerivedCoreProperties), and the empty pattern of Braille."""

_NOT_LETTERS: Final = frozenset({"Cc", "Cf", "Co", "Cn", "Cs", "Zl", "Zp"})
"""General categories without a shape of their own: controls, formats, private, unassigned, separators of lines."""

_LEFTWARD: Final = frozenset({"R", "AL", "AN"})
"""Bidirectional classes that are set from right to left."""


def one_form(text: str) -> str:
    """The text with its accents composed (NFC), so that one word is one text however it was typed."""
    return text if text.isascii() else unicodedata.normalize("NFC", text)


def unprintable(text: str) -> str:
    """Why a text cannot be lettered on paper, of its first letter that cannot; "" where it can."""
    if text.isascii() and text.isprintable():
        return ""
    told = ((one, _against(one)) for one in text)
    return next((phrase(against, letter=f"U+{ord(one):04X}") for one, against in told if against), "")


def _against(one: str) -> str:
    if unicodedata.category(one) in _NOT_LETTERS or one in _UNSEEN:
        return "letter.unseen"
    if unicodedata.bidirectional(one) in _LEFTWARD:
        return "letter.leftward"
    has_shape = _in_helvetica(one) or all(face_of(one, bold) for bold in (False, True))
    return "" if has_shape else "letter.shapeless"


def _in_helvetica(one: str) -> bool:
    try:
        one.encode("cp1252")
    except UnicodeEncodeError:
        return False
    return True


def look(text: str) -> Hashable:
    """What a text looks like: equal for two that cannot be told apart, as with a Cyrillic and a Latin A.

    Compatible forms (NFKC) count as one, such as a full-width A and a plain one.
    """
    return tuple(map(_outline, unicodedata.normalize("NFKC", text)))


def first_alike(words: Iterable[str]) -> tuple[str, str] | None:
    """The first word that looks like one before it, with that one; None where all are told apart."""
    found = list(words)
    if all(map(str.isascii, found)) and len(set(found)) == len(found):
        return None
    seen: dict[Hashable, str] = {}
    for word in found:
        before = seen.setdefault(look(word), word)
        if before != word:
            return before, word
    return None


@cache
def _outline(one: str) -> Hashable:
    """The outline of a letter in the face that has it; the letter itself where none has."""
    face = face_of(one)
    return face.outline(one) if face else one
