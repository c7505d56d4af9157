"""A table of a file as a form: its keys as a person types them, and the values that typed text stands for."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

import attrs

from mitertool.quantity.keys import Key
from mitertool.quantity.toml_text import inline, with_values


@attrs.frozen
class FormField:
    """A key as a form shows it: its value as it is typed, "" where it has none, what it means, and what it may be."""

    key: str
    value: str
    says: str
    needed: bool
    choices: tuple[str, ...] = ()


def fields_of(keys: Mapping[str, Key], values: Mapping[str, Any]) -> tuple[FormField, ...]:
    """All keys of a table, each with its value."""
    return tuple(
        FormField(name, typed(values.get(name)), key.says, key.needed, _choices(key)) for name, key in keys.items()
    )


def _choices(key: Key) -> tuple[str, ...]:
    if kinds_of(key) == ("boolean",):
        return ("true", "false")
    return tuple(map(str, key.kind.schema.get("enum", ())))


def typed(value: Any) -> str:
    """A value as a person types it: a text bare, anything else as the file has it."""
    if value is None:
        return ""
    return value if isinstance(value, str) else str(inline(value).as_string()).strip()


def meant(given: str, before: Any, kinds: Sequence[str]) -> Any:
    """The value of the file that typed text stands for; None for nothing.

    A text stays one: where the key takes nothing else, or had one before.
    """
    given = given.strip()
    if not given:
        return None
    if isinstance(before, str) or set(kinds) == {"string"}:
        return given
    try:
        found = tomllib.loads(f"value = {given}\n")
    except tomllib.TOMLDecodeError:
        return given
    return found["value"] if len(found) == 1 else given


def kinds_of(key: Key) -> tuple[str, ...]:
    """What its value may be in a file, by the names of JSON Schema."""
    found = key.kind.schema.get("type", ())
    return (found,) if isinstance(found, str) else tuple(found)


def values_typed(keys: Mapping[str, Key], before: Mapping[str, Any], given: Mapping[str, str]) -> dict[str, Any]:
    """The values of keys whose typed text differs from what stood there; None for one that was emptied."""
    return {
        key: meant(text, before.get(key), kinds_of(keys[key]))
        for key, text in given.items()
        if key in keys and text.strip() != typed(before.get(key))
    }


def with_typed(
    text: str, name: str, path: Sequence[str | int], values: Mapping[str, Any], before: Mapping[str, Any]
) -> str:
    """The text of a file with values in the table at `path`; a table that holds nothing more goes as a whole."""
    if not values:
        return text
    left = [value for value in {**before, **values}.values() if value is not None]
    if not left and len(path) == 1:
        return with_values(text, (), {str(path[0]): None}, name)
    return with_values(text, path, values, name)
