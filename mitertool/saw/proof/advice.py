"""What a judged first piece says to whoever stands at the saw: what to change, to measure, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from mitertool.quantity.problem import Remark, angles, lengths, words
from mitertool.saw.file.machine import Machine
from mitertool.saw.proof.judged import AXIS, KEYED, PROTRACTOR, STOP, Judged
from mitertool.saw.proof.making import ROLLED, SWUNG
from mitertool.saw.proof.measured import Finding, width_within
from mitertool.saw.setting.reach import ENDS

NOTHING: Final = Remark("advice.nothing")


def changes(judged: Judged) -> tuple[Remark, ...]:
    """What to change, in the order of doing."""
    if judged.contradict:
        return (Remark("advice.contradict"), *_lead(judged))
    found = (*_angles(judged), *_swings(judged), *_then(judged), *_length(judged), *_lead(judged))
    return found or (NOTHING,)


def _angles(judged: Judged) -> Iterator[Remark]:
    both = "-both" if judged.made.way == ROLLED else ""
    for finding in judged.angles:
        if finding.sure:
            error = angles(error=abs(finding.error)) + words(end=f"end.{finding.on}")
            yield Remark("advice.miter", error, _more(finding) + both)
    total = judged.slope_sum
    if judged.made.way == SWUNG and not judged.angles and total.sure:
        apart = total.times(1.0 if judged.piece.p >= 0 else -1.0)
        yield Remark("advice.apart", lengths(by=abs(apart.error) * judged.taken.width), _more(apart))


def _more(finding: Finding) -> str:
    return "large" if finding.error > 0 else "small"


def _swings(judged: Judged) -> Iterator[Remark]:
    """The swing that puts the arm right: one for both ends where it is one error, else each end's own."""
    if judged.arm:
        if judged.arm.sure:
            yield _swing("advice.swing", judged.arm)
        return
    if judged.made.way != SWUNG or not judged.made.sided:
        return
    for end in judged.out:
        told = _swing("advice.swing-for", judged.swing_of(end))
        yield attrs.evolve(told, numbers=told.numbers + words(end=f"end.{end}"))
    if len(judged.out) == len(ENDS):
        yield Remark("advice.not-one")


def _swing(code: str, error: Finding) -> Remark:
    return Remark(code, angles(by=abs(error.error)), "discharge" if error.error > 0 else "feed")


def _then(judged: Judged) -> Iterator[Remark]:
    if judged.angle_right is None:
        return
    (long, short), measured = judged.angle_right, judged.measured
    yield Remark("advice.then", lengths(long=measured.long, long_then=long, short=measured.short, short_then=short))


def _length(judged: Judged) -> Iterator[Remark]:
    length = judged.length
    if judged.hangs_on or not length.sure:
        return
    code = "advice.length" if length.on in (STOP, KEYED) else "advice.length-on"
    told = lengths(by=abs(length.error)) + words(line=f"line.{length.on}")
    yield Remark(code, told, "shorten" if length.error > 0 else "lengthen")


def _lead(judged: Judged) -> Iterator[Remark]:
    lead = judged.lead
    if lead is not None and lead.sure:
        yield Remark("advice.lead", angles(by=abs(lead.error)))


def measure_more(judged: Judged) -> tuple[Remark, ...]:
    """What else must be measured before more is known."""
    return tuple(Remark(f"measure.{what}") for what in (*_readings_wanted(judged), *_length_wants(judged)))


def _readings_wanted(judged: Judged) -> Iterator[str]:
    known, swung = len(judged.measured.by_protractor), judged.made.way == SWUNG
    if judged.contradict:
        yield "anew"
    if judged.alike and not known:
        yield "parallel"
    elif swung and not known:
        yield "one-end"
    elif swung and known == 1 and judged.out and judged.arm is None:
        yield "other-end"
    if judged.measured.out_of_square is None:
        yield "square"


def _length_wants(judged: Judged) -> Iterator[str]:
    if judged.hangs_on in (AXIS, PROTRACTOR):
        yield "length-anew"
    if judged.made.way == SWUNG and not judged.alike and judged.made.axis is None:
        yield "axis"


def assumed(judged: Judged, way: str | None, saw: Machine | None, stop: str) -> tuple[Remark, ...]:
    """What nobody said and was taken for so."""
    return (*_readings_assumed(judged), *_making_assumed(judged, way, saw, stop))


def _readings_assumed(judged: Judged) -> Iterator[Remark]:
    piece, readings = judged.piece, judged.readings
    if judged.measured.width is None and not judged.alike:
        within = width_within(piece, readings)
        yield Remark("assumed.width", lengths(width=piece.section.width, within=within))
    if readings.tape is None:
        yield Remark("assumed.tape", lengths(within=readings.by_tape))
    if readings.protractor is None and judged.measured.by_protractor:
        yield Remark("assumed.protractor", angles(within=readings.by_protractor))


def _making_assumed(judged: Judged, way: str | None, saw: Machine | None, stop: str) -> Iterator[Remark]:
    made = judged.made
    if not way:
        yield Remark(f"assumed.{made.way}")
    if saw and not made.sided:
        yield Remark("assumed.no-side")
    if not stop and made.tip:
        yield Remark("assumed.stop", (), made.tip)
    if not stop and not saw:
        yield Remark("assumed.feed")
