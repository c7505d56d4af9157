"""The leaves of a gate or door in their opening: posts, gaps, ground and hinges, seen as the frame is drawn; paper mm.

The leaves are drawn to scale, a gap never narrower than can be seen.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, product
from typing import Final

import attrs

from mitertool.drawing import FILL, OUTLINE, THIN, Dimension, Drawing, Entity, Line, Polygon, Text
from mitertool.frame import Assembly
from mitertool.frame.leaves import HINGED, OTHER_SIDE, Doorway
from mitertool.frame.mirrored import image_of, is_own_image
from mitertool.geometry.near import low_and_size
from mitertool.job import FrameOrder
from mitertool.packet.paper.clear import first_clear, strokes
from mitertool.packet.paper.layout import Anchor
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_ROOM: Final = (64.0, 46.0)
_POST: Final = 5.0
_GAP: Final = 1.4
"""mm of an opening, of a post, and of a gap at the least, so that it is seen."""

_LETTERS: Final = 2.8
_PITCH: Final = 4.2
_OFF: Final = 2.0
"""mm of lettering, from line to line, and beside what it names."""

_SHARES: Final = (0.5, 0.4, 0.3)
"""How high in its leaf a mark may stand."""

_HINGES: Final = (0.12, 0.82)
_HINGE: Final = 3.5
"""Where along a leaf its hinges are drawn, and how high one is, mm."""


@attrs.frozen
class Leaf:
    """A leaf as it is drawn: its mark, its pieces (x + iy, mm), and on which side its hinges are."""

    mark: str
    outlines: tuple[tuple[complex, ...], ...]
    hinged: str

    @property
    def box(self) -> tuple[complex, complex]:
        """Its lower left corner, and how wide and how high it is."""
        return low_and_size(point for outline in self.outlines for point in outline)

    @property
    def size(self) -> complex:
        """How wide and how high it is."""
        return self.box[1]


def leaves_of(order: FrameOrder, opening: Doorway) -> tuple[Leaf, ...]:
    """The leaves of an opening from left to right; of two that are not alike the other one as a bare outline."""
    side = opening.hinged or HINGED[0]
    own = _leaf(order.assembly, side)
    if opening.leaves == 1:
        return (own,)
    if opening.alike:
        assembly = order.assembly
        return own, _leaf(assembly if is_own_image(assembly) else image_of(assembly), OTHER_SIDE[side])
    width, height = opening.other_leaf, own.size.imag
    bare = (0j, complex(width, 0), complex(width, height), complex(0, height))
    other = Leaf(phrase("frame.opening.other"), (bare,), OTHER_SIDE[side])
    return (own, other) if side == HINGED[0] else (other, own)


def _leaf(assembly: Assembly, hinged: str) -> Leaf:
    return Leaf(assembly.mark, assembly.outlines[: len(assembly.order)], hinged)


def opening_drawing(order: FrameOrder, opening: Doorway, units: Units) -> Drawing:
    """The opening from the ground up, its left post's face at x = 0."""
    return Drawing(_Drawn.of(leaves_of(order, opening), opening).parts(units))


@attrs.frozen
class _Drawn:
    """The leaves at `k` paper mm a mm: where each begins, what is free beside them from left to right, and around."""

    leaves: tuple[Leaf, ...]
    opening: Doorway
    k: float
    free: tuple[tuple[float, float], ...]
    floor: float
    head: float

    @classmethod
    def of(cls, leaves: tuple[Leaf, ...], opening: Doorway) -> _Drawn:
        k = min(_ROOM[0] / opening.width, _ROOM[1] / opening.height)
        gaps = [_seen(gap, k) for _, gap in _beside(leaves, opening)]
        starts = [0.0, *accumulate(gap + leaf.size.real * k for gap, leaf in zip(gaps, leaves, strict=False))]
        free = tuple((start, start + gap) for start, gap in zip(starts, gaps, strict=True))
        return cls(leaves, opening, k, free, _seen(opening.floor, k), _seen(opening.head, k))

    @property
    def width(self) -> float:
        return self.free[-1][1]

    @property
    def under(self) -> float:
        """How high what stands above the leaves is over the ground."""
        return self.floor + self.k * max(leaf.size.imag for leaf in self.leaves) + self.head

    def parts(self, units: Units) -> Iterator[Entity]:
        yield from self._around()
        for leaf, (_, x) in zip(self.leaves, self.free, strict=False):
            yield from self._leaf(leaf, x)
        yield from self._hinges()
        sizes = (self.opening.width, self.opening.height)
        wide, high = (show_length(size, units) for size in sizes)
        yield Dimension((0, 0), (self.width, 0), -8.0, wide, _LETTERS, 0.0)
        yield Dimension((-_POST, 0), (-_POST, self.under), 6.0, high, _LETTERS, 90.0)
        yield from self._gaps(units)

    def _around(self) -> Iterator[Entity]:
        """Posts, ground, and what is above where there is a gap to it."""
        width, top = self.width, self.under
        for left in (-_POST, width):
            yield Polygon([(left, 0), (left + _POST, 0), (left + _POST, top), (left, top)], OUTLINE, 0.7)
        yield Line((-_POST - 4, 0), (width + _POST + 4, 0), OUTLINE)
        if self.head:
            left, right = -_POST, width + _POST
            yield Polygon([(left, top), (right, top), (right, top + _POST), (left, top + _POST)], OUTLINE, 0.7)

    def _leaf(self, leaf: Leaf, x: float) -> Iterator[Entity]:
        """Its pieces, and its mark level or upright where it stands clear of them."""
        low, at, k = leaf.box[0], complex(x, self.floor), self.k
        turned = [[(point - low) * k + at for point in outline] for outline in leaf.outlines]
        pieces = [Polygon([(point.real, point.imag) for point in points], THIN, 0.93) for points in turned]
        yield from pieces
        places = [
            Text((place.real, place.imag), leaf.mark, _LETTERS, "center", "middle", turn)
            for turn, up in product((0.0, 90.0), _SHARES)
            for place in (at + complex(leaf.size.real / 2, leaf.size.imag * up) * k,)
        ]
        text = first_clear(places, list(strokes(Drawing(pieces))), ())
        yield from [text] if text else []

    def _hinges(self) -> Iterator[Entity]:
        """A black mark over the gap, two a leaf, as high as the side that they are on."""
        for i, leaf in enumerate(self.leaves):
            x0, x1 = self.free[i if leaf.hinged == "left" else i + 1]
            for share in _HINGES:
                y = self.floor + share * leaf.size.imag * self.k
                yield Polygon([(x0, y), (x1, y), (x1, y + _HINGE), (x0, y + _HINGE)], FILL, 0.0)

    def _gaps(self, units: Units) -> Iterator[Entity]:
        """Each gap that there is, once, with a line from its words into it."""
        high = self.under + (_POST if self.head else 0.0) + _OFF
        told: list[str] = []
        for (name, gap), (x0, x1) in zip(_beside(self.leaves, self.opening), self.free, strict=True):
            if gap and name not in told:
                told.append(name)
                yield from _led_up(_says(name, gap, units), (x0 + x1) / 2, high, self)
        for name, gap, y, at in (
            ("floor", self.opening.floor, -4.0, self.floor / 2),
            ("head", self.opening.head, self.under + _POST / 2, self.under - self.head / 2),
        ):
            if gap:
                yield from self._led_right(_says(name, gap, units), y, at)

    def _led_right(self, says: str, y: float, at: float) -> Iterator[Entity]:
        """The words of a level gap beside the right post, with a line into it at a height `at`."""
        x = self.width + _POST + 6.0
        yield Text((x, y - _LETTERS / 2), says, _LETTERS)
        yield Line((x - 0.8, y), (self.width - 3.0, at), THIN)


def _says(name: str, gap: float, units: Units) -> str:
    return phrase(f"frame.opening/{name}", gap=show_length(gap, units))


def _led_up(says: str, x: float, high: float, drawn: _Drawn) -> Iterator[Entity]:
    """The words of an upright gap above it, at either side leading away from the opening, in its middle a line up."""
    place: Anchor = "right" if x < drawn.width * 0.2 else "left" if x > drawn.width * 0.8 else "center"
    y = high + (_PITCH if place == "center" else 0.0)
    shift = {"right": 1.5, "left": -1.5, "center": 0.0}[place]
    yield Text((x + shift, y), says, _LETTERS, place)
    yield Line((x, y - 1.2), (x, drawn.under - drawn.head - 3.0), THIN)


def _seen(gap: float, k: float) -> float:
    return max(gap * k, _GAP) if gap else 0.0


def _beside(leaves: Sequence[Leaf], opening: Doorway) -> list[tuple[str, float]]:
    """The name and the width of each upright gap from left to right, mm."""
    gaps = {"hinge": opening.hinge, "latch": opening.latch, "meeting": opening.meeting}
    if len(leaves) == 2:
        names = ["hinge", "meeting", "hinge"]
    else:
        names = ["hinge", "latch"] if leaves[0].hinged == HINGED[0] else ["latch", "hinge"]
    return [(name, gaps[name]) for name in names]
