"""The laws run over everything there is: a shape, an arm or a frame that no law draws is refused here."""

from __future__ import annotations

from typing import Final

from mitertool.cut.blade.arms import ARMS
from mitertool.job.frame_keys import FRAME
from mitertool.sections import shapes
from mitertool.sections.own import OUTLINE
from tests.cut import test_passage
from tests.frame import random_shapes, test_braces, test_branches, test_drawings, test_infills, test_outlines
from tests.laws import elbow_loops, frame_cases, hopper_loops, rail_loops, strategies
from tests.saw import machines
from tests.specimens import SPECIMENS
from tests.virtual_saw import space_jobs

DRAWN: Final[dict[str, object]] = {
    "rectangle": frame_cases.rectangles,
    "polygon": frame_cases.convex_polygons,
    "drawing": test_drawings.test_any_ring_however_it_is_drawn,
    "brace": test_braces.test_a_brace_lies_in_its_rectangle,
    "infill": test_infills.test_uprights_against_a_search,
    "hopper": hopper_loops.loops,
    "rail": rail_loops.loops,
    "bend": elbow_loops.loops,
    "wye": space_jobs.job,
    "branch": test_branches.test_the_true_edge_lies_on_both_tubes,
    **dict.fromkeys(("sloping", "trapezoid", "arch", "truss"), random_shapes.any_outline),
    "ladder": test_outlines.test_any_ladder,
    "cross": test_outlines.test_any_cross,
}
"""What draws frames of each kind, to be put together again or held against a closed form."""


def test_every_shape_is_a_specimen_and_is_drawn() -> None:
    assert {section.shape.word for section in SPECIMENS.values()} == set(shapes.words())
    assert set(strategies.MADE) == {*shapes.words(), OUTLINE.word}


def test_every_arm_is_tried() -> None:
    assert {arm.kind for arm in test_passage.ARMS} == set(ARMS)
    assert {arm.kind for arm in (machines.HINGE, machines.COLUMN)} == set(ARMS)


def test_every_frame_is_drawn() -> None:
    assert set(DRAWN) == set(FRAME.each)
