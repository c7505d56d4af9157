"""Drawings of a section: with its dimensions, and in all its lays side by side; knows views and drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from mitertool.cut.survey import LaySurvey
from mitertool.drawing import THIN, Dimension, Drawing, Line, Text, fit
from mitertool.packet.paper.views import end_view
from mitertool.packet.words import lies
from mitertool.quantity import Units, show_area, show_length, show_mass_per_length
from mitertool.sections import Section
from mitertool.sections.dimension import shown
from mitertool.words import phrase

_ACROSS: Final = 90.0
"""Paper mm of the larger side of a section drawn alone."""

_LAY: Final = 34.0
"""Paper mm of the larger side of a section among its lays."""

_COLUMN: Final = 66.0


def drawing_scale(section: Section) -> float:
    """mm of steel for one mm on paper in `section_drawing`."""
    return max(section.width, section.height) / _ACROSS


def section_drawing(section: Section, units: Units) -> Drawing:
    """The section at 1:1 in mm of steel, with its size and, as text, every dimension it was made from."""
    scale, width, height = drawing_scale(section), section.width, section.height
    sizes = [
        Dimension((0, 0), (width, 0), -10, show_length(width, units), 3.5, along=0.0),
        Dimension((width, 0), (width, height), -10, show_length(height, units), 3.5, along=90.0),
    ]
    texts = [
        Text((0, -(26 + 6.5 * i) * scale), line, 5.0 if i == 0 else 3.5)
        for i, line in enumerate(_facts(section, units))
    ]
    return end_view(section) + Drawing([*sizes, *texts])


def lays_drawing(found: Sequence[LaySurvey], units: Units) -> Drawing:
    """Every lay on its bed, best first, with what the blade meets; paper mm."""
    whole = Drawing(())
    for i, one in enumerate(found):
        whole += _lay(one, units).moved(i * _COLUMN, 0)
    return whole


def _facts(section: Section, units: Units) -> Iterator[str]:
    yield section.name
    yield section.source
    for word, value in section.dimensions:
        if word not in ("width", "height"):
            yield " ".join(shown(word, value, units))
    yield phrase(
        "lay.area", area=show_area(section.area, units), mass=show_mass_per_length(section.mass_per_metre, units)
    )
    if section.nominal is not None:
        yield phrase("lay.nominal", mass=show_mass_per_length(section.nominal_mass_per_metre, units))


def _lay(one: LaySurvey, units: Units) -> Drawing:
    section = one.section
    k = min(_LAY / section.height, (_COLUMN - 16) / section.width)
    lines = [
        lies(section) or phrase("lay.turned", rotation=section.rotation),
        phrase("lay.largest", length=show_length(one.largest, units)),
        phrase("lay.thinnest", length=show_length(one.thinnest, units)),
        phrase("lay.mean", length=show_length(one.mean, units)),
        phrase("lay.stays" if one.safe else "lay.tips"),
    ]
    texts = [Text((0, _LAY + 4), f"{one.rank}", 5.0, bold=True)]
    texts += [Text((0, -7.0 - 5.2 * i), line, fit(line, _COLUMN - 4, 3.2)) for i, line in enumerate(lines)]
    bed = Line((0, 0), (_COLUMN - 8, 0), THIN)
    return end_view(section).scaled(k).moved((_COLUMN - 8 - section.width * k) / 2, 0) + Drawing([bed, *texts])
