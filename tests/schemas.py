"""What a schema says of values, by an independent validator, and values to try on every key.

`jsonschema` is the reference; the dialect is JSON Schema draft 2020-12 (json-schema.org).
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from datetime import date
from typing import Any

from jsonschema import Draft202012Validator

WRONG: tuple[Any, ...] = (True, "word", "", "1,5", [], [True], {}, {"word": 1}, [[1, 2, 3]])
"""Values that are of the wrong kind for most keys: reader and schema must say the same of each."""

NUMBERS: tuple[Any, ...] = (
    *(-90, -85, -46, -45, -6, -5, -1, 0, 0.5, 1, 5, 6, 15, 16, 45, 46, 60, 85, 90, 180, 181, 1000),
    *("-1", "0", "+.5", " 12 ", "1 1/2", "½", "90", "12 mm", "4' 6-1/2\"", "1e2", "22°30'"),
)
"""Values that a reader may take or refuse for what they come to: a schema must not refuse what the reader takes."""

Path = tuple[str | int, ...]


def complaints(schema: dict[str, Any], values: Any) -> list[str]:
    """What is wrong with values as an editor hands them on, in which a date of TOML is text."""
    found = Draft202012Validator(schema).iter_errors(_as_json(values))
    return [f"{'.'.join(map(str, error.absolute_path))}: {error.message}" for error in found]


def toml(values: dict[str, Any]) -> str:
    """A document as the text of a TOML file, its tables written inline."""
    return "".join(f"{key} = {_inline(value)}\n" for key, value in values.items())


def tables(values: Any, at: Path = ()) -> Iterator[Path]:
    """The place of every table in a document, the document itself left out."""
    below = values.items() if isinstance(values, dict) else enumerate(values) if isinstance(values, list) else ()
    if at and isinstance(values, dict):
        yield at
    for key, value in below:
        yield from tables(value, (*at, key))


def keys(values: dict[str, Any]) -> Iterator[Path]:
    """The place of every key in the tables of a document."""
    for at in tables(values):
        yield from ((*at, key) for key in found(values, at))


def found(values: Any, at: Path) -> Any:
    """What stands at a place."""
    for key in at:
        values = values[key]
    return values


def with_value(values: dict[str, Any], at: Path, value: Any) -> dict[str, Any]:
    """The document with another value at a place."""
    changed = copy.deepcopy(values)
    found(changed, at[:-1])[at[-1]] = value
    return changed


def without(values: dict[str, Any], at: Path) -> dict[str, Any]:
    """The document without a key."""
    changed = copy.deepcopy(values)
    del found(changed, at[:-1])[at[-1]]
    return changed


def descriptions_missing(schema: Any, at: str = "") -> list[str]:
    """The keys of a schema that have no description of one sentence at least."""
    lacking = []
    if isinstance(schema, dict):
        for key, one in schema.get("properties", {}).items():
            if isinstance(one, dict) and "description" in schema and not str(one.get("description", "")).endswith("."):
                lacking.append(f"{at}.{key}")
        for key, below in schema.items():
            lacking += descriptions_missing(below, f"{at}.{key}")
    elif isinstance(schema, list):
        for i, below in enumerate(schema):
            lacking += descriptions_missing(below, f"{at}.{i}")
    return lacking


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        return f"{{{', '.join(f'{key} = {_inline(one)}' for key, one in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(_inline, value))}]"
    return json.dumps(value, ensure_ascii=False)


def _as_json(values: Any) -> Any:
    if isinstance(values, dict):
        return {key: _as_json(value) for key, value in values.items()}
    if isinstance(values, list):
        return [_as_json(value) for value in values]
    return values.isoformat() if isinstance(values, date) else values
