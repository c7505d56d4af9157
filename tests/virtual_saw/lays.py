"""How a section is laid in the vise by what the operator is told: its width, its height, and a few words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from math import radians

from tests.virtual_saw.steel import Section, Turn

HALF_A_STEP = 0.005 + 1e-9
"""degrees. Half a step of an angle in words."""

SHOWN = 1e-6
"""mm. What a width or a height told in full precision may be out."""


@dataclass(frozen=True)
class Stock:
    """A section as it is bought: its shape, and how it lies before any lay."""

    shape: str
    section: Section


@dataclass(frozen=True)
class Lies:
    """What is told of a lay, mm and words; `near` is what the sizes may be out by rounding."""

    wide: float
    high: float
    words: str = ""
    near: float = SHOWN


def words(stock: Stock, turn: Turn) -> str:
    """The words for a lay: where an angle has its heel, which way the toes of a channel point, which side lies flat."""
    laid = stock.section.turned(turn)
    if stock.shape == "angle":
        y, z = turn((0.0, 0.0))
        side, level = ("fixed" if y < laid.width / 2 else "moving"), ("bottom" if z < laid.height / 2 else "top")
        return f"heel at the {level}, {side}-jaw side"
    if stock.shape == "channel":
        (y0, z0), (y1, z1) = turn((0.0, 0.0)), turn((1.0, 0.0))
        across, up = round(y1 - y0), round(z1 - z0)
        ways = {(1, 0): "toward the moving jaw", (-1, 0): "toward the fixed jaw", (0, 1): "up", (0, -1): "down"}
        return f"toes {ways[across, up]}"
    if stock.shape == "z":
        return _of_z(turn)
    if stock.shape not in ("rect-tube", "flat", "i-section") or abs(laid.width - laid.height) < SHOWN:
        return ""
    return "lies on its wide side" if laid.width > laid.height else "stands on its narrow side"


def _of_z(turn: Turn) -> str:
    """Its lower flange as bought points to +y; the other is the same half a turn round."""
    (y0, z0), (y1, z1), (y2, z2) = (turn(place) for place in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))
    along, web = (round(y1 - y0), round(z1 - z0)), (round(y2 - y0), round(z2 - z0))
    if web[1]:
        return f"web up, flange low toward the {_jaw(along[0] * web[1])} jaw"
    return f"web flat, flange up at the {_jaw(-web[0] * along[1])} jaw"


def _jaw(way: int) -> str:
    return "moving" if way > 0 else "fixed"


def ways(stock: Stock) -> Iterator[Turn]:
    """Every way to lay a bar on one of its sides: on each of four, and turned end for end."""
    for over in (False, True):
        for angle in (0.0, 90.0, 180.0, 270.0):
            yield stock.section.turn(angle, over)


def laid(stock: Stock, lies: Lies) -> Section:
    """The section laid as told. Raises `ValueError` where no lay is so, or where two that differ are.

    How an outline of the shop's own lies is shown by its picture alone, which has it as it is drawn.
    """
    if stock.shape == "dxf" and fits(stock.section, lies):
        return stock.section
    found: list[Section] = []
    for turn in ways(stock):
        section = stock.section.turned(turn)
        if fits(section, lies) and words(stock, turn) == lies.words and not any(map(section.looks_like, found)):
            found.append(section)
    if len(found) != 1:
        raise ValueError(f"{len(found)} ways to lay {stock.shape} as told: {lies}")
    return found[0]


def by_words(stock: Stock, lies: str) -> Section:
    """The section laid as words say, by the first way that they fit."""
    return stock.section.turned(next(turn for turn in ways(stock) if words(stock, turn) == lies))


def stands_near(turn: Turn, stock: Stock, section: Section) -> bool:
    """Whether a section moved so stands in another's place, but for half a step of the angle that is told."""
    moved = stock.section.turned(turn)
    reach = moved.width + moved.height
    return all(
        min(abs(y - v) + abs(z - w) for v, w in section.corners) < reach * radians(HALF_A_STEP) + SHOWN
        for y, z in moved.corners
    )


def fits(section: Section, lies: Lies) -> bool:
    """Whether the sizes are those told."""
    return abs(section.width - lies.wide) <= lies.near and abs(section.height - lies.high) <= lies.near


ROLLED = re.compile(r"rolled (\d+(?:\.\d+)?)°, its top to the (fixed|moving) jaw")


def stands_so(stock: Stock, section: Section, lies: Lies) -> bool:
    """Whether a section as it stands in the vise is as told; rolled oddly, from how it is bought or laid end for end.

    Where nothing is told of a bar that is rolled oddly it is known by its sizes.
    """
    if told := ROLLED.fullmatch(lies.words):
        angle = float(told[1]) * (1 if told[2] == "moving" else -1)
        return fits(section, lies) and any(
            stands_near(stock.section.turn(angle, over), stock, section) for over in (False, True)
        )
    for turn in ways(stock):
        if stock.section.turned(turn).looks_like(section):
            return fits(section, lies) and words(stock, turn) == lies.words
    return fits(section, lies)
