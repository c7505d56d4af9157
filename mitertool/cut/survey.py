"""A square cut of a section in each of its lays, compared; knows faces and lays."""

from __future__ import annotations

import attrs

from mitertool.cut.cut import Cut
from mitertool.cut.face import Face
from mitertool.sections import Section, lies_safely
from mitertool.sections.lay import distinct_lays


@attrs.frozen
class LaySurvey:
    """What the blade meets in one lay, mm: largest and least wall on it, mean width of cut, and how even that is.

    `evenness` is largest over mean, 1 for a steady cut. `rank` counts from 1: lays that stay as laid first, then
    the more even cut, then the lower one.
    """

    section: Section
    largest: float
    thinnest: float
    mean: float
    safe: bool
    rank: int

    @property
    def evenness(self) -> float:
        """Largest contact over mean width of cut."""
        return self.largest / self.mean


def survey(section: Section) -> tuple[LaySurvey, ...]:
    """Every distinct lay of `section`, best first, for a square cut. Mean width of cut is area over travel."""
    found = [_in_lay(laid) for laid in distinct_lays(section)]
    found.sort(key=lambda one: (not one.safe, round(one.evenness, 9), one.section.height))
    return tuple(attrs.evolve(one, rank=i) for i, one in enumerate(found, 1))


def _in_lay(laid: Section) -> LaySurvey:
    face: Face = Cut().face(laid)
    return LaySurvey(laid, face.largest_contact, face.thinnest_wall, laid.area / laid.height, lies_safely(laid), 0)
