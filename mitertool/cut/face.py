"""The face of a cut: true shape, size, and what lies on the blade at each height; knows its plane and sections."""

from __future__ import annotations

from functools import cached_property

import attrs

from mitertool.base.shown import Shown
from mitertool.cut.blade.arms import Column
from mitertool.cut.blade.passage import Passage
from mitertool.cut.blade.plane import BladePlane
from mitertool.cut.blade.walls import thinnest_wall
from mitertool.cut.plane import CutPlane
from mitertool.geometry import FaceLine, Region, image_of
from mitertool.geometry.ellipse import LinearMap
from mitertool.sections import Section


@attrs.frozen
class Face(Shown):
    """The section as it shows in the plane of a cut.

    Face width lies along the blade (the horizontal line in the plane), face height square to it in the plane.

    >>> face = mt.Cut(60).face(mt.flat(80, 12))
    >>> round(face.width, 9), face.height, round(face.area, 9)
    (160.0, 12.0, 1920.0)
    """

    section: Section
    cut: CutPlane

    @property
    def area(self) -> float:
        """Area, mm2."""
        return self.section.area * self.cut.stretch

    @cached_property
    def perimeter(self) -> float:
        """Length of all outlines in the plane, mm."""
        return self.section.region.oblique_perimeter(self.cut.p, self.cut.q)

    @cached_property
    def _plane(self) -> BladePlane:
        """Along the blade from y = 0, and up the face."""
        return BladePlane.of(self.cut.miter, self.cut.bevel, 0.0, 0.0)

    @cached_property
    def _passage(self) -> Passage:
        """The way of a level blade through the section, which comes down from its top to 0."""
        return Passage(self.section.region, self._plane, Column())

    @cached_property
    def width(self) -> float:
        """Extent of the material along the blade, mm."""
        plane = self._plane
        return self.section.region.hull.extent(plane.uy, plane.uz)

    @cached_property
    def height(self) -> float:
        """Extent of the material up the face, mm."""
        return self.section.height * self._plane.vz

    @cached_property
    def outline(self) -> tuple[tuple[FaceLine, ...], ...]:
        """Loops of lines and arcs of ellipses in (along the blade, up the face), mm."""
        return self.outline_of(self.section.region)

    def outline_of(self, region: Region) -> tuple[tuple[FaceLine, ...], ...]:
        """The same of a part of the section, as the face of one of several cuts of an end has it."""
        linear: LinearMap = (self._plane.uy, self._plane.uz, 0.0, self._plane.vz)
        return tuple(tuple(image_of(segment, linear) for segment in loop) for loop in region.loops)

    def contact(self, z: float) -> float:
        """Total length of material on the blade line at height z above the bed, mm."""
        return self._passage.contact(z * self._plane.vz)

    @cached_property
    def largest_contact(self) -> float:
        """The largest contact at any height, taken as a limit from inside the material, mm."""
        return self._passage.largest

    @cached_property
    def thinnest_wall(self) -> float:
        """The least length of any wall on the blade, mm; the tangent by which the blade enters or leaves is left out.

        A solid bar has only its largest contact.
        """
        return thinnest_wall(self._passage)
