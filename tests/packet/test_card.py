"""The card of a saw: one to three pages from the saw file alone, every sentence legible, its arithmetic right."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import degrees, radians, sin, tan
from pathlib import Path

import attrs
import pytest

from mitertool.cut.blade.arms import HingedArm
from mitertool.drawing import CENTER, Line, Page
from mitertool.job import load, solve
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.card.card import card_pages
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.quantity import Units
from mitertool.saw import Saw
from mitertool.saw.file.machine import Obstacle
from mitertool.words import speaking, words_of
from tests.packet.jobs import ROOT, head, piece, stock
from tests.packet.text_boxes import cut_short, findings

FILES = sorted((ROOT / "gallery").rglob("saws/*.toml")) + sorted((ROOT / "gallery").glob("*/saw.toml"))
UNITS: tuple[Units, ...] = ("mm", "ft-in", "in")
COLUMN = ROOT / "gallery" / "saws" / "column.toml"
HINGED = ROOT / "gallery" / "saws" / "hinged.toml"


def said(pages: tuple[Page, ...]) -> str:
    return re.sub(r"\s+", " ", " ".join(box.says for page in pages for box in page.drawing.text_boxes()))


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("jaw", ["left", "right"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.parent.name + path.stem)
def test_the_lettering(path: Path, jaw: str, units: Units) -> None:
    pages = card_pages(attrs.evolve(Saw.load(path), fixed_jaw=jaw), path.name, units)
    assert 1 <= len(pages) <= 3
    for page in pages:
        assert [*findings(page), *cut_short(page.drawing.text_boxes())] == []


@pytest.mark.parametrize("jaw", ["left", "right"])
@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame"])
def test_the_lettering_in_another_language(name: str, jaw: str) -> None:
    saw = attrs.evolve(Saw.load(ROOT / "gallery" / name / "saw.toml"), fixed_jaw=jaw)
    with speaking(words_of("de")):
        pages = card_pages(saw, "saw.toml", "mm", detail=True)
    for page in pages:
        assert [*findings(page), *cut_short(page.drawing.text_boxes())] == []


@pytest.mark.parametrize("units", UNITS)
def test_without_a_saw_file_it_tells_how_to_begin_one(units: Units) -> None:
    pages = card_pages(None, "", units)
    assert 1 <= len(pages) <= 3
    assert [wrong for page in pages for wrong in findings(page)] == []
    assert "where the lines cross is the pivot" in said(pages)


def test_what_the_card_holds() -> None:
    text = said(card_pages(Saw.load(HINGED), "hinged.toml", "mm"))
    for words in (
        "How to read a sheet",
        "Cautions",
        "Three proving cuts",
        "swing_axis",
    ):
        assert words in text
    assert "page 1 of 3" in text
    assert "saw file hinged.toml" in text
    assert "invented" in text


def test_the_file_beside_what_is_measured() -> None:
    """The axis stands 28 from the jaw, the hinge -415 from the axis, so -387 from the jaw; a guide twice 11 thick."""
    text = said(card_pages(Saw.load(HINGED), "hinged.toml", "mm"))
    for figure in (" 28 ", " -387 ", " 22 ", " -65 "):
        assert figure in text


def test_the_edge_of_each_thing_that_stands_in_the_way() -> None:
    """As the file has them: moving jaw 38, fixed jaw 33, the support behind the cut 64 from the square cut line; on
    every card the fixed jaw first, in whichever order the file has them."""
    text = said(card_pages(Saw.load(HINGED), "hinged.toml", "mm"))
    assert "near edge of fixed jaw, moving jaw, support behind the cut, one after the other." in text
    assert re.search(r"\b33 .*\b38 .*\b64 ", text)
    other = said(card_pages(Saw.load(ROOT / "gallery" / "hatch-frame" / "saw.toml"), "saw.toml", "in"))
    assert "near edge of fixed jaw, moving jaw, front rest, one after the other." in other


@pytest.mark.parametrize(("units", "key"), [("mm", "1234.5"), ("ft-in", "4'-0 1/2\""), ("in", '48.500"')])
def test_the_samples_are_in_the_units_of_the_sheet(units: Units, key: str) -> None:
    text = said(card_pages(None, "", units))
    assert key in text
    assert ("1234.5" in text) == (units == "mm")


def test_the_height_of_the_lifted_edge() -> None:
    """By the foot of the perpendicular from the hinge, which lies 83 + 7 = 90 from the edge, at 41 degrees; the spot of
    the height is 390 + 415 = 805 along the blade from the hinge."""
    saw = Saw.load(HINGED)
    assert isinstance(saw.arm, HingedArm)
    lift = radians(41)
    foot = (90 * sin(lift), 83 - 90 * (1 - sin(lift) ** 2) ** 0.5)
    height = foot[1] + (805 - foot[0]) * tan(lift)
    assert f"{height:.2f}" in said(card_pages(saw, "", "mm"))


def test_the_figures_of_the_proving_cuts() -> None:
    """Rolled half a turn between them both ends lean alike, each by half a hundredth of the width; at 45 degrees tan
    grows by 2 a radian. Two 45s of a blade that stands b from the axis cross the square line 2 b tan 22.5 apart."""
    text = said(card_pages(Saw.load(COLUMN), "", "mm"))
    assert f"a difference of W / 100 is {degrees(0.01 / 2):.2f} degrees" in text
    assert f"More by W / 100 is {degrees(0.01 / 2):.2f} degrees" in text
    assert f"{1 / (2 * tan(radians(22.5))):.1f} times what is between" in text


@pytest.mark.parametrize("side", ["feed", "discharge"])
def test_a_saw_that_swings_one_way_is_measured_on_that_side(side: str) -> None:
    """A blade b to the feed side of the axis crosses the square line b tan(m / 2) nearer to the fixed jaw at a swing m
    to the feed side, and so much further at one to the other: 30 and 45 lie b (tan 22.5 - tan 15) apart."""
    saw = Saw.load(HINGED)
    if side == "discharge":
        scale = attrs.evolve(saw.scale, positive="discharge-side", feed_side_most=0, discharge_side_most=57)
        saw = attrs.evolve(saw, scale=scale)
    text, both = said(card_pages(saw, "", "mm")), said(card_pages(Saw.load(COLUMN), "", "mm"))
    times, back = 1 / (tan(radians(22.5)) - tan(radians(15))), tan(radians(22.5))
    assert f"Scribe a 30 too: {times:.1f} times what is between" in text
    nearer, further = ("nearer to", "further from") if side == "feed" else ("further from", "nearer to")
    assert f"more than 0 where the 45 crosses it {nearer} the fixed jaw" in text
    assert f"the pivot lies {back:.2f} of that {further} the jaw" in text
    assert "either side" not in text
    assert both.count("to either side") == 2
    assert (f"{side}_side_most" in text, text.count("_side_most")) == (True, 1)


def test_a_card_has_nothing_that_its_saw_has_not() -> None:
    """The gate's saw has a feed and no plate with a slot, the hatch's a stop; where none is known all is measured."""
    feed, stop = (Saw.load(ROOT / "gallery" / name / "saw.toml") for name in ("boathouse-gate", "hatch-frame"))
    slotted = attrs.evolve(feed, obstacles=(*_plate(),))
    told = [said(card_pages(saw, "", "mm")) for saw in (feed, stop, slotted, None)]
    assert ["Back the stop off" in one for one in told] == [False, True, False, False]
    assert ["Set this line of the scale" in one for one in told] == [True, True, True, False]
    assert ["The pivot line" in one for one in told] == [True, True, True, False]
    assert ["stroke" in one for one in told] == [True, False, True, True]
    assert [" slot " in one.replace("the slot,", "") for one in told] == [False, False, True, True]
    assert re.search(r"discharge side\. 26 ", told[2])
    assert ["Letters of the detailed pages" in one for one in told] == [False] * 4


def _plate() -> Iterator[Obstacle]:
    """A slot of 26, its discharge edge 12 from the line, as its file has it: a thing on either side of the blade."""
    for side, edge in (("feed", 14.0), ("discharge", 12.0)):
        yield Obstacle(name=f"plate, {side}", side=side, stands="across", depth=200.0, edge=edge)


def test_letters_come_with_the_pages_that_have_them() -> None:
    """Of a blade that does not tilt its letter has no page."""
    for name, tilts in (("boathouse-gate", False), ("hatch-frame", True)):
        text = said(card_pages(Saw.load(ROOT / "gallery" / name / "saw.toml"), "", "mm", detail=True))
        assert "Letters of the detailed pages A B1 C D the swing, from square set-back of a thing" in text
        assert ("tilt of the blade" in text) is tilts


def test_a_card_is_of_a_saw_and_of_no_job() -> None:
    first, second = (card_pages(Saw.load(HINGED), "hinged.toml", "mm") for _ in range(2))
    assert first == second
    assert "Boathouse" not in said(first)


def test_two_jobs_of_one_saw_have_the_same_card(tmp_path: Path) -> None:
    """The jobs differ in all that they say, the kerf and the grip of the saw among it."""
    (tmp_path / "saw.toml").write_text(HINGED.read_text(encoding="utf-8"), encoding="utf-8")
    first = head("One", saw="saw") + piece("A", "RHS 80x40x3", "900")
    second = head("Two", saw="saw") + piece("B", "L 65x50x5", "700") + stock("L 65x50x5", "6 m")
    cards = []
    for text in (first, second.replace("[nest]\n", "[nest]\nkerf = 3\ngrip = 10\n")):
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        cards.append(packet_files(solve(load(tmp_path / "job.toml")), Options())["card.pdf"])
    assert cards[0] == cards[1]


EXPLAINED = {
    "div. less": "less is toward the smaller numbers",
    "| single |": "Single: start each cut yourself",
    "| auto |": "auto: the control repeats it",
    "strokes |": "Strokes: so often the feed takes hold",
    "dial at 4": "by the shop's own table",
    "vise a third": "vise pressure",
    "end past blade's": "End past blade's feed face: along the side that is named",
    "| scrap |": "Scrap: what falls between two pieces",
    "| beyond |": "Grey is the kerf: cut on that side of the mark",
    "guides ": "Guides apart: from the fixed guide",
    "lift: teeth": "Lift: from the bed up to the teeth",
    "clear of the pivot line": "Clear of the pivot line",
    "| stays |": "Leave arm and blade as they stand since the cut before",
    "rounds |": "Under the first boxes stands the order of the cuts",
    "long at: ": "Long at: the side at which a piece is longest as it comes off",
    "prove with a protractor": "Prove with a protractor: the scale cannot hold",
}
"""Words of a sheet, and where the card says what they mean."""


@pytest.mark.parametrize(("name", "least"), [("boathouse-gate", 12), ("hatch-frame", 9)])
def test_the_card_explains_what_stands_on_a_sheet_of_its_saw(name: str, least: int) -> None:
    solution = solve(load(ROOT / "gallery" / name / "job.toml"))
    paper = " | ".join(box.says for page in cut_sheet(solution) for box in page.drawing.text_boxes())
    card = said(card_pages(solution.job.saw, "saw.toml", solution.job.head.units))
    stand = [word for word in EXPLAINED if word in paper]
    assert len(stand) >= least
    assert [word for word in stand if EXPLAINED[word] not in card] == []


def test_a_card_explains_no_word_of_another_kind_of_saw() -> None:
    """Strokes are of a feed, an end past the blade of a saw with stops; where no saw is known neither is told."""
    feed, stop = (Saw.load(ROOT / "gallery" / name / "saw.toml") for name in ("boathouse-gate", "hatch-frame"))
    told = [said(card_pages(saw, "", "mm")) for saw in (feed, stop, None)]
    assert ["Strokes" in one for one in told] == [True, False, False]
    assert ["End past blade" in one for one in told] == [False, True, False]


def test_the_numbers_of_what_is_measured_leave_none_out() -> None:
    """Of an arm on columns nothing is said of a hinge: its figures are numbered 1 to 7, those of a hinged one to 9."""
    for path, last in ((COLUMN, 7), (HINGED, 9)):
        boxes = [box for page in card_pages(Saw.load(path), "", "mm") for box in page.drawing.text_boxes()]
        drawn = {int(box.says) for box in boxes if re.fullmatch(r"[1-9]", box.says)}
        assert drawn == set(range(1, last + 1))


def test_of_a_blade_that_tilts_sign_limits_and_zero_are_told() -> None:
    """By the file of the hatch's saw its blade tilts from 0 to 45 degrees; the gate's stays upright."""
    hatch, gate = (
        said(card_pages(Saw.load(ROOT / "gallery" / name / "saw.toml"), "", "mm"))
        for name in ("hatch-frame", "boathouse-gate")
    )
    assert "The blade tilted over the bed" in hatch
    assert "0 where a square proves it upright. 45°" in hatch
    assert "toward the discharge; 0 or less. 0°" in hatch
    assert "tilt" not in gate


def test_a_card_says_what_bare_lengths_are() -> None:
    """In inches each length has its sign; in mm none has, and every page says so at its head."""
    for units, times in (("mm", 3), ("in", 0)):
        assert said(card_pages(Saw.load(HINGED), "", units)).count("lengths in mm") == times


def test_the_pivot_line_is_drawn_across_the_bar() -> None:
    """Of its sign the only line of centers stands upright: it is the line that rows and plans measure from."""
    page = card_pages(Saw.load(HINGED), "", "mm")[0]
    lines = [one for one in page.drawing.primitives() if isinstance(one, Line) and one.layer == CENTER]
    assert [one.a[0] - one.b[0] for one in lines] == [0.0]
