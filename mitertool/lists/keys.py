"""The keys of a [[list]] table, and what a column of a list may hold; knows quantity and piece."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from mitertool.base.errors import BadInput
from mitertool.base.names import refuse_unknown_keys
from mitertool.lists.numbers import DECIMAL
from mitertool.piece import AT
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, keys_of, need
from mitertool.quantity.kinds import TEXT, WORDS, Kind, choice, count
from mitertool.quantity.units import Units
from mitertool.words import phrase

COLUMNS: Final[Mapping[str, str]] = {
    "mark": "The name of the piece.",
    "section": "What it is cut from.",
    "grade": "The material.",
    "length": "The length.",
    "at": "Where the length is measured.",
    "left": "The angle of the left end.",
    "right": "The angle of the right end.",
    "left_bevel": "The bevel of the left end, degrees.",
    "right_bevel": "The bevel of the right end, degrees.",
    "angles": "How the angles are given: from square, from bar or included.",
    "quantity": "How many.",
    "opposite": "How many of the opposite hand.",
    "hand": "Whether the row is as drawn or the opposite hand.",
    "units": "The unit of the length.",
    "lay": "How it lies.",
    "out": "Which face shows.",
}
"""What a column may hold, each as a key of `columns`."""

ANGLES: Final = ("from square", "from bar", "included")
"""How the angles of a list are meant: from a square cut, from the bar's axis, or as the angle inside a corner."""

LIST_UNITS: Final = ("mm", "cm", "m", "in", "ft", "ft-in")


def _columns(value: Any, what: str, _: Units) -> dict[str, str]:
    """A table, or the same in one text, as a command line has it: "mark=Pos, length=L"."""
    if isinstance(value, str):
        parts = [one.partition("=") for one in value.split(",") if one.strip()]
        value = {key.strip(): name.strip() for key, _equals, name in parts}
    if not isinstance(value, dict) or not all(isinstance(name, str) and name.strip() for name in value.values()):
        raise BadInput(what, value, phrase("list.columns-table"))
    refuse_unknown_keys(what, value, tuple(COLUMNS))
    return {key: " ".join(name.split()) for key, name in value.items()}


def _names(value: Any, what: str, _: Units) -> tuple[str, ...]:
    """A list of texts, or one text with commas between."""
    names = value.split(",") if isinstance(value, str) else value
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise BadInput(what, value, phrase("list.ignored-names"))
    return tuple(" ".join(name.split()) for name in names)


_COLUMNS: Final = Kind(
    _columns,
    {
        "type": ["object", "string"],
        "properties": {key: {**TEXT.schema, "description": says} for key, says in COLUMNS.items()},
        "additionalProperties": False,
        "examples": [{"mark": "Pos", "length": "L (mm)", "quantity": "D"}],
    },
)

LIST: Final = keys_of(
    "A list of parts as it came, CSV or XLSX: one mark a row.",
    file=need("The list, from this file's folder.", TEXT),
    sheet=Key("The sheet of a workbook; needed where several hold anything.", TEXT),
    header=Key("The row with the headings; 0: none. The first row with two known headings if not given.", count(0)),
    columns=Key("What the columns hold: each key by its heading or by the letter of its column.", _COLUMNS),
    ignore=Key(
        "Headings that are not read, or letters of columns.",
        Kind(_names, {"anyOf": [schema.several(TEXT.schema, 0), {"type": "string"}]}),
    ),
    at=Key("Where lengths are measured, for rows that do not say it.", choice(AT)),
    angles=Key("How angles are given, for rows that do not say it.", choice(ANGLES)),
    units=Key("The unit of bare lengths; that of the heading, else the job's, if not given.", choice(LIST_UNITS)),
    decimal=Key("What parts whole and fraction: point or comma; the list tells it if not given.", choice([*DECIMAL])),
    encoding=Key("How its letters are coded; UTF-8, or as western office programs write, if not given.", TEXT),
    section=Key("The section of rows that name none.", TEXT),
    grade=Key("The grade of rows that name none.", WORDS),
)
