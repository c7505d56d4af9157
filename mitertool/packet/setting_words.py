"""What must be set on the saw for a cut, in the order of doing, as words and values; knows reach and quantity."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mitertool.quantity import show_angle, show_length

if TYPE_CHECKING:
    from mitertool.quantity import Units
    from mitertool.saw import Reach


def setting_lines(reach: Reach, units: Units) -> list[tuple[str, str]]:
    """Word and value of everything that the saw file lets be known, as an operator walks it down.

    The bar first, then what must stand clear, the arm, the guide, the way of the blade, teeth and time.
    """
    rows = [*_bar(reach, units), *_clear(reach, units), *_arm(reach, units), *_guide(reach, units)]
    return [*_warnings(reach), *rows, *_blade(reach, units)]


def _warnings(reach: Reach) -> list[tuple[str, str]]:
    from mitertool.saw.teeth import teeth

    found = teeth(reach)
    return [("WARNING", warning) for warning in found.warnings] if found else []


def _bar(reach: Reach, units: Units) -> list[tuple[str, str]]:
    section = reach.section
    size = f"{show_length(section.width, units)} wide, {show_length(section.height, units)} high"
    rows = [("rolled, the bar is", size)] if reach.roll % 180 else []
    if reach.pack is not None and reach.roll:
        rows.append(("pack under it", show_length(reach.pack.height, units)))
    return rows


def _clear(reach: Reach, units: Units) -> list[tuple[str, str]]:
    """How far from the square cut line everything must stand that the blade could meet."""
    side = {obstacle.name: obstacle.side for obstacle in reach.setting.saw.obstacles}
    return [(f"back: {name}", _from_line(far, side[name], units)) for name, far in reach.set_backs.items()]


def _from_line(distance: float, side: str, units: Units) -> str:
    """How far a thing must stand from the square cut line, and on which side of it."""
    if distance <= 0:
        return "the blade swings away from it"
    return f"{show_length(distance, units)} or more to the {side} side of the square cut line"


def _arm(reach: Reach, units: Units) -> list[tuple[str, str]]:
    if reach.arm_lift is None:
        return []
    hinged = reach.setting.saw.kind == "hinged"
    lift = show_angle(reach.arm_lift) if hinged else show_length(reach.arm_lift, units)
    rows = [("lift the arm at least", f"{lift} above rest")]
    if reach.stop_height is not None:
        rows.append(("edge at the stop then", f"{show_length(reach.stop_height, units)} above the bed"))
    return rows


def _guide(reach: Reach, units: Units) -> list[tuple[str, str]]:
    if reach.guide_opening is None:
        return []
    rows = [("least gap between guides", show_length(reach.guide_opening, units))]
    if reach.guide_setting is not None:
        rows.append(("moving guide from fixed", show_length(reach.guide_setting, units)))
    return rows


def _blade(reach: Reach, units: Units) -> list[tuple[str, str]]:
    """The way of the blade, its load, its teeth and the time, where the file has an arm."""
    from mitertool.saw.teeth import FIRST, teeth, time_says

    if reach.travel is None or reach.mean_contact is None or reach.largest_contact is None:
        return []
    hinged = reach.setting.saw.kind == "hinged"
    travel = show_angle(reach.travel) if hinged else show_length(reach.travel, units)
    rows = [
        ("travel through the bar", travel),
        ("mean width of cut", show_length(reach.mean_contact, units)),
        ("longest on the blade", show_length(reach.largest_contact, units)),
    ]
    found = teeth(reach)
    if found:
        counted = f"{found.in_mean:.1f} in the mean width, {found.in_thinnest:.1f} in the thinnest wall"
        rows.append(("teeth in the work", counted))
        rows.append(("before these figures", FIRST))
    return [*rows, ("time", time_says(reach))]
