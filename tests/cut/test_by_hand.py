"""Set-backs over both faces and angles by tape: against the cut plane itself and a circle, by hand."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.cut.by_hand import across_legs, set_backs
from tests.frame.runs import command

BOX = mt.rect_tube(60, 80, 3)


@pytest.mark.parametrize(
    ("miter", "bevel", "found"),
    [
        (45, 0, [("moving", 60, 60)]),
        (-45, 0, [("fixed", 60, 60)]),
        (0, 45, [("top", 80, 80)]),
        (0, 0, []),
    ],
)
def test_plain_cuts(miter: float, bevel: float, found: list[tuple[str, float, float]]) -> None:
    told = [(one.long, pytest.approx(one.back), one.over) for one in set_backs(BOX, mt.Cut(miter, bevel))]
    assert told == found


@pytest.mark.parametrize("miter", [-50, 20, 31])
@pytest.mark.parametrize("bevel", [-35, 10])
def test_both_faces_of_a_compound_cut(miter: float, bevel: float) -> None:
    """The lines on both faces lie in one plane, whose normal is turned by the miter about the vertical and then leans
    by the bevel: its dot product with each line is nothing."""
    m, b = math.radians(miter), math.radians(bevel)
    normal = (math.cos(m) * math.cos(b), -math.sin(m) * math.cos(b), -math.sin(b))
    across, up = set_backs(BOX, mt.Cut(miter, bevel))
    signs = (1 if across.long == "moving" else -1, 1 if up.long == "top" else -1)
    lines = ((signs[0] * across.back, across.over, 0.0), (signs[1] * up.back, 0.0, up.over))
    for line in lines:
        assert sum(n * x for n, x in zip(normal, line, strict=True)) == pytest.approx(0, abs=1e-9)


def test_a_round_section_has_no_face() -> None:
    assert set_backs(mt.round_tube(60, 3), mt.Cut(45)) == ()


@pytest.mark.parametrize(
    ("angle", "across"), [(90, 300 * math.sqrt(2)), (60, 300), (120, 300 * math.sqrt(3)), (180, 600)]
)
def test_across_two_legs(angle: float, across: float) -> None:
    """Chords of a circle of 300."""
    assert across_legs(angle, 300) == pytest.approx(across)


def test_at_the_command() -> None:
    """17.6 over 60 is atan 0.2933."""
    _, out, _ = command("cut", "SHS 60x60x4", "--miter", "16.35")
    assert "17.6 back over 60 on top and bottom, long on the moving side" in out
    _, out, _ = command("corner", "SHS 60x60x4", "--angle", "60")
    assert "300 along both sides from the corner, 300 across" in out
