"""Exercises of lengths: what is keyed for a run of parallel pieces, and where a stop stands; knows cases."""

from __future__ import annotations

from typing import Final

from mitertool.cut import Cut
from mitertool.piece import Piece
from mitertool.practice.case import Case, SwungCut, long_at
from mitertool.practice.exercise import Exercise, RightAnswer
from mitertool.quantity.problem import Remark, lengths, names, words
from mitertool.saw.setting.reach import ENDS

_LONG: Final = (120.0, 900.0)
"""mm of the pieces that are asked."""


def keyed(case: Case) -> Exercise | None:
    """What a bar feed is given for pieces whose parallel cuts follow one another."""
    swung = case.swung()
    if swung is None or case.saw.feed is None:
        return None
    length, feed, kerf = case.length(*_LONG), case.saw.feed, case.saw.kerf
    along = swung.cut.kerf_along(kerf)
    travel = length + along
    key = travel - (kerf if feed.counts_kerf else 0.0)
    if not feed.shortest <= key <= (feed.longest or key):
        return None
    told = lengths(length=length, kerf=kerf, along=along, travel=travel, key=key) + swung.stands
    counts = "counts" if feed.counts_kerf else "plain"
    return Exercise(
        "key",
        swung.reach,
        Remark("practice.key", told + names(section=case.section.name), counts),
        RightAnswer("length", key, case.step / 2),
        Remark("practice.key.answer", told),
        (
            Remark("practice.key.along", told),
            Remark("practice.key.travel", told),
            Remark("practice.key.control", told, counts),
        ),
        _parallel(case, swung, length),
    )


def _parallel(case: Case, swung: SwungCut, length: float) -> Piece:
    left, right = (swung.cut if swung.end == end else Cut(-swung.cut.miter) for end in ENDS)
    return Piece(case.section, length, left, right)


def stop(case: Case) -> Exercise | None:
    """Where a stop stands that the long tip of the end cut first touches."""
    swung = case.swung()
    if swung is None or swung.end != case.saw.leads:
        return None
    short = case.length(*_LONG)
    more = case.section.width * swung.slant
    told = lengths(short=short, width=case.section.width, more=more, far=short + more) + swung.stands
    told += names(section=case.section.name) + words(long=f"side.{long_at(swung.cut)}")
    left, right = (swung.cut if swung.end == end else Cut() for end in ENDS)
    return Exercise(
        "stop",
        swung.reach,
        Remark("practice.stop", told),
        RightAnswer("length", short + more, 2 * case.step),
        Remark("practice.stop.answer", told),
        (Remark("practice.stop.more", told), Remark("practice.stop.far", told)),
        Piece(case.section, short, left, right, "short-point"),
    )
