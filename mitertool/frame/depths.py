"""How deep the members of a frame are where they differ, and what brings them flush; knows assemblies."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.frame.assembly import Assembly
from mitertool.quantity.problem import Remark, lengths, names


def depth_notes(assembly: Assembly) -> Iterator[Remark]:
    """What is packed up under the lower members of a frame that lies on a bench, where not all are equally deep, mm.

    Which of their sides are flush is left to whoever fits it: no length and no angle depends on it.
    """
    marks: dict[float, list[str]] = {}
    for member in assembly.pieces:
        marks.setdefault(round(member.piece.section.height, 3), []).append(member.mark)
    *lower, highest = sorted(marks)
    if assembly.in_plan and lower:
        packs = tuple(_pack(marks[low], low, highest - low) for low in lower)
        yield Remark("note.depths", names(marks=marks[highest]) + lengths(high=highest), more=packs)


def _pack(marks: list[str], low: float, by: float) -> Remark:
    return Remark("note.pack", names(marks=marks) + lengths(low=low, middle=by / 2, top=by))
