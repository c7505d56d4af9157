"""Solved values as plain records for JSON, each key declared once: unit, meaning, type and how its value is taken."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from mitertool.packet.records.bars import PLAN
from mitertool.packet.records.fields import of_known
from mitertool.packet.records.piece import CUT, PIECE, REACH, REACHES, SAW
from mitertool.packet.records.plain import of_corner, of_face, of_load, of_section
from mitertool.packet.records.solution import FURTHER, PLAN_FILE, SOLUTION, STOP

if TYPE_CHECKING:
    from mitertool.job.solved import FurtherCut
    from mitertool.saw import Reach

__all__ = [
    "of_corner",
    "of_cut",
    "of_face",
    "of_further",
    "of_load",
    "of_piece",
    "of_plan",
    "of_plan_file",
    "of_reach",
    "of_reaches",
    "of_saw",
    "of_section",
    "of_solution",
    "of_stop",
]

of_cut = CUT.of
of_piece = PIECE.of
of_saw = SAW.of
of_plan = PLAN.of
of_solution = SOLUTION.of
of_further = FURTHER.of
of_stop = STOP.of
of_plan_file = PLAN_FILE.of


def of_reach(reach: Reach | None) -> dict[str, Any] | None:
    """The settings of a cut; None where there is no saw file."""
    return of_known(REACH, reach)


def of_reaches(left: Reach | None, right: Reach | None, further: Sequence[FurtherCut]) -> dict[str, Any]:
    """The settings of all cuts of a piece: those that part the bar, and where an end has them the further ones."""
    return REACHES.of((left, right, further))
