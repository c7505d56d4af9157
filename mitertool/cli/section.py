"""`mitertool section`: the figures of a section, its lays, and a search of the catalogue; knows sections and packet."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from mitertool import packet
from mitertool.base.errors import BadInput
from mitertool.cli.commands import command, options
from mitertool.cli.options import InUnits, Laid, Sketched, aligned, answer, columns, find_section
from mitertool.cut.survey import LaySurvey, survey
from mitertool.packet.records import of_section
from mitertool.packet.words import lies
from mitertool.quantity import Units, show_area, show_length, show_mass_per_length
from mitertool.sections import Section
from mitertool.sections.catalogue import Entry, find, like, listed
from mitertool.sections.dimension import shown
from mitertool.words import phrase


@options
class SectionOptions(Laid, Sketched, InUnits):
    """A section, or a search for one."""

    name: Annotated[str | None, typer.Argument(help="option.section.name", metavar="[NAME]")] = None
    list_: Annotated[str | None, typer.Option("--list", metavar="FAMILY", help="option.section.list")] = None
    like: Annotated[str | None, typer.Option("--like", metavar="NUMBERS", help="option.section.like")] = None
    lays: Annotated[bool, typer.Option("--lays", help="option.section.lays")] = False


@command(
    SectionOptions,
    "section 'RHS 80x40x3'",
    "section --list IPE",
    "section --like 80x40 --json",
    "section 'L 50x50x5' --lays",
)
def section(o: SectionOptions) -> None:
    """What `mitertool section` does."""
    o.may_sketch()
    if o.list_ is not None or o.like is not None:
        _search(o)
        return
    if o.name is None:
        raise BadInput("NAME", phrase("found.nothing"), phrase("refuse.name-a-section"))
    found = find_section(o.name, o.lay)
    if o.lays:
        _lays(found, o)
        return
    if o.sketch:
        o.draw(packet.section_drawing(found, o.unit), found.name, packet.drawing_scale(found))
    answer({**of_section(found), **_printed(o.name)}, columns(_rows(o.name, found, o.unit)), o)


def _rows(name: str, found: Section, unit: Units) -> list[tuple[str, str]]:
    rows = [(phrase("screen.section"), found.name), (phrase("screen.source"), found.source)]
    rows += [shown(word, value, unit) for word, value in found.dimensions]
    rows += [
        (phrase("screen.across"), show_length(found.width, unit)),
        (phrase("screen.above"), show_length(found.height, unit)),
        (phrase("screen.area"), show_area(found.area, unit)),
        (phrase("screen.perimeter"), show_length(found.perimeter, unit) + (" mm" if unit == "mm" else "")),
        (phrase("screen.mass"), show_mass_per_length(found.mass_per_metre, unit)),
    ]
    if found.nominal is not None:
        rows.append(
            (phrase("screen.nominal"), phrase("screen.for-buying", mass=show_mass_per_length(found.nominal, unit)))
        )
    return [*rows, *_printed_rows(name, unit)]


def _printed_rows(name: str, unit: Units) -> list[tuple[str, str]]:
    """What the catalogue's file prints, in the units of the reader, with the printed value behind where it differs."""
    entry = find(name)
    said = _printed(name)
    if (unit == "mm") != (entry.file.unit == "mm"):
        square = 100.0 if entry.file.unit == "mm" else entry.file.mm_per_unit**2
        if "tabulated_area" in said:
            said["tabulated_area"] = _as_printed(show_area(entry.row["area"] * square, unit), said["tabulated_area"])
        if "tabulated_mass" in said and entry.section.nominal is not None:
            shown = show_mass_per_length(entry.section.nominal, unit)
            said["tabulated_mass"] = _as_printed(shown, said["tabulated_mass"])
    if "nominal_wall" in said:
        wall = show_length(entry.row["nominal_wall"] * entry.file.mm_per_unit, unit)
        said["nominal_wall"] = phrase("screen.design-wall", wall=wall)
    return [(phrase(f"screen.{word}"), value) for word, value in said.items()]


def _as_printed(shown: str, printed: str) -> str:
    return phrase("screen.printed", shown=shown, printed=printed)


def _printed(name: str) -> dict[str, str]:
    """What the catalogue's file prints beside the dimensions."""
    entry = find(name)
    facts, row = entry.file.facts, entry.row
    said = {"table": str(facts.get("table", "")), "certainty": str(facts.get("certainty", ""))}
    units = facts.get("column_units", {})
    for column in ("area", "mass"):
        if row.get(column) not in (None, ""):
            said[f"tabulated_{column}"] = f"{row[column]} {units.get(column, '')}".strip()
    if row.get("nominal_wall"):
        said["nominal_wall"] = phrase("screen.design-above", wall=row["nominal_wall"], unit=entry.file.unit)
    return {word: value for word, value in said.items() if value}


def _search(o: SectionOptions) -> None:
    family, numbers = o.list_, o.like
    found = list(listed(family) if family is not None else like(numbers or ""))
    if family is not None and numbers is not None:
        names = {entry.section.name for entry in like(numbers)}
        found = [entry for entry in found if entry.section.name in names]
    record = {"sections": [{"name": e.section.name, "source": e.section.source} for e in found]}
    answer(record, columns(_named(entry, o.unit) for entry in found) or [phrase("screen.none-found")], o)


def _named(entry: Entry, unit: Units) -> tuple[str, str]:
    """A size with what a length of it is bought and lifted as."""
    found = entry.section
    return found.name, f"{show_mass_per_length(found.nominal_mass_per_metre, unit)}  {found.source}"


def _lays(found: Section, o: SectionOptions) -> None:
    surveyed = survey(found)
    record = {"section": found.name, "lays": [_lay_record(one) for one in surveyed]}
    if o.sketch:
        o.draw(packet.lays_drawing(surveyed, o.unit), phrase("screen.title-lays", section=found.name))
    answer(record, [*_lay_table(surveyed, o.unit), phrase("screen.ranked")], o)


def _lay_record(one: LaySurvey) -> dict[str, Any]:
    return {
        "rank": one.rank,
        "lies": lies(one.section),
        "rotation_deg": one.section.rotation,
        "width_mm": one.section.width,
        "height_mm": one.section.height,
        "largest_contact_mm": one.largest,
        "thinnest_wall_mm": one.thinnest,
        "mean_contact_mm": one.mean,
        "safe": one.safe,
    }


def _lay_table(found: tuple[LaySurvey, ...], unit: Units) -> list[str]:
    heads = ("turned", "wide", "high", "largest", "thinnest", "mean", "stays", "lies")
    head = ("", *(phrase(f"screen.lay.{word}") for word in heads))
    return aligned([head, *(_lay_row(one, unit) for one in found)])


def _lay_row(one: LaySurvey, unit: Units) -> tuple[str, ...]:
    sizes = (one.section.width, one.section.height, one.largest, one.thinnest, one.mean)
    shown = (show_length(size, unit) for size in sizes)
    return (
        str(one.rank),
        f"{one.section.rotation:.4g}",
        *shown,
        phrase("screen.yes" if one.safe else "screen.no"),
        lies(one.section),
    )
