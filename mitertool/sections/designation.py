"""Names of sections as people write them, taken apart; knows only text."""

from __future__ import annotations

import re
from typing import Final

import attrs

_STANDARD: Final = re.compile(r"\b(en|din|astm|asme|aisc|iso|bs)\s*[-a-z]?\s*\d[\d.]*m?(-\d+)?(:\d{4})?\b")
_TOKEN: Final = re.compile(r"\d+(?:\s+|-)\d+/\d+|\d+/\d+|\d*\.?\d+|[a-z]+")
_SAME_WORD: Final = {
    "inch": "in",
    "inches": "in",
    "schedule": "sch",
    "nps": "pipe",
    "square": "square",
    "sq": "square",
    "dia": "round",
}
_SEPARATORS: Final = frozenset({"x", "by"})
_UNITS: Final = frozenset({"mm", "in"})


@attrs.frozen
class Designation:
    """A name taken apart: its words, its numbers in order, the standard and the unit it names ("" where none)."""

    words: frozenset[str]
    numbers: tuple[float, ...]
    standard: str = ""
    unit: str = ""


def parse(name: str) -> Designation:
    """The parts of a name; case, spaces, the multiplication sign and the order of words do not count."""
    text = name.casefold().replace("×", "x").replace('"', " in ").replace("″", " in ")
    named = _STANDARD.search(text)
    text = _STANDARD.sub(" ", text)
    tokens = [_SAME_WORD.get(token, token) for token in _TOKEN.findall(text)]
    words = {token for token in tokens if token[0].isalpha()} - _SEPARATORS
    numbers = tuple(_number(token) for token in tokens if not token[0].isalpha())
    return Designation(
        frozenset(words - _UNITS),
        numbers,
        re.sub(r"[^a-z0-9]", "", named.group()) if named else "",
        next(iter(words & _UNITS), ""),
    )


def _number(token: str) -> float:
    whole, _, last = re.sub(r"\s+|-", " ", token).rpartition(" ")
    if "/" not in last:
        return float(last)
    top, bottom = last.split("/")
    return float(whole or 0) + (float(top) / float(bottom) if float(bottom) else float("inf"))
