"""The keys of bars inside a frame and of holes in it; knows frame and quantity."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from mitertool.base.errors import BadInput
from mitertool.base.names import all_of
from mitertool.frame.holes import SIDES as HOLE_SIDES
from mitertool.frame.holes import FrameHole
from mitertool.frame.inside import RISING, SPACED
from mitertool.frame.inside.diagonals import CROSSINGS, ENDS
from mitertool.job.keys import LAY
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Keys, Rule, Values, Variants, need, one_way
from mitertool.quantity.kinds import LENGTH_FROM_ZERO, POSITIVE_LENGTH, TEXT, Kind, choice, count, several, unread
from mitertool.quantity.tables import Table
from mitertool.quantity.units import Units
from mitertool.words import phrase

_INSIDE: Final = "table.inside"


def two_words(value: Any, what: str, _: Units) -> list[str]:
    """A word for both ends, or two."""
    words = [value, value] if isinstance(value, str) else value
    if not isinstance(words, list) or not all(isinstance(word, str) for word in words):
        raise BadInput(what, value, phrase("refuse.two-words"))
    return words


def listed(given: Sequence[str]) -> str:
    """The keys that were given, in words."""
    return all_of(given) if given else phrase("found.no-size")


def _inside(*rules: Rule, **keys: Key) -> Keys:
    """The keys of bars inside a frame of one kind, those of all kinds before them."""
    every = {
        "bars": need("inside.bars", choice((*SPACED, "brace"))),
        "section": Key("inside.section", TEXT),
        "lay": LAY,
        "grade": Key("inside.grade", TEXT),
        "bays": Key("inside.bays", several(count())),
        "gap": Key("inside.gap", LENGTH_FROM_ZERO),
        "shortest": Key("inside.shortest", LENGTH_FROM_ZERO),
    }
    return Keys(_INSIDE, {**every, **keys}, rules)


_SPACED: Final = _inside(
    one_way("bars", ("clear_most", "count", "at"), listed, "refuse.spaced"),
    clear_most=Key("inside.clear_most", POSITIVE_LENGTH),
    count=Key("inside.count", count()),
    at=Key("inside.at", several(LENGTH_FROM_ZERO)),
)

INSIDE: Final = Variants(
    _INSIDE,
    "bars",
    {
        **dict.fromkeys(SPACED, _SPACED),
        "brace": _inside(
            rising=Key("inside.rising", choice(RISING)),
            ends=Key("inside.ends", Kind(two_words, schema.one_or_several({"enum": list(ENDS)}))),
            crossing=Key("inside.crossing", choice(CROSSINGS)),
        ),
    },
)
"""The keys of a table of bars inside a frame."""


def _fillings(value: Any, what: str, unit: Units) -> tuple[Values, ...]:
    values = several(unread({})).read(value, what, unit)
    if not values or not all(isinstance(one, dict) for one in values):
        raise BadInput(what, value, phrase("refuse.inside"))
    return tuple(INSIDE.read(Table(one, (phrase("what.inside", number=i),), unit)) for i, one in enumerate(values, 1))


FILLED: Final[Mapping[str, Key]] = {"inside": Key("frame.inside", Kind(_fillings, schema.several(INSIDE.schema)))}


def _two_corners(value: Any, what: str, unit: Units) -> tuple[int, ...]:
    found: tuple[int, ...] = several(count()).read(value, what, unit)
    if len(found) != 2:
        raise BadInput(what, value, phrase("refuse.two-corners"))
    return found


_HOLE: Final = Keys(
    "table.hole",
    {
        "corners": need("frame-hole.corners", Kind(_two_corners, schema.several(count().schema, 2, 2))),
        "at": need("frame-hole.at", POSITIVE_LENGTH),
        "side": need("frame-hole.side", choice(tuple(HOLE_SIDES))),
    },
)


def _holes(value: Any, what: str, unit: Units) -> tuple[FrameHole, ...]:
    values = several(unread({})).read(value, what, unit)
    if not values or not all(isinstance(one, dict) for one in values):
        raise BadInput(what, value, phrase("refuse.frame-holes"))
    tables = (Table(one, (phrase("what.hole", number=i),), unit) for i, one in enumerate(values, 1))
    return tuple(FrameHole(said["corners"], said["at"], said["side"]) for said in map(_HOLE.read, tables))


HOLES: Final[Mapping[str, Key]] = {"holes": Key("frame.holes", Kind(_holes, schema.several(_HOLE.schema)))}
