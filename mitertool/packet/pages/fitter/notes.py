"""What the floor must know of a frame besides its measures, a sentence each; knows words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.base.tolerances import CLOSED, SAME_SETTING
from mitertool.cut.by_hand import across_legs
from mitertool.frame import Assembly, SpaceAssembly
from mitertool.frame.closure import OPEN
from mitertool.frame.setting_out import CheckMeasure, SettingOut
from mitertool.job import FrameOrder
from mitertool.job.particulars import Particulars
from mitertool.quantity import Units, show_angle, show_angle_limit, show_exact, show_gap, show_length, show_limit
from mitertool.quantity.units import FRACTIONS, MM_PER_INCH
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.job.fit_up import FrameFit

_LEGS: Final = (300.0, 200.0, 100.0, 50.0)
_INCH_LEGS: Final = (12.0, 8.0, 4.0, 2.0)
"""mm, and inches: how far along both sides of a corner a tape is held, the first that all sides have room for."""

_SHOWN: Final = ("note.plate", "note.corner-bar", "note.member", "note.leaf-width", "note.leaf-height")
"""Notes whose figures stand in the tables of how members are held, or in the picture of a leaf in its opening."""


_FINEST: Final = 64
"""Parts of an inch in which openings are told where a job has fractions."""

_NONE: Final = "0"
"""What stands open where that is nothing, whatever the unit."""

_TELLS: Final = 1.0
"""degrees that a corner may be out for a check length that is by one step: where it is more, the length proves none."""

_BETWEEN: Final = 32
"""Parts of an inch that are read between the lines of a tape of sixteenths."""


def frame_notes(order: FrameOrder, units: Units) -> tuple[str, ...]:
    """What is told of a frame where it is not drawn: its order, its gaps, and how well it closes."""
    assembly = order.assembly
    around = {"order": ", ".join(assembly.order)} if len(set(assembly.order)) > 1 else {}
    gaps = sorted({joint.gap for joint in assembly.joints if joint.gap})
    shown = ", ".join(_with_unit(show_exact(gap, units), units) for gap in gaps)
    return (
        *([phrase("frame.around", **around)] if around else ()),
        *([phrase("frame.root_gap", gaps=shown)] if gaps else ()),
        *own_notes(assembly, units),
        *check_notes(order.out, units),
        *(() if _sits(assembly) else (closes(assembly, units), *_added_up(assembly, units))),
    )


def check_notes(out: SettingOut | None, units: Units) -> Iterator[str]:
    """The lengths that prove the shape, and what a small difference of them means."""
    if out is None or not out.measures:
        return
    yield phrase("frame.checks", measures=", ".join(_check(one, units) for one in out.measures))
    yield from lean_notes(out, units)


def lean_notes(out: SettingOut, units: Units, most: str = "") -> Iterator[str]:
    """By how much a corner is out where a diagonal is by a millimetre, or by a sixteenth of an inch.

    With `most`, what diagonals may differ by, or every other check length be out by, first that.
    """
    step = 1.0 if units == "mm" else MM_PER_INCH / 16
    shown = _with_unit(show_exact(step, units), units)
    case, told = ("/most", {"most": _with_unit(most, units)}) if most else ("", {})
    if out.lean is not None:
        yield phrase(f"frame.lean{case}", step=shown, angle=show_angle_limit(out.lean * step, "up"), **told)
    elif out.measures:
        worst = max(out.measures, key=lambda one: one.turn)
        angle = show_angle_limit(worst.turn * step, "up")
        if worst.turn * step <= _TELLS:
            yield phrase(f"frame.turn{case}", step=shown, corner=worst.corner, angle=angle, **told)


def angle_notes(out: SettingOut, units: Units) -> Iterator[str]:
    """What a tape reads across each corner from one length along both sides: an angle without a protractor.

    Nothing where all are right angles: the diagonals prove those.
    """
    if all(corner.angle is None or abs(corner.angle - 90) < SAME_SETTING for corner in out.corners):
        return
    legs = [leg * (1.0 if units == "mm" else MM_PER_INCH) for leg in (_LEGS if units == "mm" else _INCH_LEGS)]
    least = min((abs(b.at - a.at) for a, b in pairwise(out.corners)), default=0.0)
    leg = next((leg for leg in legs if leg <= least), legs[-1])
    found: dict[str, list[str]] = {}
    for corner in out.corners:
        if corner.angle is not None:
            found.setdefault(_finely(across_legs(corner.angle, leg), units), []).append(str(corner.number))
    says = "; ".join(phrase("frame.across", corners=", ".join(some), length=across) for across, some in found.items())
    if says:
        yield phrase("frame.by-tape", leg=_with_unit(show_exact(leg, units), units), corners=says)


def _finely(length: float, units: Units) -> str:
    """A length as a tape is read between its lines: inches with fractions to half a sixteenth."""
    return show_length(length, units, denominator=_BETWEEN) if units in FRACTIONS else show_gap(length, units)


def _check(one: CheckMeasure, units: Units) -> str:
    return phrase("frame.check", first=one.first, second=one.second, length=show_gap(one.length, units))


def own_notes(assembly: Assembly, units: Units) -> tuple[str, ...]:
    """What the frame's own shape has to say."""
    seen = () if assembly.in_plan else (phrase("frame.seen/run" if _sits(assembly) else "frame.seen"),)
    return (*seen, *(note.told_by(lambda length: show_length(length, units)) for note in assembly.notes))


def paper_notes(assembly: Assembly, units: Units) -> tuple[str, ...]:
    """The same without what is a table or a picture of its own on paper."""
    shown = (*_SHOWN, *(("note.mark-out",) if assembly.running else ()))
    notes = tuple(note for note in assembly.notes if note.code not in shown)
    return own_notes(attrs.evolve(assembly, notes=notes), units)


def _sits(assembly: Assembly) -> bool:
    """Whether it is a branch on its run, drawn in true views: it has no joint of its own that could close."""
    return isinstance(assembly, SpaceAssembly) and assembly.seat is not None


def closes(assembly: Assembly, units: Units, angle: float | None = None) -> str:
    """How the pieces close, exact and as the floor reads them: by a scale, or without one to the nearest `angle`.

    A step of edges that meet is told as one, for it is no gap that a rod would have to fill.
    """
    closure = assembly.closure
    plain, to = ("", {}) if angle is None else ("plain", {"angle": show_angle(angle)})
    opens, misfit = _opening(closure.rounded_gap, units), max(closure.gap, closure.overlap)
    if misfit <= CLOSED:
        step = "" if closure.rounded_as == OPEN or opens == _NONE else closure.rounded_as
        case = "-".join(word for word in (step, plain) if word)
        return phrase(f"frame.closes/{case}" if case else "frame.closes", opens=opens, **to)
    case = f"/{plain}" if plain else ""
    return phrase(f"frame.misses{case}", missed=_with_unit(show_limit(misfit, units, "up"), units), opens=opens, **to)


def _opening(mm: float, units: Units) -> str:
    """What stands open, finer than a tape reads it; in fractions where the job has them."""
    shown = show_gap(mm, units)
    if shown == show_gap(0.0, units):
        return _NONE
    return in_fractions(mm, units) if units in FRACTIONS else shown


def in_fractions(mm: float, units: Units) -> str:
    """What stands open in the finest parts of an inch, never told less."""
    step = MM_PER_INCH / _FINEST
    return show_length(ceil(mm / step) * step, units, denominator=_FINEST)


def _added_up(assembly: Assembly, units: Units) -> Iterator[str]:
    """Where the opening of a chain in space is, that no corner of its own tells."""
    if assembly.shape == "rail" and _opening(assembly.closure.rounded_gap, units) != _NONE:
        yield phrase("frame.adds-up")


def closes_on_paper(assembly: Assembly, units: Units, angle: float | None = None) -> Iterator[str]:
    """The same for whoever fits it, and what to do where rounding opens a corner; a step there is no gap to close."""
    if _sits(assembly):
        return
    yield closes(assembly, units, angle)
    yield from _added_up(assembly, units)
    closure = assembly.closure
    if closure.rounded_as == OPEN and _opening(closure.rounded_gap, units) != _NONE:
        yield phrase("frame.set-tenths" if angle is None else "frame.set-tenths/plain")


def carried_notes(said: Particulars) -> Iterator[str]:
    """Drawing, preparation, what is done after, and the note of a frame."""
    if said.drawing:
        yield phrase("frame.drawing", drawing=said.drawing)
    if said.prep:
        yield phrase("frame.prep", prep=said.prep)
    if said.process:
        yield phrase("frame.process", process=said.process)
    if said.note:
        yield said.note


def fit_notes(fit: FrameFit, units: Units, angle: float | None = None) -> Iterator[str]:
    """What a division of the scale does to the corners and to the last one, and whether they want proving.

    Without a saw angles are set to the nearest `angle`, degrees.
    """
    beyond = [one.share for one in fit.corners if (one.share.share or 0.0) > 1]
    if beyond:
        allowed = min(share.allowed for share in beyond if share.allowed)
        told = {"allowed": show_angle_limit(allowed, "down")}
        yield (
            phrase("frame.prove", **told)
            if angle is None
            else phrase("frame.prove/plain", **told, angle=show_angle(angle))
        )
    if fit.apart:
        much, little = (show_length(apart, units) for apart in fit.apart)
        code = "frame.last_corner" if fit.from_square else "frame.last_corner/inside"
        yield phrase(code, error=show_angle(fit.error), much=much, little=little)


def _with_unit(text: str, units: Units) -> str:
    return f"{text} mm" if units == "mm" else text
