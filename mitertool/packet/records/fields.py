"""The keys of a record, each declared once: what it means, how its value is taken, and of what type it is in JSON."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final, Generic, TypeVar

import attrs

from mitertool.quantity import schema
from mitertool.quantity.schema import Schema

_UNIT: Final = re.compile(r"_(mm2|mm3|mm|deg|kg)$")

T = TypeVar("T")
P = TypeVar("P")


@attrs.frozen(eq=False)
class Field(Generic[T]):
    """A key of the record of a `T`.

    `take` gives its value; None: it is the attribute that the key is named after, less the unit. `tell` turns that into
    JSON. `type` says in JSON Schema what it is and means. `when` says of which values the record has it; None: of all.
    """

    type: Callable[[], Schema]
    take: Callable[[T], Any] | None = None
    tell: Callable[[Any], Any] | None = None
    when: Callable[[T], bool] | None = None

    def of(self, key: str, value: T) -> Any:
        """What the record of a value has at its key."""
        found = getattr(value, _UNIT.sub("", key)) if self.take is None else self.take(value)
        return found if self.tell is None else self.tell(found)


@attrs.frozen(eq=False)
class Record(Generic[T]):
    """What is told of a `T` in JSON: mm and degrees in full precision, every key with its unit.

    `more` are rules of the schema for several keys together.
    """

    fields: Mapping[str, Field[T]]
    more: Schema = attrs.field(factory=dict)

    def of(self, value: T) -> dict[str, Any]:
        """The record of a value."""
        return {key: one.of(key, value) for key, one in self.fields.items() if one.when is None or one.when(value)}

    def schema(self, says: str) -> Schema:
        """The schema of the record, which needs the keys that it has of every value."""
        needed = tuple(key for key, one in self.fields.items() if one.when is None)
        return schema.table({key: one.type() for key, one in self.fields.items()}, needed, says, **self.more)

    def within(self, part: Callable[[P], T]) -> dict[str, Field[P]]:
        """Its fields as those of a larger record, of which `part` gives what they are taken from."""
        return {key: _of_part(key, one, part) for key, one in self.fields.items()}


def record_of(**fields: Field[T]) -> Record[T]:
    """The record that has these fields."""
    return Record(fields)


NUMBER: Final[Schema] = {"type": "number"}
TEXT: Final[Schema] = {"type": "string"}


def figure(says: str, take: Callable[[T], float] | None = None) -> Field[T]:
    """A number."""
    return _typed(NUMBER, says, take)


def known(says: str, take: Callable[[T], float | None] | None = None) -> Field[T]:
    """A number, null where the files do not say what it takes to know it."""
    return _typed(or_null(NUMBER), says, take)


def whole(says: str, take: Callable[[T], int] | None = None) -> Field[T]:
    """A count."""
    return _typed({"type": "integer", "minimum": 0}, says, take)


def text(says: str, take: Callable[[T], str] | None = None) -> Field[T]:
    """A text, which may be empty."""
    return _typed(TEXT, says, take)


def flag(says: str, take: Callable[[T], bool] | None = None) -> Field[T]:
    """true or false."""
    return _typed({"type": "boolean"}, says, take)


def one_of(words: Iterable[str], says: str, take: Callable[[T], str] | None = None) -> Field[T]:
    """One of some words."""
    return _typed({"enum": list(words)}, says, take)


def by_name(one: str, says: str, take: Callable[[T], Any] | None = None) -> Field[T]:
    """Values of a type of JSON by names that the files give."""
    return _typed({"type": "object", "additionalProperties": {"type": one}}, says, take, dict)


def texts(one: str, says: str, take: Callable[[T], Iterable[str]] | None = None) -> Field[T]:
    """A list of texts; `one` says what each is."""
    return _typed(_list({**TEXT, "description": one}), says, take, list)


def figures(says: str, take: Callable[[T], Iterable[float]] | None = None) -> Field[T]:
    """A list of numbers."""
    return _typed(_list(NUMBER), says, take, list)


def record(of: Record[P], says: str, take: Callable[[T], P | None] | None = None) -> Field[T]:
    """A record below this one."""
    return Field(lambda: of.schema(says), take, of.of)


def records(of: Record[P], one: str, says: str, take: Callable[[T], Iterable[P] | None] | None = None) -> Field[T]:
    """A list of records; `one` says what each is."""
    return Field(lambda: {**_list(of.schema(one)), "description": says}, take, lambda parts: [of.of(p) for p in parts])


def maybe(one: Field[T]) -> Field[T]:
    """The same, or null."""
    tell = one.tell
    return Field(lambda: or_null(one.type()), one.take, tell and (lambda found: None if found is None else tell(found)))


def of_known(of: Record[P], value: P | None) -> dict[str, Any] | None:
    """The record of a value; None where there is none."""
    return None if value is None else of.of(value)


def or_null(one: Schema) -> Schema:
    """The same type, or null."""
    return {**one, "type": [one["type"], "null"]}


def _list(one: Schema) -> Schema:
    return {"type": "array", "items": one}


def _typed(
    one: Schema, says: str, take: Callable[[T], Any] | None, tell: Callable[[Any], Any] | None = None
) -> Field[T]:
    return Field(lambda: {**one, "description": says}, take, tell)


def _of_part(key: str, one: Field[T], part: Callable[[P], T]) -> Field[P]:
    when = one.when
    inside = None if when is None else lambda value: when(part(value))
    return Field(one.type, lambda value: one.of(key, part(value)), when=inside)
