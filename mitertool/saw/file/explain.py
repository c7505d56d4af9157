"""Every key of a saw file with what it means, what the file says and how that is read; knows keys and the saw."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import attrs

from mitertool.quantity.keys import Key
from mitertool.quantity.kinds import length_shown
from mitertool.quantity.tables import Table, read_toml
from mitertool.saw.file.keys import ARM_KEYS, ARRAYS, TABLES
from mitertool.saw.file.machine import Machine
from mitertool.saw.file.measured import MADE_OF, slot_edges
from mitertool.saw.file.read import saw_fields
from mitertool.words import phrase


@attrs.frozen
class Explained:
    """A key of a saw file: its table, what it means, and what stands there, one for each table of that name.

    `found` is as it was written, `read` how it is understood in the units of the file; both hold "" where a table does
    not give the key. `made_of` are the keys that a figure was made of which the file gives in its other form.
    """

    table: str
    key: str
    says: str
    found: tuple[str, ...] = ()
    read: tuple[str, ...] = ()
    made_of: tuple[str, ...] = ()


def explain(path: str | Path) -> tuple[Explained, ...]:
    """Every key that a saw file may hold, in the order of `TABLES`; same errors as `Saw.load`."""
    top = read_toml(Path(path))
    saw = Machine(**saw_fields(top))
    top = top.in_units(saw.units)
    tables = {**TABLES, "arm": attrs.evolve(TABLES["arm"], keys={**TABLES["arm"].keys, **ARM_KEYS[saw.kind].keys})}
    found = (_explained(top, name, word, key) for name, keys in tables.items() for word, key in keys.keys.items())
    return tuple(_made(one, tables[one.table].keys[one.key], top, saw) for one in found)


def _made(one: Explained, key: Key, top: Table, saw: Machine) -> Explained:
    """With the figure that was made where the file gives it in its other form."""
    if (one.table, one.key) == ("obstacle", "edge"):
        return _slotted(one, top, saw)
    sources = MADE_OF.get((one.table, one.key), ())
    if not sources or not top.has(one.table) or not top.table(one.table).has(sources[0]):
        return one
    value = getattr(saw.arm if one.table == "arm" else saw.guides, one.key)
    shown = key.kind.show(value, saw.units) if key.kind.show else str(value)
    return attrs.evolve(one, read=(shown,), made_of=sources)


def _slotted(one: Explained, top: Table, saw: Machine) -> Explained:
    """With both edges of every slot in the place of the one edge."""
    read = tuple(
        _edges(table, saw) if table.has("slot") else before
        for table, before in zip(top.tables("obstacle"), one.read, strict=True)
    )
    return one if read == one.read else attrs.evolve(one, read=read, made_of=("slot",))


def _edges(table: Table, saw: Machine) -> str:
    edges = slot_edges(TABLES["obstacle"].read(table))
    return phrase("saw.slot", **{side: length_shown(edge, saw.units) for side, edge in edges.items()})


def _explained(top: Table, name: str, word: str, key: Key) -> Explained:
    tables = tuple(_tables(top, name))
    found = tuple(_written(table, word) for table in tables)
    read = tuple(_read(table, word, key) if table.has(word) else "" for table in tables)
    return Explained(name, word, key.says, found, read)


def _tables(top: Table, name: str) -> Iterator[Table]:
    if name in ARRAYS:
        yield from top.tables(name)
    elif top.has(name):
        yield top.table(name)


def _written(table: Table, word: str) -> str:
    value = table.raw(word, "")
    if isinstance(value, list):
        return "; ".join(map(str, value))
    return str(value).lower() if isinstance(value, bool) else str(value)


def _read(table: Table, word: str, key: Key) -> str:
    """How a key that is there is understood, with its unit; a word stands for itself."""
    if key.kind.show is None:
        return _written(table, word)
    return key.kind.show(key.kind.read(table.raw(word), word, table.units), table.units)
