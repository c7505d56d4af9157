"""A job file as a form: its tables with their keys as a person fills them in, and the text of the file they make.

Knows the keys of a job and the text of a file.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import attrs
import tomlkit

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.job.frame_keys import FRAME
from mitertool.job.keys import HEAD, NEST, PIECE, STOCK
from mitertool.quantity.form import FormField, fields_of, values_typed, with_typed
from mitertool.quantity.keys import Key
from mitertool.quantity.tables import read_toml
from mitertool.quantity.toml_text import table_of, with_table, without_table
from mitertool.words import phrase

_ONE: Final = {"job": HEAD.keys, "nest": NEST.keys}
_SEVERAL: Final = {"stock": STOCK.keys, "piece": PIECE.keys}
_FRAMES: Final = "frame"
IN_FORM: Final = ("job", "frame", "piece", "stock", "nest")
"""The tables that a form has, in the order in which they are filled in; others are written as text."""


@attrs.frozen
class FormTable:
    """A table of a job: its name, its number among those of one name (None: there is one alone), and its keys."""

    table: str
    number: int | None
    label: str
    fields: tuple[FormField, ...]
    spare: tuple[FormField, ...]

    @property
    def path(self) -> tuple[str | int, ...]:
        """The way to it in the file."""
        return (self.table,) if self.number is None else (self.table, self.number)


def blocks(text: str, name: str) -> tuple[FormTable, ...]:
    """The tables of a job's text, each with the keys that it has and those that it could have.

    Raises `BadInput` for the file `name` where the text is no TOML.
    """
    top = read_toml(Path(name), text.encode()).values
    return tuple(_blocks(top))


def _blocks(top: Mapping[str, Any]) -> Iterator[FormTable]:
    for table in IN_FORM:
        if table in _ONE:
            yield _block(table, None, top.get(table, {}))
            continue
        found = top.get(table, [])
        tables = [one for one in found if isinstance(one, dict)] if isinstance(found, list) else []
        yield from (_block(table, number, one) for number, one in enumerate(tables))


def _block(table: str, number: int | None, values: Any) -> FormTable:
    values = values if isinstance(values, dict) else {}
    keys = _keys(table, values)
    fields = fields_of(keys, values)
    label = str(values.get("mark", values.get("section", "")))
    return FormTable(
        table,
        number,
        label,
        tuple(one for one in fields if one.value or one.needed),
        tuple(one for one in fields if not one.value and not one.needed),
    )


def _keys(table: str, values: Mapping[str, Any]) -> Mapping[str, Key]:
    if table != _FRAMES:
        return _ONE.get(table) or _SEVERAL[table]
    shape = FRAME.each.get(str(values.get("shape")))
    return {**(shape.keys if shape else {}), "shape": FRAME.keys["shape"]}


def filled_in(text: str, name: str, table: str, number: int | None, given: Mapping[str, str]) -> str:
    """The text of a job with typed values in one of its tables, nothing else changed.

    Raises `BadInput` where the text is no TOML, or so written that other things would change.
    """
    top = read_toml(Path(name), text.encode()).values
    found = _alone(top, table) if number is None else table_of(top, table, number)
    values = values_typed(_keys(table, {**found, **given}), found, given)
    return with_typed(text, name, (table,) if number is None else (table, number), values, found)


def _alone(top: Mapping[str, Any], table: str) -> Mapping[str, Any]:
    """A table that there is one of. Raises `BadInput` for one of those that there are several of."""
    if table not in _ONE:
        raise BadInput(phrase("what.table"), table, among(_ONE))
    found = top.get(table, {})
    return found if isinstance(found, dict) else {}


def added(text: str, name: str, table: str, given: Mapping[str, str]) -> str:
    """The text of a job with one more table of typed values; same errors as `filled_in`."""
    if table in _ONE:
        raise BadInput(phrase("what.table"), table, among((_FRAMES, *_SEVERAL)))
    keys = _keys(table, given)
    return with_table(text, table, values_typed(keys, {}, given), name)


def taken_away(text: str, name: str, table: str, number: int) -> str:
    """The text of a job without one of its tables; same errors as `filled_in`."""
    return without_table(text, table, number, name)


def begun(name: str, values: Mapping[str, Any], tables: Sequence[tuple[str, Mapping[str, Any]]]) -> str:
    """The text of a new job: its [job] of these values, and the other tables in their order."""
    document = tomlkit.document()
    document["format"] = 1
    head = tomlkit.table()
    head.update({"name": name, **values})
    document["job"] = head
    text = tomlkit.dumps(document)
    for table, given in tables:
        text = with_table(text, table, given, name)
    return text
