"""Blanks that get their other end: laid again, stopped at the finished end, cut at one setting, held to the drawing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from tests.virtual_saw.lays import Lies, Stock
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.steel import Plane, Solid, at, error
from tests.virtual_saw.walk import Bar, Step, Walk, Walked, as_drawn

POSES = {
    "as-drawn": (0.0, False),
    "rolled": (180.0, False),
    "end-for-end": (0.0, True),
    "end-for-end-rolled": (180.0, True),
}
"""How a piece that lies so is moved from how it is drawn: rolled by degrees, turned end for end first."""

ANY_ROLL, ROLLED = "any-roll", 50.0
"""A blank that is told to lie at any roll lies at this one, its finished end at the stop."""


def moved_for(recut: Recut, saw: Machine) -> tuple[float, bool]:
    """How a blank is moved from how it is drawn; the end that is not cut leads."""
    leads = "left" if saw.jaw_left else "right"
    return (ROLLED, recut.end == leads) if recut.pose == ANY_ROLL else POSES[recut.pose]


@dataclass(frozen=True)
class Recut:
    """`count` blanks of a mark whose `end`, as drawn, is cut after so many entries of bars.

    They lie in `pose` against the drawing; `fixed` and `moving` are how long they then are along the bottom of either
    side (None: not told), and `step` is how the saw is set and where the stop stands.
    """

    section: str
    mark: str
    count: int
    end: str
    pose: str
    after: int
    blank: float
    fixed: float | None
    moving: float | None
    step: Step


def wrong_blank(blank: Solid, wanted: Solid, end: str, near: float) -> Iterator[str]:
    """What is wrong with a blank as drawn: its finished end is that of the piece, and all of the piece is in it."""
    made, face = _finished(blank, wanted, end)
    if leans_off(blank, wanted, end) > near:
        yield "the finished end of a blank leans otherwise than drawn"
        return
    middle = (wanted.section.width / 2, wanted.section.height / 2)
    shift = at(made[-1], middle) - at(face[-1], middle)
    moved = replace(wanted, low=_along(wanted.low, shift), high=_along(wanted.high, shift))
    if any(moved.begins(p) < blank.begins(p) - near or moved.ends(p) > blank.ends(p) + near for p in wanted.places):
        yield "a blank does not hold all of its piece"


def leans_off(blank: Solid, wanted: Solid, end: str) -> float:
    """By how much the finished end of a blank, both as drawn, leans otherwise than that of the piece: mm in a mm."""
    made, face = _finished(blank, wanted, end)
    return max(abs(a - b) for a, b in zip(made[-1][1:], face[-1][1:], strict=True))


def _finished(blank: Solid, wanted: Solid, end: str) -> tuple[tuple[Plane, ...], tuple[Plane, ...]]:
    """The end of both that is not cut later."""
    return (blank.low, wanted.low) if end == "right" else (blank.high, wanted.high)


def _along(planes: tuple[Plane, ...], shift: float) -> tuple[Plane, ...]:
    return tuple((x + shift, p, q) for x, p, q in planes)


def cut(saw: Machine, stock: Stock, recut: Recut, blank: Solid, way: str, near: float) -> tuple[Walked, Solid]:
    """A blank (as drawn) recut, and how it lay on the saw for it before any roll."""
    posed = blank.moved(blank.section.turn(*moved_for(recut, saw)))
    lies = as_drawn(posed, saw)
    bar = Bar("", Lies(lies.section.width, lies.section.height), 0.0, 1, ())
    walk = Laid(saw, stock, bar, lies, way, near)
    tape = None
    if recut.fixed is not None and recut.moving is not None:
        tape = lies.begins((0.0, 0.0)) + recut.fixed, lies.begins((lies.section.width, 0.0)) + recut.moving
    walk.cut(replace(recut.step, mark=recut.mark, tape=tape, kerf_behind=True))
    return walk.made, lies


class Laid(Walk):
    """A blank on the saw in the place of a raw bar."""

    def __init__(self, saw: Machine, stock: Stock, bar: Bar, blank: Solid, way: str, near: float) -> None:
        self.blank = blank
        super().__init__(saw, stock, bar, way, near)

    def on_the_bed(self, bar: Bar) -> Solid:
        return self.blank


def faults(
    saw: Machine, stock: Stock, recut: Recut, blank: Solid, wanted: Solid, way: str, near: float
) -> tuple[list[str], Walked]:
    """What is wrong with the recut of a blank."""
    walked, lies = cut(saw, stock, recut, blank, way, near)
    wrong = list(walked.wrong)
    for _, solid in walked.pieces:
        if (out := error(as_drawn(solid, saw), wanted)) > near:
            wrong.append(f"{recut.mark} comes out {out:.6g} wrong of its recut")
    if abs(_middle(lies) - recut.blank) > 2 * near:
        wrong.append(f"a blank of {recut.mark} is told {recut.blank:g} long, it is {_middle(lies):g}")
    return wrong, walked


def _middle(solid: Solid) -> float:
    place = (solid.section.width / 2, solid.section.height / 2)
    return at(solid.high[-1], place) - at(solid.low[-1], place)


def read(row: Mapping[str, Any], step: Step) -> Recut:
    """A row of plan.json."""
    head = (row["section"], row["mark"], row["count"], row["end"], row["pose"], row["after_bars"], row["blank_mm"])
    return Recut(*head, row["fixed_mm"], row["moving_mm"], step)
