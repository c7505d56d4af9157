"""A saw file as a form: all its tables with all keys that they may have, and the text that what is typed makes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.quantity.form import FormField, fields_of, values_typed, with_typed
from mitertool.quantity.keys import Key
from mitertool.quantity.tables import read_toml
from mitertool.quantity.toml_text import with_table, without_table
from mitertool.saw.file.keys import ARM_KEYS, ARRAYS, TABLES

Place = tuple[str, int | None, str]
"""A key: its table, which of those of one name from 0 (None: there is one alone), and its name."""

_KINDS: Final = tuple(ARM_KEYS)


@attrs.frozen
class SawTable:
    """A table of a saw file with every key that it may have; `label` is what it calls itself."""

    table: str
    number: int | None
    label: str
    fields: tuple[FormField, ...]

    @property
    def there(self) -> bool:
        """Whether the file gives any key of it."""
        return any(field.value for field in self.fields)


def saw_tables(text: str, name: str) -> tuple[SawTable, ...]:
    """The tables in the order in which they are explained. Raises `BadInput` for the file `name` that is no TOML."""
    return tuple(_tables(read_toml(Path(name), text.encode()).values))


def _tables(top: Mapping[str, Any]) -> Iterator[SawTable]:
    for table in TABLES:
        for number, values in _found(top, table):
            label = str(values.get("name", "")) if table in ARRAYS else ""
            yield SawTable(table, number, label, fields_of(_keys(top, table), values))


def _found(top: Mapping[str, Any], table: str) -> Iterator[tuple[int | None, Mapping[str, Any]]]:
    if table not in ARRAYS:
        found = top.get(table, {})
        yield None, found if isinstance(found, dict) else {}
        return
    several = top.get(table, [])
    tables = several if isinstance(several, list) else []
    yield from ((number, one) for number, one in enumerate(tables) if isinstance(one, dict))


def _keys(top: Mapping[str, Any], table: str) -> Mapping[str, Key]:
    """The keys of a table; of the arm those of the kind of saw."""
    kind = top["saw"].get("kind") if isinstance(top.get("saw"), dict) else None
    return ARM_KEYS[kind].keys if table == "arm" and kind in _KINDS else TABLES[table].keys


def filled_in(text: str, name: str, given: Mapping[Place, str]) -> str:
    """The text of a saw file with typed values at their places, nothing else changed.

    Raises `BadInput` where the text is no TOML, or so written that other things would change.
    """
    top = read_toml(Path(name), text.encode()).values
    keys_first = {**top, "saw": {**top.get("saw", {}), **_kind(given)}}
    for table in TABLES:
        for number, values in _found(top, table):
            typed = {key: value for (where, nth, key), value in given.items() if (where, nth) == (table, number)}
            changed = values_typed(_keys(keys_first, table), values, typed)
            path = (table,) if number is None else (table, number)
            text = with_typed(text, name, path, changed, values)
    return text


def _kind(given: Mapping[Place, str]) -> dict[str, str]:
    """The kind of saw that is typed, by which the keys of its arm are known."""
    kind = given.get(("saw", None, "kind"), "")
    return {"kind": kind} if kind in _KINDS else {}


def added(text: str, name: str, table: str, given: Mapping[str, str]) -> str:
    """The text of a saw file with one more obstacle, or row of the shop's table; same errors as `filled_in`."""
    return with_table(text, _several(table), values_typed(TABLES[_several(table)].keys, {}, given), name)


def taken_away(text: str, name: str, table: str, number: int) -> str:
    """The text of a saw file without one of these; same errors."""
    return without_table(text, _several(table), number, name)


def _several(table: str) -> str:
    if table not in ARRAYS:
        raise BadInput("table", table, among(ARRAYS))
    return table
