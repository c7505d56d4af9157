"""A bend made of straight segments: its miter and lengths, and the segments as an open frame; knows planar."""

from __future__ import annotations

from cmath import exp
from math import isfinite, radians, tan
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import LEAST_CORNER
from mitertool.frame.assembly import Assembly
from mitertool.frame.in_space import Named
from mitertool.frame.joints import Joint
from mitertool.frame.planar import planar
from mitertool.frame.sizes import refuse_no_size
from mitertool.quantity.problem import Remark, lengths
from mitertool.sections import Section
from mitertool.words import phrase

MOST_CUTS: Final = 180

BEND: Final = Named("BEND")


@attrs.frozen
class Bend:
    """The figures of a bend; lengths are mm, of a full segment where nothing else is said.

    `miter` is the angle of every cut from square, degrees. `heel`, `throat` and `centerline` are the outside, the
    inside and the middle of a full segment, `end_centerline` the middle of an end, which is half of one. `cut_back`
    is how far a cut leans over half of the diameter. Source: the geometry of closely spaced mitered bends, as in
    ASME B31.3 304.2.3 and the pipe-stress handbooks.
    """

    miter: float
    centerline: float
    end_centerline: float
    heel: float
    throat: float
    cut_back: float


def bend(diameter: float, radius: float, angle: float, cuts: int) -> Bend:
    """A bend of `angle` degrees and centerline `radius` in tube of this outside diameter (mm), by so many cuts.

    Each cut turns the bend by an equal share. Raises `BadInput` for no sizes, no cuts, a cut of 45 degrees or more from
    square, and a radius inside the tube.

    >>> round(mt.bend(273, 381, 90, 4).centerline, 1)
    151.6
    """
    refuse_no_size(diameter=diameter, radius=radius)
    if not (isinstance(cuts, int) and 1 <= cuts <= MOST_CUTS):
        raise BadInput("cuts", cuts, phrase("refuse.from-to", least=1, most=MOST_CUTS))
    miter = angle / 2 / cuts
    if not (isfinite(angle) and LEAST_CORNER <= 2 * miter < 90):
        raise BadInput("angle", angle, phrase("refuse.bend-angle", least=LEAST_CORNER))
    if radius <= diameter / 2:
        outside = Remark("refuse.bend-radius", lengths(half=diameter / 2))
        raise BadInput("radius", Remark("found.length", lengths(length=radius)), outside)
    slope = tan(radians(miter))
    full = 2 * radius * slope
    heel, throat = (2 * radius + diameter) * slope, (2 * radius - diameter) * slope
    return Bend(miter, full, full / 2, heel, throat, diameter / 2 * slope)


def elbow(
    section: Section,
    radius: float,
    angle: float,
    cuts: int,
    tangents: tuple[float, float] = (0.0, 0.0),
    named: Named = BEND,
) -> Assembly:
    """The segments of a bend in order, halves at the ends, each lengthened by its straight `tangents` (mm).

    Its outside is the moving side. Raises `BadInput` as `bend`, and for a section that is higher or lower than wide.
    """
    figures = bend(section.width, radius, angle, cuts)
    for tangent in tangents:
        if not (isfinite(tangent) and tangent >= 0):
            raise BadInput("tangents", Remark("found.length", lengths(length=tangent)), phrase("refuse.0-or-more"))
    runs = [figures.end_centerline + tangents[0], *[figures.centerline] * (cuts - 1)]
    runs.append(figures.end_centerline + tangents[1])
    corners, turn = [0j], exp(-1j * radians(2 * figures.miter))
    for number, run in enumerate(runs):
        corners.append(corners[-1] + run * turn**number)
    made = planar(
        "bend", corners, [section] * len(runs), "centerline", [Joint()] * cuts, False, named.mark, named.resolution
    )
    return attrs.evolve(made, notes=(*made.notes, *_notes(figures)))


def _notes(figures: Bend) -> tuple[Remark, ...]:
    sizes = lengths(heel=figures.heel, throat=figures.throat, centerline=figures.centerline)
    return (
        Remark("note.segment", sizes),
        Remark("note.segments"),
    )
