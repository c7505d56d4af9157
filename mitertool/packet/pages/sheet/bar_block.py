"""A bar drawn with its cuts and set-ups, its pieces in order and its places by tape; knows job and layout."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, THIN, Drawing, Entity, Line, Polygon, Text, text_width, wrap
from mitertool.job.runs import Run
from mitertool.nest import Bar, SawCut
from mitertool.packet.paper.layout import Block, cell
from mitertool.packet.paper.stand import leads
from mitertool.packet.words import pose_words
from mitertool.quantity import Units, show_length
from mitertool.saw import Machine, Reach
from mitertool.saw.setting.reach import same_roll, same_setting

_TALL: Final = 9.0
_PITCH: Final = 4.6
_FLAG: Final = 4.5
"""Paper mm above a bar for its set-ups."""

_ARROW: Final = 4.0
"""Paper mm before the leading end for an arrow."""

_NAME: Final = 2.8
_MOST: Final = 30
"""Lines of text in one block, so that it fits any page."""

Numbers = Callable[[Reach], str]
"""The number of the setting that makes a cut."""

Flag = tuple[float, str]
"""Where a text stands above a bar, paper mm, and what it says."""


@attrs.frozen
class _Strip:
    """A bar on paper, `k` paper mm for one mm of it, its leading end at the side of the paper at which it lies."""

    bar: Bar
    saw: Machine | None
    k: float
    paper: float

    def x(self, place: float) -> float:
        """Where a place counted from the leading end lies on paper, mm."""
        way = 1.0 if leads(self.saw) == "left" else -1.0
        return self.paper / 2 + way * (_ARROW - self.paper / 2 + place * self.k)

    @property
    def ends(self) -> tuple[float, float]:
        """The left and the right end of the bar on paper."""
        low, high = sorted((self.x(0.0), self.x(self.bar.stock_length)))
        return low, high


def bar_blocks(run: Run, numbers: Numbers, width: float, longest: float, units: Units) -> Iterator[Block]:
    """The bar from above, to the scale at which the `longest` (mm) is as wide as the paper, and its places below it."""
    bar = run.bar
    times = f", {bar.count} alike" if bar.count > 1 else ""
    names = ", ".join(word for word in (bar.section.name, bar.grade) if word)
    length, drop = show_length(bar.stock_length, units), show_length(bar.drop, units)
    title = f"Bar {run.number}{times}: {names}, {length}, drop {drop}"
    low = 8 + _FLAG + _TALL
    picture = _picture(run, numbers, _Strip(bar, run.saw, (width - _ARROW) / longest, width)).moved(0, -low)
    lines = [*wrap(_pieces(bar), width, 3.0), *wrap(_positions(bar, units), width, 3.0)]
    parts = [lines[i : i + _MOST] for i in range(0, len(lines), _MOST)]
    texts = [cell(title, (0, -5), width, 3.6, bold=True)]
    yield Block(low + 1 + _PITCH * len(parts[0]), picture + Drawing(texts + _lines(parts[0], low + 0.5, width)))
    for part in parts[1:]:
        yield Block(_PITCH * len(part) + 1, Drawing(_lines(part, 0, width)))


def _lines(lines: Sequence[str], low: float, width: float) -> list[Text]:
    return [cell(line, (0, -low - _PITCH * (i + 1) + 0.8), width, 3.0) for i, line in enumerate(lines)]


def _picture(run: Run, numbers: Numbers, strip: _Strip) -> Drawing:
    """The bar to scale along its length with its cuts, set-ups and as many marks as have room; its moving side up."""
    bar, (low, high) = run.bar, strip.ends
    outline = Polygon([(low, 0), (high, 0), (high, _TALL), (low, _TALL)], THIN)
    cuts = [Line((strip.x(cut.fixed), 0), (strip.x(cut.moving), _TALL), OUTLINE) for cut in bar.cuts]
    return Drawing([outline, *cuts, _arrow(strip), *_marks(strip), *_flags(run, numbers, strip)])


def _arrow(strip: _Strip) -> Polygon:
    """Before the leading end, the way the bar is fed."""
    begin, tip = (strip.x(-share * _ARROW / strip.k) for share in (0.2, 0.8))
    return Polygon([(tip, _TALL / 2), (begin, _TALL / 2 - 1.5), (begin, _TALL / 2 + 1.5)], THIN, fill=0.0)


def _marks(strip: _Strip) -> Iterator[Text]:
    """The mark of each piece where it has room between its slanted ends."""
    for placed, (lead, trail) in zip(strip.bar.pieces, ends_of(strip.bar), strict=True):
        begin, end = max(lead.fixed, lead.moving), min(trail.fixed, trail.moving)
        if (end - begin) * strip.k > text_width(placed.mark, _NAME) + 1:
            yield Text((strip.x((begin + end) / 2), _TALL / 2), placed.mark, _NAME, "center", "middle")


def ends_of(bar: Bar) -> Iterator[tuple[SawCut, SawCut]]:
    """The leading and the trailing cut of each piece: a shared one is both, else the next piece has one of its own."""
    at = 0
    for _ in bar.pieces:
        lead, trail = bar.cuts[at], bar.cuts[at + 1]
        yield lead, trail
        at += 1 if trail.shared else 2


def _flags(run: Run, numbers: Numbers, strip: _Strip) -> Iterator[Entity]:
    """Above a cut before which arm or bar is set: the number of the setting, R for a roll; near ones as one text."""
    befores = [None, *(cut.reach for cut in run.cuts[:-1])] if run.cuts else []
    flags = sorted(
        (strip.x(cut.place), says)
        for before, cut in zip(befores, run.cuts, strict=True)
        if (says := _flag(before, cut.reach, numbers))
    )
    for group in _apart(flags, strip.ends):
        low, high = _span(group, strip.ends)
        if high - low < strip.ends[1] - strip.ends[0]:
            yield Text(((low + high) / 2, _TALL + 1.2), group[1], _NAME, "center", "baseline", bold=True)


def _apart(flags: Iterable[Flag], ends: tuple[float, float]) -> list[Flag]:
    """Flags from left to right, those that would stand on one another put together at the place of their first."""
    found: list[Flag] = []
    for flag in flags:
        found.append(flag)
        while len(found) > 1 and _span(found[-2], ends)[1] + 1 > _span(found[-1], ends)[0]:
            (x, first), (_, second) = found[-2:]
            found[-2:] = [(x, f"{first} {second}")]
    return found


def _span(group: Flag, ends: tuple[float, float]) -> tuple[float, float]:
    """From where to where the text of a flag stands, within the bar."""
    x, says = group
    half = text_width(says, _NAME, bold=True) / 2
    middle = min(max(x, ends[0] + half), ends[1] - half)
    return middle - half, middle + half


def _flag(before: Reach | None, reach: Reach, numbers: Numbers) -> str:
    if before is None:
        return numbers(reach) + ("R" if reach.roll else "")
    number = "" if same_setting(before, reach) else numbers(reach)
    return number + ("R" if not same_roll(before, reach) else "")


def _pieces(bar: Bar) -> str:
    """The pieces in their order, each with how it lies where that is not as drawn; equal neighbours counted."""
    said = []
    for (mark, pose), alike in itertools.groupby(bar.pieces, lambda placed: (placed.mark, placed.pose)):
        count, lies = len(list(alike)), pose_words(pose)
        said.append(f"{f'{count} x ' if count > 1 else ''}{mark}{f' {lies}' if lies else ''}".replace(" ", "\u00a0"))
    return "From the leading end: " + ", ".join(said)


def _positions(bar: Bar, units: Units) -> str:
    """Where each cut meets the fixed and the moving side, by tape from the leading end."""
    said = []
    for number, cut in enumerate(bar.cuts, 1):
        fixed, moving = show_length(cut.fixed, units), show_length(cut.moving, units)
        place = fixed if fixed == moving else f"{fixed} fixed side, {moving} moving side"
        words = (place, f"kerf {cut.kerf_lies}", "shared" if cut.shared else "")
        said.append(f"cut {number}: {', '.join(filter(None, words))}".replace(" ", "\u00a0"))
    return "Tape from the leading end, " + "; ".join(said)
