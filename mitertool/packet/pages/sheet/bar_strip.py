"""A bar to scale along its length, with its cuts by number and its pieces by name. Paper mm."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.drawing import OUTLINE, THIN, Drawing, Entity, Line, Polygon, Text, text_width
from mitertool.nest import Bar
from mitertool.packet.floor.rows import ends_of
from mitertool.packet.pages.sheet.sizes import NOTE
from mitertool.packet.paper.layout import Block
from mitertool.packet.paper.spread import spread
from mitertool.packet.paper.stand import leads
from mitertool.saw import Machine
from mitertool.words import phrase

_TALL: Final = 7.0
_ARROW: Final = 5.0
"""Paper mm before the leading end for an arrow."""

_AIR: Final = 1.0

Name = tuple[float, float, str]
"""From where to where on paper pieces lie that follow each other, and what is written of them."""


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


def strip_block(bar: Bar, saw: Machine | None, width: float, longest: float) -> Block:
    """The bar from above as it runs before the operator, moving side up; the `longest` (mm) as wide as the paper."""
    strip = _Strip(bar, saw, (width - _ARROW) / longest, width)
    low, high = strip.ends
    outline = Polygon([(low, 0), (high, 0), (high, _TALL), (low, _TALL)], THIN)
    cuts = [Line((strip.x(cut.fixed), 0), (strip.x(cut.moving), _TALL), OUTLINE) for cut in bar.cuts]
    names, below = _names(strip)
    numbers, above = _numbers(strip, [cut.moving for cut in bar.cuts])
    picture = Drawing([outline, *cuts, _arrow(strip), *numbers, *names])
    return Block(_TALL + above + below + 0.4, picture.moved(0, -_TALL - above), gap=0.6)


def side_block(bar: Bar, saw: Machine | None, width: float, longest: float) -> Block | None:
    """The same bar seen from the fixed jaw below the strip; None where no cut is slanted up and down.

    Its cuts are drawn as they go through the fixed side; from where it is seen is written in what is left over where
    there is room, else below the bar.
    """
    if all(abs(cut.cut.q) < _UPRIGHT for cut in bar.cuts):
        return None
    strip, height = _Strip(bar, saw, (width - _ARROW) / longest, width), bar.section.height
    low, high = strip.ends
    outline = Polygon([(low, 0), (high, 0), (high, _SIDE_TALL), (low, _SIDE_TALL)], THIN)
    cuts = [
        Line((strip.x(cut.fixed), 0), (strip.x(cut.fixed + cut.cut.q * height), _SIDE_TALL), OUTLINE)
        for cut in bar.cuts
    ]
    says, last = phrase("sheet.strip-side"), [x for cut in cuts[-1:] for x, _ in (cut.a, cut.b)]
    free = (low, min(last)) if leads(saw) == "right" else (max(last), high)
    fits = text_width(says, NOTE) + 2 * _AIR < free[1] - free[0]
    at = ((free[0] + free[1]) / 2, _SIDE_TALL / 2 - NOTE / 2) if fits else (width / 2, -0.9 - NOTE)
    below = 0.4 if fits else NOTE + 2.0
    named = Text(at, says, NOTE, "center", "baseline")
    return Block(_SIDE_TALL + below, Drawing([outline, *cuts, named]).moved(0, -_SIDE_TALL), gap=0.6)


_SIDE_TALL, _UPRIGHT = 5.0, 1e-9
"""Height of a bar seen from the side, paper mm, and the slope below which a cut stands upright."""


def _arrow(strip: _Strip) -> Polygon:
    """Before the leading end, the way the bar is fed."""
    begin, tip = (strip.x(-share * _ARROW / strip.k) for share in (0.2, 0.85))
    return Polygon([(tip, _TALL / 2), (begin, _TALL / 2 - 1.8), (begin, _TALL / 2 + 1.8)], THIN, fill=0.0)


def _numbers(strip: _Strip, tops: Sequence[float]) -> tuple[list[Entity], float]:
    """The number of each cut above its upper end, `tops` mm along the bar, and the room above the bar that they take.

    Where cuts lie close the numbers stand apart as their cuts do. Only one that stands further aside than a pair of
    them does is led to its cut: lines out of the point where two slants meet read as if the slants went on in them.
    Of many only every so manyth is named.
    """
    found = (_numbered(strip, tops, step) for step in _STEPS)
    placed, at = next(one for one in found if _far(one[1], [top for top, _, _ in one[0]]) <= _NUMBER_FAR)
    led = _far(at, [top for top, _, _ in placed]) > _PAIR
    foot = _TALL + (_LED if led else 0.0) + 0.9
    parts: list[Entity] = []
    for x, (top, _, n) in zip(at, placed, strict=True):
        parts.append(Text((x, foot), str(n), NOTE, "center", "baseline"))
        parts += [Line((top, _TALL), (x, foot - 0.9), THIN)] if led else []
    return parts, foot - _TALL + NOTE + _OVER


def _numbered(strip: _Strip, tops: Sequence[float], step: int) -> tuple[list[tuple[float, float, int]], list[float]]:
    """The first, the last and every so manyth cut as they lie on paper, and where their numbers stand."""
    shown = [n for n in range(1, len(tops) + 1) if n in (1, len(tops)) or n % step == 0]
    placed = sorted((strip.x(tops[n - 1]), strip.x(strip.bar.cuts[n - 1].at), n) for n in shown)
    widths = [text_width(str(n), NOTE) + _BETWEEN for _, _, n in placed]
    return placed, spread([top for top, _, _ in placed], widths, 0.0, strip.paper)


def _far(at: Sequence[float], wanted: Sequence[float]) -> float:
    """How far a text is moved at most from the place that it belongs to."""
    return max((abs(x - place) for x, place in zip(at, wanted, strict=True)), default=0.0)


_STEPS: Final = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 10**6)
_NUMBER_FAR, _NAME_FAR = 6.0, 15.0
"""Paper mm that a number or a name stands at most beside its place: further, its line is hard to follow."""

_BETWEEN, _OVER, _PAIR = 1.5, 1.2, 3.0
"""Paper mm between two numbers, above them, and how far aside a number stands of a pair over one place at most."""

_LED: Final = 2.2
"""Paper mm above a bar for the lines from its cuts to their numbers."""


def _names(strip: _Strip) -> tuple[list[Entity], float]:
    """Each run of equal pieces by name: in the bar where it has room, else below it; and the room below they take."""
    found: list[Entity] = []
    below: list[Name] = []
    for begin, end, says, alone in _runs(strip):
        if alone and text_width(says, NOTE) + 2 * _AIR < end - begin:
            found.append(Text(((begin + end) / 2, _TALL / 2), says, NOTE, "center", "middle"))
        else:
            below.append((begin, end, says))
    led, deep = _led(sorted(below), strip.paper)
    return [*found, *led], deep


def _runs(strip: _Strip) -> Iterator[tuple[float, float, str, bool]]:
    """Equal pieces that follow each other: the room within the slants of one where its name fits, else of all.

    With what is written of them, and whether it is of one alone.
    """
    pairs = zip(strip.bar.pieces, ends_of(strip.bar), strict=True)
    for mark, alike in itertools.groupby(pairs, lambda pair: pair[0].mark):
        spans = [
            sorted((strip.x(max(lead.fixed, lead.moving)), strip.x(min(trail.fixed, trail.moving))))
            for _, (lead, trail) in alike
        ]
        if len(spans) == 1 or min(high - low for low, high in spans) > text_width(mark, NOTE) + 2 * _AIR:
            yield from ((low, high, mark, True) for low, high in spans)
        else:
            edges = [edge for span in spans for edge in span]
            yield min(edges), max(edges), phrase("sheet.times-mark", count=len(spans), mark=mark), False


def _led(names: Sequence[Name], paper: float) -> tuple[list[Entity], float]:
    """Names below the bar in as few rows as have room for them, each under a bracket as wide as its pieces.

    A name of a lower row is led past those above it, which stand clear of its line. Where they are too many for all
    rows, as many as have room are named: the rows of the bar name them all the same.
    """
    rows = min(range(1, _ROWS_BELOW + 1), key=lambda rows: _badness(names, rows, paper))
    while _badness(names, rows, paper) > _NEVER:
        names = names[::2]
    found: list[Entity] = [line for begin, end, _ in names for line in _bracket(begin, end)]
    slots = list(_slots(names, rows, paper))
    moved = any(abs(x - above) > _AIR for here in slots for _, above, x in here)
    gap = _LED if moved or len(slots) > 1 else _UNLED
    for row, here in enumerate(slots):
        foot = -_UNDER - (gap + _NAME) * row
        for i, above, x in here:
            found.append(Line((above, foot), (x, foot - gap), THIN))
            if i % rows == row:
                found.append(Text((x, foot - gap - 0.4 - NOTE), names[i][2], NOTE, "center", "baseline"))
            else:
                found.append(Line((x, foot - gap), (x, foot - gap - _NAME), THIN))
    return found, (_UNDER + (gap + _NAME) * len(slots)) * bool(names)


def _slots(names: Sequence[Name], rows: int, paper: float) -> Iterator[list[tuple[int, float, float]]]:
    """Row by row which names, or the lines to those further down, come from where above and stand where."""
    above = [(begin + end) / 2 for begin, end, _ in names]
    for row in range(min(rows, len(names))):
        here = [i for i in range(len(names)) if i % rows >= row]
        at = spread([above[i] for i in here], [_slot(names[i], i % rows == row) for i in here], 0.0, paper)
        yield [(i, above[i], x) for i, x in zip(here, at, strict=True)]
        for i, x in zip(here, at, strict=True):
            above[i] = x


def _badness(names: Sequence[Name], rows: int, paper: float) -> float:
    """How little names do in so many rows: the rows, more where one stands far from its pieces or runs out."""
    bad = float(rows)
    for row, here in enumerate(_slots(names, rows, paper)):
        bad += 2 * _ROWS_BELOW * any(abs(x - above) > _NAME_FAR for _, above, x in here)
        bad += 4 * _NEVER * (summed(_slot(names[i], i % rows == row) for i, _, _ in here) > paper)
    return bad


_NEVER: Final = 100.0
"""Badness of rows that have no room for all names."""


def _bracket(begin: float, end: float) -> Iterator[Line]:
    """Under the pieces that a name is of."""
    yield Line((begin, -_UNDER), (end, -_UNDER), THIN)
    yield from (Line((x, -_UNDER), (x, -_UNDER + 0.5), THIN) for x in (begin, end))


def _slot(name: Name, here: bool) -> float:
    """Room in a row for a name, or for the line that leads past it to one below."""
    return text_width(name[2], NOTE) + 4 * _AIR if here else 2 * _AIR


_UNDER: Final = 0.7
"""Paper mm below the bar for the brackets of names."""

_UNLED, _NAME = 0.6, 3.9
"""Paper mm from a bracket to a name that stands right below it, and what a row of names takes."""

_ROWS_BELOW: Final = 4
"""Rows of names below a bar at most."""
