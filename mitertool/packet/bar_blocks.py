"""Bars on the sheet: drawn with their cuts, running tape positions, and the buying list; knows nest and layout."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.drawing import OUTLINE, THIN, Drawing, Line, Polygon, Text, text_width, wrap
from mitertool.job import Solution
from mitertool.nest import Bar, Plan, buying_list
from mitertool.packet.layout import Block, Column, cell, table
from mitertool.quantity import Units, show_length, show_mass

_TALL: Final = 9.0
_PITCH: Final = 4.6


def bar_blocks(solution: Solution, width: float) -> Iterator[Block]:
    """The buying list, what the plan is worth, and every bar with its cuts."""
    plan, units = solution.plan, solution.job.head.units
    if plan is None or not plan.bars:
        return
    yield from _buying(plan, width, units)
    yield _worth(plan, width, units)
    longest = max(bar.stock_length for bar in plan.bars)
    for number, bar in enumerate(plan.bars, 1):
        yield from _bar(number, bar, width, longest, units)


def _buying(plan: Plan, width: float, units: Units) -> list[Block]:
    columns = [
        Column("Buy", 16, "right", bold=True, height=3.5),
        Column("Section", 60),
        Column("Grade", 40),
        Column("Length", 30, "right", bold=True),
        Column("Mass", width - 146, "right"),
    ]
    rows = [
        [str(p.count), p.section, p.grade, show_length(p.length, units), show_mass(p.mass, units)]
        for p in buying_list(plan)
    ]
    return table(columns, rows)


def _worth(plan: Plan, width: float, units: Units) -> Block:
    """What of the steel goes where, and how good the plan is."""
    steel = plan.steel
    parts = ("pieces", "kerf", "wedges", "trim", "grip", "drops")
    shown = ", ".join(f"{part} {show_length(getattr(steel, part), units)}" for part in parts)
    least = plan.proved or plan.cost <= plan.lower_bound * (1 + 1e-12)
    best = "no plan needs less steel" if least else f"not proved least; no plan costs less than {plan.lower_bound:g}"
    setups = f"{plan.swings} swings and {plan.rolls} rolls, no plan needs fewer than {plan.setups_bound} set-ups"
    lines = [f"Steel bought {show_length(steel.bought, units)}: {shown}.", f"Cost {plan.cost:g}, {best}. {setups}."]
    wrapped = [part for line in lines for part in wrap(line, width, 3.2)]
    texts = [cell(part, (0, -_PITCH * (i + 1)), width, 3.2) for i, part in enumerate(wrapped)]
    return Block(_PITCH * len(wrapped) + 1, Drawing(texts))


def _bar(number: int, bar: Bar, width: float, longest: float, units: Units) -> Iterator[Block]:
    times = f", {bar.count} alike" if bar.count > 1 else ""
    names = ", ".join(word for word in (bar.section.name, bar.grade) if word)
    title = f"Bar {number}{times}: {names}, {show_length(bar.stock_length, units)}, drop {show_length(bar.drop, units)}"
    k = width / longest
    picture = _picture(bar, k).moved(0, -8 - _TALL)
    lines = list(wrap(_positions(bar, units), width, 3.0))
    first, rest = lines[:_MOST], lines[_MOST:]
    height = 8 + _TALL + 2 + _PITCH * len(first)
    texts = [cell(title, (0, -5), width, 3.6, bold=True)]
    texts += [cell(line, (0, -9.5 - _TALL - _PITCH * (i + 0.6)), width, 3.0) for i, line in enumerate(first)]
    yield Block(height, picture + Drawing(texts))
    for start in range(0, len(rest), _MOST):
        part = rest[start : start + _MOST]
        more = [cell(line, (0, -_PITCH * (i + 1)), width, 3.0) for i, line in enumerate(part)]
        yield Block(_PITCH * len(part) + 1, Drawing(more))


_MOST: Final = 30
"""Lines of tape positions in one block, so that it fits any page."""


def _picture(bar: Bar, k: float) -> Drawing:
    """The bar to scale along its length from its leading end, with its cuts and as many marks as have room."""
    end = bar.stock_length * k
    outline = Polygon([(0, 0), (end, 0), (end, _TALL), (0, _TALL)], THIN)
    cuts = [Line((cut.fixed * k, 0), (cut.moving * k, _TALL), OUTLINE) for cut in bar.cuts]
    return Drawing([outline, *cuts, *_marks(bar, k)])


def _marks(bar: Bar, k: float) -> Iterator[Text]:
    starts = [placed.at for placed in bar.pieces]
    ends = [*starts[1:], bar.stock_length - bar.drop]
    reach = max((abs(cut.moving - cut.fixed) for cut in bar.cuts), default=0.0)
    for placed, begin, finish in zip(bar.pieces, starts, ends, strict=True):
        if (finish - begin - reach) * k > text_width(placed.mark, 2.8) + 1:
            yield Text(((begin + finish) / 2 * k, _TALL / 2), placed.mark, 2.8, "center", "middle")


def _positions(bar: Bar, units: Units) -> str:
    """Where each cut meets the fixed and the moving side, by tape from the leading end."""
    said = []
    for number, cut in enumerate(bar.cuts, 1):
        fixed, moving = show_length(cut.fixed, units), show_length(cut.moving, units)
        place = fixed if fixed == moving else f"{fixed} fixed side, {moving} moving side"
        said.append(f"{number}: {place}{' (shared)' if cut.shared else ''}".replace(" ", "\u00a0"))
    return "Tape from the leading end: " + "; ".join(said)
