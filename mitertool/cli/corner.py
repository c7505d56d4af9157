"""`mitertool corner`: the miters of two members at any angle; knows frame and packet's records."""

from __future__ import annotations

from typing import Annotated

import typer

from mitertool import quantity, working
from mitertool.cli.commands import command, options
from mitertool.cli.options import InUnits, SectionName, Worked, answer, columns, find_section, with_working
from mitertool.frame import corner as solve
from mitertool.packet.records import of_corner
from mitertool.quantity import Units
from mitertool.sections import Section
from mitertool.words import phrase


@options
class CornerOptions(Worked, InUnits):
    """Two members and the angle between them."""

    name: SectionName
    other: Annotated[str | None, typer.Argument(help="option.corner.other", metavar="[NAME]")] = None
    angle: Annotated[str, typer.Option(help="option.corner.angle")] = "90"


@command(
    CornerOptions,
    "corner 'RHS 80x40x3'",
    "corner 'RHS 80x40x3' 'SHS 50x50x3' --angle 60",
    "corner 'L 50x50x5' --angle 120 --working",
)
def corner(o: CornerOptions) -> None:
    """What `mitertool corner` does."""
    unit, first = o.unit, find_section(o.name)
    second = find_section(o.other) if o.other else first
    solved = solve(first.width, second.width, quantity.angle(o.angle, "--angle"))
    rows = [
        (_wide(first, unit), _miter(solved.miter_a)),
        (_wide(second, unit), _miter(solved.miter_b)),
        (phrase("screen.seam"), quantity.show_length(solved.seam, unit)),
    ]
    record = {"section_a": first.name, "section_b": second.name, **of_corner(solved)}
    steps = working.for_corner(solved, unit) if o.working else None
    answer(record, with_working(columns(rows), steps), o)


def _miter(degrees: float) -> str:
    return phrase("screen.from-square", angle=quantity.show_angle(degrees))


def _wide(section: Section, unit: Units) -> str:
    return phrase("screen.wide", name=section.name, width=quantity.show_length(section.width, unit))
