"""Bars side by side in the vise, as an answer tells of them; knows saw."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.quantity import Units
    from mitertool.sections import Section

BarsOption = Annotated[str, typer.Option("--bars", help="Bars side by side in the vise, cut at once.")]


def row_record(section: Section, first: Cut, number: int) -> dict[str, Any]:
    """Width and lead-in wedge of so many bars, mm; nothing for one. `first` is the cut that takes off the raw ends."""
    if number == 1:
        return {}
    from mitertool.saw.rows import lead_in

    return {"bars": number, "row_width_mm": number * section.width, "lead_in_mm": lead_in(section, first, number)}


def row_lines(section: Section, first: Cut, number: int, unit: Units) -> list[tuple[str, str]]:
    """The same for a person."""
    if number == 1:
        return []
    from mitertool.quantity import show_length

    row = row_record(section, first, number)
    return [
        (f"{number} bars side by side", f"{show_length(row['row_width_mm'], unit)} wide"),
        ("lead-in wedge of the row", show_length(row["lead_in_mm"], unit)),
        ("", "parallel cuts only: with any other the bars come out unlike"),
    ]
