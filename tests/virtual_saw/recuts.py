"""Blanks that get their other end: in the vise, the finished end at the stop, cut as set, held to the drawing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from tests.virtual_saw.lays import Lies, Stock
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.steel import Plane, Solid, at, error, minus
from tests.virtual_saw.walk import ASIDE, Bar, Places, Step, Stop, Walk, Walked, as_drawn, least_length

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
    """How a blank is moved from how it is drawn; at any roll the end that is cut leads."""
    return (ROLLED, recut.end != _leads(saw)) if recut.pose == ANY_ROLL else POSES[recut.pose]


def _leads(saw: Machine) -> str:
    return "left" if saw.jaw_left else "right"


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
    walk = (Held if cut_leads(recut, saw) else Laid)(saw, stock, bar, lies, way, near)
    sides = (0.0, 0.0), (lies.section.width, 0.0)
    walk.cut(replace(recut.step, mark=recut.mark, tape=walk.marks(recut, sides), kerf_behind=not cut_leads(recut, saw)))
    return walk.made, lies


def cut_leads(recut: Recut, saw: Machine) -> bool:
    """Whether the end that is cut lies before the blade, so that what is behind it in the vise is the piece."""
    return (recut.end == _leads(saw)) != moved_for(recut, saw)[1]


class Laid(Walk):
    """A piece on the saw in the place of a raw bar: what falls off is the piece, the vise holds its off-cut."""

    def __init__(self, saw: Machine, stock: Stock, bar: Bar, blank: Solid, way: str, near: float) -> None:
        self.blank = blank
        super().__init__(saw, stock, bar, way, near)

    def on_the_bed(self, bar: Bar) -> Solid:
        return self.blank

    def marks(self, recut: Recut, sides: tuple[Places, Places]) -> Places | None:
        """Where the tape has the face of the piece on either side, from the end that is finished."""
        if recut.fixed is None or recut.moving is None:
            return None
        return self.blank.begins(sides[0]) + recut.fixed, self.blank.begins(sides[1]) + recut.moving


class Held(Laid):
    """A blank on the feed side: the vise holds it, its finished end is behind, and what falls off is scrap."""

    def marks(self, recut: Recut, sides: tuple[Places, Places]) -> Places | None:
        if recut.fixed is None or recut.moving is None:
            return None
        return self.blank.ends(sides[0]) - recut.fixed, self.blank.ends(sides[1]) - recut.moving

    def part(self, step: Step, near: Plane, far: Plane) -> None:
        super().part(replace(step, mark=""), near, far)
        self.made.pieces.append((step.mark, self.rest))
        if least_length(self.rest) < self.saw.grip - self.near:
            self.made.wrong.append(f"the vise holds {least_length(self.rest):.3f} of a blank")

    def by_stop(self, stop: Stop, blade: Plane, half: float) -> None:
        """The stop stands on the feed side; what touches it must be the hindmost steel, and where it is told."""
        end, cut_at = self.turn.plane(self.rest.high[-1]), self.turn.plane(blade)
        place = stop.touches or self._last_to_touch(end, cut_at, stop.words)
        hindmost = self.section.most(self.rest.high[-1])
        if hindmost - at(end, place) > 2 * self.near:
            self.made.wrong.append(
                f"the steel that is told to touch the stop lies {hindmost - at(end, place):.3f} before it"
            )
        self.fed = hindmost - at(cut_at, place) - half - stop.distance
        if stop.bed is None:
            return
        lean = at(cut_at, place) - at(cut_at, (place[0], 0.0))
        if abs(stop.bed - stop.distance - lean) > 2 * self.near:
            self.made.wrong.append(f"at the bed the stop is {stop.distance + lean:.3f} from the blade")

    def _last_to_touch(self, end: Plane, cut_at: Plane, words: str) -> Places:
        section = self.section.turned(self.turn)
        longer = minus(end, cut_at)[1:]
        leans = (0.0, 0.0) if section.most(end) - section.least(end) < self.near else end[1:]
        place = section.furthest(*(ASIDE * more + slope for slope, more in zip(leans, longer, strict=True)))
        self.told_where(place, words)
        return place


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
