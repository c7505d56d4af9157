"""An end of a mark cut as a card or a setting tells it, held against the drawing of that end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from typing import Any

from tests.virtual_saw.judge import EXACT
from tests.virtual_saw.machine import Machine
from tests.virtual_saw.sheet_ends import Arm
from tests.virtual_saw.steel import Section, Solid, at, less


def wrong_end(saw: Machine, arm: Arm, roll: float, turned: bool, wanted: Solid, end: str, cut: int = 1) -> float:
    """How far a cut of the end comes out wrong at its worst corner, mm; the bar lies as drawn, or end for end, then is
    rolled.

    The faces are compared by how they slant, so wherever along the bar they lie.
    """
    if turned:
        wanted, end = wanted.moved(wanted.section.turn(0.0, over=True)), "right" if end == "left" else "left"
    section = wanted.section
    blade, _ = saw.blade(saw.swing(arm.reading, arm.side), arm.tilt)
    blade = section.turn(roll).back(blade)
    made = blade if saw.jaw_left else less(blade)
    plane = (wanted.low if end == "left" else wanted.high)[cut - 1]
    return _apart([at(made, point) - at(plane, point) for point in _box(section)])


def by_settings(saw: Machine, settings: Sequence[Mapping[str, Any]], wanted: Mapping[str, Solid]) -> Iterator[str]:
    """Ends that come out wrong by a setting that is said to make them."""
    for setting in settings:
        arm = Arm(setting["scale_deg"], setting["scale_side"], setting["tilt_deg"])
        for use in setting["makes"]:
            if use["cut"] > 1:
                continue
            out = wrong_end(saw, arm, use["roll_deg"], use["end_for_end"], wanted[use["mark"]], use["end"])
            if out > EXACT:
                yield f"{use['mark']}, {use['end']} end by setting {setting['number']} comes out {out:.3g} wrong"


def by_record(saw: Machine, marks: Sequence[Mapping[str, Any]], wanted: Mapping[str, Solid]) -> Iterator[str]:
    """Ends that come out wrong when they are set as the record of their mark says, the bar as it is drawn."""
    for mark in marks:
        solid = wanted[mark["mark"]]
        for end in ("left", "right"):
            if (told := mark["reach"][end]) is None:
                continue
            arm = Arm(told["scale_deg"], told["scale_side"], told["tilt_deg"])
            if (out := wrong_end(saw, arm, told["roll_deg"], False, solid, end)) > EXACT:
                yield f"{mark['mark']}, {end} end set as told comes out {out:.3g} wrong"


def _box(section: Section) -> list[tuple[float, float]]:
    return list(product((0.0, section.width), (0.0, section.height)))


def _apart(off: Sequence[float]) -> float:
    return (max(off) - min(off)) / 2
