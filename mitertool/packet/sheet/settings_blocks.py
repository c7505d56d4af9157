"""Every setting of a job on the sheet: the list in the order of work, a block each where the saw tells of more."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Final

from mitertool.job import Solution
from mitertool.job.settings import JobSetting, Use
from mitertool.packet.layout import Block, Column, boxed, in_lines, table
from mitertool.packet.setting.blade_view import EDGES
from mitertool.packet.setting.setting_block import setting_block
from mitertool.packet.words import lies
from mitertool.quantity import Units, show_angle, show_length
from mitertool.saw import Reach, Saw


def settings_list(solution: Solution, width: float) -> list[Block]:
    """A table of all settings; empty without a saw file."""
    units = solution.job.head.units
    if not solution.settings:
        return []
    columns = [
        Column("Setting", 17, "right", bold=True, height=3.5),
        Column("Scale", 23, "right", bold=True, height=3.5),
        Column("Arm, blade", 38),
        Column("Bar", 52),
        Column("Makes", width - 130),
    ]
    return table(columns, [_row(setting, width - 133, units) for setting in solution.settings])


def _row(setting: JobSetting, room: float, units: Units) -> list[str]:
    reach = setting.reach
    section = reach.section
    size = f"{show_length(section.width, units)} wide, {show_length(section.height, units)} high"
    bar = ", ".join(word for word in (section.name, setting.grade, size) if word)
    return [
        str(setting.number),
        show_angle(reach.scale),
        in_lines(arm_words(reach), 35),
        in_lines(bar, 49),
        in_lines(uses_words(setting.uses), room),
    ]


def arm_words(reach: Reach) -> str:
    """Which way the arm swings and the blade tilts."""
    arm = "arm straight" if reach.side == "square" else f"{show_angle(abs(reach.swing))} to the {reach.side} side"
    top = "feed" if reach.tilt > 0 else "discharge"
    return f"{arm}, tilt {show_angle(abs(reach.tilt))} to the {top} side" if reach.tilt else arm


def uses_words(uses: tuple[Use, ...]) -> str:
    """The ends that a setting makes, by mark, with the roll of the bar where it is not as drawn."""
    said = []
    for mark, ends in itertools.groupby(uses, lambda use: use.mark):
        said.append(f"{mark} {' and '.join(_end(use) for use in ends)}")
    return "; ".join(said)


def _end(use: Use) -> str:
    if not use.roll:
        return use.end
    turn = "half a turn" if abs(use.roll) == _HALF else show_angle(use.roll)
    return f"{use.end} (bar {turn} over)"


_HALF: Final = 180.0


def tells_more(saw: Saw | None) -> bool:
    """Whether a saw file has what a walk down each setting needs: an arm, guides or obstacles."""
    return saw is not None and bool(saw.arm or saw.guides or saw.obstacles)


def settings_legend(width: float) -> list[Block]:
    """How the blocks of the settings are read; once, before the first."""
    says = (
        "Numbers 1, 2, 3 are the order of doing. A letter says where in the pictures the value beside it is.",
        f"In the plane of the blade its edge is drawn {EDGES}.",
        "Set-backs B are measured from the square cut line along the bar, at least so much.",
    )
    return boxed("How to read the settings", says, width)


def one_setting(setting: JobSetting, width: float, units: Units) -> Iterator[Block]:
    """The block of a setting."""
    reach = setting.reach
    words = lies(reach.section)
    facts = (reach.section.name, setting.grade, words)
    title = f"Setting {setting.number}: {show_angle(reach.scale)}, {', '.join(fact for fact in facts if fact)}"
    yield setting_block(reach, title, f"Makes {uses_words(setting.uses)}", width, units, setting.grade)
