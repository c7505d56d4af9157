"""What is read of a frame on paper and page alike: its title, its sentences, a figure each; knows words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor
from typing import Final

from mitertool.base.tolerances import SAME_SETTING
from mitertool.frame import Assembly
from mitertool.frame.joints import MITER
from mitertool.frame.limits import most_out
from mitertool.frame.mirrored import marked_otherwise
from mitertool.frame.setting_out import SetCorner, SettingOut
from mitertool.job import FrameOrder, Job, Solution
from mitertool.job.fit_up import FrameFit
from mitertool.packet.floor.twins import twins
from mitertool.packet.pages.fitter.lies import lies_notes
from mitertool.packet.pages.fitter.notes import (
    angle_notes,
    carried_notes,
    closes_on_paper,
    fit_notes,
    in_fractions,
    lean_notes,
    paper_notes,
)
from mitertool.quantity import Units, show_angle, show_length, show_limit
from mitertool.quantity.compare import same_length
from mitertool.quantity.units import FRACTIONS
from mitertool.words import phrase


def title_of(order: FrameOrder) -> str:
    """Its mark and what it is."""
    mark, shape = order.assembly.mark, phrase(f"frame.shape.{order.assembly.shape}")
    if order.image_of:
        return phrase("frame.title/image", mark=mark, shape=shape, of=order.image_of)
    return phrase("frame.title", mark=mark, shape=shape)


def sentences(order: FrameOrder, solution: Solution) -> Iterator[str]:
    """All that is said of it besides its figures."""
    yield from carried_notes(order.particulars.within(solution.job.head.particulars))
    yield from map(_written, _own_sentences(order, solution))


def _own_sentences(order: FrameOrder, solution: Solution) -> Iterator[str]:
    """What the frame itself has to say."""
    assembly, units = order.assembly, solution.job.head.units
    if order.hinges:
        yield phrase(f"frame.hinges/{order.hinges}")
    yield from _mirrored(order)
    fit, angle = solution.fit.frame(assembly.mark), None if solution.job.saw else solution.job.resolution.angle
    yield from lean_notes(order.out, units, most_says(order, solution)) if order.out else ()
    yield from fit_notes(fit, units, angle) if fit else ()
    yield from _measured(order.out, units)
    yield from lies_notes(assembly, units)
    yield from paper_notes(assembly, units)
    yield from _turned_over(assembly)
    yield from _alike_ends(order)
    yield from _turned_up(order, solution, units)
    yield from closes_on_paper(assembly, units, angle)


def _mirrored(order: FrameOrder) -> Iterator[str]:
    """Of a mirror image that its page is one already, and which labels tell the marks of the frame as drawn."""
    if not order.image_of:
        return
    yield phrase("frame.image")
    marks = marked_otherwise(order.assembly)
    if marks:
        yield phrase("frame.image/labels", marks=", ".join(marks), of=order.image_of)


def most_says(order: FrameOrder, solution: Solution) -> str:
    """What diagonals may differ by, or every other check length be out by, for the tolerance of the job's angles.

    As a tape is read, never more than it is; "" where the job has no such tolerance, or the lengths do not prove it.
    """
    out, fit = order.out, solution.fit.frame(order.assembly.mark)
    if out is None or fit is None or not fit.corners:
        return ""
    shares = {one.number: fit.corners[one.joint].share.allowed for one in out.corners if one.joint is not None}
    most = most_out(out, {number: allowed for number, allowed in shares.items() if allowed is not None})
    return "" if most is None else _most_by_tape(most, solution.job)


def _most_by_tape(mm: float, job: Job) -> str:
    """A limit as a tape is read, rounded down; finer where it is less than the tape's step."""
    step, units = job.resolution.length, job.head.units
    steps = floor(mm / step)
    return show_length(steps * step, units) if steps and units != "in" else show_limit(mm, units, "down")


def _written(says: str) -> str:
    """A sentence as it stands on paper: with a capital, and with a full stop."""
    return "".join((says[:1].upper(), says[1:], "" if says.endswith(".") else "."))


def _turned_over(assembly: Assembly) -> Iterator[str]:
    """Marks around a frame that are one piece turned over or end for end: whoever picks them may take either."""
    pairs = [phrase("frame.same", first=first, other=other) for first, other in twins(assembly)]
    if pairs:
        yield phrase("frame.turned-over", pairs="; ".join(pairs))


_ALIKE: Final = 5.0
"""degrees. Two ends of a piece that differ by less are not told apart by eye: common practice, no source."""


def _alike_ends(order: FrameOrder) -> Iterator[str]:
    """Which end of a piece goes to which corner, where its two slants differ by too little to be seen."""
    around, out = order.assembly, order.out
    if out is None or not around.in_plan:
        return
    pieces = {member.mark: member.piece for member in around.pieces}
    behind = {corner.joint: corner.number for corner in out.corners if corner.joint is not None}
    found: dict[str, None] = {}
    for number, mark in enumerate(around.order):
        slants = [abs(cut.miter) for cut in (pieces[mark].left, pieces[mark].right)]
        at = [behind.get((number - 1) % len(around.order)), behind.get(number)]
        if None not in at and SAME_SETTING < abs(slants[0] - slants[1]) < _ALIKE:
            ends = (phrase("frame.end-at", angle=show_angle(a), corner=n) for a, n in zip(slants, at, strict=True))
            found[phrase("frame.ends-of", mark=mark, ends=", ".join(ends))] = None
    if found:
        yield phrase("frame.ends-alike", pieces="; ".join(found))


def _turned_up(order: FrameOrder, solution: Solution, units: Units) -> Iterator[str]:
    """The pieces of a flat frame that are cut in another lay than they have in it, by how high they then stand."""
    if not order.assembly.in_plan:
        return
    cut = {placed.mark: run.bar.section.height for run in solution.runs for placed in run.bar.pieces}
    found: dict[str, list[str]] = {}
    for member in order.assembly.pieces:
        high = member.piece.section.height
        if not same_length(cut.get(member.mark, high), high):
            found.setdefault(show_length(high, units), []).append(member.mark)
    for shown, marks in found.items():
        yield phrase("frame.turned-up", marks=", ".join(dict.fromkeys(marks)), high=shown)


def _measured(out: SettingOut | None, units: Units) -> Iterator[str]:
    """How the figures of the tape are meant."""
    if out is None:
        return
    yield from angle_notes(out, units)
    if _has_gaps(out.corners):
        yield phrase("frame.over_the_gap")


def corners_said(corners: Sequence[SetCorner]) -> str:
    """What the coordinates of the table of corners mean."""
    return phrase("frame.coordinates/gap" if _has_gaps(corners) else "frame.coordinates")


def _has_gaps(corners: Sequence[SetCorner]) -> bool:
    return any(corner.gap for corner in corners)


def running_says(assembly: Assembly) -> str:
    """What the table of an infill's bars means, with their marks."""
    return phrase("frame.running.says", marks=", ".join(dict.fromkeys(assembly.order)))


def running_rows(assembly: Assembly, units: Units) -> list[tuple[str, str]]:
    """The number of each bar of an infill and where it stands, all from one end."""
    return [(str(n), show_length(at, units)) for n, at in enumerate(assembly.running, 1)]


def by_tape(mm: float, job: Job) -> str:
    """A length as a tape is read: to half a mm, or to the fraction of the job; decimal inches as they are."""
    step, units = job.resolution.length, job.head.units
    return show_length(round(mm / step) * step if units == "mm" else mm, units)


def joins(corner: SetCorner) -> str:
    """The marks that meet at a corner, and which of them runs through where it is butted; of a free end its one."""
    if corner.joint is None:
        return corner.before or corner.after
    case = "" if corner.kind == MITER else f"/{corner.kind}"
    return phrase(f"frame.corner.joins{case}", before=corner.before, after=corner.after)


def opens_title(fit: FrameFit | None) -> str:
    """The title of the column of what a division opens; none where no corner is cut."""
    return phrase("frame.corner.opens", error=show_angle(fit.error)) if fit else ""


def opens(corner: SetCorner, fit: FrameFit | None, units: Units) -> str:
    """What a division of the scale opens at a corner, at its throat or its heel, whichever is more."""
    if fit is None or corner.joint is None:
        return ""
    most = max(fit.too_much[corner.joint].throat, fit.too_little[corner.joint].heel)
    return in_fractions(most, units) if units in FRACTIONS else show_limit(most, units, "up")
