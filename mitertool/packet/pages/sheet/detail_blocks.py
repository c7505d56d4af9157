"""Every setting of a job on the sheet: the list in the order of work, a block each where the saw tells of more."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.job import Solution
from mitertool.job.settings import JobSetting, Use
from mitertool.packet.pages.setting.blade_view import EDGES
from mitertool.packet.pages.setting.setting_block import setting_block
from mitertool.packet.paper.layout import Block, TableColumn, boxed, in_lines, table
from mitertool.packet.words import cannot, lies, reading_words, scale_words, section_words, turn_words
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
        TableColumn(phrase("detail.setting"), 17, "right", bold=True, height=3.5),
        TableColumn(phrase("detail.scale"), 23, "right", bold=True, height=3.5),
        TableColumn(phrase("detail.arm"), 38),
        TableColumn(phrase("detail.bar"), 52),
        TableColumn(phrase("detail.makes"), width - 130),
    ]
    return table(columns, [_row(setting, width - 133, units) for setting in solution.settings])


def _row(setting: JobSetting, room: float, units: Units) -> list[str]:
    reach = setting.reach
    section = reach.section
    size = phrase("sheet.size", wide=show_length(section.width, units), high=show_length(section.height, units))
    bar = ", ".join(word for word in (section_words(section), setting.grade, size) if word)
    return [
        str(setting.number),
        scale_words(reach).replace(" ", "\n") if reach.ok else "-",
        in_lines(arm_words(reach) if reach.ok else cannot(), 35),
        in_lines(bar, 49),
        in_lines(uses_words(setting.uses), room),
    ]


def arm_words(reach: Reach) -> str:
    """Which way the arm swings and the blade tilts."""
    arm = phrase(f"detail.arm-{reach.side}", angle=show_angle(abs(reach.swing)))
    if not reach.tilt:
        return arm
    return phrase(
        f"detail.tilt-{'feed' if reach.tilt > 0 else 'discharge'}", arm=arm, angle=show_angle(abs(reach.tilt))
    )


def uses_words(uses: tuple[Use, ...]) -> str:
    """The ends that a setting makes, by mark, with how the bar lies where that is not as drawn."""
    by_mark: dict[str, dict[str, list[str]]] = {}
    for use in sorted(uses, key=lambda use: (use.turned, abs(use.roll))):
        by_mark.setdefault(use.mark, {}).setdefault(_lying(use), []).append(use.words)
    told = (
        phrase("detail.mark-ends", mark=mark, ends=", ".join(_ends(lying, ends) for lying, ends in ways.items()))
        for mark, ways in by_mark.items()
    )
    return "; ".join(told)


def _lying(use: Use) -> str:
    """How the bar lies against how it is drawn; "" where it lies so."""
    rolled = phrase("detail.rolled", turn=turn_words(use.roll)) if use.roll else ""
    words = (phrase("detail.end-for-end") if use.turned else "", rolled)
    return ", ".join(word for word in words if word)


def _ends(lying: str, ends: list[str]) -> str:
    both = phrase("detail.both", one=min(ends), other=max(ends)) if len(ends) == 2 else ", ".join(sorted(ends))
    return phrase("detail.lying", how=lying, ends=both) if lying else both


def tells_more(saw: Machine | None) -> bool:
    """Whether a saw file has what a walk down each setting needs: an arm, guides or obstacles."""
    return saw is not None and bool(saw.arm or saw.guides or saw.obstacles)


def settings_legend(width: float) -> list[Block]:
    """How the blocks of the settings are read; once, before the first."""
    says = [phrase(f"detail.read-{n}", edges=phrase(EDGES)) for n in (1, 2, 3, 4)]
    return boxed(phrase("detail.read"), says, width)


def one_setting(setting: JobSetting, width: float, units: Units) -> Iterator[Block]:
    """The block of a setting."""
    reach = setting.reach
    words = lies(reach.section)
    facts = (section_words(reach.section), setting.grade, words)
    told = ", ".join(fact for fact in (reading_words(reach), *facts) if fact)
    title = phrase("detail.title", number=setting.number, told=told)
    against = " ".join(phrase("detail.cannot", why=reason_says(reason, units)) for reason in reach.reasons)
    uses = phrase("detail.makes-uses" if reach.ok else "detail.asked-by", uses=uses_words(setting.uses))
    yield setting_block(reach, title, f"{against} {uses}".strip(), width, units, setting.grade)
