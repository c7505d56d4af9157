"""Where in the text of a TOML file a refusal was met: the line of its key or table; knows TOML."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.words import phrase

_HEAD: Final = re.compile(r"^\s*(?P<open>\[\[?)\s*(?P<name>[^\[\]]+?)\s*\]\]?\s*(#.*)?$")
_TOLD: Final = re.compile(r"^\[\[(?P<name>[^\]]+)\]\] (?P<label>.*)$|^\[(?P<table>[^\]]+)\]$")
_NUMBER: Final = re.compile(r"\d+")
_LABELS: Final = ("mark", "name")
"""Keys by which a refusal names a table of several; without one it names its number."""


@attrs.frozen
class TextLine:
    """A line of a text: its number from 1, and what stands there."""

    number: int
    text: str


def line_of(text: str, error: BadInput) -> TextLine | None:
    """The line that a refusal is of: its key's, or else its table's; None where it names none that stands there."""
    lines = text.splitlines()
    number = _told(error)
    if 0 < number <= len(lines):
        return _line(lines, number - 1)
    tables = [told for told in map(_TOLD.match, error.where) if told]
    if not tables:
        return _key(lines, range(_end(lines, -1)), error.what)
    start = _table(lines, tables[0])
    if start is None:
        return None
    inside = range(start + 1, _end(lines, start))
    return _key(lines, inside, error.what) or _key(lines, inside, str(error.found)) or _line(lines, start)


def _told(error: BadInput) -> int:
    """The number of the line that a refusal names behind its file; 0 where it names none."""
    numbers = (int(found[0]) for part in error.where[1:2] if (found := _NUMBER.search(part)))
    return next((number for number in numbers if error.where[1] == phrase("where.line", line=number)), 0)


def _line(lines: Sequence[str], index: int) -> TextLine:
    return TextLine(index + 1, lines[index])


def _end(lines: Sequence[str], start: int) -> int:
    """Where the table that begins in a line ends: at the next head, or with the text."""
    heads = (index for index in range(start + 1, len(lines)) if _HEAD.match(lines[index]))
    return next(heads, len(lines))


def _key(lines: Sequence[str], where: range, key: str) -> TextLine | None:
    first = re.escape(re.split("[ .]", key)[0])
    found = (index for index in where if re.match(rf"\s*[\"']?{first}[\"']?\s*(=|\.)", lines[index]))
    index = next(found, None)
    return None if index is None else _line(lines, index)


def _table(lines: Sequence[str], told: re.Match[str]) -> int | None:
    """The line of the head of a table: of several the one of the label, or of the number where none has it."""
    name = told["name"] or told["table"]
    heads = [index for index, line in enumerate(lines) if (head := _HEAD.match(line)) and head["name"] == name]
    if told["name"] is None:
        return next(iter(heads), None)
    labeled = [index for index in heads if told["label"] in _labels(lines, index)]
    number = int(told["label"]) if told["label"].isdecimal() else 0
    return next(iter(labeled), heads[number - 1] if 0 < number <= len(heads) else None)


def _labels(lines: Sequence[str], start: int) -> list[str]:
    """What the keys by which a table is called have there."""
    found = (_key(lines, range(start + 1, _end(lines, start)), key) for key in _LABELS)
    return [one.text.partition("=")[2].split("#")[0].strip().strip("\"'") for one in found if one]
