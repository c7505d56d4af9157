"""Values show themselves: as one SVG element with the sizes that stand in it, and in a line of text."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest

import mitertool as mt
from mitertool.job import load, solve
from mitertool.nest import Allowance, Item, Stock
from mitertool.packet.pictures import svg

ROOT = Path(__file__).resolve().parents[2]
TUBE = mt.rect_tube(40, 80, 3)
PIECE = mt.Piece(TUBE, 1200, mt.Cut(45), mt.Cut(45))
PLAN = mt.nest.solve([Item("BRACE", PIECE, 4)], [Stock(TUBE.name, 6000)], Allowance(1.3))
FRAME = mt.frame.rectangle(TUBE, 2000, 1000, "outside")
SVG = "{http://www.w3.org/2000/svg}"


def texts(value: object) -> list[str]:
    root = ElementTree.fromstring(value._repr_svg_())  # type: ignore[attr-defined]
    assert root.tag == f"{SVG}svg"
    return [text for element in root.iter(f"{SVG}text") if (text := "".join(element.itertext()))]


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (TUBE, {"40", "80", "rect tube 80x40x3"}),
        (mt.Cut(60).face(TUBE), {"face width 80", "face height 80"}),
        (PIECE, {"long point 1200", "short point 1120", "45°"}),
        (FRAME, {"2000", "1000", "FRAME-1", "FRAME-2"}),
        (PLAN, {"BRACE"}),
        (mt.z_section(150, 55, 2, 3), {"150", "108"}),
    ],
    ids=["section", "face", "piece", "frame", "plan", "z"],
)
def test_a_picture_has_its_sizes(value: object, words: set[str]) -> None:
    assert words <= set(texts(value))


def test_a_plan_without_bars_is_an_empty_picture() -> None:
    assert texts(mt.nest.Plan((), 0.0, 0.0, True, 0)) == []


def test_a_value_without_a_picture_has_none() -> None:
    with pytest.raises(TypeError, match="a Cut has no picture"):
        svg(mt.Cut(45))


def test_a_line_says_what_a_value_is() -> None:
    """45 left and right; 60 asks for more than a saw that swings 45 either way has."""
    saw = mt.Saw("bench saw")
    assert (
        repr(TUBE.lay(90, turned=True))
        == "<Section rect tube 80x40x3: 80 x 40 mm, laid 90 degrees, turned end for end>"
    )
    assert repr(PIECE) == "<Piece rect tube 80x40x3: long point 1200 mm, left 45/0, right 45/0>"
    two = mt.Piece(TUBE, 1200, right=(mt.Cut(40), mt.Cut(-30, 12)))
    assert repr(two).endswith("left 0/0, right 40/0 and -30/12>")
    assert repr(saw.reach(TUBE, mt.Cut(45))) == "<Reach rect tube 80x40x3: swing 45, scale 45>"
    assert repr(FRAME) == "<Assembly FRAME, rectangle: FRAME-1, FRAME-2, FRAME-1, FRAME-2; gap 0.000 mm>"


def test_a_solution_says_itself_in_a_line() -> None:
    said = repr(solve(load(ROOT / "gallery" / "hatch-frame" / "job.toml")))
    assert said.startswith("<Solution ")
    assert len(said) < 120
