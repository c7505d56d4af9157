"""How deep the members of a frame are where they differ, and what brings them flush; knows assemblies."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.frame.assembly import Assembly
from mitertool.quantity.problem import Remark, lengths


def depth_notes(assembly: Assembly) -> Iterator[Remark]:
    """What is packed up under the lower members of a frame that lies on a bench, where not all are equally deep, mm.

    They lie there flush at the bottom. No length and no angle depends on it.
    """
    depths = sorted({round(member.piece.section.height, 3) for member in assembly.pieces})
    if assembly.in_plan and len(depths) > 1:
        off = [(low, depths[-1] - low) for low in depths[:-1]]
        packs = tuple(Remark("note.pack", lengths(low=low, middle=by / 2, top=by)) for low, by in off)
        yield Remark("note.depths", lengths(depths=depths), more=packs)
