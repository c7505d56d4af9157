"""Which side of its section a member of a frame shows, and how deep it is behind that; knows frames and words.

Open sections are drawn cut through instead; of a square tube and a round one there is nothing to tell.
"""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.frame import Assembly
from mitertool.quantity import Units, show_length
from mitertool.quantity.compare import same_length
from mitertool.sections import Section
from mitertool.words import phrase


def lies_notes(assembly: Assembly, units: Units) -> Iterator[str]:
    """The marks whose closed section is not as wide as it is high, with what is drawn and what lies behind it."""
    found: dict[tuple[str, str], list[str]] = {}
    for mark, section in lying_sections(assembly) if assembly.in_plan else ():
        if not section.is_open and not same_length(section.width, section.height):
            sizes = (show_length(section.width, units), show_length(section.height, units))
            found.setdefault(sizes, []).append(mark)
    each = (
        phrase("frame.lies/each", marks=", ".join(dict.fromkeys(marks)), wide=wide, deep=deep)
        for (wide, deep), marks in found.items()
    )
    if found:
        yield phrase("frame.lies", members="; ".join(each))


def lying_sections(assembly: Assembly) -> Iterator[tuple[str, Section]]:
    """The section of every piece as it lies in the frame by its mark, first those around, then those inside."""
    pieces = {member.mark: member.piece for member in assembly.pieces}
    poses = [None] * len(assembly.order) + [bar.pose for bar in assembly.inside]
    for mark, pose in zip(assembly.every, poses, strict=True):
        yield mark, (pieces[mark].posed(pose) if pose else pieces[mark]).section
