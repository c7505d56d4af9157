"""Practice on the page: the questions of the paper, answers judged, the working and the picture after them."""

from __future__ import annotations

import re
from pathlib import Path

import html5lib
import pytest

import mitertool as mt
from mitertool.cli.main import run
from mitertool.practice import USUAL, Exercise, exercises
from tests.page.conftest import Asks

SAW = "saws/hinged.toml"


def text_of(page: str) -> str:
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    return re.sub(r"\s+", " ", " ".join(tree.itertext()))


@pytest.fixture
def paper(shop: Path) -> tuple[Exercise, ...]:
    """The set of that number as the command writes it."""
    return exercises(mt.Saw.load(shop / SAW), [mt.section(name) for name in USUAL], 12, 3)


def test_the_questions_are_those_of_the_paper(asks: Asks, paper: tuple[Exercise, ...]) -> None:
    client = asks()
    for number, one in enumerate(paper, 1):
        page = client.get("/practice", params={"saw": SAW, "set": "3", "question": str(number)}).text
        html5lib.HTMLParser(strict=True).parse(page)
        assert re.sub(r"\s+", " ", one.asks.in_units("mm")) in text_of(page)
        assert one.says.in_units("mm") not in text_of(page)


def test_a_question_of_what_is_keyed_tells_the_kerf(paper: tuple[Exercise, ...], shop: Path) -> None:
    """Without it nobody could answer: the saw file says 1.23 mm."""
    assert mt.Saw.load(shop / SAW).kerf == 1.23
    asked = [one.asks.in_units("mm") for one in paper if one.kind == "key"]
    assert asked and all("The kerf is 1.23 mm" in one for one in asked)


def test_an_answer_is_judged_and_then_explained(asks: Asks, paper: tuple[Exercise, ...]) -> None:
    client = asks()
    for number, one in enumerate(paper, 1):
        asked = {"saw": SAW, "set": "3", "question": str(number), "right": "2"}
        good = str(one.answer.value)
        bad = str(one.answer.value + 20) if isinstance(one.answer.value, float) else "neither"
        for answer, verdict, so_far in ((good, "Right.", "right=3"), (bad, "Not so.", "right=2")):
            page = client.get("/practice", params={**asked, "answer": answer}).text
            html5lib.HTMLParser(strict=True).parse(page)
            found = text_of(page)
            assert verdict in found and one.says.in_units("mm") in found
            assert all(re.sub(r"\s+", " ", step.in_units("mm")) in found for step in one.working)
            assert page.count("<svg") == 2
            assert so_far in page or number == 12
            assert f"{so_far[-1]} right so far" in found
            assert (one.kind == "long") or "otor off" in found or "hands clear" in found or "Do not reach" in found


def test_an_answer_that_is_no_figure_asks_again(asks: Asks, paper: tuple[Exercise, ...]) -> None:
    number = next(i for i, one in enumerate(paper, 1) if one.answer.unit == "length")
    page = asks().get("/practice", params={"saw": SAW, "set": "3", "question": str(number), "answer": "<much>"}).text
    assert "your answer" in page and "&lt;much&gt;" in page and 'name="answer"' in page


def test_the_sections_of_a_job(asks: Asks) -> None:
    page = asks().get("/practice", params={"saw": SAW, "job": "boathouse-gate/job.toml"}).text
    assert any(name in page for name in ("RHS 80x40x3", "RHS 60x40x3", "SHS 40x40x3", "FLAT 50x10"))


@pytest.mark.parametrize("asked", [{"question": "13"}, {"question": "x"}, {"set": "0"}, {"saw": "../saw.toml"}])
def test_what_is_not_there_is_refused(asks: Asks, asked: dict[str, str]) -> None:
    assert asks().get("/practice", params={"saw": SAW, **asked}).status_code == 400


def test_the_set_on_paper_is_that_of_the_command(asks: Asks, shop: Path, tmp_path: Path) -> None:
    assert run(["practice", "--saw", str(shop / SAW), "--seed", "3", "--out", str(tmp_path / "out")]) == 0
    for which in ("questions.pdf", "answers.pdf"):
        answer = asks().get("/practice/paper", params={"saw": SAW, "set": "3", "which": which})
        assert answer.content == (tmp_path / "out" / which).read_bytes()
    assert asks().get("/practice/paper", params={"saw": SAW, "which": "x.pdf"}).status_code == 400
