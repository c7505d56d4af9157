"""A bar on the sheet as the saw works it off: drawn, by tape, with its list; and how that is read."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from mitertool.job import Solution
from mitertool.job.runs import Run
from mitertool.job.settings import number_of
from mitertool.packet.pages.sheet.bar_block import Numbers, bar_blocks
from mitertool.packet.pages.sheet.run_list import list_blocks, plain_list
from mitertool.packet.paper.layout import Block, boxed, kept_together
from mitertool.packet.paper.stand import leads
from mitertool.packet.words import control_units
from mitertool.quantity import show_exact
from mitertool.saw import Machine
from mitertool.saw.file.machine import Feed


def run_blocks(run: Run, solution: Solution, width: float) -> list[Block]:
    """The bar, its tape positions and its list; `width` paper mm wide."""
    units, saw = solution.job.head.units, solution.job.saw
    longest = max(bar.stock_length for bar in solution.plan.bars) if solution.plan else run.bar.stock_length
    numbers = _numbers(solution, run)
    blocks = list(bar_blocks(run, numbers, width, longest, units))
    blocks[-1] = attrs.evolve(blocks[-1], gap=2.0)
    first = "" if solution.job.trim_said else raw_end(run)
    listed = plain_list(run, width, first) if saw is None else list_blocks(run, numbers, width, units, first)
    return kept_together([*blocks, *listed])


def raw_end(run: Run) -> str:
    """What the first cut of a bar leaves where nobody said a trim: the mill's end on a piece."""
    lead = run.pieces[0].left if run.saw is None or run.saw.leads == "left" else run.pieces[0].right
    at_tip = ", at its tip" if lead.miter or lead.bevel else ""
    return f"no trim: the raw end is the first face{at_tip}"


def legend(saw: Machine | None, width: float) -> list[Block]:
    """How the bars and their lists are read; once, before the first."""
    says = [
        "The strip shows the bar from above as it lies before any roll, moving side up; "
        f"the arrow at the {leads(saw)} is at its leading end and points the way it is fed.",
        "By tape: the faces of the pieces on both sides, at the height of the bed. Mark them before the bar is rolled.",
        "Kerf before: the blade takes the side of the mark toward the leading end; kerf past: the side away from it.",
        "Drop: what is left on the centerline, the grip in it.",
    ]
    if saw:
        says.append("Above a bar: the number of the setting to go to before the cut, and R where the bar is rolled.")
        says.append("Mark the bar at a jaw before it is unclamped to be rolled, so that it comes back to its place.")
        says.append(
            "A roll that is not half a turn is told from how the bar is drawn: mark its top as drawn at the end."
        )
    return boxed("How to read the bars", [*says, *(_feed_legend(saw, saw.feed) if saw else ())], width)


def _feed_legend(saw: Machine, feed: Feed | None) -> Iterator[str]:
    if feed is None:
        where = "square to the bar on the discharge side, from the blade's near face along the bar to the steel that"
        yield f"The stop stands {where} touches it: there the piece is so long."
        return
    kerf, unit = show_exact(saw.kerf, control_units(saw)), " mm" if control_units(saw) == "mm" else ""
    less = f", less the kerf of {kerf}{unit} that this control adds by itself"
    moves = f"what the bar moves, the kerf at the angle in it{less if feed.counts_kerf else ''}"
    yield f"The length to key is {moves}; it is not the long point."
    yield "It is measured on the line of the piece over the swing axis, on its centerline, or on its side."
    yield "For the trim cut the raw end is brought to the line over the swing axis first and counts from there."
    yield " ".join((*_habits(feed), "Strokes are for one piece."))
    by_hand = "the arm or the bar is set before it, or the control does not take the length"
    yield f"Cycle hand: cut one by one, for {by_hand}."


def _habits(feed: Feed) -> Iterator[str]:
    """How this control counts and stops, where its saw file says so."""
    if feed.counts_trim is not None:
        yield f"This control {'counts' if feed.counts_trim else 'does not count'} the trim cut."
    if feed.ends_with_zero:
        yield "At the line of zeros this control stops."


def _numbers(solution: Solution, run: Run) -> Numbers:
    return lambda reach: str(number_of(solution.settings, reach, run.bar.grade) or "")
