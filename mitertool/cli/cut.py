"""`mitertool cut`: the face of one cut, its kerf and its settings; knows cut, saw and packet's records."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from mitertool import packet, saw, working
from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cli.commands import command, options
from mitertool.cli.options import (
    EndOption,
    InUnits,
    Laid,
    Sawn,
    SectionName,
    Sketched,
    Worked,
    answer,
    columns,
    find_section,
    with_working,
)
from mitertool.cli.side_by_side import InARow, row_lines, row_record
from mitertool.cut import Cut, Face, cut_from
from mitertool.cut.by_hand import set_backs
from mitertool.packet.cautions import for_cuts
from mitertool.packet.pages.cut_said import Row, cut_rows
from mitertool.packet.records import of_cut, of_face, of_load, of_reach, of_saw
from mitertool.quantity import Units, angle, length_from_zero, show_length
from mitertool.quantity.problem_words import reason_says
from mitertool.sections import Section
from mitertool.words import phrase


@options
class CutOptions(InARow, Laid, Sawn, Sketched, Worked, InUnits):
    """A section and the cut through it."""

    name: SectionName
    miter: Annotated[str, typer.Option(help="option.cut.miter")] = "0"
    bevel: Annotated[str, typer.Option(help="option.cut.bevel")] = "0"
    kerf: Annotated[str, typer.Option(help="option.cut.kerf")] = ""
    end: EndOption = "right"
    grade: Annotated[str, typer.Option(help="option.cut.grade")] = ""


@command(
    CutOptions,
    "cut 'RHS 80x40x3' --miter 45",
    "cut 'L 50x50x5' --miter '3:12' --bevel 10 --end left --working",
    "cut 'SHS 60x60x4' --miter 30 --saw saw.toml --sketch cut.pdf",
)
def cut(o: CutOptions) -> None:
    """What `mitertool cut` does."""
    o.may_sketch()
    if o.end not in ("left", "right"):
        raise BadInput("--end", o.end, among(("left", "right")))
    unit, section = o.unit, find_section(o.name, o.lay)
    made = Cut(cut_from(o.miter, "--miter").miter, angle(o.bevel, "--bevel"))
    machine = o.machine()
    reach = machine.reach(section, made, o.end, o.number) if machine else None
    width = _kerf(o.kerf, machine, unit)
    face = made.face(section)
    record = {**_record(face, made, width, reach), **row_record(section, made, o.number)}
    steps = working.for_cut(made, section, width, unit) if o.working else None
    rows = [*cut_rows(face, made, width, reach, unit), *row_lines(section, made, o.number, unit)]
    rows += _notes(reach, section, made, o) if reach else []
    _draw(reach, o)
    answer(record, with_working(columns(rows), steps), o, for_cuts([reach]))
    if reach and not reach.ok:
        raise typer.Exit(1)


def _draw(reach: saw.Reach | None, o: CutOptions) -> None:
    if o.sketch is None:
        return
    if reach is None:
        raise BadInput("--sketch", str(o.sketch), phrase("refuse.sketch-saw"))
    o.draw(packet.setting_drawing(reach, o.unit, o.grade), phrase("screen.title-cut"))


def _kerf(given: str, machine: saw.Saw | None, unit: Units) -> float | None:
    if given:
        return length_from_zero(given, unit, "--kerf")
    return machine.kerf if machine else None


def _record(face: Face, made: Cut, kerf: float | None, reach: saw.Reach | None) -> dict[str, Any]:
    along = {} if kerf is None else {"kerf_mm": kerf, "kerf_along_mm": made.kerf_along(kerf)}
    slopes = {"p": made.p, "q": made.q}
    load = {} if reach is None else {"load": of_load(reach)}
    machine = {} if reach is None else {"saw": of_saw(reach.setting.saw)}
    return {
        "section": face.section.name,
        **of_cut(made),
        **slopes,
        **of_face(face),
        "set_backs": [
            {"long": one.long, "back_mm": one.back, "over_mm": one.over} for one in set_backs(face.section, made)
        ],
        **along,
        "reach": of_reach(reach),
        **load,
        **machine,
    }


def _notes(reach: saw.Reach, section: Section, made: Cut, o: CutOptions) -> list[Row]:
    """What must be set on the saw in the order of doing; for a cut that cannot be made, which lays work instead."""
    steps = [
        (f"{step.number} {step.letter}", f"{step.says}  {step.value}".strip())
        for step in packet.walk_down(reach, o.unit, o.grade)
    ]
    jumps = _jumps(reach, o.unit) if reach.ok else []
    return [*steps, *jumps, *_other_lays(reach, section, made, o)]


def _jumps(reach: saw.Reach, unit: Units) -> list[Row]:
    """Where the load changes at once, as the blade comes down."""
    if reach.passage is None:
        return []
    show = reach.passage.arm.show
    return [
        (phrase("screen.jumps"), _jump(show(j.position, unit), show_length(j.before, unit), show_length(j.after, unit)))
        for j in reach.passage.jumps
    ]


def _jump(at: str, before: str, after: str) -> str:
    return phrase("screen.jump", at=at, before=before, after=after)


def _other_lays(reach: saw.Reach, section: Section, made: Cut, o: CutOptions) -> list[Row]:
    if reach.ok:
        return []
    return [
        ("", reason_says(saw.lays_told(saw.lays_that_work(reach.setting.saw, section, made, o.end, o.number)), o.unit))
    ]
