"""Frames of few sizes at random, with the bars inside, as solids of a general mesh library: no two share any room.

manifold3d (Apache-2.0) unites the solids. The members around stand as full prisms over the outlines that reassembly
gives, the bars inside as strips cut by their own angles, both from the record alone; the bars are solid, so that each
volume is held against the sheet's. Tolerance 1e-6 relative, as the library joins faces that lie in one plane.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from shapely import Polygon

from tests.frame.random_shapes import any_outline
from tests.frame.runs import checked, table, tube
from tests.frame.standing import inside, ring
from tests.often import times

pytestmark = pytest.mark.outside

RELATIVE = 1e-6
HIGH = 20.0

LAW = settings(
    deadline=None,
    max_examples=times(10),
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)

T = tube("T", 50)
P = table("section", name="P", shape="flat", width=20, height=HIGH)


def prism(plan: Polygon) -> Any:
    """The solid over an outline and its holes."""
    from manifold3d import CrossSection, FillRule, Manifold

    loops = [list(loop.coords)[:-1] for loop in (plan.exterior, *plan.interiors)]
    return Manifold.extrude(CrossSection(loops, FillRule.EvenOdd), HIGH)


def solids(record: dict[str, Any], around: Polygon) -> list[Any]:
    return [prism(around), *map(prism, inside(record))]


@LAW
@given(any_outline())
def test_no_room_is_shared_and_the_sheet_has_the_volumes(tmp_path: Path, asked: str) -> None:
    from manifold3d import Manifold, OpType

    record = checked(tmp_path, T, P, asked)
    corners = [complex(one["x_mm"], one["y_mm"]) for one in record["assemblies"][0]["corners"]]
    stand = solids(record, ring(corners, 50))
    union = Manifold.batch_boolean(stand, OpType.Add).volume()
    assert union == pytest.approx(sum(one.volume() for one in stand), rel=RELATIVE)
    pieces = {piece["mark"]: piece for piece in record["pieces"]}
    for bar, solid in zip(record["assemblies"][0]["inside"], stand[1:], strict=True):
        if pieces[bar["mark"]]["section"] == "P":
            assert solid.volume() == pytest.approx(pieces[bar["mark"]]["volume_mm3"], rel=RELATIVE)


def test_a_bar_a_millimetre_over_is_seen() -> None:
    from manifold3d import Manifold, OpType

    around = ring([0j, 1100j, 1100 + 1100j, 1100 + 0j], 50)
    for over in (0.0, 1.0):
        both = [prism(around), prism(Polygon([(400, 50), (420, 50), (420, 1050 + over), (400, 1050 + over)]))]
        lost = sum(one.volume() for one in both) - Manifold.batch_boolean(both, OpType.Add).volume()
        assert lost == pytest.approx(20 * over * HIGH, abs=1)
