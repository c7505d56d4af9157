"""A drawing: entities in the order they are drawn, moved, measured and put together; mm, y up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cached_property
from itertools import chain
from typing import Self

from attrs import field, frozen

from mitertool.base.errors import BadInput
from mitertool.drawing.checks import Entity, refuse_bad, refuse_endless
from mitertool.drawing.entities import Primitive, Text
from mitertool.drawing.explode import explode
from mitertool.drawing.vectors import Point, Similarity
from mitertool.words import phrase


@frozen
class TextBox:
    """What a text `says`, its `height` (mm), and the `corners` of its box, lower left first and round."""

    says: str
    height: float
    corners: tuple[Point, ...]


def _entities(entities: Iterable[Entity]) -> tuple[Entity, ...]:
    return tuple(entities)


@frozen
class Drawing:
    """Entities, later ones on top; refuses an entity with a number that is not finite, by `BadInput`."""

    entities: tuple[Entity, ...] = field(default=(), converter=_entities)
    _made_of: tuple[tuple[Drawing, Point], ...] = field(default=(), init=False, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        for entity in self.entities:
            refuse_bad(entity)

    def __add__(self, other: Drawing) -> Self:
        parts = (one._made_of or ((one, (0.0, 0.0)),) for one in (self, other))
        return self._of_checked(self.entities + other.entities, tuple(chain.from_iterable(parts)))

    @classmethod
    def _of_checked(cls, entities: tuple[Entity, ...], made_of: tuple[tuple[Drawing, Point], ...] = ()) -> Self:
        # Entities that are checked already; checking all of them again would make a page of many parts slow. So would
        # measuring them again: what is put together of drawings that were shifted is as large as these are.
        whole = object.__new__(cls)
        object.__setattr__(whole, "entities", entities)
        object.__setattr__(whole, "_made_of", made_of)
        return whole

    def moved(self, dx: float, dy: float) -> Self:
        """The drawing shifted by `dx`, `dy` mm."""
        return self._under(Similarity(shift=(dx, dy)), ((self, (dx, dy)),))

    def scaled(self, k: float) -> Self:
        """The geometry `k` times as large about the origin; text, offsets and heights keep their size."""
        if not 0.0 < k < math.inf:
            raise BadInput(phrase("drawing.scale"), k, phrase("drawing.is/above-0"))
        return self._under(Similarity(scale=k))

    def turned(self, degrees: float) -> Self:
        """The drawing turned counter-clockwise about the origin."""
        return self._under(Similarity(turn=degrees))

    @cached_property
    def pictures(self) -> tuple[tuple[Primitive, ...], ...]:
        """Of every entity the lines, arcs, polygons and text that show it."""
        return tuple(map(explode, self.entities))

    def primitives(self) -> tuple[Primitive, ...]:
        """Lines, arcs, polygons and text, dimensions exploded and blank text left out."""
        shown = chain.from_iterable(self.pictures)
        return tuple([part for part in shown if not isinstance(part, Text) or part.says.strip()])

    def bounds(self) -> tuple[float, float, float, float]:
        """The smallest and largest x and y, (x0, y0, x1, y1), mm, of all that is shown, pens without width.

        A drawing that shows nothing is a point at the origin.
        """
        return self._box or (0.0, 0.0, 0.0, 0.0)

    @cached_property
    def _box(self) -> tuple[float, float, float, float] | None:
        """The same, None where nothing is shown."""
        points = list(self._corners() if self._made_of else self._extremes())
        if not points:
            return None
        xs, ys = zip(*points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def _extremes(self) -> Iterator[Point]:
        return chain.from_iterable(part.extremes() for part in self.primitives())

    def _corners(self) -> Iterator[Point]:
        """Those of the boxes of what it is made of, each shifted."""
        for part, (dx, dy) in self._made_of:
            if part._box:
                x0, y0, x1, y1 = part._box
                yield x0 + dx, y0 + dy
                yield x1 + dx, y1 + dy

    def text_boxes(self) -> tuple[TextBox, ...]:
        """The box of every text, also of dimensions, from the depth of a descender to a capital's top."""
        texts = (part for part in self.primitives() if isinstance(part, Text))
        return tuple(TextBox(text.says, text.height, text.corners) for text in texts)

    def _under(self, move: Similarity, made_of: tuple[tuple[Drawing, Point], ...] = ()) -> Self:
        moved = tuple([entity.under(move) for entity in self.entities])
        if not move.keeps_finite:
            for entity in moved:
                refuse_endless(entity)
        return self._of_checked(moved, made_of)
