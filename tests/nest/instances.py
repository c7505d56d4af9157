"""The instances of `data/` as items, stock and allowance, and as the plain marks of the plan checker."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import mitertool as mt
from mitertool.nest import Allowance, Item, Plan, Stock
from tests.nest.plan_checker import Mark

DATA = Path(__file__).parent / "data"
POSES = {"I": "as-drawn", "Z": "end-for-end", "X": "rolled", "Y": "end-for-end-rolled"}
SQUARE_TUBE, ANGLE = set("IZXY"), set("I")


@dataclass(frozen=True)
class Instance:
    """What a file asks for, and what is known about its answer."""

    name: str
    items: list[Item]
    stock: list[Stock]
    allowance: Allowance
    marks: list[Mark]
    known: dict[str, Any]
    raw: dict[str, Any]


def load(path: Path) -> Instance:
    """A file; a width with all four poses is a square tube, with one an angle, which is all that the poses say."""
    raw = json.loads(path.read_text(encoding="utf-8"))
    sections = {one["id"]: _section(one) for one in raw["sections"]}
    poses = {one["id"]: tuple(POSES[letter] for letter in one["poses"]) for one in raw["sections"]}
    widths = {one["id"]: one["W"] for one in raw["sections"]}
    stock = [Stock(one["section"], one["length"], "", one["qty"], one["cost"]) for one in raw["stock"]]
    allowance = Allowance(raw["kerf"], raw["trim"], raw["grip"])
    items = [_item(one, sections[one["section"]], poses[one["section"]]) for one in raw["pieces"]]
    marks = [_mark(one, widths[one["section"]], poses[one["section"]]) for one in raw["pieces"]]
    return Instance(raw["name"], items, stock, allowance, marks, raw["known"], raw)


def _section(one: dict[str, Any]) -> mt.Section:
    width = one["W"]
    shape = mt.rect_tube if set(one["poses"]) == SQUARE_TUBE else mt.angle
    return shape(width, width, width / 10).named(one["id"], "")


def _item(one: dict[str, Any], section: mt.Section, poses: tuple[str, ...]) -> Item:
    left, right = mt.Cut.from_slopes(one["pL"], 0), mt.Cut.from_slopes(one["pR"], 0)
    return Item(one["id"], mt.Piece(section, one["c"], left, right, at="centerline"), one["demand"], "", poses)


def _mark(one: dict[str, Any], width: float, poses: tuple[str, ...]) -> Mark:
    ends = ((one["pL"], 0.0), (one["pR"], 0.0))
    return Mark(
        *(one["id"], one["section"], one["section"], width, width, "", one["c"], *ends, one["demand"], poses),
    )


def as_letters(instance: Instance, plan: Plan) -> dict[str, Any]:
    """The plan as bars with their pieces, one entry a bar."""
    letters = {word: letter for letter, word in POSES.items()}
    by_cost = sorted(instance.raw["stock"], key=lambda one: one["cost"])
    bars = []
    for bar in plan.bars:
        stock = next(
            one["id"] for one in by_cost if (one["section"], one["length"]) == (bar.section.name, bar.stock_length)
        )
        pieces = [{"piece": p.mark, "pose": letters[p.pose], "x": p.at} for p in bar.pieces]
        bars += [{"stock": stock, "pieces": pieces}] * bar.count
    return {"instance": instance.name, "bars": bars}
