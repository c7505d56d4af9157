"""A first piece measured against its drawing: what is wrong, how sure that is, and what to change; knows piece.

Every uncertainty is that of the readings alone, each tape or protractor reading taken as right within plus or minus
what is given; independent ones are added as squares.
"""

from __future__ import annotations

from math import atan, cos, degrees, hypot, radians, sqrt, tan
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.piece import Piece
from mitertool.quantity.sentence import Sentence
from mitertool.saw.classes import ToleranceClass
from mitertool.saw.fit_up import Joint, Opening, Share, end_share, joint_opening, length_share
from mitertool.saw.saw import Saw

ROLLED: Final = "rolled"
SWUNG: Final = "swung"
PARALLEL: Final = "parallel"
WAYS: Final = (ROLLED, SWUNG, PARALLEL)
"""How the second end came about: bar rolled with the arm left alone, arm swung between, or nothing set between."""

_LARGEST: Final = 15.0
"""degrees. A cut further out is no setting error: something else was cut or measured."""


@attrs.frozen
class Measured:
    """What was measured on a piece, mm and degrees; None where it was not.

    `long` and `short` are the longest and shortest line of material, `width` the bar across the bed. `left` and
    `right` are the ends' angles from a square cut by protractor, signed as the drawing's miters. `out_of_square` is how
    far the top of the end stands out beyond its bottom along the bar, `over` (the bar's height where None) between.
    """

    long: float
    short: float
    width: float | None = None
    left: float | None = None
    right: float | None = None
    out_of_square: float | None = None
    over: float | None = None


@attrs.frozen
class Readings:
    """How sure a reading is, plus or minus: tape in mm, protractor in degrees."""

    tape: float = 0.5
    protractor: float = 0.25


@attrs.frozen
class Finding:
    """An error, measured less nominal, and its uncertainty either way, mm or degrees; `on` says of what."""

    on: str
    error: float
    uncertainty: float

    @property
    def sure(self) -> bool:
        """Whether the error is larger than the readings can make it."""
        return abs(self.error) > self.uncertainty


@attrs.frozen
class FirstPiece:
    """What a first piece says. `angles` are the errors of the ends that could be known, `slope_sum` of both together.

    `length` is the error on the line that the length is set on, told in its `on`; `lead` is how far the blade leads
    from top to bottom, degrees. `change` is what to change, `measure` what else must be measured before that is known.
    `correction` is what the scale's kept offset should become (None: not known, or no saw).
    """

    angles: tuple[Finding, ...]
    slope_sum: Finding
    length: Finding
    lead: Finding | None
    change: tuple[Sentence, ...]
    measure: tuple[str, ...]
    correction: float | None


def way_of(saw: Saw, piece: Piece) -> str:
    """How the saw makes the second end of a piece: one of `WAYS`."""
    left, right = (saw.reach(piece.section, cut, end) for cut, end in ((piece.left, "left"), (piece.right, "right")))
    if abs(left.swing - right.swing) > SAME_SLOPE or abs(left.tilt - right.tilt) > SAME_SLOPE:
        return SWUNG
    return ROLLED if left.roll != right.roll else PARALLEL


def first_piece(
    piece: Piece,
    measured: Measured,
    way: str | None = None,
    readings: Readings | None = None,
    saw: Saw | None = None,
) -> FirstPiece:
    """Judge a measured piece. `way` says how its second end came about; None: as the saw would make it.

    Raises `BadInput` for measures that cannot belong to the piece, or where neither way nor saw is given.
    """
    readings = readings or Readings()
    how = way_of(saw, piece) if way is None and saw else way
    if how not in WAYS:
        raise BadInput("way", how, f"how the second end came about: {', '.join(WAYS)}, or give the saw")
    _refuse(piece, measured)
    sums = _slope_sum(piece, measured, readings)
    angles = _angles(piece, measured, how, readings, sums)
    length = _length(piece, measured, how, readings, saw)
    lead = _lead(piece, measured, readings)
    error = _swing_error(saw, piece, angles)
    return FirstPiece(
        angles,
        sums,
        length,
        lead,
        _changes(saw, how, angles, length, lead, error),
        _measure_more(piece, measured, how, saw, _contradict(piece, measured, readings, sums)),
        _correction(saw, error),
    )


def openings(piece: Piece, found: FirstPiece) -> tuple[Opening, ...]:
    """What each end whose error is known opens where it meets one that is cut alike; its mark is the end."""
    joints = ((one, piece.section.width, getattr(piece, one.on).miter) for one in found.angles)
    return tuple(
        joint_opening(Joint(one.on, width, miter, width, miter), one.error, one.error) for one, width, miter in joints
    )


def shares(piece: Piece, found: FirstPiece, tolerance: ToleranceClass) -> tuple[Share, ...]:
    """How much of a class's tolerance the errors of length and angles use up."""
    width, length = piece.section.width, piece.long_point
    angles = (
        end_share(tolerance, one.on, width, length, getattr(piece, one.on).miter, one.error) for one in found.angles
    )
    return (length_share(tolerance, "length", length, found.length.error), *angles)


def _refuse(piece: Piece, measured: Measured) -> None:
    for name in ("long", "short", "width", "over"):
        value = getattr(measured, name)
        if value is not None and not (0 < value < float("inf") or (name == "short" and value == 0)):
            raise BadInput(name, value, "a measured length is more than 0 mm")
    if measured.short > measured.long:
        raise BadInput("short", f"{measured.short:g} mm", f"it is longer than the long one, {measured.long:g} mm")
    if piece.left.bevel or piece.right.bevel:
        raise BadInput("first piece", "a bevel", "only pieces without a bevel are judged; cut a plain miter to prove")
    for end in ("left", "right"):
        found, nominal = getattr(measured, end), getattr(piece, end).miter
        if found is not None and abs(found - nominal) > _LARGEST:
            allowed = f"within {_LARGEST:g} degrees of the drawing's {nominal:g}, positive with the long point moving"
            raise BadInput(f"{end} angle", found, allowed)


def _spread(piece: Piece, measured: Measured) -> float:
    """How far apart across the bed the longest and the shortest line of material lie, mm, scaled as measured."""
    p = piece.p or 1.0
    span = abs(piece.section.support_point(p, 0.0)[0] - piece.section.support_point(-p, 0.0)[0])
    return span if measured.width is None else span * measured.width / piece.section.width


def _slope_sum(piece: Piece, measured: Measured, readings: Readings) -> Finding:
    """The error of tan left + tan right, from long less short over the width."""
    spread, apart = _spread(piece, measured), measured.long - measured.short
    found = (apart if piece.p >= 0 else -apart) / spread
    by_length = sqrt(2) * readings.tape / spread
    by_width = abs(found) * readings.tape / spread if measured.width is not None else 0.0
    return Finding("tan of both ends together", found - piece.p, hypot(by_length, by_width))


def _angles(piece: Piece, measured: Measured, how: str, readings: Readings, sums: Finding) -> tuple[Finding, ...]:
    """The error of each end that is known: by protractor, from the sum, or from the sum less the other end."""
    found = [
        Finding(end, getattr(measured, end) - getattr(piece, end).miter, readings.protractor)
        for end in ("left", "right")
        if getattr(measured, end) is not None
    ]
    if len(found) == 2 or how == PARALLEL or abs(piece.p) <= SAME_SLOPE:
        return tuple(found)
    if how == ROLLED:
        shared = (_from_slope(end, getattr(piece, end).miter, sums, 2) for end in ("left", "right"))
        return tuple(min((one, *(f for f in found if f.on == one.on)), key=lambda f: f.uncertainty) for one in shared)
    return (*found, *(_other_end(piece, one, sums) for one in found))


def _from_slope(end: str, miter: float, sums: Finding, ends: int) -> Finding:
    """The error of an end whose share of the sum is 1/`ends`."""
    slope = tan(radians(miter)) + sums.error / ends
    per_slope = degrees(cos(atan(slope)) ** 2)
    return Finding(end, degrees(atan(slope)) - miter, sums.uncertainty / ends * per_slope)


def _other_end(piece: Piece, known: Finding, sums: Finding) -> Finding:
    """The end that was not measured: the sum less the one that was."""
    other = "right" if known.on == "left" else "left"
    miter = getattr(piece, known.on).miter
    off = tan(radians(miter + known.error)) - tan(radians(miter))
    slack = radians(known.uncertainty) / cos(radians(miter + known.error)) ** 2
    rest = Finding("", sums.error - off, hypot(sums.uncertainty, slack))
    return _from_slope(other, getattr(piece, other).miter, rest, 1)


def _length(piece: Piece, measured: Measured, how: str, readings: Readings, saw: Saw | None) -> Finding:
    """The error on the line that the stop or feed is set on: over the swing axis, the centerline, or the side."""
    section = piece.section
    axis = saw.bed.swing_axis if saw else None
    if how == PARALLEL or abs(piece.p) <= SAME_SLOPE:
        mean = (measured.long + measured.short) / 2
        return Finding("the side", mean - piece.centerline, readings.tape / sqrt(2))
    on, y = "the centerline", section.width / 2
    if how == SWUNG and axis is not None:
        on, y = "the line over the swing axis", axis
    far, near = section.support_point(piece.p, 0.0)[0], section.support_point(-piece.p, 0.0)[0]
    share = (y - near) / (far - near)
    found = measured.short + share * (measured.long - measured.short)
    return Finding(on, found - piece.length_at(y, 0.0), readings.tape * hypot(share, 1 - share))


def _lead(piece: Piece, measured: Measured, readings: Readings) -> Finding | None:
    if measured.out_of_square is None:
        return None
    over = measured.over or piece.section.height
    angle = degrees(atan(measured.out_of_square / over))
    return Finding("top to bottom", angle, degrees(readings.tape / over))


def _swing_error(saw: Saw | None, piece: Piece, angles: tuple[Finding, ...]) -> Finding | None:
    """How far the arm stood beyond its swing, toward the feed side, degrees: from the end that is known best."""
    if saw is None or not angles:
        return None
    best = min(angles, key=lambda finding: finding.uncertainty)
    cut = getattr(piece, best.on)
    answer = saw.reach(piece.section, cut, best.on)
    sign = (1.0 if best.on == "right" else -1.0) * (1.0 if saw.fixed_jaw == "left" else -1.0)
    sign = -sign if abs(answer.roll) == 180.0 else sign
    return Finding(best.on, sign * best.error, best.uncertainty)


def _correction(saw: Saw | None, error: Finding | None) -> float | None:
    """The offset with which the scale reads what the arm does: the kept one less what it read too little."""
    if saw is None or error is None:
        return None
    return saw.scale.corrected(error.error)


def _changes(
    saw: Saw | None,
    how: str,
    angles: tuple[Finding, ...],
    length: Finding,
    lead: Finding | None,
    error: Finding | None,
) -> tuple[Sentence, ...]:
    found = [Sentence(_angle_says(how, finding)) for finding in angles if finding.sure]
    if error is not None and error.sure and saw is not None:
        side = "discharge" if error.error > 0 else "feed"
        found.append(Sentence(f"swing the arm {abs(error.error):.2f} degrees further to the {side} side"))
    if length.sure:
        what = "shorten" if length.error > 0 else "lengthen"
        told = Sentence(f"{what} the stop or the length keyed by {{}}, measured on {length.on}", (abs(length.error),))
        found.append(told)
    if lead is not None and lead.sure:
        says = f"the blade leads {abs(lead.error):.2f} degrees from top to bottom"
        found.append(Sentence(f"{says}: see to guides, tension, teeth and descent before the scale"))
    return tuple(found) or (Sentence("nothing: every error is within what the readings can tell"),)


def _angle_says(how: str, finding: Finding) -> str:
    more = "too large" if finding.error > 0 else "too small"
    both = "; the arm stood the same for both ends" if how == ROLLED else ""
    return f"the {finding.on} miter is {abs(finding.error):.2f} degrees {more}{both}"


def _contradict(piece: Piece, measured: Measured, readings: Readings, sums: Finding) -> bool:
    """Whether both angles by protractor cannot go with long less short, within all readings."""
    if measured.left is None or measured.right is None:
        return False
    ends = ((radians(measured.left), piece.left.p), (radians(measured.right), piece.right.p))
    apart = sums.error - sum(tan(angle) - nominal for angle, nominal in ends)
    slack = sum(radians(readings.protractor) / cos(angle) ** 2 for angle, _ in ends)
    return abs(apart) > sums.uncertainty + slack


def _measure_more(piece: Piece, measured: Measured, how: str, saw: Saw | None, contradict: bool) -> tuple[str, ...]:
    known = (measured.left is not None) + (measured.right is not None)
    found = ["the angles and long less short contradict each other: measure all of them anew"] if contradict else []
    if how == PARALLEL or abs(piece.p) <= SAME_SLOPE:
        if not known:
            found.append("long and short are alike where the ends are parallel: measure one end by protractor")
    elif how == SWUNG and not known:
        found.append("long less short tells only both ends together: measure one end by protractor")
    if measured.width is None and not known:
        found.append("the width is taken from the drawing: measure it where the bar may differ")
    if measured.out_of_square is None:
        found.append("whether the blade leads is not known: hold a square to the end from top to bottom")
    if how == SWUNG and abs(piece.p) > SAME_SLOPE and (saw is None or saw.bed.swing_axis is None):
        found.append("the arm swings about an axis that is not known: give swing_axis in the saw file")
    return tuple(found)
