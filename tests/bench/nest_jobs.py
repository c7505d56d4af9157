"""Invented jobs of any size for the tables of the benchmark, drawn by lot; the same for the same name and size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import radians, tan
from random import Random
from typing import Final

import mitertool as mt
from mitertool.nest import Allowance, Item, Rates, Stock
from tests.nest.plan_checker import Mark

ALLOWANCE: Final = Allowance(kerf=2.5, trim=12, grip=80)
TUBE: Final = mt.rect_tube(60, 60, 4).named("tube", "")
WIDE_TUBE: Final = mt.rect_tube(80, 80, 4).named("wide tube", "")
FLAT_TUBE: Final = mt.rect_tube(100, 50, 4).named("flat tube", "")
LEG: Final = mt.angle(60, 60, 6).named("leg", "")
BARS: Final = ((6000.0, 60.0), (7500.0, 74.0), (12000.0, 117.0))
"""Length and price: a long bar costs a little less a metre."""

Angles = Callable[[Random], tuple[float, float]]


@dataclass(frozen=True)
class Asked:
    """A job: what is asked for, and as plain marks for the plan checker."""

    name: str
    items: list[Item]
    stock: list[Stock]
    marks: list[Mark]
    rates: Rates | None = None


def _few(random: Random) -> tuple[float, float]:
    """What a shop cuts most: square, 45 and one or two others, often alike at both ends."""
    left = random.choice([0, 0, 0, 45, 45, -45, 30, 22.5])
    return left, random.choice([left, -left, 0, 45])


def _free(random: Random) -> tuple[float, float]:
    """No two angles alike, as in a roof or a stair of winders."""
    return round(random.uniform(-55, 55), 2), round(random.uniform(-55, 55), 2)


def _square(_: Random) -> tuple[float, float]:
    return 0.0, 0.0


def _marks(random: Random, section: mt.Section, pieces: int, angles: Angles, first: int = 0) -> list[tuple[Mark, Item]]:
    found: list[tuple[Mark, Item]] = []
    left = pieces
    while left:
        quantity = min(left, random.choice([1, 1, 2, 2, 4, 4, 6, 8]))
        left -= quantity
        name = f"M{first + len(found)}"
        ends = angles(random)
        length = round(random.choice([random.uniform(250, 900), random.uniform(400, 2600)]), 1)
        piece = mt.Piece(section, length, mt.Cut(ends[0]), mt.Cut(ends[1]), at="centerline")
        slopes = [(tan(radians(end)), 0.0) for end in ends]
        size = (section.width, section.height)
        mark = Mark(*(name, section.name, section.name, *size, "", length, slopes[0], slopes[1], quantity, piece.poses))
        found.append((mark, Item(name, piece, quantity)))
    return found


def _job(
    name: str,
    pieces: int,
    angles: Angles,
    sections: tuple[mt.Section, ...] = (TUBE,),
    lengths: int = 1,
    rates: Rates | None = None,
) -> Asked:
    random = Random(f"{name} {pieces}")
    found: list[tuple[Mark, Item]] = []
    for number, section in enumerate(sections):
        share = pieces * (number + 1) // len(sections) - pieces * number // len(sections)
        found += _marks(random, section, share, angles, len(found))
    priced = lengths > 1 or rates is not None
    stock = [
        Stock(section.name, length, cost=price if priced else 1.0)
        for section in sections
        for length, price in BARS[:lengths]
    ]
    return Asked(f"{name} {pieces}", [item for _, item in found], stock, [mark for mark, _ in found], rates)


JOBS: Final[dict[str, Callable[[int], Asked]]] = {
    "square": lambda n: _job("square", n, _square),
    "few angles": lambda n: _job("few angles", n, _few),
    "one pose": lambda n: _job("one pose", n, _few, (LEG,)),
    "free angles": lambda n: _job("free angles", n, _free),
    "one pose, free angles": lambda n: _job("one pose, free angles", n, _free, (LEG,)),
    "three lengths": lambda n: _job("three lengths", n, _few, lengths=3),
    "three sections": lambda n: _job("three sections", n, _few, (TUBE, WIDE_TUBE, FLAT_TUBE)),
    "rates": lambda n: _job("rates", n, _few, rates=Rates(1.5, 2.0, 60.0)),
}
