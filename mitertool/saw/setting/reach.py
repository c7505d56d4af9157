"""What must be set on a saw to make a cut, and every reason why it cannot; knows saw, cut and sections."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import attrs

from mitertool.bar import Angles, BarCut, ways
from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cut import Cut
from mitertool.cut.blade.passage import Passage
from mitertool.quantity.problem import Remark, names
from mitertool.saw.file.machine import Machine
from mitertool.saw.file.scale import side_of
from mitertool.saw.setting.packing import Pack, packing
from mitertool.saw.setting.reasons import Reason, reasons
from mitertool.saw.setting.setting import Setting
from mitertool.sections import Section, lies_over
from mitertool.sections.abreast import row

ENDS: Final = ("left", "right")


@attrs.frozen(repr=False)
class Reach:
    """The settings of a cut and whether the saw can make it. Lengths mm, angles degrees.

    `swing` is positive when the blade's moving-jaw end goes toward the feed side; `scale` is what the protractor
    must read; `side` is "feed", "discharge" or "square"; `roll` is how far the bar is turned about its own axis
    first, its top toward the moving jaw where positive, 0 where it is not; `tilt` is the blade's tilt, 0 where it does
    not. The other values are None where the saw file does not say what it takes to know them. Positions of the arm
    count from rest: degrees for a hinged arm, mm of lift over the swing axis for a column.
    """

    ok: bool
    reasons: tuple[Reason, ...]
    swing: float
    scale: float
    side: str
    roll: float
    tilt: float
    setting: Setting = attrs.field(eq=False)

    def __repr__(self) -> str:
        parts = [f"swing {self.swing:g}", f"scale {self.scale:g}"]
        parts += [f"{word} {value:g}" for word, value in (("roll", self.roll), ("tilt", self.tilt)) if value]
        against = f"; not made: {', '.join(reason.code for reason in self.reasons)}" if self.reasons else ""
        return f"<Reach {self.section.name}: {', '.join(parts)}{against}>"

    @property
    def angles(self) -> Angles:
        """Swing, tilt and roll together."""
        return Angles(self.swing, self.tilt, self.roll)

    @property
    def scale_side(self) -> str:
        """The side on which `scale` stands: `side`, but where a kept correction of a two-sided scale moves it over."""
        return self.setting.saw.scale.reading_side(self.swing)

    @property
    def section(self) -> Section:
        """The section as it lies for the cut, rolled where the bar is; its width and height are those of the roll."""
        return self.setting.section

    @property
    def pack(self) -> Pack | None:
        """The packing that holds the section as it lies, on the side of its weight; None where it lies safely."""
        return next(iter(packing(self.section)), None)

    @property
    def packs(self) -> tuple[Pack, ...]:
        """The packings on both sides, that of its weight first; empty where the section lies safely."""
        return packing(self.section)

    @property
    def guide_opening(self) -> float | None:
        """The least gap between the guides."""
        return self.setting.guide_opening

    @property
    def guide_setting(self) -> float | None:
        """How far from the fixed guide the moving one is set; the least gap where both move."""
        return self.setting.guide_setting

    @property
    def arm_lift(self) -> float | None:
        """The position of the arm in which its edge clears the section by the clearance."""
        return self.setting.arm_lift

    @property
    def stop_height(self) -> float | None:
        """Height of the edge above the bed with the arm so lifted: at `stop_u`, else over the axis."""
        return self.setting.stop_height

    @property
    def passage(self) -> Passage | None:
        """The blade's way through the section: contact, walls and area cut against the position of the arm."""
        return self.setting.passage

    @property
    def first_touch(self) -> float | None:
        """The position of the arm in which its edge first touches the section."""
        return self.setting.passage.first_touch if self.setting.passage else None

    @property
    def through(self) -> float | None:
        """The position of the arm in which its edge is through."""
        return self.setting.passage.through if self.setting.passage else None

    @property
    def travel(self) -> float | None:
        """From first touch to through."""
        return self.setting.passage.length if self.setting.passage else None

    @property
    def set_backs(self) -> Mapping[str, float]:
        """How far from the square cut line the edge of each obstacle must stand, by its name."""
        return self.setting.set_backs

    @property
    def largest_contact(self) -> float | None:
        """The longest line of material on the blade."""
        return self.setting.passage.largest if self.setting.passage else None

    @property
    def mean_contact(self) -> float | None:
        """The contact averaged over the travel."""
        return self.setting.passage.mean if self.setting.passage else None

    @property
    def thinnest_wall(self) -> float | None:
        """The thinnest wall on the blade, the tangent by which it enters or leaves left out."""
        return self.setting.thinnest_wall

    @property
    def minutes(self) -> float | None:
        """How long the cut takes by the shop's own rates; None where the file gives none."""
        return self.setting.minutes


def reach(
    saw: Machine, section: Section, cut: Cut, end: str = "right", count: int = 1, held: float | None = None
) -> Reach:
    """The settings that make `cut` at an end of a piece of `section` on `saw`, `count` bars side by side.

    `held` is the length of bar behind the cut on the centerline (mm; None: enough). Where the arm does not swing or
    tilt that way but does the other, and the section lies safely rolled half a turn, the answer is that roll.
    """
    return answered(saw, section, cut, end, lambda angles: as_set(saw, section, angles, count, held))


Settle = Callable[[Angles], Reach]
"""Answers a cut that is set so."""


def answered(saw: Machine, section: Section, cut: Cut, end: str, settle: Settle) -> Reach:
    """The answer to a cut by those to its two ways: as the bar lies, or rolled where the arm asks for it."""
    way, further = _both_ways(saw, cut, end)
    drawn = settle(way)
    if drawn.ok:
        return drawn
    other = settle(further)
    cured = {reason.code for reason in drawn.reasons} - {reason.code for reason in other.reasons}
    if len(other.reasons) >= len(drawn.reasons) or not cured:
        return drawn
    if not drawn.roll and not lies_over(section):
        return _told(drawn, cured, Remark("unsafe-rolled", names(section=section.name)))
    if cured & _OTHER_WAY:
        return other
    return _told(drawn, cured, Remark("fine-rolled"))


def or_rolled(answer: Reach, saw: Machine, section: Section, cut: Cut, end: str, settle: Settle) -> Reach:
    """The answer, or that half a turn over where something else than the arm makes the cut only so."""
    if answer.ok:
        return answer
    way, further = _both_ways(saw, cut, end)
    other = settle(further)
    return other if other.ok and (way.roll or lies_over(section)) else answer


def as_set(saw: Machine, section: Section, angles: Angles, count: int = 1, held: float | None = None) -> Reach:
    """The settings of a cut that somebody chose already, and whether the saw can make it so; else as `reach`."""
    laid = row(section.lay(-angles.roll) if angles.roll else section, count)
    setting = Setting(saw, laid, angles.swing, angles.tilt)
    found = reasons(setting, held)
    scale, side = saw.scale.reading(angles.swing), side_of(angles.swing)
    return Reach(not found, found, angles.swing, scale, side, angles.roll, angles.tilt, setting)


def same_setting(one: Reach, other: Reach) -> bool:
    """Whether nothing must be set between two cuts but how the bar is rolled: same section as it lies, swing, tilt."""
    return (
        not any(one.angles.changes(other.angles)[:2])
        and one.section.name == other.section.name
        and one.section.looks_like(other.section)
    )


_OTHER_WAY: Final = {"swing", "tilt"}
"""Reasons for which the bar is rolled without asking: the saw does not go that way."""


def _both_ways(saw: Machine, cut: Cut, end: str) -> tuple[Angles, Angles]:
    """How a cut is set with the bar as drawn, and with it half a turn further and the arm on its other side.

    A bevel that the bar is rolled for is told by the slopes of the piece's own cut, so at either end by one rule.
    """
    if end not in ENDS:
        raise BadInput("end", end, among(ENDS))
    trailing = end == saw.trails
    drawn, other = ways(BarCut.of(cut, trailing), saw.tilt is not None)
    if drawn.roll and not trailing:
        drawn, other = other, drawn
    return drawn, other


def _told(drawn: Reach, cured: set[str], more: Remark) -> Reach:
    """The answer as drawn, its reasons that a roll would cure with more to say."""
    told = tuple(attrs.evolve(r, more=(more,)) if r.code in cured else r for r in drawn.reasons)
    return attrs.evolve(drawn, reasons=told)
