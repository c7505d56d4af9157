"""Paper and page of the same job say the same, bar by bar: cuts, marks, readings, keys and stops, tape places, rest.

The paper is read by the reader of the virtual saw, from its lettering alone, the page by html5lib; neither asks
mitertool.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import html5lib
import pytest

from mitertool.drawing import pdf
from mitertool.job import Solution
from mitertool.packet.pages.browser.page import cut_sheet_page
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import GALLERY
from tests.virtual_saw import sheet_patterns as patterns
from tests.virtual_saw.sheet_reader import Sheet

HTML = "{http://www.w3.org/1999/xhtml}"


NAMES = (*GALLERY, "second ends", "rows and boxes")

Both = Callable[[str], tuple[Sheet, Any]]


@pytest.fixture(scope="module")
def both(solution_of: Callable[[str], Solution]) -> Both:
    """Paper and page of a job, each read once."""

    @cache
    def read(name: str) -> tuple[Sheet, Any]:
        solution = solution_of(name)
        sheet = Sheet(pdf.write(cut_sheet(solution), "Cut sheet"), solution.job.head.units)
        return sheet, html5lib.parse(cut_sheet_page(solution).decode())

    return read


def of_class(node: Any, name: str) -> list[Any]:
    return [one for one in node.iter() if name in (one.get("class") or "").split()]


def text(node: Any) -> str:
    return " ".join("".join(node.itertext()).split())


def bars(tree: Any) -> dict[int, Any]:
    found = {one.get("id"): one for one in of_class(tree, "work")}
    return {int(name[4:]): one for name, one in found.items() if name.startswith("bar-")}


def numbers(row: Any) -> tuple[int, ...]:
    """The cuts of a row, as its boxes have them for the first bar."""
    boxes = [one.get("id") for one in row.iter(f"{HTML}input")]
    return tuple(int(cut) for _, copy, cut in (name.split("-") for name in boxes) if copy == "1")


def figure(row: Any, name: str) -> str:
    return next((text(one) for one in of_class(row, name)), "")


def tenths(row: Any) -> float:
    found = re.search(r"(\d\.\d) div\. (more|less)", text(row))
    return 0.0 if found is None else float(found[1]) * (1 if found[2] == "more" else -1)


def degrees(says: str) -> float | None:
    return float(says.rstrip("°")) if says else None


@pytest.mark.parametrize("name", NAMES)
def test_the_bars_are_the_same_and_have_the_same_cuts(name: str, both: Both) -> None:
    sheet, tree = both(name)
    page = bars(tree)
    assert [told.number for told in sheet.told] == list(page)
    for told in sheet.told:
        rows = of_class(page[told.number], "cut")
        assert [numbers(row) for row in rows] == [row.numbers for row in told.rows]
        marks = [(row.get("data-mark") or row.get("data-blank") or "").replace(" ", "") for row in rows]
        assert marks == [row.mark for row in told.rows]
        assert [(row.get("data-beside") or "").replace(" ", "") for row in rows] == [row.beside for row in told.rows]
        for page_row, row in zip(rows, told.rows, strict=True):
            assert row.count == len(row.numbers) * int(page_row.get("data-each") or 1) or not row.mark


@pytest.mark.parametrize("name", NAMES)
def test_what_is_set_and_what_is_keyed_is_the_same(name: str, both: Both) -> None:
    sheet, tree = both(name)
    page, met = bars(tree), 0
    for told in sheet.told:
        for paper, row in zip(told.rows, of_class(page[told.number], "cut"), strict=True):
            assert figure(row, "key") == paper.figure, (told.number, paper.numbers)
            if paper.line is not None:
                assert (degrees(figure(row, "set")), tenths(row)) == (paper.line.line, paper.line.tenths)
            assert (figure(row, "set") == "") == (paper.arm is None)
            assert ("roll the bar half a turn" in text(row)) == paper.half
            met += 1
    assert met


@pytest.mark.parametrize("name", ["hatch-frame", "ramp-rail", "second ends"])
def test_tilts_are_the_same(name: str, both: Both) -> None:
    """Where the blade is tilted, how far and to which side; and where it is told to come back upright."""
    sheet, tree = both(name)
    page, met = bars(tree), 0
    for told in sheet.told:
        for paper, row in zip(told.rows, of_class(page[told.number], "cut"), strict=True):
            found = re.search(r"(?<!, )tilt (\S+)°", text(row))
            assert (found is not None) == (paper.tilted and paper.arm is not None)
            if found and paper.arm:
                assert float(found[1]) == abs(paper.arm.tilt)
                side = patterns.TOP.search(text(row))
                wanted = ("feed" if paper.arm.tilt > 0 else "discharge") if paper.arm.tilt else None
                assert (side and side[1]) == wanted
                met += 1
    assert met


def test_further_cuts_are_the_same(both: Both) -> None:
    """Of the outlet: which end, how many, what is set, how far back it is marked along either side, how long then."""
    sheet, tree = both("engine-shed")
    (part,) = (one for one in of_class(tree, "work") if one.get("id") == "further")
    rows = of_class(part, "cut")
    assert len(rows) == len(sheet.further) > 0
    for row, paper in zip(rows, sheet.further, strict=True):
        says = text(row)
        assert figure(row, "mark").replace(" ", "") == paper.mark
        assert f"{paper.end} end, cut 2" in says
        assert len(list(row.iter(f"{HTML}input"))) == paper.pieces
        assert f"{paper.reading:g}°" in says
        lengths = [sheet.length(one) for one in re.findall(r"side (?:at the \w+ )?(\d[\d.]*)", says)]
        assert sorted(set(lengths)) == sorted(set(paper.back.values()))


@pytest.mark.parametrize("name", ["second ends"])
def test_second_ends_are_the_same(name: str, both: Both) -> None:
    """How many of what, what is set, proved and rolled, where the stop stands, how the blank lies, what is measured."""
    sheet, tree = both(name)
    found = [one for one in of_class(tree, "work") if one.get("id").startswith("recut-")]
    rows = [row for told in sheet.told for row in told.second_ends]
    assert len(found) == len(rows) > 1
    for row, part, recut in zip(rows, found, sheet.recuts, strict=True):
        says, line = text(part), row.line
        assert len(list(part.iter(f"{HTML}input"))) == row.count == len(row.numbers)
        assert f"{row.mark}, second end" in next(part.iter(f"{HTML}input")).get("aria-label")
        assert line is not None
        assert (degrees(figure(part, "set")), tenths(part)) == (line.line, line.tenths)
        assert figure(part, "key") == row.figure
        assert any(sheet.length(told) == recut.blank for told in re.findall(r"blank (\S+) on", says))
        for words in (patterns.LAID.search(row.told), re.search(r"prove with a protractor.*?±\S+", row.told)):
            assert words is None or words[0] in says
        assert (row.long is None) == ("first: long point" not in says)
    assert any(row.long for row in rows)
    assert any("prove" in row.told for row in rows)


def places(bar: Any) -> Iterator[tuple[int, tuple[str, str], str]]:
    for table in bar.iter(f"{HTML}tbody"):
        for line in table:
            cut, fixed, moving, kerf = (text(cell) for cell in line)
            yield int(cut), (fixed, moving), kerf


@pytest.mark.parametrize("name", NAMES)
def test_tape_places_and_left_overs_are_the_same(name: str, both: Both) -> None:
    sheet, tree = both(name)
    page = bars(tree)
    for told in sheet.told:
        found = {cut: tuple(map(sheet.length, both_sides)) for cut, both_sides, _ in places(page[told.number])}
        assert [found[number + 1] for number in range(len(told.bar.steps))] == [step.tape for step in told.bar.steps]
        kerfs = [patterns.KERF[kerf] for _, _, kerf in sorted(places(page[told.number]))]
        assert kerfs == [step.kerf_behind for step in told.bar.steps]
    (foot,) = tree.iter(f"{HTML}footer")
    rest = {int(text(line[0])): sheet.length(text(line[2])) for line in next(foot.iter(f"{HTML}tbody"))}
    assert rest == sheet.left_over


@pytest.mark.parametrize("name", NAMES)
def test_the_marks_have_the_same_counts_and_long_points(name: str, both: Both) -> None:
    sheet, tree = both(name)
    found = {}
    for one in of_class(tree, "marks")[0]:
        facts = [text(cell) for cell in one.iter(f"{HTML}dd")]
        found[one.get("data-piece").replace(" ", "")] = (int(one.get("data-asked")), sheet.length(facts[0]))
    assert found == {mark: (told.count, told.long) for mark, told in sheet.marks.items()}
