"""The corner of a rail where slope and direction change at once, as at the landing of a stair; knows rails."""

from __future__ import annotations

from math import cos, degrees, isfinite, radians, sin
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import LEAST_CORNER
from mitertool.cut import Cut
from mitertool.frame.corners import SHARPEST
from mitertool.frame.facts import Fact, fact
from mitertool.frame.leaning import in_a_fixture
from mitertool.frame.rails import TOPS, joint_of
from mitertool.geometry.vectors import Vector, angle_between
from mitertool.quantity.problem import Remark, angles
from mitertool.sections import Section
from mitertool.words import phrase

TO: Final = ("left", "right")

STEEPEST: Final = 89.0
"""degrees. A steeper member is as good as plumb and has no direction in plan by which a corner could be measured."""


@attrs.frozen
class Landing:
    """Both cuts of a corner that turns in plan and in slope.

    `before` is cut at the right end of the member that comes up to it, `after` at the left end of the one that goes on.
    `turn` is by how much the direction changes in space, `twist` by how much the section after it is turned against a
    flush one, degrees.
    """

    before: Cut
    after: Cut
    turn: float
    twist: float
    facts: tuple[Fact, ...]

    @property
    def between(self) -> float:
        """The angle between the members, inside the corner, in space, degrees."""
        return 180.0 - self.turn

    @property
    def fixtures(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Of either member the roll in a fixture, its top to the moving side, and the swing that is left, degrees."""
        return in_a_fixture(self.before), in_a_fixture(self.after)


def landing(section: Section, slopes: tuple[float, float], angle: float, to: str = "left", tops: str = "up") -> Landing:
    """The corner of members of these slopes (degrees from level, up as they go) at an `angle` in plan between them.

    The angle is inside the corner, 180 where the rail goes straight on; it turns `to` the "left" or "right". `tops` is
    as for a rail. Raises `BadInput` for slopes and angles that make no corner, and for other words.
    """
    for key, word, allowed in (("to", to, TO), ("tops", tops, TOPS)):
        if word not in allowed:
            raise BadInput(key, word, among(allowed))
    for slope in slopes:
        if not (isfinite(slope) and abs(slope) <= STEEPEST):
            raise BadInput("slopes", slope, phrase("refuse.landing-slope", most=STEEPEST))
    if not (isfinite(angle) and 180 - SHARPEST <= angle <= 180):
        raise BadInput("angle", angle, phrase("refuse.landing-angle", least=180 - SHARPEST))
    heading = (180 - angle) * (1 if to == "left" else -1)
    ways = (_way(slopes[0], 0.0), _way(slopes[1], heading))
    turn = degrees(angle_between(*ways))
    if not LEAST_CORNER <= turn <= SHARPEST:
        fits = Remark("refuse.landing-turn", angles(least=LEAST_CORNER, most=SHARPEST))
        raise BadInput("slopes", Remark("found.landing-turn", angles(turn=turn)), fits)
    before, after, twist = joint_of(section, ways, tops)
    said = fact("turn-in-space", a=slopes[0], b=slopes[1], t=180 - angle), fact("half-turn", T=turn)
    return Landing(before, after, turn, twist, said)


def _way(slope: float, heading: float) -> Vector:
    lean, plan = radians(slope), radians(heading)
    return (cos(lean) * cos(plan), cos(lean) * sin(plan), sin(lean))
