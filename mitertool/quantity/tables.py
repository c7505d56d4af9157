"""A table of a TOML file read key by key, so that every refusal names file, table and key; knows quantity and base."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import refuse_unknown_keys
from mitertool.quantity.units import Units
from mitertool.words import phrase

FORMAT: Final = 1
"""The newest file format that this program reads, and the one it writes."""

LARGEST: Final = 20_000_000
"""Bytes of a file: a job of ten thousand marks has a tenth of that, and a device that never ends is no job."""

_ABSENT: Final = object()


@attrs.frozen
class Table:
    """The keys of one table as TOML gives them, and where it stands."""

    values: Mapping[str, Any]
    where: tuple[str, ...]
    units: Units = "mm"

    def only(self, *known: str) -> None:
        """Refuse the first key that is not among `known`, with the nearest ones."""
        try:
            refuse_unknown_keys(phrase("what.key"), self.values, known)
        except BadInput as error:
            raise error.at(*self.where) from None

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        return key in self.values

    def raw(self, key: str, default: Any = _ABSENT) -> Any:
        """The value as TOML gives it."""
        if key in self.values:
            return self.values[key]
        if default is _ABSENT:
            raise BadInput(key, phrase("found.nothing"), phrase("refuse.needed"), self.where)
        return default

    def table(self, key: str) -> Table:
        """The table under a key, empty where absent."""
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            raise BadInput(key, value, phrase("refuse.table", key=key), self.where)
        return Table(value, (*self.where, f"[{key}]"), self.units)

    def tables(self, key: str) -> Iterator[Table]:
        """The tables of an array of tables; each is placed by its mark or name, else by its number."""
        values = self.values.get(key, [])
        if not isinstance(values, list) or not all(isinstance(value, dict) for value in values):
            raise BadInput(
                key, f"[{key}]" if isinstance(values, dict) else values, phrase("refuse.tables", key=key), self.where
            )
        for i, value in enumerate(values, 1):
            label = value.get("mark") or value.get("name") or i
            yield Table(value, (*self.where, f"[[{key}]] {label}"), self.units)

    def in_units(self, units: Units) -> Table:
        """The same table with bare numbers read in other units."""
        return attrs.evolve(self, units=units)

    def place(self) -> Place:
        """A context in which a `BadInput` gets this table's place put in front."""
        return Place(self.where, self.units)


@attrs.frozen
class Place:
    """Puts a place in front of any `BadInput` that leaves the block, and its lengths in the units read there."""

    where: tuple[str, ...]
    units: Units = "mm"

    def __enter__(self) -> None:
        return None

    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> None:
        if not isinstance(error, BadInput):
            return
        told = error.in_units(self.units)
        if error.where[: len(self.where)] != self.where:
            told = told.at(*self.where)
        if told is not error:
            raise told from error.__cause__


def read_whole(path: Path) -> bytes:
    """What stands in a file. Raises `BadInput` where it cannot be read, or is larger than any that is meant."""
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as error:
        raise BadInput(phrase("what.file"), str(path), phrase("refuse.unread", why=error.strerror)) from error
    if len(content) > LARGEST:
        raise BadInput(phrase("what.file"), str(path), phrase("refuse.larger-file", most=LARGEST // 1_000_000))
    return content


def decoded(name: str, content: bytes) -> str:
    """The text of a file. Raises `BadInput` with the line that is not in UTF-8."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start)
        found = content.split(b"\n")[line].decode("utf-8", "replace")
        raise BadInput(phrase("where.line", line=line + 1), found, phrase("refuse.no-text"), (name,)) from error


def toml_values(name: str, content: bytes) -> dict[str, Any]:
    """What a TOML file says. Raises `BadInput` with the line that is none of TOML."""
    text = decoded(name, content).replace("\r\n", "\n").replace("\r", "\n")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _no_toml(name, text.splitlines(), str(error)) from error
    except (ValueError, RecursionError) as error:
        raise BadInput(phrase("what.file"), name, phrase("refuse.no-toml", why=error)) from error


def _no_toml(name: str, lines: Sequence[str], why: str) -> BadInput:
    """The refusal of the line of which the parser tells; what it misses at the end it may miss of any line before."""
    place = re.search(r" \(at line (\d+), column (\d+)\)$", why)
    if not place:
        last = next((line for line in reversed(lines) if line.strip()), "")
        return BadInput(phrase("what.end"), last, phrase("refuse.no-toml-line", why=why.partition(" (at ")[0]), (name,))
    line, column = map(int, place.groups())
    told = phrase("refuse.no-toml-line", why=why[: place.start()])
    return BadInput(
        phrase("what.column-of-text", column=column),
        lines[line - 1].strip() if line <= len(lines) else "",
        told,
        (name, phrase("where.line", line=line)),
    )


def read_toml(path: Path, content: bytes | None = None) -> Table:
    """The top table of a TOML file; `content` is what stands in it where that was read before, as from a pipe.

    Raises `BadInput` with the line number, or both numbers of a newer format.
    """
    values = toml_values(path.name, read_whole(path) if content is None else content)
    _check_format(path, values)
    return Table(values, (path.name,))


def _check_format(path: Path, values: Mapping[str, Any]) -> None:
    found = values.get("format", FORMAT)
    if isinstance(found, bool) or not isinstance(found, int) or not 1 <= found <= FORMAT:
        raise BadInput("format", found, phrase("refuse.format", format=FORMAT), (path.name,))
