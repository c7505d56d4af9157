"""Every setting of a job on the sheet: the list in the order of work, a block each where the saw tells of more."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.job import Solution
from mitertool.job.settings import JobSetting, Use
from mitertool.packet.pages.setting.blade_view import EDGES
from mitertool.packet.pages.setting.setting_block import setting_block
from mitertool.packet.paper.layout import Block, TableColumn, boxed, in_lines, table
from mitertool.packet.words import cannot, lies, reading_words, scale_words, turn_words
from mitertool.quantity import Units, show_angle, show_length
from mitertool.quantity.problem_words import reason_says
from mitertool.saw import Machine, Reach
from mitertool.words import phrase


def detail_blocks(solution: Solution, width: float) -> Iterator[Block]:
    """What is behind the settings, for whoever wants it: the list of all, then a block each with its pictures."""
    yield from settings_list(solution, width)
    if tells_more(solution.job.saw):
        yield from settings_legend(width)
        for setting in solution.settings:
            yield from one_setting(setting, width, solution.job.head.units)


def settings_list(solution: Solution, width: float) -> list[Block]:
    """A table of all settings; empty without a saw file."""
    units = solution.job.head.units
    if not solution.settings:
        return []
    columns = [
        TableColumn("Setting", 17, "right", bold=True, height=3.5),
        TableColumn("Scale", 23, "right", bold=True, height=3.5),
        TableColumn("Arm, blade", 38),
        TableColumn("Bar", 52),
        TableColumn("Makes", width - 130),
    ]
    return table(columns, [_row(setting, width - 133, units) for setting in solution.settings])


def _row(setting: JobSetting, room: float, units: Units) -> list[str]:
    reach = setting.reach
    section = reach.section
    size = f"{show_length(section.width, units)} wide, {show_length(section.height, units)} high"
    bar = ", ".join(word for word in (section.name, setting.grade, size) if word)
    return [
        str(setting.number),
        scale_words(reach).replace(" ", "\n") if reach.ok else "-",
        in_lines(arm_words(reach) if reach.ok else cannot(), 35),
        in_lines(bar, 49),
        in_lines(uses_words(setting.uses), room),
    ]


def arm_words(reach: Reach) -> str:
    """Which way the arm swings and the blade tilts."""
    arm = "arm straight" if reach.side == "square" else f"{show_angle(abs(reach.swing))} to the {reach.side} side"
    top = "feed" if reach.tilt > 0 else "discharge"
    return f"{arm}, tilt {show_angle(abs(reach.tilt))} to the {top} side" if reach.tilt else arm


def uses_words(uses: tuple[Use, ...]) -> str:
    """The ends that a setting makes, by mark, with how the bar lies where that is not as drawn."""
    by_mark: dict[str, dict[str, list[str]]] = {}
    for use in sorted(uses, key=lambda use: (use.turned, abs(use.roll))):
        by_mark.setdefault(use.mark, {}).setdefault(_lying(use), []).append(use.words)
    return "; ".join(
        f"{mark} {', '.join(_ends(lying, ends) for lying, ends in ways.items())}" for mark, ways in by_mark.items()
    )


def _lying(use: Use) -> str:
    """How the bar lies against how it is drawn; "" where it lies so."""
    words = ("end for end" if use.turned else "", f"rolled {turn_words(use.roll)}" if use.roll else "")
    return ", ".join(word for word in words if word)


def _ends(lying: str, ends: list[str]) -> str:
    both = " and ".join(sorted(ends))
    return f"bar {lying}: {both}" if lying else both


def tells_more(saw: Machine | None) -> bool:
    """Whether a saw file has what a walk down each setting needs: an arm, guides or obstacles."""
    return saw is not None and bool(saw.arm or saw.guides or saw.obstacles)


def settings_legend(width: float) -> list[Block]:
    """How the blocks of the settings are read; once, before the first."""
    says = (
        "Numbers 1, 2, 3 are the order of doing. A letter says where in the pictures the value beside it is.",
        f"In the plane of the blade its edge is drawn {phrase(EDGES)}.",
        "Set-backs B are measured from the square cut line along the bar, at least so much.",
        "An arm to the feed side: the moving-jaw end of the blade goes toward the feed.",
    )
    return boxed("How to read the settings", says, width)


def one_setting(setting: JobSetting, width: float, units: Units) -> Iterator[Block]:
    """The block of a setting."""
    reach = setting.reach
    words = lies(reach.section)
    facts = (reach.section.name, setting.grade, words)
    title = f"Setting {setting.number}: {reading_words(reach)}, {', '.join(fact for fact in facts if fact)}"
    against = "".join(f"CANNOT BE CUT: {reason_says(reason, units)}. " for reason in reach.reasons)
    asks = "Makes" if reach.ok else "Asked for by"
    yield setting_block(reach, title, f"{against}{asks} {uses_words(setting.uses)}", width, units, setting.grade)
