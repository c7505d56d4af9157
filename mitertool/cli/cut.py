"""`mitertool cut`: the face of one cut, its kerf and its settings; knows cut, saw and packet's records."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mitertool.cli.options import (
    AsJson,
    ForceOption,
    LayOption,
    SawPath,
    SectionName,
    SketchPath,
    UnitsOption,
    WorkingOption,
    answer,
    columns,
    find_section,
    load_saw,
    may_sketch,
    units_of,
    with_working,
    write_sketch,
)
from mitertool.cli.side_by_side import BarsOption, row_lines, row_record

if TYPE_CHECKING:
    from mitertool.cut import Cut
    from mitertool.quantity import Units
    from mitertool.saw import Reach, Saw
    from mitertool.sections import Section
    from mitertool.working import Step


def cut(
    name: SectionName,
    miter: Annotated[str, typer.Option(help="From square, or '3:12', '60 from bar', '90 corner'.")] = "0",
    bevel: Annotated[str, typer.Option(help="Degrees from square, long point at the top.")] = "0",
    kerf: Annotated[str, typer.Option(help="Kerf square to the blade; the saw file's where none is given.")] = "",
    end: Annotated[str, typer.Option(help="Which end of the piece: left or right.")] = "right",
    bars: BarsOption = "1",
    grade: Annotated[str, typer.Option(help="Grade, for the shop's own table in the saw file.")] = "",
    lay: LayOption = "0",
    saw: SawPath = None,
    sketch: SketchPath = None,
    force: ForceOption = False,
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Print the true face of a cut: area, size, contact on the blade, kerf along the bar, settings."""
    from mitertool.base.errors import BadInput
    from mitertool.cut import Cut, cut_from
    from mitertool.packet.cautions import for_cuts
    from mitertool.quantity import angle, count

    may_sketch(sketch, force)
    if end not in ("left", "right"):
        raise BadInput("--end", end, "allowed: left, right")
    unit, section = units_of(units), find_section(name, lay)
    made = Cut(cut_from(miter, "--miter").miter, angle(bevel, "--bevel"))
    machine = load_saw(saw)
    number = count(bars, "--bars")
    reach = machine.reach(section, made, end, number) if machine else None
    width = _kerf(kerf, machine, unit)
    record = {**_record(section, made, width, reach), **row_record(section, made, number)}
    steps = _working(section, made, width, unit) if working else None
    rows = [*_rows(section, made, width, reach, unit), *row_lines(section, made, number, unit)]
    rows += _notes(reach, section, made, end, number, unit, grade)
    if sketch:
        _draw(reach, sketch, unit, grade)
    answer(record, with_working(columns(rows), steps), as_json, for_cuts([reach]))
    if reach and not reach.ok:
        raise typer.Exit(1)


def _draw(reach: Reach | None, sketch: Path, unit: Units, grade: str) -> None:
    from mitertool.base.errors import BadInput
    from mitertool.packet.setting.setting_block import setting_drawing

    if reach is None:
        raise BadInput("--sketch", str(sketch), "a cut is drawn on its saw; give --saw too")
    write_sketch(setting_drawing(reach, unit, grade), sketch, "cut on the saw")


def _working(section: Section, made: Cut, kerf: float | None, unit: Units) -> tuple[Step, ...]:
    from mitertool.working import for_cut

    return for_cut(made, section, kerf, unit)


def _kerf(given: str, saw: Saw | None, unit: Units) -> float | None:
    from mitertool.quantity import length_from_zero

    if given:
        return length_from_zero(given, unit, "--kerf")
    return saw.kerf if saw else None


def _record(section: Section, made: Cut, kerf: float | None, reach: Reach | None) -> dict[str, Any]:
    from mitertool.packet.records import of_cut, of_face, of_load, of_reach, of_saw

    along = {} if kerf is None else {"kerf_mm": kerf, "kerf_along_mm": made.kerf_along(kerf)}
    slopes = {"p": made.p, "q": made.q}
    face = of_face(made.face(section))
    load = {} if reach is None else {"load": of_load(reach)}
    saw = {} if reach is None else {"saw": of_saw(reach.setting.saw)}
    return {"section": section.name, **of_cut(made), **slopes, **face, **along, "reach": of_reach(reach), **load, **saw}


def _rows(section: Section, made: Cut, kerf: float | None, reach: Reach | None, unit: Units) -> list[tuple[str, str]]:
    from mitertool.packet.words import CANNOT, more, reading, reading_label, which_way
    from mitertool.quantity import show_area, show_gap, show_length

    face = made.face(section)
    against = [(CANNOT, reason.told.in_units(unit)) for reason in reach.reasons] if reach else []
    rows = [
        *against,
        ("section", section.name),
        *([] if against else [(reading_label(reach), reading(reach, made))]),
        ("", which_way(reach, made)),
        ("", more(reach, made)),
        ("face area", show_area(face.area, unit)),
        ("face along the blade", show_length(face.width, unit)),
        ("face up the blade's plane", show_length(face.height, unit)),
        ("largest contact", show_length(face.largest_contact, unit)),
        ("thinnest wall on the blade", show_length(face.thinnest_wall, unit)),
    ]
    if kerf is not None:
        rows.append(("kerf along the bar", show_gap(made.kerf_along(kerf), unit)))
    return [row for row in rows if row[1]]


def _notes(
    reach: Reach | None, section: Section, made: Cut, end: str, number: int, unit: Units, grade: str
) -> list[tuple[str, str]]:
    """What must be set on the saw in the order of doing; for a cut that cannot be made, which lays work instead."""
    if reach is None:
        return []
    from mitertool.packet.setting.walk_down import walk_down

    steps = [
        (f"{step.number} {step.letter}", f"{step.says}  {step.value}".strip()) for step in walk_down(reach, unit, grade)
    ]
    jumps = _jumps(reach, unit) if reach.ok else []
    return [*steps, *jumps, *_other_lays(reach, section, made, end, number)]


def _jumps(reach: Reach, unit: Units) -> list[tuple[str, str]]:
    """Where the load changes at once, as the blade comes down."""
    from mitertool.quantity import show_length

    if reach.passage is None:
        return []
    show = reach.passage.arm.show
    return [
        (
            "load jumps",
            f"at {show(j.position, unit)} from {show_length(j.before, unit)} to {show_length(j.after, unit)}",
        )
        for j in reach.passage.jumps
    ]


def _other_lays(reach: Reach, section: Section, made: Cut, end: str, number: int) -> list[tuple[str, str]]:
    from mitertool.saw.lays import lays_say, lays_that_work

    return [] if reach.ok else [("", lays_say(lays_that_work(reach.setting.saw, section, made, end, number)))]
