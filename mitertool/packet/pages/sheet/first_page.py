"""What stands first on the cut sheet: totals, what cannot be made, cautions, the buying list; knows layout."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.drawing import Drawing, wrap
from mitertool.job import Solution
from mitertool.nest import Plan, buying_list
from mitertool.packet.cautions import cautions, feed_caution
from mitertool.packet.paper import stand
from mitertool.packet.paper.layout import Block, TableColumn, boxed, cell, table
from mitertool.packet.words import instead
from mitertool.quantity import Units, show_length, show_mass
from mitertool.quantity.units import said
from mitertool.saw import Machine

_WORD: Final = 24.0
_HEIGHT: Final = 3.3
_PITCH: Final = 5.2


def first_blocks(solution: Solution, width: float) -> Iterator[Block]:
    """The blocks of the first page, `width` paper mm wide."""
    yield _facts_block(_facts(solution), width)
    if solution.problems:
        yield from boxed("Cannot be made as asked", solution.problems, width)
    if solution.past:
        ways = tuple(instead(past, solution.job.head.units) for past in solution.past)
        yield from boxed("Past the scale, and what to do instead", ways, width)
    yield from boxed("Before you start", _cautions(solution.job.saw), width)
    if solution.plan and solution.plan.bars:
        yield from _buying(solution.plan, width, solution.job.head.units)


def _cautions(saw: Machine | None) -> tuple[str, ...]:
    of_feed = (feed_caution(), saw.feed.caution) if saw and saw.feed else ()
    return (*cautions()[:-1], *(says for says in of_feed if says), cautions()[-1])


def _facts_block(facts: list[tuple[str, str]], width: float) -> Block:
    """Words at the left, each with its sentences beside it."""
    texts, y = [], 0.0
    for word, says in facts:
        lines = wrap(says, width - _WORD, _HEIGHT)
        texts.append(cell(word, (0, y - _PITCH + 1), _WORD - 2, _HEIGHT, bold=True))
        texts += [cell(line, (_WORD, y - _PITCH * (i + 1) + 1), width - _WORD, _HEIGHT) for i, line in enumerate(lines)]
        y -= _PITCH * len(lines)
    return Block(-y, Drawing(texts))


def _facts(solution: Solution) -> list[tuple[str, str]]:
    return [fact for facts in (_amounts(solution), _readings(solution)) for fact in facts]


def _amounts(solution: Solution) -> Iterator[tuple[str, str]]:
    units = solution.job.head.units
    count = sum(piece.quantity for piece in solution.pieces)
    mass = sum(piece.piece.nominal_mass * piece.quantity for piece in solution.pieces)
    counted = f"{_counted(count, 'piece')} of {_counted(len(solution.pieces), 'mark')}"
    yield "Pieces", f"{counted}, {show_mass(mass, units)} in pieces (nominal mass)"
    plan = solution.plan
    if plan is None:
        yield "Bars", "No stock lengths in the job: no list of bars"
        return
    bars, cuts = (sum(bar.count * n for bar, n in zip(plan.bars, of, strict=True)) for of in _per_bar(plan))
    if plan.left_out:
        yield "On no bar", solution.on_no_bar
    bought = show_length(plan.steel.bought, units)
    yield "Bars", f"{_counted(bars, 'bar')}, {bought} of stock, {_counted(cuts, 'cut')}"
    tilts = f", {plan.tilts} tilts of the blade" if plan.tilts else ""
    yield "Set-ups", f"{solution.swings} swings of the arm{tilts}, {plan.rolls} rolls of the bar"
    if solution.further:
        pieces = sum(row.quantity for row in solution.further)
        swings = f"{_counted(solution.further_swings, 'swing')} of the arm, counted above"
        yield "More cuts", f"{_counted(pieces, 'cut')} on parted pieces, for ends with more than one plane; {swings}"
    parts = ("pieces", "kerf", "wedges", "trim", "grip", "drops")
    shown = ", ".join(f"{part} {show_length(getattr(plan.steel, part), units)}" for part in parts)
    yield "Steel", f"{bought} bought: {shown}. {_worth(plan)}"
    yield "Time", _time(solution)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _per_bar(plan: Plan) -> tuple[list[int], list[int]]:
    """One for each bar, and its number of cuts."""
    return [1 for _ in plan.bars], [len(bar.cuts) for bar in plan.bars]


def _worth(plan: Plan) -> str:
    least = plan.proved or plan.cost <= plan.lower_bound * (1 + 1e-12)
    if not least:
        return "Not proved least."
    searched = ", ".join(plan.within)
    return f"{searched[:1].upper()}{searched[1:]}, no plan needs less."


def _time(solution: Solution) -> str:
    """Cutting and setting up, each where the shop gives its rates."""
    found = [run.minutes for run in solution.runs] + [row.minutes for row in solution.further]
    known = [minutes for minutes in found if minutes is not None]
    cutting = f"cutting {sum(known):.0f} min" if found and len(known) == len(found) else ""
    plan = solution.plan
    setting = f"setting up {plan.minutes:.0f} min" if plan and plan.minutes is not None else ""
    words = ", ".join(word for word in (cutting, setting) if word)
    return f"{words}, by the shop's own rates" if words else "not known: no rates of the shop, and none is invented"


def _readings(solution: Solution) -> Iterator[tuple[str, str]]:
    """How lengths and angles are meant, what they may be out, and what nobody checked."""
    saw, units = solution.job.saw, solution.job.head.units
    yield "Lengths", f"in {said(units)}; long point and short point are on the steel, not on a corner beyond it"
    yield from (("Drawn", note.in_units(units)) for note in solution.job.sections.notes)
    yield "Angles", _scale(saw)
    if saw:
        lead = f"the {saw.leads} end of a piece as drawn leads; one that lies end for end on its bar is turned"
        yield "Ends", lead
        yield "Pictures", stand.says(saw)
        missing = {"arm": saw.arm, "guides": saw.guides, "obstacles": saw.obstacles}
        unchecked = ", ".join(word for word, value in missing.items() if not value)
        if unchecked:
            yield "Unchecked", f"NOT CHECKED, the saw file does not tell of them: {unchecked}"
    if solution.job.head.tolerance:
        yield "Tolerance", _tolerance(solution)


def _scale(saw: Machine | None) -> str:
    if saw is None:
        return "No saw file: every angle is degrees from a square cut, not what a scale reads"
    made_up = " (an invented saw)" if saw.invented else ""
    side = "to the feed side: the moving-jaw end of the blade goes there"
    return f"as the scale of {saw.name}{made_up} reads them, square {saw.scale.square:g}; {side}"


def _tolerance(solution: Solution) -> str:
    """The class, what it is of and how sure its figures are; only its name where mitertool has no figures of it."""
    name, found = solution.job.head.tolerance, solution.fit.tolerance
    if found is None:
        return f"{name}; its figures are not known here, look them up"
    return f"{name}, general tolerance of {found.of}; figures {found.certainty}: the standard goes first"


def _buying(plan: Plan, width: float, units: Units) -> list[Block]:
    columns = [
        TableColumn("Buy", 16, "right", bold=True, height=3.5),
        TableColumn("Section", 60),
        TableColumn("Grade", 40),
        TableColumn("Length", 30, "right", bold=True),
        TableColumn("Nominal mass", width - 146, "right"),
    ]
    rows = [
        [str(p.count), p.section, p.grade, show_length(p.length, units), show_mass(p.mass, units)]
        for p in buying_list(plan)
    ]
    return table(columns, rows)
