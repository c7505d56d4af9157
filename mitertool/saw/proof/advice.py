"""What a judged first piece says to whoever stands at the saw: what to change, to measure, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.quantity.sentence import Sentence
from mitertool.saw.file.machine import Machine
from mitertool.saw.proof.judged import AXIS, KEYED, PROTRACTOR, STOP, Judged
from mitertool.saw.proof.making import PARALLEL, ROLLED, SWUNG
from mitertool.saw.proof.measured import Finding, width_within
from mitertool.saw.setting.reach import ENDS

NOTHING: Final = Sentence("nothing: every error is within what the readings can tell")

_WAYS: Final = {
    ROLLED: "the bar rolled between its ends, the arm left alone",
    SWUNG: "the arm swung between the ends",
    PARALLEL: "nothing set between the ends",
}


def changes(judged: Judged) -> tuple[Sentence, ...]:
    """What to change, in the order of doing."""
    if judged.contradict:
        return (Sentence("nothing yet: the readings contradict each other"), *_lead(judged))
    found = (*_angles(judged), *_swings(judged), *_then(judged), *_length(judged), *_lead(judged))
    return found or (NOTHING,)


def _angles(judged: Judged) -> Iterator[Sentence]:
    both = "; the arm stood the same for both ends" if judged.made.way == ROLLED else ""
    for finding in judged.angles:
        if finding.sure:
            says = f"the {finding.on} miter is {abs(finding.error):.2f} degrees {_more(finding)}{both}"
            yield Sentence(says)
    total = judged.slope_sum
    if judged.made.way == SWUNG and not judged.angles and total.sure:
        apart = total.times(1.0 if judged.piece.p >= 0 else -1.0)
        says = f"long less short is {{:fine}} {_more(apart)}: one angle or both are out"
        yield Sentence(says, (abs(apart.error) * judged.taken.width,))


def _more(finding: Finding) -> str:
    return "too large" if finding.error > 0 else "too small"


def _swings(judged: Judged) -> Iterator[Sentence]:
    """The swing that puts the arm right: one for both ends where it is one error, else each end's own."""
    if judged.arm:
        if judged.arm.sure:
            yield Sentence(_swing(judged.arm))
        return
    if judged.made.way != SWUNG or not judged.made.sided:
        return
    for end in judged.out:
        yield Sentence(f"for the {end} end {_swing(judged.swing_of(end))}")
    if len(judged.out) == len(ENDS):
        yield Sentence("the ends are not out by one swing of the arm: that is no error of the scale, and none is kept")


def _swing(error: Finding) -> str:
    side = "discharge" if error.error > 0 else "feed"
    return f"swing the arm {abs(error.error):.2f} degrees further to the {side} side"


def _then(judged: Judged) -> Iterator[Sentence]:
    if judged.angle_right is None:
        return
    (long, short), measured = judged.angle_right, judged.measured
    says = "with the angle put right the long point goes from {} to {}, the short point from {} to {}"
    yield Sentence(says, (measured.long, long, measured.short, short))


def _length(judged: Judged) -> Iterator[Sentence]:
    length = judged.length
    if judged.hangs_on or not length.sure:
        return
    what = "shorten" if length.error > 0 else "lengthen"
    on = f" {length.on} by {{:fine}}" if length.on in (STOP, KEYED) else _ON.format(length.on)
    yield Sentence(what + on, (abs(length.error),))


_ON: Final = " the stop or the length keyed by {{:fine}}, measured on {}"


def _lead(judged: Judged) -> Iterator[Sentence]:
    lead = judged.lead
    if lead is not None and lead.sure:
        says = f"the blade leads {abs(lead.error):.2f} degrees from top to bottom"
        yield Sentence(f"{says}: see to guides, tension, teeth and descent before the scale")


def measure_more(judged: Judged) -> tuple[str, ...]:
    """What else must be measured before more is known."""
    return (*_readings_wanted(judged), *_length_wants(judged))


def _readings_wanted(judged: Judged) -> Iterator[str]:
    known, swung = len(judged.measured.by_protractor), judged.made.way == SWUNG
    if judged.contradict:
        yield "the readings contradict each other, or the bar moved between its cuts: measure all of them anew"
    if judged.alike and not known:
        yield "long and short are alike where the ends are parallel: measure one end by protractor"
    elif swung and not known:
        yield "long less short tells only both ends together: measure one end by protractor"
    elif swung and known == 1 and judged.out and judged.arm is None:
        yield "one end alone does not tell an error of the scale: measure the other end by protractor too"
    if judged.measured.out_of_square is None:
        yield "whether the blade leads is not known: hold a square to the end from top to bottom"


def _length_wants(judged: Judged) -> Iterator[str]:
    if judged.hangs_on in (AXIS, PROTRACTOR):
        yield "what the angle does to the length is not known: put the angle right and measure the length anew"
    if judged.made.way == SWUNG and not judged.alike and judged.made.axis is None:
        yield "the arm swings about an axis that is not known: give swing_axis in the saw file"


def assumed(judged: Judged, way: str | None, saw: Machine | None, stop: str) -> tuple[Sentence, ...]:
    """What nobody said and was taken for so."""
    return (*_readings_assumed(judged), *_making_assumed(judged, way, saw, stop))


def _readings_assumed(judged: Judged) -> Iterator[Sentence]:
    piece, readings = judged.piece, judged.readings
    if judged.measured.width is None and not judged.alike:
        says = "the width as drawn, {} within {:fine}: measure it where the bar may differ"
        yield Sentence(says, (piece.section.width, width_within(piece, readings)))
    if readings.tape is None:
        yield Sentence("the tape right within {:fine}", (readings.by_tape,))
    if readings.protractor is None and judged.measured.by_protractor:
        yield Sentence(f"the protractor right within {readings.by_protractor:g} degrees")


def _making_assumed(judged: Judged, way: str | None, saw: Machine | None, stop: str) -> Iterator[Sentence]:
    made = judged.made
    if not way:
        yield Sentence(f"{_WAYS[made.way]}, as this saw makes the piece")
    if saw and not made.sided:
        yield Sentence("no side of the arm: this saw would not roll the bar, so no error of the scale is told")
    if not stop and made.tip:
        yield Sentence(f"a stop at the {made.tip} tip of the end cut first: the saw file tells of no feed")
    if not stop and not saw:
        yield Sentence("a feed that moved the bar between the cuts, no stop")
