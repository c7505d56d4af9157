"""A frame put together with every cut out by one error, all corners but the last pulled shut; knows pieces' plans."""

from __future__ import annotations

from math import atan, degrees, radians, tan
from typing import Final

import attrs

from mitertool.frame.assembly import Assembly, plan_of
from mitertool.frame.closure import InPlan, Move, apart, placed
from mitertool.frame.joints import FIRST_THROUGH, SECOND_THROUGH

_MOST: Final = 89.99
"""degrees. A miter that an error would take to 90 or past it stays below: a blade along the bar makes no cut."""


def last_corner(assembly: Assembly, error: float) -> float:
    """How far apart the outer corners of the last joint of a closed frame stand, mm, beyond its root gap.

    Every face that lies in a joint is cut `error` degrees beyond its miter and the long points are true; every other
    joint is pulled shut as it was meant, so that its corner is rigid at the angle that its faces make.
    """
    count, joints = len(assembly.order), assembly.joints
    drawn = {member.mark: plan_of(member.piece) for member in assembly.pieces}
    plans = [
        _cut(
            drawn[assembly.order[i]],
            error * (joints[i - 1].kind != SECOND_THROUGH),
            error * (joints[i].kind != FIRST_THROUGH),
        )
        for i in range(count)
    ]
    moves = placed(plans, joints, Move())
    return apart(plans[-1], plans[0], joints[-1], moves[-1], moves[0])


def _cut(plan: InPlan, left: float, right: float) -> InPlan:
    """A piece with its two miters out by degrees and its long point kept."""
    p_left, p_right = _beyond(plan.p_left, left), _beyond(plan.p_right, right)
    inner = _long_point(plan) - max(0.0, (p_left + p_right) * plan.width)
    return attrs.evolve(plan, inner=inner, p_left=p_left, p_right=p_right)


def _beyond(p: float, error: float) -> float:
    return tan(radians(max(-_MOST, min(_MOST, degrees(atan(p)) + error))))


def _long_point(plan: InPlan) -> float:
    return plan.inner + max(0.0, (plan.p_left + plan.p_right) * plan.width)
