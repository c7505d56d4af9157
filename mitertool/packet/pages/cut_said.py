"""What is told of one cut, as words and values, on a terminal and on a screen; knows cut, saw and the words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mitertool.packet.words import cannot, more, reading, reading_label, set_back_words, which_way
from mitertool.quantity import Units, show_area, show_gap, show_length
from mitertool.quantity.problem_words import reason_says
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.cut import Cut, Face
    from mitertool.saw import Reach

Row = tuple[str, str]
"""A word and its value."""


def cut_rows(face: Face, cut: Cut, kerf: float | None, reach: Reach | None, units: Units) -> list[Row]:
    """Why it cannot be made, then its figures."""
    against = [(cannot(), reason_says(reason, units)) for reason in reach.reasons] if reach else []
    return [*against, *figure_rows(face, cut, kerf, reach, units)]


def figure_rows(face: Face, cut: Cut, kerf: float | None, reach: Reach | None, units: Units) -> list[Row]:
    """What the scale reads where the cut can be made, then the face, the marks by hand and the kerf along the bar."""
    rows = [
        (phrase("screen.section"), face.section.name),
        *([] if reach and not reach.ok else [(reading_label(reach), reading(reach, cut))]),
        ("", which_way(reach, cut)),
        ("", more(reach, cut)),
        *face_rows(face, units),
        *((phrase("screen.by-hand"), says) for says in set_back_words(face.section, cut, units)),
    ]
    if kerf is not None:
        rows.append((phrase("screen.kerf-along"), show_gap(cut.kerf_along(kerf), units)))
    return [row for row in rows if row[1]]


def face_rows(face: Face, units: Units) -> list[Row]:
    """The face: its area and size, and what the blade meets in it."""
    return [
        (phrase("screen.face-area"), show_area(face.area, units)),
        (phrase("screen.face-along"), show_length(face.width, units)),
        (phrase("screen.face-up"), show_length(face.height, units)),
        (phrase("screen.largest"), show_length(face.largest_contact, units)),
        (phrase("screen.thinnest"), show_length(face.thinnest_wall, units)),
    ]
