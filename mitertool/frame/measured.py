"""Which line of a member a frame's sizes are measured on, by word; knows sections and how they are laid."""

from __future__ import annotations

from mitertool.base.errors import BadInput
from mitertool.sections import Section
from mitertool.words import phrase


def outward(section: Section, measured: str) -> float:
    """How far the outer edge of a member lies outside the line that is measured, mm.

    "outside", "inside" and "centerline" are of the section's box; "over heels" runs along the heels of angle,
    "between legs" along the inner faces of its upright legs, "toe to toe" along the toes of its flat legs or of
    channel, "over webs" along the outer faces of webs that stand. Raises `BadInput` for a word that the section as it
    lies has not: an open section has no centerline that a tape could find.
    """
    lines = section.shape.tape_lines(section)
    if measured not in lines:
        raise BadInput("measured", measured, phrase("refuse.measured", section=section.name, lines=", ".join(lines)))
    return lines[measured]
