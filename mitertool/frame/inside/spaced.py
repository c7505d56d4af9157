"""Uprights or rails side by side in cells: by a greatest clear gap, by their number, or where a drawing has them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil, isfinite
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import CLOSES
from mitertool.frame.facts import Fact, fact
from mitertool.frame.inside.cells import SEAM, Cell
from mitertool.frame.inside.strips import Strip
from mitertool.frame.sizes import refuse_no_size
from mitertool.quantity.problem import Remark, counts, lengths, words
from mitertool.sections import Section
from mitertool.words import phrase

SPACED: Final[Mapping[str, complex]] = {"uprights": 1j, "rails": 1 + 0j}
"""The direction of the bars by what they are called; their moving side is the left of an upright, the top of a rail."""

_MOST: Final = 500
_MORE: Final = 50
"""Bars side by side at most, and how many more than are needed are tried so that none lies over a corner."""


@attrs.frozen
class ClearWidth:
    """A clear width from `low` to `high` in which bars stand side by side, their number and the clear gap, mm."""

    low: float
    high: float
    count: int
    gap: float


@attrs.frozen
class Spaced:
    """Bars of one section, "uprights" or "rails", in every clear width with equal gaps, or `at` given places, mm.

    The gaps are the widest that are not over `clear_most`, or those of `count` bars. `at` is counted from the left or
    the lower end of the clear width to the middle of each bar, or from an `origin` in the place of the frame.
    """

    bars: str
    section: Section
    clear_most: float | None = None
    count: int | None = None
    at: tuple[float, ...] = ()
    origin: float | None = None

    def __attrs_post_init__(self) -> None:
        if self.bars not in SPACED:
            raise BadInput("bars", self.bars, among(SPACED))
        given = [self.clear_most is not None, self.count is not None, bool(self.at)]
        if sum(given) != 1:
            raise BadInput(self.bars, phrase("found.ways", count=sum(given)), phrase("refuse.spaced"))
        refuse_no_size(**{key: size for key, size in (("clear_most", self.clear_most),) if size is not None})
        if self.count is not None and not 1 <= self.count <= _MOST:
            raise BadInput("count", self.count, phrase("refuse.from-to", least=1, most=_MOST))
        if not all(map(isfinite, self.at)):
            raise BadInput("at", list(self.at), phrase("refuse.size"))

    @property
    def way(self) -> complex:
        """The direction of the bars."""
        return SPACED[self.bars]

    @property
    def aside(self) -> complex:
        """The direction from one bar to the next: to the right, or up."""
        return 1 + 0j if self.bars == "uprights" else 1j

    def strips(self, cells: Sequence[Cell]) -> list[list[Strip]]:
        """The strips that may stand in each of the cells."""
        fields = self._fields(cells)
        own = [next(field for field in fields if _within(cell.across(self.aside), field)) for cell in cells]
        return [[self._strip(low) for low in self._lows(field)] for field in own]

    def told(self, cells: Sequence[Cell]) -> Iterator[Remark]:
        """How many stand side by side, and how far apart."""
        if not self.at:
            for field in dict.fromkeys(self._fields(cells)):
                called, n = words(bars=f"inside.{self.bars}"), counts(count=field.count)
                yield Remark("note.spaced", called + n + lengths(gap=field.gap, clear=field.high - field.low))

    def facts(self, cells: Sequence[Cell]) -> Iterator[Fact]:
        """The formulas of number and gap."""
        for field in () if self.at else dict.fromkeys(self._fields(cells)):
            clear, width = field.high - field.low, self.section.width
            if self.clear_most is not None and field.count == self._least(clear, self.clear_most):
                yield fact("uprights", O=clear, G=self.clear_most, t=CLOSES, W=width)
            yield fact("clear-gap", O=clear, n=field.count, W=width)

    def _strip(self, low: float) -> Strip:
        """The strip whose side toward the first bar lies at `low`; an upright's right edge is the far one."""
        edge = complex(low + self.section.width, 0) if self.bars == "uprights" else complex(0, low)
        return Strip(edge, self.way, self.section)

    def _lows(self, field: ClearWidth) -> Iterator[float]:
        """Where the near side of each bar lies."""
        if self.at:
            origin = field.low if self.origin is None else self.origin
            yield from (origin + at - self.section.width / 2 for at in self.at)
            return
        pitch = field.gap + self.section.width
        yield from (field.low + field.gap + i * pitch for i in range(field.count))

    def _fields(self, cells: Sequence[Cell]) -> list[ClearWidth]:
        """The clear widths: those of cells that lie over one another, or are parted by a brace only, are one."""
        seams = [at for cell in cells for at in self._seams(cell)]
        merged: list[tuple[float, float]] = []
        for low, high in sorted(cell.across(self.aside) for cell in cells):
            on = merged and any(abs(low - seam) < CLOSES for seam in seams) and low < merged[-1][1] + CLOSES
            if merged and (on or low < merged[-1][1] - CLOSES):
                merged[-1] = (merged[-1][0], max(merged[-1][1], high))
            else:
                merged.append((low, high))
        return [self._field(low, high, seams) for low, high in merged]

    def _seams(self, cell: Cell) -> Iterator[float]:
        """Where an opening is parted along the bars."""
        for edge in cell.edges:
            if edge.owner == SEAM and abs((edge.way * self.way.conjugate()).imag) < CLOSES:
                yield (edge.start * self.aside.conjugate()).real

    def _count(self, low: float, high: float, seams: Sequence[float]) -> int:
        """How many: the fewest with gaps that are small enough, none of which lies over a seam."""
        if self.clear_most is None:
            return self.count if self.count is not None else len(self.at)
        clear, width = high - low, self.section.width
        least = self._least(clear, self.clear_most)

        def lies_over(count: int) -> bool:
            gap = (clear - count * width) / (count + 1)
            lows = [low + gap + i * (gap + width) for i in range(count)]
            return any(at + CLOSES < seam < at + width - CLOSES for at in lows for seam in seams)

        return next((n for n in range(least, least + _MORE) if n * width < clear and not lies_over(n)), least)

    def _least(self, clear: float, most: float) -> int:
        """The fewest bars across a clear width whose gaps are at most so wide."""
        return max(0, ceil((clear - most - CLOSES) / (most + self.section.width)))

    def _field(self, low: float, high: float, seams: Sequence[float]) -> ClearWidth:
        clear, width = high - low, self.section.width
        count = self._count(low, high, seams)
        gap = (clear - count * width) / (count + 1)
        found = Remark("found.bars-across", counts(count=count) + lengths(width=width))
        if count > _MOST:
            raise BadInput(self.bars, found, phrase("refuse.from-to", least=1, most=_MOST))
        if gap < 0:
            raise BadInput(self.bars, found, Remark("refuse.bars-across", lengths(clear=clear)))
        return ClearWidth(low, high, count, gap)


def _within(cell: tuple[float, float], field: ClearWidth) -> bool:
    return field.low - CLOSES <= cell[0] and cell[1] <= field.high + CLOSES
