"""Every reason why a saw so set cannot make the cut, what it has and what the cut needs; knows settings."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

import attrs

from mitertool.saw.scale import side_of
from mitertool.saw.setting import Setting


@attrs.frozen
class Reason:
    """Why a cut cannot be made: a stable `code`, a sentence, what the saw has and what the cut needs (mm or degrees).

    The codes are swing, tilt, opening, fixed-guide, width, height, lift, obstacle and grip.
    """

    code: str
    says: str
    have: float
    need: float


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
        says = f"needs a swing of {abs(swing):.2f} degrees to the {side_of(swing)} side, where the arm goes to {most:g}"
        yield Reason("swing", says, most, abs(swing))


def _tilt(setting: Setting) -> Iterator[Reason]:
    limits, tilt = setting.saw.tilt, setting.tilt
    if limits and not limits.lowest <= tilt <= limits.highest:
        most = limits.highest if tilt > 0 else limits.lowest
        yield Reason("tilt", f"needs a tilt of {tilt:.2f} degrees, where the blade goes to {most:g}", most, tilt)


def _opening(setting: Setting) -> Iterator[Reason]:
    most, need = setting.guides.opening_most, setting.guide_setting
    if most is not None and need is not None and need > most:
        says = f"the guides must stand {need:.1f} mm apart, where they open to {most:.1f} mm"
        yield Reason("opening", says, most, need)


def _fixed_guide(setting: Setting) -> Iterator[Reason]:
    have, need = setting.guides.fixed_u, setting.fixed_guide_most
    if have is not None and need is not None and have > need:
        says = (
            f"the fixed guide stands at {have:.1f} mm along the blade from the swing axis, where it needs {need:.1f} mm"
        )
        yield Reason("fixed-guide", f"{says} or further out", have, need)


def _bar(setting: Setting) -> Iterator[Reason]:
    bed, section = setting.saw.bed, setting.section
    if bed.width is not None and section.width > bed.width:
        says = f"the bar is {section.width:.1f} mm wide as it lies, where the vise takes {bed.width:.1f} mm"
        yield Reason("width", says, bed.width, section.width)
    if bed.height is not None and section.height > bed.height:
        says = f"the bar is {section.height:.1f} mm high as it lies, where the saw takes {bed.height:.1f} mm"
        yield Reason("height", says, bed.height, section.height)
    room = setting.hinge_room
    if room and room[0] <= room[1]:
        says = f"the bar comes within {room[0]:.1f} mm of the hinge along the blade and must stay {room[1]:.1f} mm off"
        yield Reason("width", says, room[0], room[1])


def _lift(setting: Setting) -> Iterator[Reason]:
    if setting.travel is None or setting.arm_lift is None or setting.saw.arm is None:
        return
    unit, most, need = setting.travel.path.unit, setting.saw.arm.lift_highest, setting.arm_lift
    if most is not None and need > most:
        says = f"the arm must lift {need:.2f} {unit} above rest to clear the bar, where it goes to {most:g}"
        yield Reason("lift", says, most, need)
    through = setting.travel.through
    if through < 0:
        says = f"the blade is through only {-through:.2f} {unit} below rest: it does not part the bar"
        yield Reason("lift", says, 0.0, through)


def _obstacles(setting: Setting) -> Iterator[Reason]:
    needs = setting.set_backs
    for obstacle in setting.saw.obstacles:
        need = needs.get(obstacle.name)
        if need is not None and need > obstacle.edge and not obstacle.adjustable:
            says = f"the blade needs {obstacle.name} {need:.1f} mm back from the square cut line on the {obstacle.side}"
            says += f" side, where it stands at {obstacle.edge:.1f} mm"
            yield Reason("obstacle", says, obstacle.edge, need)


def _grip(setting: Setting, held: float) -> Iterator[Reason]:
    """The vise must hold its grip of whole bar behind the kerf of the slanted cut."""
    p, q, section = setting.p, setting.q, setting.section
    slant = (abs(p) * section.width + abs(q) * section.height) / 2
    need = setting.saw.grip + slant + setting.saw.kerf * hypot(1.0, p, q)
    if held < need:
        says = f"{held:.1f} mm of bar are left behind the cut, where kerf, slant and grip take {need:.1f} mm"
        yield Reason("grip", says, held, need)
