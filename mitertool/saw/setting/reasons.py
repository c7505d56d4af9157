"""Every reason why a saw so set cannot make the cut, what it has and what the cut needs; knows settings."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from mitertool.bar.spacing import behind
from mitertool.quantity.compare import longer
from mitertool.quantity.sentence import Sentence
from mitertool.quantity.show import rounded_angle_limit
from mitertool.saw.file.scale import side_of
from mitertool.saw.setting.setting import Setting


@attrs.frozen
class Reason:
    """Why a cut cannot be made: a stable `code`, a sentence, what the saw has and what the cut needs (mm or degrees).

    The codes are swing, tilt, opening, fixed-guide, width, height, lift, obstacle and grip.
    """

    code: str
    told: Sentence
    have: float
    need: float

    @property
    def says(self) -> str:
        """The sentence in mm."""
        return self.told.in_units("mm")


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
        most = scale.most(swing)
        need = f"{rounded_angle_limit(abs(swing), 'up'):.2f} degrees"
        says = f"needs a swing of {need} to the {side_of(swing)} side, where the arm goes to {most:g}"
        yield Reason("swing", Sentence(says), most, abs(swing))


def _tilt(setting: Setting) -> Iterator[Reason]:
    limits, tilt = setting.saw.tilt, setting.tilt
    if limits and not limits.reaches(tilt):
        most = limits.highest if tilt > 0 else limits.lowest
        need = f"{rounded_angle_limit(tilt, 'up' if tilt > 0 else 'down'):.2f} degrees"
        says = f"needs a tilt of {need}, where the blade goes to {most:g}"
        yield Reason("tilt", Sentence(says), most, tilt)


def _opening(setting: Setting) -> Iterator[Reason]:
    most, need = setting.guides.opening_most, setting.guide_setting
    if most is not None and need is not None and longer(need, most):
        yield _lengths(
            "opening", "the guides must stand {:up} apart, where they open to {:down}", most, need, need, most
        )


def _fixed_guide(setting: Setting) -> Iterator[Reason]:
    have, need = setting.guides.fixed_u, setting.fixed_guide_most
    if have is not None and need is not None and longer(have, need):
        says = (
            "the fixed guide stands at {:up} along the blade from the swing axis, where it needs {:down} or further out"
        )
        yield _lengths("fixed-guide", says, have, need, have, need)


def _bar(setting: Setting) -> Iterator[Reason]:
    bed, section = setting.saw.bed, setting.section
    if bed.width is not None and longer(section.width, bed.width):
        says = "the bar is {:up} wide as it lies, where the vise takes {:down}"
        yield _lengths("width", says, bed.width, section.width, section.width, bed.width)
    if bed.height is not None and longer(section.height, bed.height):
        says = "the bar is {:up} high as it lies, where the saw takes {:down}"
        yield _lengths("height", says, bed.height, section.height, section.height, bed.height)
    room = setting.hinge_room
    if room and not longer(room[0], room[1]):
        says = "the bar comes within {:down} of the hinge along the blade and must stay {:up} off"
        yield _lengths("width", says, room[0], room[1], room[0], room[1])


def _lift(setting: Setting) -> Iterator[Reason]:
    arm, passage, need = setting.saw.arm, setting.passage, setting.arm_lift
    if arm is None or passage is None or need is None:
        return
    if arm.lift_highest is not None and need > arm.lift_highest:
        says = "the arm must lift {:up} above rest to clear the bar, where it goes to {:down}"
        yield Reason("lift", arm.tells(says, need, arm.lift_highest), arm.lift_highest, need)
    if passage.through < 0:
        says = "the blade is through only {:up} below rest: it does not part the bar"
        yield Reason("lift", arm.tells(says, -passage.through), 0.0, passage.through)


def _obstacles(setting: Setting) -> Iterator[Reason]:
    needs = setting.set_backs
    for obstacle in setting.saw.obstacles:
        need = needs.get(obstacle.name)
        if need is not None and longer(need, obstacle.edge) and not obstacle.adjustable:
            name = Sentence.words(obstacle.name).text
            where = f"back from the square cut line on the {obstacle.side} side, where it stands at {{:down}}"
            says = f"the blade needs {name} {{:up}} {where}"
            yield _lengths("obstacle", says, obstacle.edge, need, need, obstacle.edge)


def _grip(setting: Setting, held: float) -> Iterator[Reason]:
    """The vise must hold its grip of whole bar behind the kerf of the slanted cut."""
    need = setting.saw.grip + behind(setting.cut, setting.section, setting.saw.kerf)
    if longer(need, held):
        says = "{:down} of bar are left behind the cut, where kerf, slant and grip take {:up}"
        yield _lengths("grip", says, held, need, held, need)


def _lengths(code: str, text: str, have: float, need: float, *shown: float) -> Reason:
    """A reason in lengths, `shown` in the order of the text."""
    return Reason(code, Sentence(text, shown), have, need)
