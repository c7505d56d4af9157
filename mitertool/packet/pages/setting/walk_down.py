"""What must be set for a cut, walked down in the order of doing, as steps of words and values; knows reach.

A step has the letter that the drawing of its setting shows where its number is.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.packet.pages.setting import letters
from mitertool.packet.words import scale_words, turn_words
from mitertool.quantity import show_angle, show_length, show_limit
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.quantity import Units
    from mitertool.saw import Reach
    from mitertool.saw.file.machine import Cutting

_HALF: Final = 180.0


@attrs.frozen
class ToDo:
    """A thing to do or to know: its place in the order, a letter of the drawing ("" for none), words and a value."""

    number: int
    letter: str
    says: str
    value: str = ""
    warns: bool = False


def walk_down(reach: Reach, units: Units, grade: str = "") -> tuple[ToDo, ...]:
    """Every step of a setting that the saw file lets be known; `grade` finds the rows of the shop's own table.

    None for a cut that cannot be made: nobody is to set what must not be cut.
    """
    if not reach.ok:
        return ()
    parts = (_safe(reach), _clear(reach, units), _arm(reach), _bar(reach, units), _clamp(reach, units, grade))
    more = (_guide(reach, units), _lift(reach, units), _prove(reach), _cut(reach, units, grade))
    return tuple(
        attrs.evolve(step, number=number)
        for number, steps in enumerate((part for part in map(tuple, (*parts, *more)) if part), 1)
        for step in steps
    )


def _safe(reach: Reach) -> Iterator[ToDo]:
    yield ToDo(0, "", phrase("step.safe/guide" if reach.setting.saw.guides else "step.safe"))


def _clear(reach: Reach, units: Units) -> Iterator[ToDo]:
    """How far from the square cut line everything must stand that the blade could meet."""
    for number, obstacle in enumerate(reach.setting.saw.obstacles, 1):
        far = reach.set_backs.get(obstacle.name)
        if far is None:
            continue
        if far <= 0:
            yield ToDo(0, "", phrase("step.away", obstacle=obstacle.name))
        else:
            says = phrase(f"step.back/{obstacle.side}", obstacle=obstacle.name)
            yield ToDo(0, letters.back(number), says, show_limit(far, units, "up"))


def _arm(reach: Reach) -> Iterator[ToDo]:
    square = reach.side == "square"
    yield ToDo(0, "", phrase(f"step.arm/{reach.side}"), scale_words(reach))
    past = beside_a_line(reach)
    if past:
        yield ToDo(0, "", phrase("step.that-is", past=past))
    if not square:
        yield ToDo(0, letters.SWING, phrase("step.from-square"), show_angle(abs(reach.swing)))
    if reach.tilt:
        top = "feed" if reach.tilt > 0 else "discharge"
        yield ToDo(0, letters.TILT, phrase(f"step.tilt/{top}"), show_angle(abs(reach.tilt)))
    yield ToDo(0, "", phrase("step.lock"))


def beside_a_line(reach: Reach) -> str:
    """How far past or short of the nearest line of the scale the reading lies; "" where it lies on it, or as good."""
    division = reach.setting.saw.scale.division
    line = round(abs(reach.scale) / division) * division
    off = abs(reach.scale) - line
    if abs(off) < _ON_A_LINE:
        return ""
    shown = show_angle(line if reach.scale > 0 else -line)
    return phrase("step.past" if off > 0 else "step.short", off=show_angle(abs(off)), line=shown)


_ON_A_LINE: Final = 0.005
"""degrees. Nearer to a line of the scale than what is printed."""


def _bar(reach: Reach, units: Units) -> Iterator[ToDo]:
    section = reach.section
    plain = abs(reach.roll) == _HALF and section.looks_like(section.lay(_HALF))
    rolled = reach.roll and not plain
    says = phrase("step.lay/rolled", turn=turn_words(reach.roll)) if rolled else phrase("step.lay")
    size = f"{show_length(section.width, units)} / {show_length(section.height, units)}"
    yield ToDo(0, f"{letters.WIDTH}{letters.HEIGHT}", says, size)
    if reach.pack is not None:
        yield ToDo(0, letters.PACKING, phrase("step.pack"), show_length(reach.pack.height, units))


def _clamp(reach: Reach, units: Units, grade: str) -> Iterator[ToDo]:
    approach = reach.setting.saw.approach
    pressures = [row.vise_pressure for row in shop_rows(reach, grade) if row.vise_pressure]
    clamp = phrase("step.pressure/full" if reach.section.shape.solid else "step.pressure/wall")
    clamp = phrase("step.pressure/table", pressure=", ".join(pressures)) if pressures else clamp
    if approach is None:
        yield ToDo(0, "", phrase("step.clamp", clamp=clamp))
    else:
        yield ToDo(0, "", phrase("step.clamp/within", within=show_limit(approach, units, "down"), clamp=clamp))


def _guide(reach: Reach, units: Units) -> Iterator[ToDo]:
    if reach.guide_opening is None:
        return
    if reach.guide_setting is not None and reach.setting.saw.guides and reach.setting.saw.guides.fixed_u is not None:
        says = phrase("step.guide")
        yield ToDo(0, letters.GUIDE, says, show_limit(reach.guide_setting, units, "up"))
        yield ToDo(0, letters.GAP, phrase("step.gap"), show_limit(reach.guide_opening, units, "up"))
    else:
        says = phrase("step.guides")
        yield ToDo(0, letters.GAP, says, show_limit(reach.guide_opening, units, "up"))


def _lift(reach: Reach, units: Units) -> Iterator[ToDo]:
    if reach.arm_lift is None:
        return
    lift = reach.setting.saw.arm_type.show_limit(reach.arm_lift, units, "up")
    yield ToDo(0, letters.LIFT, phrase("step.lift"), lift)
    if reach.stop_height is not None:
        yield ToDo(0, letters.STOP, phrase("step.edge"), show_limit(reach.stop_height, units, "up"))


def _prove(_reach: Reach) -> Iterator[ToDo]:
    yield ToDo(0, "", phrase("step.proved"))


def _cut(reach: Reach, units: Units, grade: str) -> Iterator[ToDo]:
    """What the shop's own table says, the way of the blade, its load, its teeth and the time."""
    from mitertool.saw.setting.teeth import pitch_for, teeth, time_says

    if reach.setting.saw.cutting and not shop_rows(reach, grade):
        yield ToDo(0, "", phrase("step.no-row" if grade else "step.no-grade"))
    for row in shop_rows(reach, grade):
        words = (row.speed, row.feed, row.coolant and phrase("step.coolant", coolant=row.coolant))
        yield ToDo(0, "", phrase("step.by-table", says=", ".join(word for word in words if word)))
    if reach.travel is None or reach.mean_contact is None or reach.largest_contact is None:
        return
    travel = reach.setting.saw.arm_type.show(reach.travel, units)
    yield ToDo(0, letters.TRAVEL, phrase("step.travel"), travel)
    yield ToDo(0, letters.MEAN, phrase("step.mean"), show_length(reach.mean_contact, units))
    yield ToDo(0, letters.LONGEST, phrase("step.longest"), show_length(reach.largest_contact, units))
    found = teeth(reach)
    if found:
        yield ToDo(0, "", phrase("step.teeth"), f"{found.says(found.in_mean)} / {found.says(found.in_thinnest)}")
        finer = show_limit(pitch_for(reach) or 0.0, units, "down")
        for warning in found.warnings:
            yield ToDo(0, "", phrase("step.warning", warning=warning, pitch=finer), warns=True)
    yield ToDo(0, "", " ".join((time_says(reach), *([phrase("teeth.chart")] if found else []))))


def shop_rows(reach: Reach, grade: str) -> tuple[Cutting, ...]:
    """The rows of the shop's own table for the grade and the wall of the section."""
    return reach.setting.saw.shop_table(grade, _wall(reach))


def _wall(reach: Reach) -> float:
    """The thinnest wall by the section's own dimensions, else the thinnest on the blade; of a solid its least size."""
    least = min(reach.section.width, reach.section.height)
    on_blade = least if reach.thinnest_wall is None else reach.thinnest_wall
    return min(reach.section.walls, default=least if reach.section.shape.solid else on_blade)
