"""The keys of a cut and of an end in a file, as editors complete and check them; knows how both are read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.cut.end_words import MEETS, end_from
from mitertool.cut.words import KEYS, LARGEST_CORNER, LARGEST_FROM_BAR, LONG, WAYS
from mitertool.quantity import schema
from mitertool.quantity.keys import Key
from mitertool.quantity.kinds import LENGTH, TEXT, Kind, Limits, angle, choice, unread
from mitertool.quantity.schema import Schema

_LESS_THAN_90: Final = angle(Limits(above=-90, below=90))

_CUT: Final[Mapping[str, Key]] = dict(
    zip(
        KEYS,
        (
            Key("cut.miter", _LESS_THAN_90),
            Key("cut.bevel", _LESS_THAN_90),
            Key(
                "cut.slope",
                unread({**TEXT.schema, "pattern": r"^[^,:]*[0-9][^,:]*:[^,:]*[0-9][^,:]*$"}),
            ),
            Key("cut.from_bar", angle(Limits(above=0, most=LARGEST_FROM_BAR))),
            Key("cut.long", choice(LONG)),
            Key(
                "cut.corner",
                angle(Limits(above=0, most=LARGEST_CORNER)),
            ),
        ),
        strict=True,
    )
)

_MEETS: Final = {
    "anyOf": [
        LENGTH.told("key.cut.meets-across"),
        {**schema.several(LENGTH.schema, 2, 2), "description": "key.cut.meets-both"},
    ]
}

_FURTHER: Final[Mapping[str, Key]] = {
    **_CUT,
    MEETS: Key(
        "cut.meets",
        unread(_MEETS),
    ),
}


def _given(keys: Mapping[str, Key]) -> list[Schema]:
    """A cut as a number or a text, or as a table of these keys."""
    more = {"dependentRequired": {"long": ["from_bar"]}, "dependentSchemas": schema.apart(*WAYS)}
    table = {name: key.schema for name, key in keys.items()}
    return [
        _LESS_THAN_90.told("key.cut.given"),
        schema.table(table, (), "table.cut", **more),
    ]


def _end() -> Schema:
    """The ways in which an end may be given: as one cut, or as a list."""
    first, further = _given(_CUT), _given(_FURTHER)
    listed = {"type": "array", "prefixItems": [{"anyOf": first}], "items": {"anyOf": further}, "minItems": 1}
    examples = [22.5, "3:12", "60 from bar", "90 corner", [45, {"miter": -45, "meets": 20}]]
    return {"anyOf": [*first, listed], "examples": examples}


END: Final = Kind(end_from, _end())
"""An end as `end_from` takes it: one cut, or a list of them."""
