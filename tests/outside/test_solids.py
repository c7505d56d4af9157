"""Every specimen, cut twice, against a general-purpose solid library; the elliptic integral against SciPy.

Sources: manifold3d 3 (solids bounded by triangles) builds the bar from the outline's points, trims it by the two
planes, and is asked for volume, extent and the area of each face. SciPy's `ellipeinc` is the incomplete elliptic
integral of the second kind. Both COMPUTED; both installed for this test only.

Tolerance: the outline is a polygon no further than `CHORD_ERROR` e from its arcs, so its area is off by at most 2/3 e
times the length of its outline, the volume by that times the longest line, a tip by e times the slope. What the library
rounds is covered by 1e-9 relative and 1 per cent of these bounds. The integral: 1e-12, two independent series.
"""

from __future__ import annotations

import math
from importlib import import_module
from typing import Any

import numpy as np
import pytest

import mitertool as mt
from mitertool.geometry.elliptic import second_kind
from tests.specimens import LAID, outline_points

pytestmark = pytest.mark.outside

CHORD_ERROR = 1e-4

ENDS = {
    "frame": (mt.Cut(45), mt.Cut(45)),
    "parallel": (mt.Cut(-30), mt.Cut(30)),
    "beveled": (mt.Cut(0, -20), mt.Cut(0, 40)),
    "compound": (mt.Cut(30, 20), mt.Cut(-52, 35)),
    "steep": (mt.Cut(60, 50), mt.Cut(10)),
}


def solid(piece: mt.Piece) -> Any:
    """The trimmed bar, its section in the library's first two axes and its length along the third."""
    library = import_module("manifold3d")
    loops = [np.array(loop) for loop in outline_points(piece.section, CHORD_ERROR)]
    reach = 8 * (piece.overall + piece.section.width + piece.section.height)
    bar = library.Manifold.extrude(library.CrossSection(loops), 2 * reach).translate((0.0, 0.0, -reach))
    left, right = piece.left, piece.right
    bar = bar.trim_by_plane((left.p, left.q, 1.0), 0.0)
    return bar.trim_by_plane((right.p, right.q, -1.0), -piece.s / math.hypot(right.p, right.q, 1.0))


def area_on_plane(shape: Any, p: float, q: float, offset: float) -> float:
    """Total area of the triangles that lie in the plane x = offset + p*y + q*z."""
    mesh = shape.to_mesh64()
    points = np.asarray(mesh.vert_properties)[:, :3]
    corners = points[np.asarray(mesh.tri_verts)]
    apart = np.abs(corners[:, :, 2] - offset - p * corners[:, :, 0] - q * corners[:, :, 1])
    lying = corners[(apart < 1e-6).all(axis=1)]
    across = np.cross(lying[:, 1] - lying[:, 0], lying[:, 2] - lying[:, 0])
    return float(np.linalg.norm(across, axis=1).sum() / 2)


@pytest.mark.parametrize("ends", ENDS)
@pytest.mark.parametrize("name", LAID)
def test_piece(name: str, ends: str) -> None:
    section = LAID[name]
    piece = mt.Piece(section, 300.0, *ENDS[ends], at="short-point")
    left, right = piece.left, piece.right
    shape = solid(piece)
    area_slack = 2 / 3 * CHORD_ERROR * section.perimeter + 1e-9 * section.area
    assert abs(shape.volume() - piece.volume) <= area_slack * piece.overall * 1.01
    for cut, face in (
        (left, area_on_plane(shape, -left.p, -left.q, 0.0)),
        (right, area_on_plane(shape, right.p, right.q, piece.s)),
    ):
        assert abs(face - cut.face(section).area) <= area_slack * cut.stretch * 1.01
    box = shape.bounding_box()
    tip_slack = CHORD_ERROR * (math.hypot(left.p, left.q) + math.hypot(right.p, right.q)) + 1e-9 * piece.overall
    assert abs(box[5] - box[2] - piece.overall) <= tip_slack


def test_second_kind() -> None:
    ellipeinc = import_module("scipy.special").ellipeinc
    for m in (0.0, 1e-9, 0.1, 0.5, 0.75, 0.99, 0.999999, 1.0):
        for phi in np.linspace(-12, 12, 401):
            assert second_kind(float(phi), m) == pytest.approx(float(ellipeinc(phi, m)), rel=1e-12, abs=1e-14)
