"""Spoiled pieces that become others, by lot: two marks of one section, one of them spoiled, and what plan.json tells.

A spoiled piece is its mark with both ends as drawn, its longest line as told.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import hypot
from pathlib import Path
from random import Random
from typing import Any

from mitertool.job import load, solve
from mitertool.job.done import read_work
from mitertool.job.rest import rest_of
from mitertool.packet.records import of_plan_file
from tests.virtual_saw import plan_reader, recuts
from tests.virtual_saw.judge import EXACT
from tests.virtual_saw.lays import Stock
from tests.virtual_saw.machine import Machine, read
from tests.virtual_saw.random_jobs import (
    ROLLABLE,
    SHAPES,
    Kind,
    head_of,
    in_mm,
    made_long,
    planes_of,
    saw_of,
    section_of,
    shown_in,
    table_of,
)
from tests.virtual_saw.recuts import POSES
from tests.virtual_saw.steel import SAME, Solid, minus
from tests.virtual_saw.walk import as_drawn

ANGLES = (0.0, 0.0, 45.0, -45.0, 30.0, 12.5, 5.0)
ROOM = (6, 16, 27, 40, 75)
"""mm. By how much a spoiled piece is longer than what it may become."""

LONG = 800.0
Ends = tuple[float, float]


@dataclass(frozen=True)
class Spoiled:
    """A saw, the section as bought, the piece that is there, the one it may become, and rows of plan.json on it."""

    saw: Machine
    stock: Stock
    old: Solid
    new: Solid
    rows: list[Mapping[str, Any]]
    plan: Any


def by_lot(seed: int, folder: Path) -> Spoiled:
    """The spoiled piece of a seed, and what the rest of its job tells of it."""
    lot = Random(seed)
    shape = SHAPES[seed % len(SHAPES)]
    one_way = shape in ROLLABLE and lot.random() < 0.5
    kind = Kind(shape, False, one_way, lot.choice((1.0, 25.4)), 52.0)
    keys, section = section_of(lot, kind)
    was, wanted = ((lot.choice(ANGLES), lot.choice(ANGLES)) for _ in range(2))
    stock = f'[[stock]]\nsection = "OWN"\nlength = {shown_in(6000, kind)}\n'
    marks = _mark("OLD", was, kind) + _mark("NEW", wanted, kind)
    (folder / "job.toml").write_text(head_of(kind) + table_of(kind, keys) + stock + marks)
    (folder / "saw.toml").write_text(saw_of(lot, kind))
    there = shown_in(LONG + lot.choice(ROOM), kind)
    (folder / "done.csv").write_text(f"what,name,length,quantity\nspoiled,OLD,{there},1\n")
    plan = _rest(folder)
    saw = read(folder / "saw.toml", tomllib.loads((folder / "job.toml").read_text()))
    solids = (
        made_long(_solid(section, ends), "long-point", in_mm(length, kind))
        for ends, length in ((was, there), (wanted, shown_in(LONG, kind)))
    )
    return Spoiled(
        saw, Stock(shape, section), *solids, [one for one in plan["recut_pieces"] if one["becomes"] == "NEW"], plan
    )


def _mark(name: str, ends: Ends, kind: Kind) -> str:
    says = f'[[piece]]\nmark = "{name}"\nsection = "OWN"\nlength = {shown_in(LONG if name == "NEW" else 1500, kind)}\n'
    return says + f"left = {ends[0]}\nright = {ends[1]}\n"


def _solid(section: Any, ends: Ends) -> Solid:
    low, high = planes_of((ends[0], 0.0), (ends[1], 0.0))
    return Solid(section, (low,), (high,))


def _rest(folder: Path) -> Any:
    whole = load(folder / "job.toml")
    rest = rest_of(whole, read_work(folder / "done.csv", whole), recut=True)
    return json.loads(json.dumps(of_plan_file(solve(rest, effort=0.1))))


def faults(spoiled: Spoiled) -> Iterator[str]:
    """What is wrong with what the cuts make of the piece that is there, each laid and stopped as told."""
    settings = {setting["number"]: setting for setting in spoiled.plan["settings"]}
    for row in spoiled.rows:
        solid = spoiled.old
        *first, last = [plan_reader.recut_of(cut, settings) for cut in row["cuts"]]
        for cut in first:
            walked, _ = recuts.cut(spoiled.saw, spoiled.stock, cut, solid, "stop", EXACT)
            yield from walked.wrong
            lying = as_drawn(walked.pieces[-1][1], spoiled.saw).bare
            solid = lying.moved(lying.section.turn(*POSES[cut.pose]))
        drawn = [
            one for one in _ways(solid, spoiled.new) if not list(recuts.wrong_blank(one, spoiled.new, last.end, EXACT))
        ]
        if not drawn:
            yield "the piece that is there does not hold the new one behind its finished end"
            continue
        yield from recuts.faults(spoiled.saw, spoiled.stock, last, drawn[0], spoiled.new, "stop", EXACT)[0]


def _ways(solid: Solid, like: Solid) -> Iterator[Solid]:
    for pose in POSES.values():
        moved = solid.moved(solid.section.turn(*pose))
        if moved.section.looks_like(like.section):
            yield moved


def moved(spoiled: Spoiled, by: float) -> Spoiled:
    """The same where the stop of the last cut stands so much further off, mm."""
    rows = [{**row, "cuts": [*row["cuts"][:-1], _further(row["cuts"][-1], by)]} for row in spoiled.rows]
    return replace(spoiled, rows=rows)


def _further(cut: Mapping[str, Any], by: float) -> Mapping[str, Any]:
    return {**cut, "stop": {**cut["stop"], "from_blade_mm": cut["stop"]["from_blade_mm"] + by}}


def comes_out(spoiled: Spoiled) -> bool:
    """Whether the new piece comes out of the one that is there: an end stays, or loses a whole kerf everywhere."""
    return any(_within(spoiled.old, new, spoiled.saw.kerf) for new in _ways(spoiled.new, spoiled.old))


def _within(old: Solid, new: Solid, kerf: float) -> bool:
    """Moved along the bar as near as can be to either end of the old piece: what it then has at the other."""
    low, high = minus(new.low[0], old.low[0]), minus(old.high[0], new.high[0])
    takes = [kerf * hypot(1.0, *plane[1:]) for plane in (new.low[0], new.high[0])]
    stays = [hypot(*gap[1:]) < SAME for gap in (low, high)]
    least = [old.section.least(gap) for gap in (low, high)]
    for kept in (0, 1):
        room = least[0] + least[1] - takes[1 - kept] - (0.0 if stays[kept] else takes[kept])
        if room > -SAME:
            return True
    return all(stays) and abs(sum(least)) < SAME
