"""The keys of a table of a file, each declared once: reader, schema and help come from the same words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

import attrs

from mitertool.base.errors import BadInput
from mitertool.quantity import schema
from mitertool.quantity.kinds import Kind, Schema
from mitertool.quantity.sentence import Sentence
from mitertool.quantity.tables import Table

Values = Mapping[str, Any]
"""What the keys of a table say: mm, degrees, numbers and words; a key that is not there has no value."""


@attrs.frozen(eq=False)
class Key:
    """A key: what it means in one sentence, how its value is written, and whether its table needs it."""

    says: str
    kind: Kind
    needed: bool = False


@attrs.frozen(eq=False)
class Rule:
    """What holds for several keys of a table together: `check` raises `BadInput`, `schema` tells it to an editor."""

    check: Callable[[Values], None]
    schema: Schema = attrs.field(factory=dict)


@attrs.frozen(eq=False)
class Keys:
    """The keys of a table, what the table is, and the rules that hold for several of them."""

    says: str
    keys: Mapping[str, Key]
    rules: tuple[Rule, ...] = ()

    def read(self, table: Table) -> dict[str, Any]:
        """What a table says, key by key. Raises `BadInput` with its place: unknown, absent, of the wrong kind."""
        table.only(*self.keys)
        with table.place():
            found = dict(self._found(table))
            for rule in self.rules:
                rule.check(found)
        return found

    @property
    def schema(self) -> Schema:
        """The same for an editor."""
        told = {name: key.kind.told(key.says) for name, key in self.keys.items()}
        needed = [name for name, key in self.keys.items() if key.needed]
        return schema.table(
            told, needed, self.says, **{word: one for r in self.rules for word, one in r.schema.items()}
        )

    def _found(self, table: Table) -> Iterator[tuple[str, Any]]:
        for name, key in self.keys.items():
            if table.has(name):
                yield name, key.kind.read(table.raw(name), name, table.units)
            elif key.needed:
                raise absent(name)


def absent(name: str) -> BadInput:
    """The refusal of a table without a key that it needs."""
    return BadInput(name, "nothing", "the key is needed here")


def exact(mm: float, says: str = "{:exact}") -> Sentence:
    """A length in a refusal as a file would say it."""
    return Sentence(says, (mm,))


def in_order(low: str, high: str) -> Rule:
    """The length of one key is that of another, or more."""

    def check(found: Values) -> None:
        if low in found and high in found and found[high] < found[low]:
            raise BadInput(high, exact(found[high]), exact(found[low], f"must be {low}, {{:exact}}, or more"))

    return Rule(check)
