"""Lengths as they stand in files and on paper, read into mm: 1200, "6 m", "1 15/16\"", "6'-2 1/2\"".

Written anew for the virtual saw, so that a fault in reading or showing lengths cannot hide in both.
"""

from __future__ import annotations

import re

MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft-in": 25.4}
"""mm in a bare number, by the units of a file."""

_NUMBER = r"\d+(?:\.\d+)?(?:/\d+)?"
_FEET = re.compile(rf"(-?)(?:({_NUMBER})')?[- ]*(?:(\d+)[- ](?=\d+/))?(?:({_NUMBER})\")?")
_METRIC = re.compile(rf"(-?{_NUMBER}) ?(mm|cm|m|in|ft)?")


def value(text: str) -> float:
    """A number or a fraction."""
    whole, _, below = text.partition("/")
    return float(whole) / float(below) if below else float(whole)


def length(found: object, units: str = "mm") -> float:
    """mm of a bare number in `units`, or of a text that carries its unit."""
    if isinstance(found, int | float):
        return found * MM[units]
    text = str(found).strip()
    if metric := _METRIC.fullmatch(text):
        unit = metric[2] or units
        return value(metric[1]) * (304.8 if unit == "ft" else MM[unit])
    feet = _FEET.fullmatch(text)
    if not feet or not text:
        raise ValueError(f"no length: {text!r}")
    sign, foot, inch, part = feet.groups()
    inches = 12 * value(foot or "0") + float(inch or 0) + value(part or "0")
    return (-25.4 if sign else 25.4) * inches


STEP = {"mm": 0.1, "in": 0.0254, "ft-in": 25.4 / 16}
"""mm in one step of what is printed, by the units of a job: a tenth of a mm, a thousandth or a sixteenth of an inch."""
