"""Which formulas lead to an answer, and the numbers put into them; knows the solved values and the table.

Numbers stand in mm, or in decimal inches for any units of inches.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import attrs

from mitertool.cut import Cut
from mitertool.frame import Assembly, Corner
from mitertool.frame.facts import Fact
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import Units
from mitertool.sections import Section
from mitertool.working.formula import Step
from mitertool.working.table import TABLE


def for_cut(cut: Cut, section: Section, kerf: float | None = None, units: Units = "mm") -> tuple[Step, ...]:
    """The rises of a cut, its stretch, its face area and its kerf along the bar."""
    steps = [
        TABLE["miter-rise"].step(units, m=cut.miter),
        TABLE["bevel-rise"].step(units, b=cut.bevel, m=cut.miter),
        TABLE["stretch"].step(units, p=cut.p, q=cut.q),
        TABLE["face-area"].step(units, A=section.area, k=cut.stretch),
    ]
    if kerf is not None:
        steps.append(TABLE["kerf-along"].step(units, c=kerf, k=cut.stretch))
    return tuple(steps)


def for_piece(piece: Piece, units: Units = "mm") -> tuple[Step, ...]:
    """From the moving-side edge to the other lengths and the volume; bevels come in through their rises.

    Of a piece with more than one cut at an end only the rises.
    """
    section = piece.section
    cy, cz = section.centroid
    if piece.further:
        return _rises(piece, units)
    return (
        *_rises(piece, units),
        TABLE["rise-sum"].step(units, pl=piece.left.p, pr=piece.right.p),
        TABLE["fixed-edge"].step(units, M=piece.edges.moving_bottom, P=piece.p, W=section.width),
        TABLE["centerline"].step(units, s=piece.s, P=piece.p, W=section.width, Q=piece.q, H=section.height),
        TABLE["volume"].step(units, A=section.area, s=piece.s, P=piece.p, y=cy, Q=piece.q, z=cz),
    )


def _rises(piece: Piece, units: Units) -> tuple[Step, ...]:
    return tuple(TABLE["miter-rise"].step(units, m=cut.miter) for end in OTHER_END for cut in piece.cuts(end))


def for_corner(corner: Corner, units: Units = "mm") -> tuple[Step, ...]:
    """The seam's angle, both miters and the seam of a corner."""
    seam = 90 - corner.miter_a
    return (
        TABLE["seam-angle"].step(units, Wa=corner.width_a, Wb=corner.width_b, S=corner.angle),
        TABLE["miter-first"].step(units, d=seam),
        TABLE["miter-second"].step(units, S=corner.angle, d=seam),
        TABLE["seam"].step(units, Wa=corner.width_a, d=seam),
    )


def for_facts(facts: Iterable[Fact], units: Units = "mm") -> tuple[Step, ...]:
    """The formulas that an answer says it came from."""
    return tuple(TABLE[fact.key].step(units, **dict(fact.values)) for fact in facts)


def for_assembly(assembly: Assembly, units: Units = "mm") -> tuple[Step, ...]:
    """How a frame's angles and lengths came about, then the edges of each mark."""
    edges = (step for member in assembly.pieces for step in _edges(member.mark, member.piece, units))
    return (*for_facts(assembly.facts, units), *edges)


def _edges(mark: str, piece: Piece, units: Units) -> Iterator[Step]:
    """The edges of a mark with one cut an end; of any other the rise of every cut."""
    steps = _rises(piece, units)
    if not piece.further:
        steps += (
            TABLE["rise-sum"].step(units, pl=piece.left.p, pr=piece.right.p),
            TABLE["moving-edge"].step(units, s=piece.s, P=piece.p, W=piece.section.width),
        )
    return (attrs.evolve(step, says=f"{mark}: {step.says}") for step in dict.fromkeys(steps))
