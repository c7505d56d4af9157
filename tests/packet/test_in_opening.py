"""A leaf in its opening on the fitter's page: posts, gaps, ground and hinges, each figure once; sums by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.base.language import spoken
from mitertool.drawing import A4, FILL, LETTER, THIN, Dimension, Drawing, Polygon, Text
from mitertool.job import FrameOrder, Solution, load, solve
from mitertool.packet.pages.browser.frame_part import frames_part
from mitertool.packet.pages.fitter.details import details
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.paper.layout import Paper, pages
from tests.packet.jobs import head
from tests.packet.text_boxes import cut_short, findings

LEAF = (
    '[[frame]]\nmark = "{mark}"\nshape = "rectangle"\nsection = "SHS 50x50x3"\nopening_width = 2400\n'
    'opening_height = 1600\nhinge_gap = 20\nfloor_gap = 60\nmeasured = "outside"\n{more}\n'
)
ONE = LEAF.format(mark="DOOR", more="latch_gap = 15\n{}")
TWO = LEAF.format(mark="GATE", more="leaves = 2\nmeeting_gap = 10\nhead_gap = 30\n{}")
SLOPING = ONE.replace('"rectangle"', '"sloping"').replace("2400", "900").format("right_height = 1200")


def solved(folder: Path, *blocks: str) -> Solution:
    (folder / "job.toml").write_text("\n".join([head(), *blocks]), encoding="utf-8")
    return solve(load(folder / "job.toml"))


def drawn(order: FrameOrder) -> Drawing:
    return next(iter(details(order, "mm"))).drawing


def of(folder: Path, block: str) -> Drawing:
    (order,) = solved(folder, block).frames
    return drawn(order.hands[0])


def words(drawing: Drawing) -> list[str]:
    return [part.says for part in drawing.entities if isinstance(part, Text | Dimension)]


def hinges(drawing: Drawing) -> list[float]:
    """The middle of each hinge across."""
    black = [part for part in drawing.entities if isinstance(part, Polygon) and part.layer is FILL]
    return sorted(sum(x for x, _ in part.points) / 4 for part in black)


def steel(drawing: Drawing) -> tuple[float, float, float, float]:
    return Drawing(part for part in drawing.entities if isinstance(part, Polygon) and part.layer is THIN).bounds()


def test_every_gap_and_both_sizes_stand_there_once(tmp_path: Path) -> None:
    """The leaf is 2400 - 20 - 15 by 1600 - 60; both stand at its own picture, and not here."""
    assert sorted(words(of(tmp_path, ONE.format("")))) == ["1600", "2400", "DOOR", "ground 60", "hinges 20", "latch 15"]
    (frame,) = solved(tmp_path, ONE.format("")).frames
    assert (frame.assembly.pieces[0].piece.long_point, frame.assembly.pieces[1].piece.long_point) == (2365, 1540)


def test_of_two_leaves_the_gap_between_and_above(tmp_path: Path) -> None:
    told = [*("1600", "2400", "GATE", "GATE"), *("above 30", "between 10", "ground 60", "hinges 20")]
    assert sorted(words(of(tmp_path, TWO.format("")))) == told


def test_the_leaf_lies_in_its_gaps(tmp_path: Path) -> None:
    """64 mm of paper for 2400: k = 0.02667, gaps of 20 and 15 are drawn as 1.4, 60 as 1.6, and 1540 as 41.07."""
    left, low, right, high = steel(of(tmp_path, ONE.format("")))
    k = 64 / 2400
    assert (left, low) == pytest.approx((1.4, 60 * k))
    assert (right - left, high - low) == pytest.approx((2365 * k, 1540 * k))


@pytest.mark.parametrize(
    ("block", "at"),
    [
        (ONE.format(""), "left"),
        (ONE.format('hinged = "right"'), "right"),
        (SLOPING, "left"),
        (SLOPING + 'hinged = "right"', "right"),
    ],
)
def test_hinges_are_black_where_they_are(block: str, at: str, tmp_path: Path) -> None:
    drawing = of(tmp_path, block)
    left, _, right, _ = steel(drawing)
    assert len(hinges(drawing)) == 2
    assert all(x < left for x in hinges(drawing)) if at == "left" else all(x > right for x in hinges(drawing))


def test_two_leaves_have_theirs_at_both_posts(tmp_path: Path) -> None:
    drawing = of(tmp_path, TWO.format(""))
    left, _, right, _ = steel(drawing)
    first, second, third, fourth = hinges(drawing)
    assert second < left < right < third
    assert (first, fourth) == (second, third)


def test_the_other_of_two_that_differ_is_named(tmp_path: Path) -> None:
    """800 of 2400 - 40 - 10 leave 1550 for the other; hinged on the right this one stands there."""
    for more, first in (("leaf_width = 800", "GATE"), ('leaf_width = 800\nhinged = "right"', "other leaf")):
        drawing = of(tmp_path, TWO.format(more))
        texts = {part.says: part.at[0] for part in drawing.entities if isinstance(part, Text)}
        assert (texts["GATE"] < texts["other leaf"]) == (first == "GATE")


def test_a_mirror_image_is_drawn_with_the_first_leaf(tmp_path: Path) -> None:
    """Half of an arch each: the picture stands once, with both marks and the crown between them."""
    solution = solve(load(Path(__file__).parents[1] / "job" / "orchard_gate.toml"))
    first, image = solution.frames[0].hands
    assert list(details(image, "mm")) == []
    assert {"LEAF", "LEAF-OH", "hinges 25", "between 15", "ground 60"} <= {*words(drawn(first))}
    assert "".join(map(str, frames_part(solution))).count("In its opening, as the frame is drawn</figcaption>") == 1


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_lettering_of_leaves(paper: tuple[float, float], language: str, tmp_path: Path) -> None:
    solution, on = solved(tmp_path, ONE.format(""), TWO.format(""), SLOPING.replace("DOOR", "S" * 14)), Paper(*paper)
    with spoken(language):
        found = pages(list(frame_blocks(solution, on.inner)), on, lambda *_: Drawing())
        assert [one for page in found for one in (*findings(page), *cut_short(page.drawing.text_boxes()))] == []
        said = " ".join(box.says for page in found for box in page.drawing.text_boxes())
    assert "less 20" not in said
