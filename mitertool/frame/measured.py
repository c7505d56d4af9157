"""Which line of a member a frame's sizes are measured on, by word; knows sections and how they are laid."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.sections import Section

_BOX: Final[Mapping[str, float]] = {"outside": 0.0, "centerline": 0.5, "inside": 1.0}
"""Share of the width that lies outside the measured line."""

MEASURED: Final = (*_BOX, "over heels", "between legs", "toe to toe", "over webs")


def outward(section: Section, measured: str) -> float:
    """How far the outer edge of a member lies outside the line that is measured, mm.

    "outside", "inside" and "centerline" are of the section's box; "over heels" runs along the heels of angle,
    "between legs" along the inner faces of its upright legs, "toe to toe" along the toes of its flat legs or of
    channel, "over webs" along the backs of channel that stands on a flange. Raises `BadInput` for a word that the
    section as it lies has not: angle and channel have no centerline that a tape could find.
    """
    words = measured_words(section)
    if measured not in words:
        raise BadInput("measured", measured, f"for {section.name} as it lies: {', '.join(words)}")
    return words[measured]


def measured_words(section: Section) -> dict[str, float]:
    """The words for a section as it lies, each with the distance of its line from the outer edge, mm."""
    width = section.width
    if section.shape == "angle" and section.rotation % 90 == 0:
        return {"outside": 0.0, "inside": width, **_angle_words(section)}
    if section.shape == "channel":
        return {"outside": 0.0, "inside": width, **_channel_words(section)}
    return {word: share * width for word, share in _BOX.items()}


def _angle_words(section: Section) -> dict[str, float]:
    """Heel out: heel and toe lie outside and inside; heel in: the other way round."""
    thickness = dict(section.dimensions)["thickness"]
    if _heel_out(section):
        return {"over heels": 0.0, "between legs": thickness, "toe to toe": section.width}
    return {"over heels": section.width, "between legs": section.width, "toe to toe": 0.0}


def _heel_out(section: Section) -> bool:
    """Whether the heel is on the moving side: a quarter or half turn brings it there, turning end for end too."""
    return (section.rotation // 90 + section.turned) % 4 in (1, 2)


def _channel_words(section: Section) -> dict[str, float]:
    if section.rotation % 180:
        return {}
    back_out = (section.rotation % 360 == 180) != section.turned
    return {"over webs": 0.0 if back_out else section.width, "toe to toe": section.width if back_out else 0.0}
