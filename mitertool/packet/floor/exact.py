"""Angles that are set exactly where no saw is known: to the nearest that can be read a frame would not close."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.base.tolerances import SAME_SETTING
from mitertool.job import Solution
from mitertool.quantity import show_gap


def exact_angles(solution: Solution) -> Iterator[tuple[str, float]]:
    """The frames that the nearest angles leave open, each with an angle from square that is not one of them."""
    job = solution.job
    step, nothing = job.resolution.angle, show_gap(0.0, job.head.units)
    for order in solution.frames if job.saw is None else ():
        if show_gap(order.assembly.closure.rounded_gap, job.head.units) == nothing:
            continue
        for member in order.assembly.pieces:
            for angle in (abs(member.piece.left.miter), abs(member.piece.right.miter)):
                if abs(round(angle / step) * step - angle) > SAME_SETTING:
                    yield order.assembly.mark, angle
