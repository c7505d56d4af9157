"""`mitertool section`: the figures of a section; knows sections and packet's records."""

from __future__ import annotations

from mitertool.cli.options import AsJson, LayOption, SectionName, UnitsOption, answer, columns, find_section, units_of


def section(name: SectionName, lay: LayOption = "0", as_json: AsJson = False, units: UnitsOption = "mm") -> None:
    """Print dimensions, area, mass and source of a section."""
    from mitertool.packet.records import of_section
    from mitertool.quantity import show_length

    unit, found = units_of(units), find_section(name, lay)
    rows = [
        ("section", found.name),
        ("source", found.source),
        *((word, f"{v:g} %" if "%" in word else show_length(v, unit)) for word, v in found.dimensions),
        ("across the bed", show_length(found.width, unit)),
        ("above the bed", show_length(found.height, unit)),
        ("area", f"{found.area / 100:.4g} cm2"),
        ("perimeter", f"{found.perimeter:.1f} mm"),
        ("mass", f"{found.mass_per_metre:.4g} kg/m"),
    ]
    answer(of_section(found), columns((word.replace(" %", ""), value) for word, value in rows), as_json)
