"""Text in a terminal: the columns it takes, and how it is cut, broken or filled up to fit; knows characters only."""

from __future__ import annotations

from typing import Final
from unicodedata import category, east_asian_width

_MORE: Final = "..."


def columns_of(text: str) -> int:
    """The columns that a text takes: two for a wide character, none for a mark that joins the one before it."""
    return sum(map(_columns, text))


def printable(text: str) -> str:
    """The text on one line, with a question mark for anything that would move or colour what stands around it."""
    return "".join(one if one.isprintable() else "?" for one in " ".join(text.split()))


def shortened(text: str, columns: int) -> str:
    """The text, cut and ended with three points where it takes more columns."""
    if columns_of(text) <= columns:
        return text
    room, kept = columns - len(_MORE), ""
    for one in text:
        room -= _columns(one)
        if room < 0:
            break
        kept += one
    return (kept + _MORE)[:columns]


def wrapped(text: str, columns: int) -> list[str]:
    """The text in lines of at most `columns` (2 or more), broken at spaces, inside a word that is itself too long."""
    lines = [""]
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines[-1] else word
        if columns_of(joined) <= columns:
            lines[-1] = joined
        else:
            lines += _pieces(word, columns)
    return lines if lines[0] or len(lines) == 1 else lines[1:]


def filled(text: str, columns: int) -> str:
    """The text with spaces behind it up to so many columns."""
    return text + " " * (columns - columns_of(text))


def _pieces(word: str, columns: int) -> list[str]:
    found = [""]
    for one in word:
        if columns_of(found[-1]) + _columns(one) > columns:
            found.append("")
        found[-1] += one
    return found


def _columns(one: str) -> int:
    if category(one) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if east_asian_width(one) in ("W", "F") else 1
