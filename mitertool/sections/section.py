"""The section: material in the (y, z) plane with its bounding box at (0, 0); and the shape it is one of.

Knows geometry, and dimensions by name.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from math import isfinite, radians, remainder
from typing import Final, Self, cast

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.shown import Shown
from mitertool.geometry import Point, Region
from mitertool.quantity.problem import Remark
from mitertool.sections.dimension import Dimension
from mitertool.sections.symmetry import Print, prints, same, symmetry
from mitertool.words import phrase

DENSITY: Final = 7850.0
"""kg/m3, the nominal density of steel in EN 10219-2 and EN 10365 (7,85 kg/dm3)."""


@attrs.frozen(eq=False)
class FrameWord:
    """A word that a frame asks for, because an open section may lie in it in several ways: its key and the answers.

    `means` is the name of what it means in the table of words.
    """

    key: str
    means: str
    allowed: tuple[str, ...]


@attrs.frozen(eq=False, repr=False)
class Shape:
    """A family of sections: how one is made and what of, and how the trade says where it lies.

    `word` names it in files, `make` takes its dimensions by their keys (mm) and gives a section as the catalogue has
    it. `lays` are the words by which that may be laid, with the rotation of each; `lies` tells how a section lies, ""
    where the picture tells it. A frame asks for `frame_words`; `in_frame` lays a section by the answers, the frame's
    outside on the moving side. `tape_lines` are the lines on which a tape may measure a frame, with how far the outer
    edge lies outside each, mm; `tape_words` all that it can have, in whichever lay.

    `parts` are places of a section as it lies (y, z), by what is there: the `part.NAME` of the table of words.

    `solid`: no vise crushes it. `round`: every roll looks alike. `either_way`: its first two numbers may be given
    the other way round, for the same bar lying the other way. `one_for_both`: one number may stand for two equal sides.
    """

    word: str
    make: Callable[..., Section]
    dimensions: tuple[Dimension, ...]
    lies: Callable[[Section], str]
    tape_words: tuple[str, ...]
    tape_lines: Callable[[Section], Mapping[str, float]]
    lays: Callable[[Section], Mapping[str, float]] = lambda _: {}
    frame_words: tuple[FrameWord, ...] = ()
    in_frame: Callable[..., Section] = lambda section: section
    parts: Callable[[Section], Mapping[str, Point]] = lambda _: {}
    solid: bool = False
    round: bool = False
    either_way: bool = False
    one_for_both: bool = False

    def __repr__(self) -> str:
        return f"<Shape {self.word}>"

    def __str__(self) -> str:
        return self.word

    def check(self, **given: float | str) -> None:
        """Raises `BadInput` for a dimension that is out of its own limits."""
        known = {one.key: one for one in self.dimensions}
        for key, value in given.items():
            known[key].check(value)


@attrs.frozen(repr=False)
class Abreast:
    """What a section is made of that is `count` bars of `one`, cut at once.

    `again` puts bars that are laid another way side by side again; None where they are laid together, as a box is.
    """

    one: Section
    count: int
    again: Callable[[Section, int], Section] | None = attrs.field(eq=False)


@attrs.frozen(repr=False)
class Section(Shown):
    """A cross-section as it lies in the vise: width across the bed (y), height above it (z), mm.

    `dimensions` are the words and numbers (mm, per cent for taper) it was made from, in reading order;
    `rotation` (degrees, counter-clockwise seen against x) and `turned` (end for end) say how it was laid. `nominal`
    is the mass of a metre in structural steel, kg/m, as its standard prints it or by its nominal wall; None: not known.
    `abreast` is what lies in it where it is several bars that are cut at once.

    >>> flat = mt.flat(80, 12)
    >>> flat.area, flat.centroid, flat.lay(90)
    (960.0, (40.0, 6.0), <Section flat 80x12: 12 x 80 mm, laid 90 degrees>)
    """

    name: str
    shape: Shape
    region: Region
    dimensions: tuple[tuple[str, float], ...] = ()
    origin: Remark | str = ""
    density: float = DENSITY
    rotation: float = 0.0
    turned: bool = False
    nominal: float | None = None
    abreast: Abreast | None = None

    def __repr__(self) -> str:
        laid = f", laid {self.rotation:g} degrees" if self.rotation else ""
        laid += ", turned end for end" if self.turned else ""
        return f"<Section {self.name}: {self.width:g} x {self.height:g} mm{laid}>"

    @property
    def bars(self) -> int:
        """How many bars are cut at once; 1 for one alone."""
        return self.abreast.count * self.abreast.one.bars if self.abreast else 1

    @property
    def one_bar(self) -> Section:
        """One of those bars, as a mill sells it."""
        return self.abreast.one.one_bar if self.abreast else self

    @property
    def area(self) -> float:
        """Area of the material, mm2."""
        return self.region.area

    @property
    def perimeter(self) -> float:
        """Length of all outlines, inner ones included, mm."""
        return self.region.perimeter

    @property
    def centroid(self) -> Point:
        """Centroid (y, z), mm."""
        return self.region.centroid

    @cached_property
    def width(self) -> float:
        """Extent across the bed (W), mm."""
        return self.region.bounds[2]

    @cached_property
    def height(self) -> float:
        """Extent above the bed (H), mm."""
        return self.region.bounds[3]

    @property
    def walls(self) -> tuple[float, ...]:
        """The thickness of each of its walls by its own dimensions, mm; none of a solid, or of an outline as drawn."""
        words = {one.word for one in self.shape.dimensions if one.wall}
        return tuple(value for word, value in self.dimensions if word in words)

    @property
    def quarter(self) -> int | None:
        """How many quarter turns it is rotated by, 0 to 3; None where it does not lie on one of its four sides."""
        return int(self.rotation // 90 % 4) if self.rotation % 90 == 0 else None

    @property
    def is_open(self) -> bool:
        """Whether it is rolled or folded of plate and shut by no wall: its sides differ, and how it lies matters."""
        return not self.shape.solid and len(self.region.loops) == 1

    @property
    def mass_per_metre(self) -> float:
        """Mass of a metre of the material as drawn, kg/m; of an American hollow section that is the design wall."""
        return self.area * self.density * 1e-6

    @property
    def nominal_mass_per_metre(self) -> float:
        """What a metre is bought and lifted as, kg/m: nominal where that is known, else of the material as drawn."""
        return self.mass_per_metre if self.nominal is None else self.nominal * self.density / DENSITY

    @cached_property
    def symmetry(self) -> frozenset[str]:
        """The motions that map the outline onto itself, found from the outline.

        Among "left-right" (mirror in y), "top-bottom" (mirror in z), "half-turn", "quarter-turn",
        "diagonal" and "anti-diagonal" (mirrors).
        """
        return symmetry(self.region)

    def support_point(self, p: float, q: float) -> Point:
        """A point of the material with the largest p*y + q*z, mm."""
        return self.region.support_point(p, q)

    def support(self, p: float, q: float) -> float:
        """Largest p*y + q*z over the material, mm."""
        return self.region.support(p, q)

    def lay(self, rotation: float = 0, turned: bool = False) -> Self:
        """The same bar laid another way: first turned end for end, then rotated counter-clockwise by degrees.

        Turning a bar end for end shows its section mirrored in y; no bar is ever mirrored in itself. Raises
        `BadInput` for a rotation that is no number.
        """
        if not isfinite(rotation):
            raise BadInput("rotation", rotation, phrase("refuse.rotation"))
        rotation = remainder(rotation, 360) if abs(rotation) >= 360 else rotation
        if rotation % 90:
            return self._laid_anew(rotation, turned)
        key = rotation % 360, turned
        if key not in self._laid:
            self._laid[key] = self._laid_anew(rotation, turned)
        return self._laid[key]

    @cached_property
    def _laid(self) -> dict[tuple[float, bool], Self]:
        """The section as it was laid by quarter turns: eight at most."""
        return {}

    def _laid_anew(self, rotation: float, turned: bool) -> Self:
        if self.abreast and self.abreast.again:
            return cast(Self, self.abreast.again(self.abreast.one.lay(rotation, turned), self.abreast.count))
        region = self.region.mirrored() if turned else self.region
        region = region.turned(radians(rotation) if rotation % 90 else (rotation // 90) * radians(90))
        was = -self.rotation if turned else self.rotation
        return attrs.evolve(
            self,
            region=region.to_corner(),
            rotation=(was + rotation) % 360,
            turned=self.turned != turned,
        )

    def looks_like(self, other: Section) -> bool:
        """Whether the other section shows the same outline as it lies."""
        return self.region is other.region or same(self._prints, other._prints)

    @cached_property
    def _prints(self) -> tuple[Print, ...]:
        return prints(self.region)

    @property
    def source(self) -> str:
        """Where its dimensions come from, in words."""
        return self.origin if isinstance(self.origin, str) else self.origin.in_units("mm")

    def named(self, name: str, origin: Remark | str) -> Self:
        """The same section under a name, with the origin of its dimensions: a standard, or what tells it."""
        return attrs.evolve(self, name=name, origin=origin)

    def of_density(self, density: float) -> Self:
        """The same section in a material of this density, kg/m3."""
        return attrs.evolve(self, density=density)
