"""plan.json read as an operator's instructions; of its own figures for a check only the totals are taken."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from tests.virtual_saw.further import Further
from tests.virtual_saw.lays import Lies
from tests.virtual_saw.recuts import Recut, read
from tests.virtual_saw.walk import Bar, Step, Stop

Record = Mapping[str, Any]

STILL = 1e-9
"""degrees. A bar that turns by less is not rolled."""


def bars(plan: Record) -> list[Bar]:
    """The bars in the order of work."""
    settings = {setting["number"]: setting for setting in plan["settings"]}
    return [_bar(bar, run, settings) for bar, run in zip(plan["bars"], plan["runs"], strict=True)]


def _bar(bar: Record, run: Record, settings: Mapping[int, Record]) -> Bar:
    if run["cuts"]:
        cuts = zip(bar["cuts"], run["cuts"], strict=True)
        steps = _rolled([_step(cut, told, settings[told["setting"]]) for cut, told in cuts], run["cuts"])
    else:
        cuts = zip(bar["cuts"], _marks(bar), strict=True)
        steps = _rolled([_plain_step(cut, mark) for cut, mark in cuts], bar["cuts"])
    steps = _keyed(steps, run.get("feed"))
    steps = _stopped(steps, run.get("stops") or [])
    return Bar(
        *(bar["section"], _lies(bar), bar["stock_length_mm"], bar["count"], tuple(steps), _poses(bar), bar["drop_mm"]),
        tuple(piece["lay_deg"] for piece in bar["pieces"]),
        tuple(piece["recut"] for piece in bar["pieces"]),
        _longest(bar),
    )


def _longest(bar: Record) -> float:
    """From the tape places of the last cut: half of how far it leans across and half of how far it leans up."""
    last, abreast = bar["cuts"][-1], bar.get("side_by_side", 1)
    across = abs(last["moving_mm"] - last["fixed_mm"]) / 2
    up = abs(last["at_mm"] - (last["moving_mm"] + last["fixed_mm"]) / 2)
    return bar["drop_mm"] - across + 2 * across / abreast + up


def _poses(bar: Record) -> tuple[str, ...]:
    return tuple(piece["pose"] for piece in bar["pieces"])


def _rolled(steps: Sequence[Step], told: Sequence[Record]) -> list[Step]:
    """How far the bar goes on from roll to roll, the short way."""
    rolls = [0.0, *(cut["roll_deg"] for cut in told)]
    turns = [short(two - one) for one, two in pairwise(rolls)]
    return [replace(step, roll=turn if abs(turn) > STILL else 0.0) for step, turn in zip(steps, turns, strict=True)]


def _marks(bar: Record) -> Iterator[str]:
    """What each cut of a bar ends: the first none, a shared one a piece, and behind one that is not shared none."""
    pieces, lead = iter(bar["pieces"]), True
    for cut in bar["cuts"]:
        yield "" if lead else next(pieces)["mark"]
        lead = not lead and not cut["shared"]


def _plain_step(cut: Record, mark: str) -> Step:
    """A cut where no saw is known: degrees from square, and the tape."""
    tape = (cut["fixed_mm"], cut["moving_mm"])
    return Step(cut["swing_deg"], "feed", cut["tilt_deg"], mark=mark, tape=tape, kerf_behind=cut["kerf"] == "past")


def _lies(record: Record) -> Lies:
    return Lies(record["wide_mm"], record["high_mm"], record["lies"])


def short(roll: float) -> float:
    """The same roll the short way round."""
    return (roll + 180.0) % -360.0 + 180.0


def _step(cut: Record, told: Record, setting: Record) -> Step:
    return Step(
        reading=setting["scale_deg"],
        side=setting["scale_side"],
        tilt=setting["tilt_deg"],
        mark=told["mark"],
        fed=told["fed_mm"],
        tape=(cut["fixed_mm"], cut["moving_mm"]),
        kerf_behind=cut["kerf"] == "past",
        lies=_lies(setting),
    )


def _keyed(steps: Sequence[Step], lines: Sequence[Record] | None) -> list[Step]:
    """The lines of the feed list put to their cuts; a closing line makes none."""
    if lines is None:
        return list(steps)
    told = [line for line in lines if line["on"]]
    keyed = [line for line in told for _ in range(max(1, line["pieces"]))]
    return [_with_key(step, line) for step, line in zip(steps, keyed, strict=True)]


def _with_key(step: Step, line: Record) -> Step:
    if line["mark"] != step.mark:
        raise ValueError(f"a line keys {line['mark']!r} where the cut makes {step.mark!r}")
    contradictions(step, line["set_before"])
    return replace(step, key=line["key_mm"])


def contradictions(step: Step, words: Sequence[str]) -> None:
    """Refuse words of a feed line that say otherwise than the setting of its cut."""
    said = " ; ".join(words)
    if (scale := re.search(r"to (\S+) on the scale", said)) and abs(float(scale[1]) - step.reading) > 1e-3:
        raise ValueError(f"a line says {scale[0]} where the setting reads {step.reading}")
    if bool(step.roll) != ("roll the bar" in said):
        raise ValueError(f"a line says {said!r} where the bar is rolled {step.roll}")


def _stopped(steps: Sequence[Step], stops: Sequence[Record]) -> list[Step]:
    """The stops put to the cuts that end a piece."""
    if not stops:
        return list(steps)
    of_pieces = iter(stops)
    return [replace(step, stop=_stop(step, next(of_pieces))) if step.mark else step for step in steps]


def _stop(step: Step, stop: Record) -> Stop | None:
    if stop["mark"] != step.mark:
        raise ValueError(f"a stop is for {stop['mark']!r} where the cut makes {step.mark!r}")
    if stop["from_blade_mm"] is None:
        return None
    return Stop(stop["from_blade_mm"], (stop["y_mm"], stop["z_mm"]))


def recuts(plan: Record) -> list[Recut]:
    """The other ends of blanks, in the order of work."""
    settings = {setting["number"]: setting for setting in plan["settings"]}
    return [recut_of(row, settings) for row in plan["recuts"]]


def recut_of(row: Record, settings: Mapping[int, Record]) -> Recut:
    """By its setting and its stop; without a saw file by its angles, left ends leading, and the tape."""
    arm = (row["swing_deg"], "feed", row["tilt_deg"])
    if setting := settings.get(row["setting"]):
        arm = (setting["scale_deg"], setting["scale_side"], setting["tilt_deg"])
    roll = row["roll_deg"] if abs(row["roll_deg"]) > STILL else 0.0
    step = Step(*arm, roll=roll, mark=row["mark"])
    stop = _stop(step, row["stop"]) if row["stop"] else None
    return read(row, replace(step, stop=stop))


def further(plan: Record) -> list[Further]:
    """The cuts that are made on parted pieces, in the order of work."""
    settings = {setting["number"]: setting for setting in plan["settings"]}
    return [_further(row, settings.get(row["setting"])) for row in plan["further_cuts"]]


def _further(row: Record, setting: Record | None) -> Further:
    """By the setting that it names; without a saw file by the angles of the cut, left ends leading."""
    sign = -1.0 if row["end"] == "left" else 1.0
    arm = (sign * row["miter_deg"], "feed", sign * row["bevel_deg"])
    if setting:
        arm = (setting["scale_deg"], setting["scale_side"], setting["tilt_deg"])
    lies = (row["roll_deg"], row["turned"])
    return Further(row["mark"], row["pieces"], row["end"], *arm, *lies, row["back_mm"], row["edges_mm"])


def ways(bars: Sequence[Bar]) -> Iterator[str]:
    """The ways in which the bars are told to be moved; a cut that one of them leaves out goes by the tape."""
    steps = [step for bar in bars for step in bar.steps]
    yield "tape"
    if any(step.fed is not None for step in steps):
        yield "fed"
    if any(step.key is not None for step in steps):
        yield "key"
    if any(step.stop is not None for step in steps):
        yield "stop"
