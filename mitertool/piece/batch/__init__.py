"""Cuts and pieces by the thousand: what cut and piece give for one, over whole arrays; knows piece and numpy.

Angles are degrees, lengths mm. What does not change with the cut (a section's hull, its outlines by direction) is
worked out once; arrays are gone through in steps that stay in the cache.
"""

from __future__ import annotations

from collections.abc import Collection
from functools import partial
from math import nan
from typing import Final

import attrs
import numpy as np
from numpy.typing import ArrayLike, NDArray

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import CROSSING
from mitertool.geometry.hull import HullDiscs
from mitertool.geometry.lengths import OutlineLengths
from mitertool.piece.batch import extents
from mitertool.piece.batch.blocks import worked
from mitertool.piece.batch.given import Array, angles, lengths, together
from mitertool.piece.batch.perimeter import perimeters
from mitertool.piece.piece import AT
from mitertool.sections import Section

__all__ = ["Cuts", "Pieces", "cuts", "pieces"]


def _kept(values: NDArray[np.generic]) -> NDArray[np.generic]:
    values.flags.writeable = False
    return values


@attrs.frozen(eq=False)
class Cuts:
    """The faces of many cuts of one section: arrays of the shape that miter and bevel broadcast to, not writable.

    `area` mm2, `perimeter` mm; `furthest` and `nearest` are the largest and smallest p*y + q*z over the material,
    mm; `width` (along the blade) and `height` are the face's, mm. What was not asked for has no numbers, shape (0,).
    """

    area: Array = attrs.field(converter=_kept)
    perimeter: Array = attrs.field(converter=_kept)
    furthest: Array = attrs.field(converter=_kept)
    nearest: Array = attrs.field(converter=_kept)
    width: Array = attrs.field(converter=_kept)
    height: Array = attrs.field(converter=_kept)


@attrs.frozen(eq=False)
class Pieces:
    """Many pieces of one section: arrays of the shape that all arguments broadcast to, not writable.

    Lengths mm, `volume` mm3, `mass` kg. `crosses` is true where the two cuts cross or leave nothing between them,
    so that `Piece` would refuse: there the lengths are those of the two planes, and volume and mass are nan.
    """

    long_point: Array = attrs.field(converter=_kept)
    short_point: Array = attrs.field(converter=_kept)
    centerline: Array = attrs.field(converter=_kept)
    overall: Array = attrs.field(converter=_kept)
    volume: Array = attrs.field(converter=_kept)
    mass: Array = attrs.field(converter=_kept)
    crosses: NDArray[np.bool_] = attrs.field(converter=_kept)


FIELDS: Final = ("area", "perimeter", "furthest", "nearest", "width", "height")
"""What there is to know of a cut."""


def cuts(section: Section, miter: ArrayLike, bevel: ArrayLike = 0.0, only: Collection[str] = FIELDS) -> Cuts:
    """The faces of `section` for every `miter` and `bevel` (degrees, broadcast together).

    `only` names what is worked out, so that a hundred million cuts take the room of what they are asked for. Raises
    `BadInput` with the first index that is no angle of less than 90 degrees, for shapes that do not broadcast, or for a
    name that is none of a cut's.

    >>> mt.batch.cuts(mt.flat(80, 12), [0, 60]).width.round(9).tolist()
    [80.0, 160.0]
    """
    for name in only:
        if name not in FIELDS:
            raise BadInput("only", name, among(FIELDS))
    given = together(miter=angles("miter", miter), bevel=angles("bevel", bevel))
    asked = [name for name in FIELDS if name in only]
    rule = partial(_faces, section, section.region.hull, section.region.outlines, frozenset(asked))
    found = dict(zip(asked, worked(rule, given, len(asked)), strict=True))
    return Cuts(*(found.get(name, np.empty(0)) for name in FIELDS))


def _faces(
    section: Section, hull: HullDiscs, outline: OutlineLengths, asked: Collection[str], miter: Array, bevel: Array
) -> list[Array]:
    """What is asked of one step of cuts, in the order of `FIELDS`."""
    p, t = np.tan(np.radians(miter)), np.tan(np.radians(bevel))
    sec2 = 1 + p * p
    sec = np.sqrt(sec2)
    q = t * sec
    w = np.sqrt(sec2 + q * q)
    found = []
    if "area" in asked:
        found.append(section.area * w)
    if "perimeter" in asked:
        found.append(perimeters(outline, p, q, sec, w))
    if "furthest" in asked or "nearest" in asked:
        nearest, furthest = extents.extent(hull, p, q)
        found += [reached for name, reached in (("furthest", furthest), ("nearest", nearest)) if name in asked]
    if "width" in asked:
        found.append(extents.width(hull, sec, p * t))
    if "height" in asked:
        found.append(section.height * np.sqrt(1 + t * t))
    return found


def pieces(
    section: Section,
    length: ArrayLike,
    left_miter: ArrayLike = 0.0,
    left_bevel: ArrayLike = 0.0,
    right_miter: ArrayLike = 0.0,
    right_bevel: ArrayLike = 0.0,
    at: str = "long-point",
) -> Pieces:
    """The pieces of `section` for every `length` (mm, measured `at` one of `AT`) and pair of cuts (degrees).

    All but `at` broadcast together. Raises `BadInput` with the first index that is no length or no angle, or for
    shapes that do not broadcast; cuts that cross are told in `crosses`.

    >>> mt.batch.pieces(mt.flat(80, 12), 1200, [0, 45]).short_point.round(9).tolist()
    [1200.0, 1120.0]
    """
    if at not in AT:
        raise BadInput("at", at, among(AT))
    given = together(
        length=lengths("length", length),
        left_miter=angles("left_miter", left_miter),
        left_bevel=angles("left_bevel", left_bevel),
        right_miter=angles("right_miter", right_miter),
        right_bevel=angles("right_bevel", right_bevel),
    )
    rule = partial(_lengths, section, section.region.hull, at)
    long, short, centerline, overall, volume, mass = worked(rule, given, 6)
    return Pieces(long, short, centerline, overall, volume, mass, np.isnan(mass))


def _lengths(section: Section, hull: HullDiscs, at: str, length: Array, *degrees: Array) -> list[Array]:
    """One step of pieces, in the order of the fields of `Pieces`."""
    left, right = _slopes(*degrees[:2]), _slopes(*degrees[2:])
    p, q = left[0] + right[0], left[1] + right[1]
    nearest, furthest = extents.extent(hull, p, q)
    across, up = p * section.width, q * section.height
    middle, overall = (across + up) / 2, extents.furthest(hull, *left) + extents.furthest(hull, *right)
    measured = {
        "long-point": furthest,
        "short-point": nearest,
        "centerline": middle,
        "overall": overall,
        "fixed-bottom": np.zeros_like(p),
        "fixed-top": up,
        "moving-bottom": across,
        "moving-top": across + up,
    }
    s = length - measured[at]
    long, short = s + furthest, s + nearest
    crosses = (short < -CROSSING) | (long <= CROSSING)
    volume = section.area * (s + p * section.centroid[0] + q * section.centroid[1])
    volume[crosses] = nan
    return [long, short, s + middle, s + overall, volume, volume * (section.density * 1e-9)]


def _slopes(miter: Array, bevel: Array) -> tuple[Array, Array]:
    p = np.tan(np.radians(miter))
    return p, np.tan(np.radians(bevel)) * np.sqrt(1 + p * p)
