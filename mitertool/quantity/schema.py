"""Tables, records and rules in the words of JSON Schema (draft 2020-12), by which editors complete and check files."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from mitertool.quantity.tables import FORMAT
from mitertool.words import said

Schema = dict[str, Any]

_TOLD: Final = ("title", "description")

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def table(keys: Mapping[str, Schema], needed: Sequence[str], says: str, **more: Any) -> Schema:
    """A table with these keys and no others; what it and they are is told by codes."""
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
    found: Schema = spoken({"title": title, **table(keys, needed, says, **more)})
    return {"$schema": DIALECT, **found}


def spoken(told: Any) -> Any:
    """A schema with the words of every title and description in the place of their codes."""
    if isinstance(told, Mapping):
        return {name: _said(one) if name in _TOLD else spoken(one) for name, one in told.items()}
    return [spoken(one) for one in told] if isinstance(told, list | tuple) else told


def _said(says: Any) -> Any:
    if isinstance(says, str):
        return said((says,))
    return said(says) if isinstance(says, tuple) else spoken(says)


def file_format() -> Schema:
    """The key `format` of a file."""
    return {"type": "integer", "minimum": 1, "maximum": FORMAT, "description": "key.format"}


def several(one: Schema, least: int = 1, most: int | None = None) -> Schema:
    """A list of such values."""
    return {"type": "array", "items": one, "minItems": least, **({} if most is None else {"maxItems": most})}


def one_or_several(one: Schema) -> Schema:
    """One such value, or a list of them."""
    return {"anyOf": [one, several(one)]}


def only(keys: Iterable[str]) -> Schema:
    """A rule: no other keys stand in the table."""
    return {"propertyNames": {"enum": list(keys)}}


def where(key: str, word: str, then: Schema) -> Schema:
    """A rule for tables whose `key` is a word."""
    return {"if": {"properties": {key: {"const": word}}, "required": [key]}, "then": then}


def exactly_one(*keys: str) -> Schema:
    """A rule: one of the keys is there, and no two."""
    return {"oneOf": [{"required": [key]} for key in keys]}


def apart(*keys: str) -> dict[str, Schema]:
    """Rules for `dependentSchemas`: no two of the keys stand in one table."""
    return {key: {"properties": {other: False for other in keys if other != key}} for key in keys}
