"""Which motions leave a section as it is: written by hand for every specimen, from how such a section looks."""

from __future__ import annotations

import pytest

import mitertool as mt
from tests.specimens import SPECIMENS

NONE: set[str] = set()
UPRIGHT = {"left-right"}
LEVEL = {"top-bottom"}
BOX = {"left-right", "top-bottom", "half-turn"}
SLANTED_BOX = {"diagonal", "anti-diagonal", "half-turn"}
SQUARE = BOX | {"quarter-turn", "diagonal", "anti-diagonal"}

AS_MADE = {
    "square tube": SQUARE,
    "rectangular tube": BOX,
    "round tube": SQUARE,
    "round bar": SQUARE,
    "flat bar": BOX,
    "square bar": SQUARE,
    "equal angle": {"diagonal"},
    "unequal angle": NONE,
    "parallel channel": LEVEL,
    "tapered channel": LEVEL,
    "steep channel": LEVEL,
    "I section": BOX,
    "tapered I section": BOX,
    "tee": UPRIGHT,
    "Z with lips": {"half-turn"},
    "sharp tube": BOX,
    "tube of two half circles": BOX,
    "tube with a round hole": SQUARE,
    "tube with a sharp hole": BOX,
    "paper-thin tube": BOX,
    "round tube, almost solid": SQUARE,
    "sharp angle": NONE,
    "angle with round toes": {"diagonal"},
    "sharp channel": LEVEL,
    "sharp tee": UPRIGHT,
    "sharp Z": {"half-turn"},
    "Z that nests, with leaning lips": NONE,
    "strip on edge": BOX,
    "wide strip": BOX,
    "pin": SQUARE,
}

LAID_OTHERWISE = [
    ("parallel channel", 90, False, UPRIGHT),
    ("parallel channel", 180, False, LEVEL),
    ("tapered channel", 270, True, UPRIGHT),
    ("tee", 90, False, LEVEL),
    ("tee", 45, False, {"anti-diagonal"}),
    ("tee", 135, False, {"diagonal"}),
    ("equal angle", 90, False, {"anti-diagonal"}),
    ("equal angle", 180, False, {"diagonal"}),
    ("equal angle", 0, True, {"anti-diagonal"}),
    ("equal angle", 45, False, UPRIGHT),
    ("equal angle", 135, False, LEVEL),
    ("unequal angle", 45, False, NONE),
    ("rectangular tube", 45, False, SLANTED_BOX),
    ("rectangular tube", 30, False, {"half-turn"}),
    ("I section", 90, False, BOX),
    ("I section", 17, True, {"half-turn"}),
    ("square tube", 45, False, SQUARE),
    ("square tube", 10, False, {"half-turn", "quarter-turn"}),
    ("round tube", 33, True, SQUARE),
]


def test_every_specimen_has_its_line() -> None:
    assert set(AS_MADE) == set(SPECIMENS)


@pytest.mark.parametrize("name", SPECIMENS)
def test_as_made(name: str) -> None:
    assert SPECIMENS[name].symmetry == AS_MADE[name]


@pytest.mark.parametrize(("name", "rotation", "turned", "expected"), LAID_OTHERWISE)
def test_laid_otherwise(name: str, rotation: float, turned: bool, expected: set[str]) -> None:
    assert SPECIMENS[name].lay(rotation, turned).symmetry == expected


def test_a_hair_off_is_not_symmetric() -> None:
    """A tube 1e-6 mm wider than high is no square; rolled by 1e-5 degrees it is no upright box."""
    assert "quarter-turn" not in mt.rect_tube(50 + 1e-6, 50, 3).symmetry
    assert mt.rect_tube(60, 40, 3).lay(1e-5).symmetry == {"half-turn"}
