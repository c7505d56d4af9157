"""Every key of a saw file with what it means, what the file says and how that is read; knows keys and the saw."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Final

import attrs

from mitertool.quantity import schema as kind
from mitertool.quantity import show_angle
from mitertool.quantity.rates import show_area_rate, show_way_rate
from mitertool.quantity.show import show_exact
from mitertool.quantity.tables import Table, read_toml
from mitertool.quantity.units import MM_PER_INCH
from mitertool.saw.keys import ARRAYS, KEYS
from mitertool.saw.saw import Saw
from mitertool.saw.schema import KINDS

_LENGTHS: Final = (kind.length, kind.length_from_zero, kind.positive_length)
_ANGLE_DECIMALS: Final = 4


@attrs.frozen
class Explained:
    """A key of a saw file: its table, what it means, and what stands there, one for each table of that name.

    `found` is as it was written, `read` how it is understood in the units of the file; both hold "" where a table does
    not give the key.
    """

    table: str
    key: str
    says: str
    found: tuple[str, ...] = ()
    read: tuple[str, ...] = ()


def explain(path: str | Path) -> tuple[Explained, ...]:
    """Every key that a saw file may hold, in the order of `KEYS`; same errors as `Saw.load`."""
    top = read_toml(Path(path))
    saw = Saw.read(top)
    top = top.in_units(saw.units)
    return tuple(_explained(top, saw, name, key) for name, keys in KEYS.items() for key in keys)


def _explained(top: Table, saw: Saw, name: str, key: str) -> Explained:
    tables = tuple(_tables(top, name))
    found = tuple(_written(table, key) for table in tables)
    read = tuple(_read(table, saw, name, key) if table.has(key) else "" for table in tables)
    return Explained(name, key, KEYS[name][key], found, read)


def _tables(top: Table, name: str) -> Iterator[Table]:
    if name in ARRAYS:
        yield from top.tables(name)
    elif top.has(name):
        yield top.table(name)


def _written(table: Table, key: str) -> str:
    value = table.raw(key, "")
    return str(value).lower() if isinstance(value, bool) else str(value)


def _read(table: Table, saw: Saw, name: str, key: str) -> str:
    """How a key that is there is understood, with its unit; a word stands for itself."""
    if name == "blade":
        return _of_the_blade(saw, key)
    is_angle = _is_angle(key) or (key == "lift_highest" and saw.arm_type.unit == "deg")
    if is_angle:
        return show_angle(table.angle(key), _ANGLE_DECIMALS)
    if KINDS[key] in _LENGTHS:
        return _length(table.length(key), saw)
    return _written(table, key)


def _is_angle(key: str) -> bool:
    found = KINDS[key]
    return isinstance(found, partial) and found.func is kind.angle


def _of_the_blade(saw: Saw, key: str) -> str:
    blade = saw.blade
    if key == "area_rate":
        return show_area_rate(blade.area_rate or 0.0, saw.units)
    if key == "descent":
        return show_way_rate(blade.descent or 0.0, saw.units)
    pitches = [pitch for pitch in (blade.pitch, blade.finest) if pitch]
    teeth = " to ".join(f"{MM_PER_INCH / pitch:.4g}" for pitch in pitches)
    apart = " to ".join(_length(pitch, saw) for pitch in pitches)
    return f"{apart}, {teeth} teeth an inch" if key == "pitch" else f"{teeth} teeth an inch, {apart} apart"


def _length(mm: float, saw: Saw) -> str:
    return f"{show_exact(mm, saw.units)}{' mm' if saw.units == 'mm' else ''}"
