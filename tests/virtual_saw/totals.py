"""The totals that plan.json claims, held against what the saw counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil
from typing import Any

from tests.virtual_saw.figures import length
from tests.virtual_saw.judge import EXACT, Counted
from tests.virtual_saw.machine import Machine


def wrong_totals(plan: Mapping[str, Any], counted: Counted) -> Iterator[str]:
    """Every claim that is not so. Lengths add up over all bars, so they may be out by as many roundings."""
    steel, near = plan["steel_mm"], EXACT * max(1, counted.cuts)
    claims = {
        "bars": (sum(bar["count"] for bar in plan["bars"]), counted.bars, 0),
        "cuts": (plan["cuts"], counted.cuts, 0),
        "swings": (plan["swings"], counted.swings, 0),
        "tilts": (plan["tilts"], counted.tilts, 0),
        "rolls": (plan["rolls"], counted.rolls, 0),
        "steel bought": (steel["bought"], counted.bought, near),
        "steel in pieces": (steel["pieces"], counted.pieces, near),
        "steel in kerfs": (steel["kerf"], counted.kerf, near),
        "steel left": (steel["drops"] + steel["grip"], counted.left, near),
        "steel in all": (steel["bought"], sum(steel.values()) - steel["bought"], near),
    }
    for what, (told, found, out) in claims.items():
        if abs(told - found) > out:
            yield f"{what}: {told} told, {found} counted"
    yield from _bars(plan, counted)


def _bars(plan: Mapping[str, Any], counted: Counted) -> Iterator[str]:
    bars = zip(plan["bars"], counted.each, counted.set_ups, strict=True)
    for number, (bar, begins, set_ups) in enumerate(bars, 1):
        if (bar["swings"], bar["tilts"], bar["rolls"]) != set_ups:
            yield f"bar {number}: {bar['swings']}, {bar['tilts']}, {bar['rolls']} set-ups told, {set_ups} counted"
        told = [piece["at_mm"] for piece in bar["pieces"]]
        if len(told) != len(begins) or any(abs(one - two) > EXACT for one, two in zip(told, begins, strict=True)):
            yield f"bar {number}: pieces at {told} told, at {begins} cut"


def wrong_feeds(saw: Machine, plan: Mapping[str, Any]) -> Iterator[str]:
    """Lines of the feed lists whose travel is not what the control moves, or whose strokes are not what that takes."""
    if not saw.feed:
        return
    stroke, added = length(saw.feed["stroke"], saw.units), saw.kerf if saw.counts_kerf else 0.0
    for line in (
        line for run in plan["runs"] for line in run["feed"] or () if line["key_mm"] is not None and line["on"]
    ):
        travel = line["key_mm"] + added
        if abs(travel - line["travel_mm"]) > EXACT:
            yield f"{line['travel_mm']} of travel told, the control moves {travel}"
        if line["strokes"] != max(1, ceil((travel - EXACT) / stroke)):
            yield f"{line['strokes']} strokes of {stroke} told for {travel}"
