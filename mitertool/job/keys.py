"""The tables of a job file that are alike in every job, their keys and the rules of the whole file; knows quantity."""

from __future__ import annotations

from typing import Any, Final

from mitertool.bar.spacing import SECOND_KERF
from mitertool.base.errors import BadInput
from mitertool.cut.keys import END
from mitertool.nest import WAYS
from mitertool.piece import AT, POSES
from mitertool.piece.marks import SIDES, PieceMark
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Rule, Values, exact, keys_of, need
from mitertool.quantity.kinds import (
    AS_WRITTEN,
    FLAG,
    LENGTH,
    LENGTH_FROM_ZERO,
    LONGEST_TEXT,
    POSITIVE_LENGTH,
    TEXT,
    UNIT,
    WORDS,
    Kind,
    Limits,
    angle,
    choice,
    count,
    number,
    several,
    unread,
)
from mitertool.quantity.tables import Table
from mitertool.quantity.units import Units
from mitertool.sections.abreast import MOST_ABREAST
from mitertool.words import LANGUAGES, phrase

TABLES: Final = ("format", "job", "section", "stock", "piece", "list", "frame", "nest", "labels")
"""What stands at the top of a job file."""

MOST_PIECES: Final = 10_000
"""Pieces of a mark, and frames of a kind: a plan of so many is made in a minute."""

LONGEST_MARK: Final = 20
"""Characters of a mark that a column of the cut sheet holds in readable lettering."""


def _mark(value: Any, what: str, unit: Units) -> str:
    if isinstance(value, str) and len(" ".join(value.split())) > LONGEST_TEXT:
        raise BadInput(what, value, phrase("refuse.long-mark", most=LONGEST_MARK))
    mark: str = WORDS.read(value, what, unit)
    if len(mark) > LONGEST_MARK:
        raise BadInput(what, mark, phrase("refuse.long-mark", most=LONGEST_MARK))
    return mark


MARK: Final = need("mark", Kind(_mark, {**WORDS.schema, "maxLength": LONGEST_MARK}))
GRADE: Final = Key("grade", WORDS)
SECTION: Final = need("section", TEXT)
LAY: Final = Key(
    "lay",
    unread({"type": ["number", "string"], "pattern": r"\S", "examples": [90, "toes up", "heel up"]}),
)
DXF_UNIT: Final = Key("dxf.units", choice(("mm", "in")))
DXF_LAYER: Final = Key("dxf.layer", TEXT)

PARTICULARS: Final = {
    "drawing": Key("particulars.drawing", AS_WRITTEN),
    "heat": Key("particulars.heat", AS_WRITTEN),
    "note": Key("particulars.note", WORDS),
    "prep": Key("particulars.prep", WORDS),
    "process": Key("particulars.process", WORDS),
}
"""Keys of [job], [[stock]], [[piece]] and [[frame]]: those of the job hold where a table of its own says nothing."""

HEAD: Final = keys_of(
    "table.job",
    name=need("job.name", WORDS),
    revision=Key("job.revision", AS_WRITTEN),
    date=Key("job.date", AS_WRITTEN),
    customer=Key("job.customer", AS_WRITTEN),
    units=Key("job.units", UNIT),
    saw=Key("job.saw", TEXT),
    tolerance=Key("job.tolerance", AS_WRITTEN),
    language=Key("job.language", choice(LANGUAGES)),
    **PARTICULARS,
)

STOCK: Final = keys_of(
    "table.stock",
    section=SECTION,
    grade=GRADE,
    length=need("stock.length", POSITIVE_LENGTH),
    quantity=Key("stock.quantity", count(least=0)),
    cost=Key("stock.cost", number(Limits(least=0))),
    **PARTICULARS,
)


def _rack(value: Any, what: str, unit: Units) -> bool | str:
    return value if isinstance(value, bool) else str(TEXT.read(value, what, unit))


NEST: Final = keys_of(
    "table.nest",
    way=Key("nest.way", choice(WAYS)),
    kerf=Key("nest.kerf", LENGTH_FROM_ZERO),
    trim=Key("nest.trim", LENGTH_FROM_ZERO),
    grip=Key("nest.grip", LENGTH_FROM_ZERO),
    wedge_least=Key("nest.wedge_least", LENGTH_FROM_ZERO),
    second_kerf=Key("nest.second_kerf", choice(SECOND_KERF)),
    rack=Key("nest.rack", Kind(_rack, {"type": ["boolean", "string"], "pattern": r"\S"})),
    keep=Key("nest.keep", POSITIVE_LENGTH),
)


def _turn(value: Any, what: str, _: Units) -> tuple[str, ...]:
    if not isinstance(value, list) or any(pose not in POSES for pose in value):
        raise BadInput(what, value, phrase("refuse.poses", poses=", ".join(POSES)))
    return tuple(value)


def _check_quantity(found: Values) -> None:
    if found.get("quantity", 1) + found.get("opposite", 0) == 0:
        raise BadInput("quantity", 0, phrase("refuse.no-piece"))


def _check_turned(found: Values) -> None:
    if "turned" in found and "turned_arc" in found:
        raise BadInput("turned_arc", exact(found["turned_arc"]), phrase("refuse.turned-twice"))


HOLE: Final = keys_of(
    "table.hole",
    **{
        "at": need("hole.at", LENGTH_FROM_ZERO),
        "from": Key("hole.from", choice(tuple(OTHER_END))),
        "side": need("hole.side", choice(SIDES)),
    },
)
"""The keys of a hole along a piece."""


def _holes(value: Any, what: str, unit: Units) -> tuple[PieceMark, ...]:
    values = several(unread({})).read(value, what, unit)
    if not values or not all(isinstance(one, dict) for one in values):
        raise BadInput(what, value, phrase("refuse.holes"))
    tables = (Table(one, (phrase("what.hole", number=i),), unit) for i, one in enumerate(values, 1))
    return tuple(PieceMark(said["at"], said.get("from", "left"), said["side"]) for said in map(HOLE.read, tables))


PIECE: Final = keys_of(
    "table.piece",
    Rule(_check_quantity),
    Rule(_check_turned, {"dependentSchemas": schema.apart("turned", "turned_arc")}),
    mark=MARK,
    section=SECTION,
    grade=GRADE,
    length=need("piece.length", LENGTH_FROM_ZERO),
    at=Key("piece.at", choice(AT)),
    left=Key("piece.left", END),
    right=Key("piece.right", END),
    turned=Key("piece.turned", angle(Limits(least=-360, most=360))),
    turned_arc=Key("piece.turned_arc", LENGTH),
    quantity=Key("piece.quantity", count(least=0, most=MOST_PIECES)),
    opposite=Key("piece.opposite", count(least=0)),
    lay=LAY,
    side_by_side=Key("piece.side_by_side", count(most=MOST_ABREAST)),
    boxed=Key("piece.boxed", FLAG),
    out=Key("piece.out", WORDS),
    turn=Key(
        "piece.turn",
        Kind(_turn, schema.several({"enum": list(POSES)}, 0)),
    ),
    holes=Key("piece.holes", Kind(_holes, schema.several(HOLE.schema))),
    **PARTICULARS,
)


def _check_pieces(found: Values) -> None:
    if not any(found.get(key) for key in _OF_PIECES):
        raise BadInput("job", phrase("found.no-pieces"), phrase("refuse.no-pieces"))


_OF_PIECES: Final = ("piece", "list", "frame")

PIECES_ASKED: Final = Rule(_check_pieces, {"anyOf": [{"required": [key]} for key in _OF_PIECES]})
