"""`mitertool corner`: the miters of two members at any angle; knows frame and packet's records."""

from __future__ import annotations

from typing import Annotated

import typer

from mitertool.cli.options import (
    AsJson,
    SectionName,
    UnitsOption,
    WorkingOption,
    answer,
    columns,
    find_section,
    units_of,
    with_working,
)


def corner(
    name: SectionName,
    other: Annotated[str | None, typer.Argument(help="The second member, where it differs.", metavar="[NAME]")] = None,
    angle: Annotated[str, typer.Option(help="Between the two members, inside the corner, degrees.")] = "90",
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Print the miters of both members of a corner and the length of the seam."""
    from mitertool import quantity
    from mitertool.frame import corner as solve
    from mitertool.packet.records import of_corner

    unit, first = units_of(units), find_section(name)
    second = find_section(other) if other else first
    solved = solve(first.width, second.width, quantity.angle(angle, "--angle"))
    rows = [
        (f"{first.name}, {quantity.show_length(first.width, unit)} wide", _miter(solved.miter_a)),
        (f"{second.name}, {quantity.show_length(second.width, unit)} wide", _miter(solved.miter_b)),
        ("seam", quantity.show_length(solved.seam, unit)),
    ]
    record = {"section_a": first.name, "section_b": second.name, **of_corner(solved)}
    steps = None
    if working:
        from mitertool.working import for_corner

        steps = for_corner(solved, unit)
    answer(record, with_working(columns(rows), steps), as_json)


def _miter(degrees: float) -> str:
    from mitertool.quantity import show_angle

    return f"{show_angle(degrees)} from square"
