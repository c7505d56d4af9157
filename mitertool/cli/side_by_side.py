"""Bars side by side in the vise, as an answer tells of them; knows saw."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from mitertool import saw
from mitertool.cli.commands import options
from mitertool.cut import Cut
from mitertool.quantity import Units, count, show_length
from mitertool.sections import Section
from mitertool.sections.abreast import MOST_ABREAST
from mitertool.words import phrase


@options
class InARow:
    """Bars side by side."""

    bars: Annotated[str, typer.Option("--bars", help="option.in-a-row.bars")] = "1"

    @property
    def number(self) -> int:
        """How many."""
        return count(self.bars, "--bars", most=MOST_ABREAST)


def row_record(section: Section, first: Cut, number: int) -> dict[str, Any]:
    """Width and lead-in wedge of so many bars, mm; nothing for one. `first` is the cut that takes off the raw ends."""
    if number == 1:
        return {}
    wedge = saw.lead_in(section, first, number)
    return {"bars": number, "row_width_mm": number * section.width, "lead_in_mm": wedge}


def row_lines(section: Section, first: Cut, number: int, unit: Units) -> list[tuple[str, str]]:
    """The same for a person."""
    if number == 1:
        return []
    row = row_record(section, first, number)
    return [
        (phrase("screen.row", count=number), phrase("screen.row-wide", width=show_length(row["row_width_mm"], unit))),
        (phrase("screen.lead-in"), show_length(row["lead_in_mm"], unit)),
        ("", phrase("screen.parallel-only")),
    ]
