"""Every reason why a saw so set cannot make the cut, what it has and what the cut needs; knows settings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

import attrs

from mitertool.bar.spacing import behind
from mitertool.quantity.compare import longer
from mitertool.quantity.problem import Remark, angles, lengths, names
from mitertool.quantity.problem_words import reason_says
from mitertool.saw.file.scale import side_of
from mitertool.saw.setting.setting import Setting


@attrs.frozen
class Reason(Remark):
    """Why a cut cannot be made: a stable `code`, what the saw has and what the cut needs (mm or degrees).

    The codes are swing, tilt, opening, fixed-guide, width, height, lift, obstacle and grip.
    """

    @property
    def have(self) -> float:
        """What the saw has."""
        return self._number("have")

    @property
    def need(self) -> float:
        """What the cut needs."""
        return self._number("need")

    @property
    def says(self) -> str:
        """The sentence in mm."""
        return reason_says(self, "mm")

    def _number(self, name: str) -> float:
        return next(cast(float, number.value) for number in self.numbers if number.name == name)


def reasons(setting: Setting, held: float | None = None) -> tuple[Reason, ...]:
    """All of them, in the order in which an operator sets the saw; `held` is the bar behind the cut, mm."""
    return (
        *_swing(setting),
        *_tilt(setting),
        *_opening(setting),
        *_fixed_guide(setting),
        *_bar(setting),
        *_lift(setting),
        *_obstacles(setting),
        *(_grip(setting, held) if held is not None else ()),
    )


def _swing(setting: Setting) -> Iterator[Reason]:
    scale, swing = setting.saw.scale, setting.swing
    if not scale.reaches(swing):
        most = angles(have=scale.most(swing), need=abs(swing))
        yield Reason("swing", most + names(side=side_of(swing)))


def _tilt(setting: Setting) -> Iterator[Reason]:
    limits, tilt = setting.saw.tilt, setting.tilt
    if limits and not limits.reaches(tilt):
        most = limits.highest if tilt > 0 else limits.lowest
        yield Reason("tilt", angles(have=most, need=tilt))


def _opening(setting: Setting) -> Iterator[Reason]:
    most, need = setting.guides.opening_most, setting.guide_setting
    if most is not None and need is not None and longer(need, most):
        yield Reason("opening", lengths(have=most, need=need))


def _fixed_guide(setting: Setting) -> Iterator[Reason]:
    have, need = setting.guides.fixed_u, setting.fixed_guide_most
    if have is not None and need is not None and longer(have, need):
        yield Reason("fixed-guide", lengths(have=have, need=need))


def _bar(setting: Setting) -> Iterator[Reason]:
    bed, section = setting.saw.bed, setting.section
    if bed.width is not None and longer(section.width, bed.width):
        yield Reason("width", lengths(have=bed.width, need=section.width))
    if bed.height is not None and longer(section.height, bed.height):
        yield Reason("height", lengths(have=bed.height, need=section.height))
    room = setting.hinge_room
    if room and not longer(room[0], room[1]):
        yield Reason("width", lengths(have=room[0], need=room[1]), "hinge")


def _lift(setting: Setting) -> Iterator[Reason]:
    arm, passage, need = setting.saw.arm, setting.passage, setting.arm_lift
    if arm is None or passage is None or need is None:
        return
    if arm.lift_highest is not None and need > arm.lift_highest:
        yield Reason("lift", arm.positions(have=arm.lift_highest, need=need))
    if passage.through < 0:
        yield Reason("lift", arm.positions(have=0.0, need=passage.through), "through")


def _obstacles(setting: Setting) -> Iterator[Reason]:
    needs = setting.set_backs
    for obstacle in setting.saw.obstacles:
        need = needs.get(obstacle.name)
        if need is not None and longer(need, obstacle.edge) and not obstacle.adjustable:
            called = names(obstacle=obstacle.name, side=obstacle.side)
            yield Reason("obstacle", lengths(have=obstacle.edge, need=need) + called)


def _grip(setting: Setting, held: float) -> Iterator[Reason]:
    """The vise must hold its grip of whole bar behind the kerf of the slanted cut."""
    need = setting.saw.grip + behind(setting.cut, setting.section, setting.saw.kerf)
    if longer(need, held):
        yield Reason("grip", lengths(have=held, need=need))
