"""A file as a form: its tables with their keys as a person types them, and the text that what is typed makes."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.quantity.keys import Key
from mitertool.quantity.tables import read_toml
from mitertool.quantity.toml_text import inline, table_of, with_table, with_values, without_table
from mitertool.words import phrase

Place = tuple[str, int | None, str]
"""A key of a file: its table, which of those of one name from 0 (None: there is one alone), and its name."""

KeysOf = Callable[[Mapping[str, Any], str, Mapping[str, Any]], Mapping[str, Key]]
"""The keys that a table may have, from all tables of its file, its name and what stands in it."""


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


@attrs.frozen
class FormTable:
    """A table as a form shows it: its name, its number among those of one name, what it calls itself, all its keys."""

    table: str
    number: int | None
    label: str
    fields: tuple[FormField, ...]

    @property
    def told(self) -> tuple[FormField, ...]:
        """The keys that the file gives, and those that it must."""
        return tuple(one for one in self.fields if one.value or one.needed)

    @property
    def spare(self) -> tuple[FormField, ...]:
        """Those that it could give besides."""
        return tuple(one for one in self.fields if not one.value and not one.needed)


@attrs.frozen
class FileForm:
    """How a kind of file is a form: its `tables` in the order of filling in, of which there may be `several`, the keys
    of each, and the keys by which one of several calls itself.

    Every change leaves all else in the file as it was. It raises `BadInput` for the file `name` where the text is no
    TOML, has no such table, or is so written that other things would change.
    """

    tables: tuple[str, ...]
    several: tuple[str, ...]
    keys: KeysOf
    called_by: tuple[str, ...]

    def read(self, text: str, name: str) -> tuple[FormTable, ...]:
        """The tables of a text, one that there is one of also where it is not there."""
        top = read_toml(Path(name), text.encode()).values
        return tuple(one for table in self.tables for one in self._shown(top, table))

    def _shown(self, top: Mapping[str, Any], table: str) -> Iterator[FormTable]:
        if table not in self.several:
            values = _a_table(top.get(table))
            yield FormTable(table, None, "", fields_of(self.keys(top, table, values), values))
            return
        found = top.get(table)
        for number, one in enumerate(found if isinstance(found, list) else []):
            if isinstance(one, dict):
                label = next((str(one[key]) for key in self.called_by if key in one), "")
                yield FormTable(table, number, label, fields_of(self.keys(top, table, one), one))

    def filled_in(self, text: str, name: str, given: Mapping[Place, str]) -> str:
        """The text with typed values at their places."""
        top = read_toml(Path(name), text.encode()).values
        typed_in: dict[tuple[str, int | None], dict[str, str]] = {}
        for (table, number, key), value in given.items():
            typed_in.setdefault((table, number), {})[key] = value
        alone = {table: {**_a_table(top.get(table)), **values} for (table, n), values in typed_in.items() if n is None}
        for (table, number), values in typed_in.items():
            found = self._found(top, table, number)
            changed = values_typed(self.keys({**top, **alone}, table, {**found, **values}), found, values)
            text = with_typed(text, name, (table,) if number is None else (table, number), changed, found)
        return text

    def _found(self, top: Mapping[str, Any], table: str, number: int | None) -> Mapping[str, Any]:
        if number is not None:
            return table_of(top, self._one_of_several(table), number)
        if table not in self.tables or table in self.several:
            alone = tuple(one for one in self.tables if one not in self.several)
            raise BadInput(phrase("what.table"), table, among(alone))
        return _a_table(top.get(table))

    def added(self, text: str, name: str, table: str, given: Mapping[str, str]) -> str:
        """The text with one more table of typed values."""
        keys = self.keys({}, self._one_of_several(table), given)
        return with_table(text, table, values_typed(keys, {}, given), name)

    def taken_away(self, text: str, name: str, table: str, number: int) -> str:
        """The text without one of several tables."""
        return without_table(text, self._one_of_several(table), number, name)

    def _one_of_several(self, table: str) -> str:
        if table not in self.several:
            raise BadInput(phrase("what.table"), table, among(self.several))
        return table


def _a_table(found: Any) -> Mapping[str, Any]:
    return found if isinstance(found, dict) else {}
