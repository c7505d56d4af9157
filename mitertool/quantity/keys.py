"""The keys of a table of a file, each declared once: reader, schema and help come from the same words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among, either
from mitertool.quantity import schema
from mitertool.quantity.kinds import Kind, choice, unread
from mitertool.quantity.problem import Remark, lengths, names
from mitertool.quantity.schema import Schema
from mitertool.quantity.tables import Table
from mitertool.words import phrase, said

Values = Mapping[str, Any]
"""What the keys of a table say: mm, degrees, numbers and words; a key that is not there has no value."""


@attrs.frozen(eq=False)
class Key:
    """A key: what it means, how its value is written, and whether its table needs it.

    What it means stands in the table of words, as `key.` and its name there, or in words of its own that the table has
    not; `others` are the names of what else it means.
    """

    name: str
    kind: Kind
    needed: bool = False
    others: tuple[str, ...] = ()

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes of what it means."""
        return tuple(f"key.{name}" for name in dict.fromkeys((self.name, *self.others)))

    @property
    def says(self) -> str:
        """What it means."""
        return said(self.codes)

    @property
    def schema(self) -> Schema:
        """The same for an editor."""
        return self.kind.told(*self.codes)


def need(name: str, kind: Kind) -> Key:
    """A key that its table needs."""
    return Key(name, kind, needed=True)


@attrs.frozen(eq=False)
class Rule:
    """What holds for several keys of a table together: `check` raises `BadInput`, `schema` tells it to an editor."""

    check: Callable[[Values], None]
    schema: Schema = attrs.field(factory=dict)


@attrs.frozen(eq=False)
class Keys:
    """The keys of a table, what the table is by the code of its words, and the rules that hold for several of them."""

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
        told = {name: key.schema for name, key in self.keys.items()}
        return schema.table(told, self.needed, self.says, **self.more)

    @property
    def needed(self) -> list[str]:
        """The keys that the table needs."""
        return [name for name, key in self.keys.items() if key.needed]

    @property
    def more(self) -> Schema:
        """The rules for an editor."""
        found: Schema = {}
        for word, one in (pair for rule in self.rules for pair in rule.schema.items()):
            found[word] = {**found.get(word, {}), **one} if isinstance(one, dict) else one
        return found

    def _found(self, table: Table) -> Iterator[tuple[str, Any]]:
        for name, key in self.keys.items():
            if table.has(name):
                yield name, key.kind.read(table.raw(name), name, table.units)
            elif key.needed:
                raise absent(name, key.kind)


def keys_of(says: str, *rules: Rule, **keys: Key) -> Keys:
    """A table with these keys and rules."""
    return Keys(says, keys, rules)


@attrs.frozen(eq=False)
class Variants:
    """A table whose keys depend on the word at one of them, `by`: the keys for `each` word, that one among them."""

    says: str
    by: str
    each: Mapping[str, Keys]

    def read(self, table: Table) -> dict[str, Any]:
        """What a table says, as the keys of its word have it. Raises `BadInput` with its place."""
        with table.place():
            if not table.has(self.by):
                raise absent(self.by, choice(tuple(self.each)))
            word = table.raw(self.by)
            if word not in tuple(self.each):
                raise BadInput(self.by, word, among(self.each))
        return self.each[word].read(table)

    @property
    def keys(self) -> dict[str, Key]:
        """The keys of all words; one that means several things says them all, and may be written in all their ways."""
        names = dict.fromkeys(name for keys in self.each.values() for name in keys.keys)
        return {name: _any_of([keys.keys[name] for keys in self.each.values() if name in keys.keys]) for name in names}

    @property
    def schema(self) -> Schema:
        """The same for an editor."""
        every = self.keys
        needed = [name for name in every if all(name in keys.needed for keys in self.each.values())]
        cases = [schema.where(self.by, word, _case(keys, every, needed)) for word, keys in self.each.items()]
        told = {name: key.schema for name, key in every.items()}
        return schema.table(told, needed, self.says, allOf=cases)


def _any_of(ones: Sequence[Key]) -> Key:
    first, *others = ones
    names = tuple(name for one in others for name in (one.name, *one.others))
    if all(one.kind.schema == first.kind.schema for one in others):
        return attrs.evolve(first, others=names)
    ways = [one.kind.schema for i, one in enumerate(ones) if one.kind.schema not in [o.kind.schema for o in ones[:i]]]
    return attrs.evolve(first, others=names, kind=unread({"anyOf": ways}))


def _case(keys: Keys, every: Mapping[str, Key], needed: Sequence[str]) -> Schema:
    """What holds where the word is that of these keys, besides what holds for every word."""
    narrower = {name: key.kind.schema for name, key in keys.keys.items() if key.kind.schema != every[name].kind.schema}
    more = [name for name in keys.needed if name not in needed]
    rules = {"properties": narrower, **keys.more} if narrower else keys.more
    return {**schema.only(keys.keys), **({"required": more} if more else {}), **rules}


def absent(name: str, kind: Kind | None = None) -> BadInput:
    """The refusal of a table without a key that it needs, with what may be written there where its kind can tell."""
    return BadInput(name, phrase("found.nothing"), _needed(kind.schema if kind else {}))


def _needed(told: Schema) -> str:
    if "enum" in told:
        return phrase("refuse.needed/one-of", allowed=", ".join(map(str, told["enum"])))
    if "examples" in told:
        return phrase("refuse.needed/such-as", example=either([str(one) for one in told["examples"][:2]]))
    return phrase("refuse.needed/text" if told.get("type") == "string" else "refuse.needed")


def exact(mm: float, says: str = "found.length", **parts: str) -> Remark:
    """A length in a refusal as a file would say it, in the words of a code where there are any."""
    return Remark(says, lengths(length=mm) + names(**parts))


def together(first: str, *others: str) -> Rule:
    """Where the first key stands the others are needed."""

    def check(found: Values) -> None:
        missing = next((name for name in others if name not in found), None)
        if first in found and missing:
            raise absent(missing)

    return Rule(check, {"dependentRequired": {first: list(others)}})


def apart(first: str, second: str) -> Rule:
    """Two forms of one figure: at most one of the keys stands there."""

    def check(found: Values) -> None:
        if first in found and second in found:
            raise BadInput(second, phrase("found.beside", name=first), phrase("refuse.one-of-two"))

    return Rule(check, {"dependentSchemas": schema.apart(first, second)})


def one_way(what: str, ways: Sequence[str], found_as: Callable[[Sequence[str]], str], allowed: str) -> Rule:
    """Exactly one of the keys is there; `found_as` tells those that are, the words of `allowed` which may be."""

    def check(found: Values) -> None:
        given = [name for name in ways if name in found]
        if len(given) != 1:
            raise BadInput(what, found_as(given), phrase(allowed))

    return Rule(check, schema.exactly_one(*ways))


def in_order(low: str, high: str) -> Rule:
    """The length of one key is that of another, or more."""

    def check(found: Values) -> None:
        if low in found and high in found and found[high] < found[low]:
            raise BadInput(high, exact(found[high]), exact(found[low], "refuse.in-order", low=low))

    return Rule(check)
