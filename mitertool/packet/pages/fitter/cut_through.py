"""How open sections lie in a frame: each cut through, with its inside, its outside and its front named; paper mm.

What has no closed wall differs from side to side, and neither the picture of the frame nor its sizes tell how it lies:
where the heel of an angle is, or whether a channel has its toes in or out.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from mitertool.drawing import THIN, Drawing, Entity, Line, Point, Text
from mitertool.frame import Assembly, SpaceAssembly
from mitertool.packet.pages.fitter.lies import lying_sections
from mitertool.packet.pages.fitter.marked import side_says
from mitertool.packet.paper.spread import spread
from mitertool.packet.paper.views import end_view
from mitertool.sections import Section
from mitertool.words import phrase

_ROOM: Final = (20.0, 15.0)
_LETTERS: Final = 2.8
_PITCH: Final = 4.2
_OFF: Final = 5.0
_ABOVE: Final = 1.6
"""mm: the room of a section, its lettering from line to line, how far that stands off at the sides, and above."""

_APEX: Final = 0.4
"""Of the width: what of a part lies nearer to its middle is at neither side."""


@attrs.frozen
class CutThrough:
    """A section as it lies in a frame, the marks that have it, and what lies to its left, to its right and above.

    It is seen from the right end of its piece, an upright bar inside from its lower end, so that its left is at the
    left; that of a rail, whose sides have no name, from the last of its nodes.
    """

    section: Section
    left: str
    right: str
    above: str
    marks: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Which pieces it is a section of."""
        code = "frame.cut-through" if self.left else "frame.cut-through/rail"
        return phrase(code, marks=", ".join(dict.fromkeys(self.marks)))


def cuts_through(assembly: Assembly) -> tuple[CutThrough, ...]:
    """The open sections of a frame, those that lie alike once; none of the bars that stand in corners in space."""
    found: list[CutThrough] = []
    for mark, one in _lying(assembly):
        alike = next((i for i, other in enumerate(found) if attrs.evolve(other, marks=()) == one), None)
        if alike is None:
            found.append(attrs.evolve(one, marks=(mark,)))
        else:
            found[alike] = attrs.evolve(found[alike], marks=(*found[alike].marks, mark))
    return tuple(found)


def _lying(assembly: Assembly) -> Iterator[tuple[str, CutThrough]]:
    """Every piece of an open section by its mark, first those around, then those inside."""
    if isinstance(assembly, SpaceAssembly) and assembly.shape != "rail":
        return
    for host, (mark, section) in enumerate(lying_sections(assembly)):
        if section.is_open:
            yield mark, _seen(assembly, host, section)


def _seen(assembly: Assembly, host: int, section: Section) -> CutThrough:
    """A section with its sides by their names; the fixed one is at its left where it is seen from the right end."""
    if not assembly.in_plan:
        return CutThrough(section, "", "", phrase("side.top"))
    front = phrase("frame.hole/top")
    if assembly.ring is not None and host < len(assembly.order):
        return CutThrough(section, phrase("frame.stops.ring/inner"), phrase("frame.stops.ring/outer"), front)
    fixed, moving = (side_says(assembly, host, side) for side in ("fixed", "moving"))
    _, start, end, _ = assembly.edges[host]
    if (end - start).imag > abs((end - start).real):
        return CutThrough(section.lay(turned=True), moving, fixed, front)
    return CutThrough(section, fixed, moving, front)


def cut_through_drawing(one: CutThrough) -> Drawing:
    """The section with what lies to its sides and above, and its parts by their names, about x = 0 on y = 0."""
    section = one.section
    k = min(_ROOM[0] / section.width, _ROOM[1] / section.height)
    wide, high = section.width * k, section.height * k
    parts = [(phrase(f"part.{name}"), (y * k, z * k)) for name, (y, z) in section.shape.parts(section).items()]
    left = [part for part in parts if part[1][0] < _APEX * wide]
    right = [part for part in parts if part[1][0] >= _APEX * wide]
    raised = _PITCH if any(abs(at[0] - wide / 2) < 1e-9 and at[1] > high / 2 for _, at in parts) else 0.0
    words: list[Entity] = [
        Text((wide / 2, high + _ABOVE + raised), one.above, _LETTERS, "center"),
        *_column(one.left, left, -_OFF, high),
        *_column(one.right, right, wide + _OFF, high),
    ]
    return (end_view(section).scaled(k) + Drawing(words)).moved(-wide / 2, 0.0)


def _column(side: str, parts: list[tuple[str, Point]], x: float, high: float) -> Iterator[Entity]:
    """The side and the parts that lie there, each at its height with a line to it, none on another."""
    told: list[tuple[float, str, Point | None]] = [(at[1], says, at) for says, at in parts]
    told = sorted([*told, *([(high / 2, side, None)] if side else [])], key=lambda one: one[0])
    heights = spread([at for at, _, _ in told], [_PITCH] * len(told), -_PITCH, high + _PITCH)
    for (_, says, at), y in zip(told, heights, strict=True):
        yield Text((x, y - _LETTERS / 2), says, _LETTERS, "left" if x > 0 else "right")
        if at:
            yield Line((x - 0.6 if x > 0 else x + 0.6, y), at, THIN)
