"""The text of a TOML file with some values set and all the rest as it was, comments too; knows no key of any file."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from typing import Any, Final

import tomlkit
from tomlkit.items import Item
from tomlkit.items import Table as Block

from mitertool.base.errors import BadInput
from mitertool.words import phrase

Path = Sequence[str | int]
"""The way to a table: the names of tables, and of one in an array of tables its number from 0."""

_MARK: Final = "\ufeff"
"""What some editors write before the first line."""

_BARE: Final = re.compile(r"(?<!\r)\n")
"""The end of a line without a carriage return."""


def with_values(text: str, path: Path, values: Mapping[str, Any], name: str) -> str:
    """The text with keys of the table at `path` set, new ones below its last; a value of None takes its key away.

    A table that is not there is put at the end. Raises `BadInput` for the file `name` where the text is so written that
    nothing else would stay as it was.
    """
    expected = deepcopy(tomllib.loads(_plain(text)))
    _put(_found(expected, path), values)
    told = (*map(str, path), ", ".join(values), name)
    return _changed(text, lambda document: _set(_found(document, path), values), expected, told)


def with_table(text: str, key: str, values: Mapping[str, Any], name: str) -> str:
    """The text with one more table in the array of tables `key`, at its end; same errors as `with_values`."""
    expected = tomllib.loads(_plain(text))
    several = expected.setdefault(key, [])
    if not isinstance(several, list) or not all(isinstance(one, dict) for one in several):
        raise BadInput(phrase("what.table"), key, phrase("refuse.no-table"))
    several.append(dict(values))

    def add(document: Any) -> None:
        made = tomlkit.table()
        made.update({key: inline(value) for key, value in values.items()})
        if key in document:
            document[key].append(made)
        else:
            tables = tomlkit.aot()
            tables.append(made)
            document[key] = tables

    return _changed(_ended(text), add, expected, (key, key, name))


def without_table(text: str, key: str, number: int, name: str) -> str:
    """The text without the table of that number, from 0, of the array of tables `key`; same errors, and for no such."""
    expected = tomllib.loads(_plain(text))
    table_of(expected, key, number)
    del expected[key][number]
    if not expected[key]:
        del expected[key]

    def take(document: Any) -> None:
        del document[key][number]
        if not document[key]:
            del document[key]

    return _changed(text, take, expected, (key, key, name))


def table_of(top: Mapping[str, Any], key: str, number: int) -> Mapping[str, Any]:
    """The table of that number, from 0, of an array of tables. Raises `BadInput` where there is none."""
    several = top.get(key)
    tables = several if isinstance(several, list) else []
    if number >= len(tables) or not isinstance(tables[number], dict):
        raise BadInput(phrase("what.table"), f"{key} {number + 1}", phrase("refuse.no-table"))
    found: Mapping[str, Any] = tables[number]
    return found


def _plain(text: str) -> str:
    return text.removeprefix(_MARK).replace("\r\n", "\n").replace("\r", "\n")


def _ended(text: str) -> str:
    return text if not text or text.endswith("\n") else text + "\n"


def _changed(text: str, change: Callable[[Any], None], expected: Mapping[str, Any], told: tuple[str, ...]) -> str:
    mark, text = (_MARK, text[1:]) if text.startswith(_MARK) else ("", text)
    document = tomlkit.parse(text)
    change(document)
    found = tomlkit.dumps(document)
    if "\r\n" in text and not _BARE.search(text):
        found = _BARE.sub("\r\n", found)
    if tomllib.loads(_plain(found)) != expected:
        *where, keys, name = told
        raise BadInput(".".join(where), phrase("found.not-one-block"), phrase("refuse.by-hand", keys=keys), (name,))
    return mark + found


def _found(top: Any, path: Path) -> Any:
    """The table at a path; of one that is not there a new one, put in its place."""
    for step in path:
        if isinstance(step, str) and step not in top:
            top[step] = tomlkit.table() if hasattr(top, "as_string") else {}
        top = top[step]
        if not isinstance(top, dict | list):
            raise BadInput(phrase("what.table"), str(step), phrase("refuse.no-table"))
    return top


def _put(table: Any, values: Mapping[str, Any]) -> None:
    for key, value in values.items():
        if value is None:
            table.pop(key, None)
        else:
            table[key] = value


def _set(table: Any, values: Mapping[str, Any]) -> None:
    """Set keys of a table; the blank lines and comments at its end belong to what follows and stay there."""
    body = table.value.body if isinstance(table, Block) else []
    after: list[Any] = []
    while body and body[-1][0] is None:
        after.insert(0, body.pop())
    _put(table, {key: value if value is None else inline(value) for key, value in values.items()})
    body.extend(after)


def inline(value: Any) -> Any:
    """A value as the item that it is on one line: a table of it stands in braces; an item as it is."""
    if isinstance(value, Item):
        return value
    if isinstance(value, Mapping):
        table = tomlkit.inline_table()
        table.update({key: inline(one) for key, one in value.items()})
        return table
    if isinstance(value, list):
        array = tomlkit.array()
        array.extend([inline(one) for one in value])
        return array
    return tomlkit.item(value)
