"""The keys of a [[list]] table, and what a column of a list may hold; knows quantity and piece."""

from __future__ import annotations

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

COLUMNS: Final = (
    "mark",
    "section",
    "grade",
    "length",
    "at",
    "left",
    "right",
    "left_bevel",
    "right_bevel",
    "angles",
    "quantity",
    "opposite",
    "hand",
    "units",
    "lay",
    "out",
)
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
    refuse_unknown_keys(what, value, COLUMNS)
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
        "properties": {key: {**TEXT.schema, "description": f"key.list-column.{key}"} for key in COLUMNS},
        "additionalProperties": False,
        "examples": [{"mark": "Pos", "length": "L (mm)", "quantity": "D"}],
    },
)

LIST: Final = keys_of(
    "table.list",
    file=need("list.file", TEXT),
    sheet=Key("list.sheet", TEXT),
    header=Key("list.header", count(0)),
    columns=Key("list.columns", _COLUMNS),
    ignore=Key(
        "list.ignore",
        Kind(_names, {"anyOf": [schema.several(TEXT.schema, 0), {"type": "string"}]}),
    ),
    at=Key("list.at", choice(AT)),
    angles=Key("list.angles", choice(ANGLES)),
    units=Key("list.units", choice(LIST_UNITS)),
    decimal=Key("list.decimal", choice([*DECIMAL])),
    encoding=Key("list.encoding", TEXT),
    section=Key("list.section", TEXT),
    grade=Key("list.grade", WORDS),
)
