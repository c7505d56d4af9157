"""How a value of each kind may be written, in the words of JSON Schema (draft 2020-12); the readers' twin for editors.

A text is held to what every legal one has; what it means only the readers know, so a schema may let pass what a reader
refuses, never the other way round.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from mitertool.quantity.tables import FORMAT

Schema = dict[str, Any]

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"

_SPACE: Final = r"^\s*"
_BEGINS: Final = r"[0-9.½¼¾⅛⅜⅝⅞][^,]*$"
_SIGNED: Final = _SPACE + r"[+\-−]?" + _BEGINS
_UNSIGNED: Final = _SPACE + r"(\+|[-−](?=[0.]))?" + _BEGINS
"""Minus nothing is nothing, and only the readers know whether it is."""

_LENGTHS: Final = [1200, "1200 mm", "4'-6 1/2\"", '47-1/4"']
_ANGLES: Final = [22.5, "22 1/2", "22°30'"]


def text(says: str, **more: Any) -> Schema:
    """A text that is not blank."""
    return {"type": "string", "pattern": r"\S", "description": says, **more}


def printed(says: str) -> Schema:
    """Anything that is printed as it was written: a text, a number or a date."""
    return {"type": ["string", "number"], "description": says}


def date(says: str) -> Schema:
    """A day, as text or as a date of TOML, which an editor takes for text."""
    return {"type": "string", "description": says, "examples": ["2024-05-17"]}


def flag(says: str) -> Schema:
    """true or false."""
    return {"type": "boolean", "description": says}


def choice(words: Iterable[str], says: str) -> Schema:
    """One of the words."""
    return {"enum": list(words), "description": says}


def length(says: str) -> Schema:
    """A length of either sign."""
    return _written(says, _SIGNED, _LENGTHS)


def length_from_zero(says: str) -> Schema:
    """A length of 0 or more."""
    return _written(says, _UNSIGNED, _LENGTHS, minimum=0)


def positive_length(says: str) -> Schema:
    """A length of more than 0."""
    return _written(says, _UNSIGNED, _LENGTHS, exclusiveMinimum=0)


def angle(says: str, **limits: float) -> Schema:
    """An angle in degrees; the limits hold where it is given as a number."""
    return _written(says, _SIGNED, _ANGLES, **limits)


def number(says: str, **limits: float) -> Schema:
    """A number without a unit; the limits hold where it is given as a number."""
    return _written(says, _SIGNED, [], **limits)


def count(says: str, least: int = 1, most: int | None = None) -> Schema:
    """A whole number of at least `least`, and of at most `most` where that is given."""
    limits = {"minimum": least} if most is None else {"minimum": least, "maximum": most}
    return {"type": ["integer", "string"], **limits, "pattern": r"^\s*\+?[0-9]+\s*$", "description": says}


def several(one: Schema, least: int = 1, most: int | None = None) -> Schema:
    """A list of such values, with the description of the one."""
    items = {key: value for key, value in one.items() if key != "description"}
    limits = {"minItems": least} if most is None else {"minItems": least, "maxItems": most}
    return {"type": "array", "items": items, **limits, "description": one["description"]}


def one_or_several(one: Schema) -> Schema:
    """One such value, or a list of them."""
    bare = {key: value for key, value in one.items() if key != "description"}
    return {"anyOf": [bare, {"type": "array", "items": bare, "minItems": 1}], "description": one["description"]}


def table(keys: Mapping[str, Schema], needed: Sequence[str], says: str, **more: Any) -> Schema:
    """A table with these keys and no others."""
    return {
        "type": "object",
        "description": says,
        "properties": dict(keys),
        "required": list(needed),
        "additionalProperties": False,
        **more,
    }


def tables(one: Schema) -> Schema:
    """An array of tables, each headed with double brackets."""
    return {"type": "array", "items": one, "description": one["description"]}


def document(title: str, keys: Mapping[str, Schema], needed: Sequence[str], says: str, **more: Any) -> Schema:
    """The schema of a whole file."""
    return {"$schema": DIALECT, "title": title, **table(keys, needed, says, **more)}


def file_format() -> Schema:
    """The key `format` of a file."""
    return {"type": "integer", "minimum": 1, "maximum": FORMAT, "description": "The version of the file format."}


def where(key: str, word: str, then: Schema) -> Schema:
    """A rule for tables whose `key` is a word."""
    return {"if": {"properties": {key: {"const": word}}, "required": [key]}, "then": then}


def exactly_one(*keys: str) -> Schema:
    """A rule: one of the keys is there, and no two."""
    return {"oneOf": [{"required": [key]} for key in keys]}


def apart(*keys: str) -> dict[str, Schema]:
    """Rules for `dependentSchemas`: no two of the keys stand in one table."""
    return {key: {"properties": {other: False for other in keys if other != key}} for key in keys}


def _written(says: str, pattern: str, examples: Sequence[object], **limits: float) -> Schema:
    shown = {"examples": list(examples)} if examples else {}
    return {"type": ["number", "string"], **limits, "pattern": pattern, "description": says, **shown}
