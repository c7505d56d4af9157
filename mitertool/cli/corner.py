"""`mitertool corner`: the miters of two members at any angle, in a plane or on a landing; knows frame and records."""

from __future__ import annotations

from typing import Annotated

import typer

from mitertool import quantity, working
from mitertool.base.errors import BadInput
from mitertool.cli.commands import choice, command, options
from mitertool.cli.options import InUnits, SectionName, Worked, answer, columns, find_section, with_working
from mitertool.frame import corner as solve
from mitertool.frame import landing
from mitertool.frame.landings import TO
from mitertool.frame.rails import TOPS
from mitertool.packet.corner_told import corner_rows, landing_rows
from mitertool.packet.records import of_corner, of_landing
from mitertool.words import phrase


@options
class CornerOptions(Worked, InUnits):
    """Two members and the angle between them."""

    name: SectionName
    other: Annotated[str | None, typer.Argument(help="option.corner.other", metavar="[NAME]")] = None
    angle: Annotated[str, typer.Option(help="option.corner.angle")] = "90"
    slopes: Annotated[str, typer.Option(help="option.corner.slopes", metavar="ANGLES")] = ""
    to: Annotated[str, choice("option.corner.to", TO)] = ""
    tops: Annotated[str, choice("option.corner.tops", TOPS)] = ""


@command(
    CornerOptions,
    "corner 'RHS 80x40x3'",
    "corner 'RHS 80x40x3' 'SHS 50x50x3' --angle 60",
    "corner 'L 50x50x5' --angle 120 --working",
    "corner 'RHS 60x40x3' --slopes '32 0' --angle 90 --to right",
)
def corner(o: CornerOptions) -> None:
    """What `mitertool corner` does."""
    if o.slopes:
        _landing(o)
    else:
        _in_a_plane(o)


def _in_a_plane(o: CornerOptions) -> None:
    for name, given in (("--to", o.to), ("--tops", o.tops)):
        if given:
            raise BadInput(name, given, phrase("refuse.only-slopes"))
    unit, first = o.unit, find_section(o.name)
    second = find_section(o.other) if o.other else first
    solved = solve(first.width, second.width, quantity.angle(o.angle, "--angle"))
    rows = corner_rows(first, second, solved, unit)
    record = {"section_a": first.name, "section_b": second.name, **of_corner(solved)}
    steps = working.for_corner(solved, unit) if o.working else None
    answer(record, with_working(columns(rows), steps), o)


def _landing(o: CornerOptions) -> None:
    if o.other:
        raise BadInput("NAME", o.other, phrase("refuse.one-member"))
    section, angle = find_section(o.name), quantity.angle(o.angle, "--angle")
    slopes, to, tops = _slopes(o.slopes), o.to or TO[0], o.tops or TOPS[0]
    solved = landing(section, slopes, angle, to, tops)
    given = {"slopes_deg": list(slopes), "angle_deg": angle, "to": to, "tops": tops}
    steps = working.for_facts(solved.facts, o.unit) if o.working else None
    answer(
        {"section": section.name, **given, **of_landing(solved)}, with_working(columns(landing_rows(solved)), steps), o
    )


def _slopes(text: str) -> tuple[float, float]:
    """Two angles, each in degrees or as rise:run."""
    given = text.split()
    if len(given) != 2:
        raise BadInput("--slopes", text, phrase("refuse.two-slopes"))
    one, other = (
        quantity.slope_angle(word, "--slopes") if ":" in word else quantity.angle(word, "--slopes") for word in given
    )
    return one, other
