"""The tables of a job file that are alike in every job, their keys and the rules of the whole file; knows quantity."""

from __future__ import annotations

from typing import Any, Final

from mitertool.bar.spacing import SECOND_KERF
from mitertool.base.errors import BadInput
from mitertool.cut.keys import END
from mitertool.piece import AT, POSES
from mitertool.quantity import schema
from mitertool.quantity.keys import Key, Rule, Values, keys_of, need
from mitertool.quantity.kinds import (
    AS_WRITTEN,
    FLAG,
    LENGTH_FROM_ZERO,
    POSITIVE_LENGTH,
    TEXT,
    UNIT,
    WORDS,
    Kind,
    Limits,
    choice,
    count,
    number,
    unread,
)
from mitertool.quantity.units import Units

TABLES: Final = ("format", "job", "section", "stock", "piece", "list", "frame", "nest", "labels")
"""What stands at the top of a job file."""

LONGEST_MARK: Final = 20
"""Characters of a mark that a column of the cut sheet holds in readable lettering."""


def _mark(value: Any, what: str, unit: Units) -> str:
    mark: str = WORDS.read(value, what, unit)
    if len(mark) > LONGEST_MARK:
        raise BadInput(what, mark, f"a mark has at most {LONGEST_MARK} characters")
    return mark


MARK: Final = need(
    "The name on drawing and sheet; no two alike.", Kind(_mark, {**WORDS.schema, "maxLength": LONGEST_MARK})
)
GRADE: Final = Key("The material, such as S355; pieces and bars of different grades never mix.", WORDS)
SECTION: Final = need("As the mill tag names it, or a name of this job's own sections.", TEXT)
LAY: Final = Key(
    "How it lies: degrees counter-clockwise seen with the feed, or a word for angle or channel.",
    unread({"type": ["number", "string"], "pattern": r"\S", "examples": [90, "toes up", "heel up"]}),
)
DXF_UNIT: Final = Key(
    "The unit of the drawing, where the file itself states none; it must not gainsay the file.", choice(("mm", "in"))
)
DXF_LAYER: Final = Key("The layer of the drawing that is read; all of them where it is not given.", TEXT)

PARTICULARS: Final = {
    "drawing": Key("The drawing and its sheet, printed as it is written here.", AS_WRITTEN),
    "heat": Key("The number of the heat or of its certificate, printed as it is written here.", AS_WRITTEN),
    "note": Key("What the floor must know besides, in words.", WORDS),
    "prep": Key("The weld preparation in words, such as prep 30, land 2.", WORDS),
    "process": Key("What is done after the cut, in words, such as deburr, mark.", WORDS),
}
"""Keys of [job], [[stock]], [[piece]] and [[frame]]: those of the job hold where a table of its own says nothing."""

HEAD: Final = keys_of(
    "The job itself.",
    name=need("What the job is called; it stands on every page.", WORDS),
    revision=Key("The revision, printed as it is written here.", AS_WRITTEN),
    date=Key("The day of the job, printed as it is written here.", AS_WRITTEN),
    customer=Key("Whom the job is for.", AS_WRITTEN),
    units=Key("How bare lengths in this file are meant, and how lengths are printed.", UNIT),
    saw=Key("The shop's saw file, from this file's folder; without one angles are degrees from square.", TEXT),
    tolerance=Key("The general tolerance, such as ISO 13920-B, printed as it is written here.", AS_WRITTEN),
    **PARTICULARS,
)

STOCK: Final = keys_of(
    "Bars to cut from; one table each length.",
    section=SECTION,
    grade=GRADE,
    length=need("The length of a bar.", POSITIVE_LENGTH),
    quantity=Key("How many such bars there are; as many as needed where it is not given.", count(least=0)),
    cost=Key("What a bar costs; its length counts where no cost is given.", number(Limits(least=0))),
    **PARTICULARS,
)

NEST: Final = keys_of(
    "What the saw takes of a bar besides the pieces.",
    kerf=Key("The width that the blade takes; goes before the saw file's.", LENGTH_FROM_ZERO),
    trim=Key("What the first cut of a bar takes off the raw end at least; 0 if not given.", LENGTH_FROM_ZERO),
    grip=Key("What the vise must hold of a bar; goes before the saw file's.", LENGTH_FROM_ZERO),
    wedge_least=Key("The thinnest offcut wanted between two cuts; 0 if not given.", LENGTH_FROM_ZERO),
    second_kerf=Key(
        "Where the kerf of the next piece's first cut may lie when the two cuts are not parallel: clear of the piece "
        "before it (so if not given), or over the place where its tip was, which is cut off by then.",
        choice(SECOND_KERF),
    ),
)


def _turn(value: Any, what: str, _: Units) -> tuple[str, ...]:
    if not isinstance(value, list) or any(pose not in POSES for pose in value):
        raise BadInput(what, value, f"a list of poses among {', '.join(POSES)}")
    return tuple(value)


def _check_quantity(found: Values) -> None:
    if found.get("quantity", 1) + found.get("opposite", 0) == 0:
        raise BadInput("quantity", 0, "give at least 1 of the piece or of its opposite hand")


def _end(end: str) -> Key:
    says = f"The {end} cut: degrees from square, or a text, or a table that gives it one way"
    return Key(
        f"{says}; or a list of cuts, the steel inside all of them: the first parts the bar, the others are cut after.",
        END,
    )


PIECE: Final = keys_of(
    "A mark: a length of bar with its two cuts, and how many; one table each.",
    Rule(_check_quantity),
    mark=MARK,
    section=SECTION,
    grade=GRADE,
    length=need("The length, measured as `at` says.", LENGTH_FROM_ZERO),
    at=Key("Where the length is measured; to the long point if not given.", choice(AT)),
    left=_end("left"),
    right=_end("right"),
    quantity=Key("How many as drawn; 1 where it is not given.", count(least=0)),
    opposite=Key("How many of the opposite hand; none where it is not given.", count(least=0)),
    lay=LAY,
    side_by_side=Key(
        "How many bars lie side by side in the vise and are cut at once, for parallel cuts; 1 if not given.", count()
    ),
    boxed=Key(
        "Whether two angles or channels are cut as one box, which gives as many of either hand; false if not given.",
        FLAG,
    ),
    out=Key("Which face shows, printed as it is written here.", WORDS),
    turn=Key(
        "The ways the piece may lie on a bar; all if none is given.",
        Kind(_turn, schema.several({"enum": list(POSES)}, 0)),
    ),
    **PARTICULARS,
)


def _check_pieces(found: Values) -> None:
    if not any(found.get(key) for key in _OF_PIECES):
        raise BadInput("job", "no pieces", "give at least one [[piece]], [[list]] or [[frame]]")


_OF_PIECES: Final = ("piece", "list", "frame")

PIECES_ASKED: Final = Rule(_check_pieces, {"anyOf": [{"required": [key]} for key in _OF_PIECES]})
