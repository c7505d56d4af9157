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
            Key("Degrees from square, positive with the long point on the moving side.", _LESS_THAN_90),
            Key("Degrees from upright, positive with the long point at the top.", _LESS_THAN_90),
            Key(
                "Rise and run of the cut, such as 3:12.",
                unread({**TEXT.schema, "pattern": r"^[^,:]*[0-9][^,:]*:[^,:]*[0-9][^,:]*$"}),
            ),
            Key("Degrees between blade and bar, 90 for a square cut.", angle(Limits(above=0, most=LARGEST_FROM_BAR))),
            Key("Which side has the long point of a cut given by from_bar.", choice(LONG)),
            Key(
                "The angle inside the corner of two equal members; each takes half.",
                angle(Limits(above=0, most=LARGEST_CORNER)),
            ),
        ),
        strict=True,
    )
)

_MEETS: Final = {
    "anyOf": [
        LENGTH.told("How far from the fixed side, at half the height, the plane meets that of the first cut."),
        {**schema.several(LENGTH.schema, 2, 2), "description": "From the fixed side, and above the bed."},
    ]
}

_FURTHER: Final[Mapping[str, Key]] = {
    **_CUT,
    MEETS: Key(
        "Where its plane meets that of the first cut: from the fixed side, or [from the fixed side, "
        "above the bed]; the middle of the section if not given.",
        unread(_MEETS),
    ),
}


def _given(keys: Mapping[str, Key]) -> list[Schema]:
    """A cut as a number or a text, or as a table of these keys."""
    more = {"dependentRequired": {"long": ["from_bar"]}, "dependentSchemas": schema.apart(*WAYS)}
    table = {name: key.kind.told(key.says) for name, key in keys.items()}
    return [
        _LESS_THAN_90.told("Degrees from square, or rise:run, or such as 60 from bar, or 90 corner."),
        schema.table(table, (), "A cut that is given one way.", **more),
    ]


def _end() -> Schema:
    """The ways in which an end may be given: as one cut, or as a list."""
    first, further = _given(_CUT), _given(_FURTHER)
    listed = {"type": "array", "prefixItems": [{"anyOf": first}], "items": {"anyOf": further}, "minItems": 1}
    examples = [22.5, "3:12", "60 from bar", "90 corner", [45, {"miter": -45, "meets": 20}]]
    return {"anyOf": [*first, listed], "examples": examples}


END: Final = Kind(end_from, _end())
"""An end as `end_from` takes it: one cut, or a list of them."""
