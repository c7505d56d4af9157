"""A corner of two members as rows for a terminal and a page alike; knows frame and words."""

from __future__ import annotations

from mitertool import quantity
from mitertool.cut import Cut
from mitertool.cut.by_hand import across_legs
from mitertool.frame import Landing
from mitertool.frame.corners import Corner
from mitertool.frame.rolls import FLUSH
from mitertool.packet.words import bare_words, turn_words
from mitertool.quantity import Units
from mitertool.quantity.units import MM_PER_INCH
from mitertool.sections import Section
from mitertool.words import phrase


def corner_rows(first: Section, second: Section, solved: Corner, unit: Units) -> list[tuple[str, str]]:
    """The miter of either member, the seam, and how a tape proves the angle."""
    return [
        (_wide(first, unit), _miter(solved.miter_a)),
        (_wide(second, unit), _miter(solved.miter_b)),
        (phrase("screen.seam"), quantity.show_length(solved.seam, unit)),
        (phrase("screen.by-tape"), _by_tape(solved.angle, unit)),
    ]


def landing_rows(solved: Landing) -> list[tuple[str, str]]:
    """The cuts of the member before and of the one after, each also as in a fixture, and how they meet."""
    rows = []
    for which, cut, (roll, swing) in zip(
        ("before", "after"), (solved.before, solved.after), solved.fixtures, strict=True
    ):
        rows.append((phrase(f"screen.landing/{which}"), bare_words(cut)))
        held = {"turn": turn_words(roll), "cut": bare_words(Cut(swing))} if roll else None
        rows += [(phrase("screen.in-a-fixture"), phrase("screen.rolled-swing", **held))] if held else []
    twist = quantity.show_angle(abs(solved.twist)) if abs(solved.twist) > FLUSH else ""
    rows.append((phrase("screen.between"), quantity.show_angle(solved.between)))
    rows.append((phrase("screen.sections"), phrase("screen.twisted", twist=twist) if twist else phrase("screen.flush")))
    return rows


def _by_tape(angle: float, unit: Units) -> str:
    """How a tape proves the angle: one length along both sides, and what it reads across."""
    leg = 300.0 if unit == "mm" else 12 * MM_PER_INCH
    across = quantity.show_gap(across_legs(angle, leg), unit)
    return phrase("screen.across-legs", leg=quantity.show_exact(leg, unit), across=across)


def _miter(degrees: float) -> str:
    return phrase("screen.from-square", angle=quantity.show_angle(degrees))


def _wide(section: Section, unit: Units) -> str:
    return phrase("screen.wide", name=section.name, width=quantity.show_length(section.width, unit))
