"""What must be set on a saw to make a cut, and every reason why it cannot; knows saw, cut and sections."""

from __future__ import annotations

from math import atan, atan2, degrees, hypot
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut import Cut
from mitertool.saw.saw import Saw
from mitertool.saw.scale import side_of
from mitertool.sections import Section, lies_safely

ENDS: Final = ("left", "right")


@attrs.frozen
class Reason:
    """Why a cut cannot be made: a stable `code`, a sentence, what the saw has and what the cut needs."""

    code: str
    says: str
    have: float
    need: float


@attrs.frozen
class Reach:
    """The settings of a cut (degrees) and whether the saw can make it.

    `swing` is positive when the blade's moving-jaw end goes toward the feed side; `scale` is what the protractor
    must read; `side` is "feed", "discharge" or "square"; `roll` is how far the bar is turned about its own axis
    first, 0 where it is not; `tilt` is the blade's tilt, 0 where it does not.
    """

    ok: bool
    reasons: tuple[Reason, ...]
    swing: float
    scale: float
    side: str
    roll: float
    tilt: float


def reach(saw: Saw, section: Section, cut: Cut, end: str = "right") -> Reach:
    """The settings that make `cut` at an end of a piece of `section` on `saw`."""
    if end not in ENDS:
        raise BadInput("end", end, f"allowed: {', '.join(ENDS)}")
    plain = _as_drawn(saw, cut, end)
    if plain.ok or plain.roll:
        return plain
    rolled = _settled(saw, -plain.swing, 180.0, -plain.tilt)
    if not rolled.ok:
        return plain
    return rolled if lies_safely(section.lay(180)) else _must_be_packed(plain, section)


def _as_drawn(saw: Saw, cut: Cut, end: str) -> Reach:
    """The settings with the bar as drawn; a bevel on a blade that does not tilt becomes a roll of the bar."""
    sign = (1.0 if end == "right" else -1.0) * (1.0 if saw.fixed_jaw == "left" else -1.0)
    if abs(cut.q) <= SAME_SLOPE or saw.tilt:
        return _settled(saw, sign * cut.miter, 0.0, sign * cut.bevel)
    return _settled(saw, sign * degrees(atan(hypot(cut.p, cut.q))), degrees(atan2(cut.q, cut.p)), 0.0)


def _settled(saw: Saw, swing: float, roll: float, tilt: float) -> Reach:
    swing, tilt = swing + 0.0, tilt + 0.0
    reasons = (*_swing_reasons(saw, swing), *_tilt_reasons(saw, tilt))
    return Reach(not reasons, reasons, swing, saw.scale.reading(swing), side_of(swing), roll, tilt)


def _swing_reasons(saw: Saw, swing: float) -> tuple[Reason, ...]:
    if saw.scale.reaches(swing):
        return ()
    most = saw.scale.most(swing)
    says = f"needs a swing of {abs(swing):.2f} degrees to the {side_of(swing)} side, where the arm goes to {most:g}"
    return (Reason("swing", says, most, abs(swing)),)


def _tilt_reasons(saw: Saw, tilt: float) -> tuple[Reason, ...]:
    if not saw.tilt or saw.tilt.lowest <= tilt <= saw.tilt.highest:
        return ()
    most = saw.tilt.highest if tilt > 0 else saw.tilt.lowest
    return (Reason("tilt", f"needs a tilt of {tilt:.2f} degrees, where the blade goes to {most:g}", most, tilt),)


def _must_be_packed(plain: Reach, section: Section) -> Reach:
    """Rolling the bar would do, but the section does not lie safely so."""
    more = f"; {section.name} does not lie safely rolled half a turn: pack it or cut it elsewhere"
    reasons = tuple(attrs.evolve(reason, says=reason.says + more) for reason in plain.reasons)
    return attrs.evolve(plain, reasons=reasons)
