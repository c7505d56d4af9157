"""Questions and answers of practice on paper: legible, apart, the same bytes, with what can hurt beside the answer."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.drawing import Page
from mitertool.packet.pages.practice.pages import practice_files, practice_pages
from mitertool.practice import exercises
from mitertool.words import LANGUAGES, speaking, words_of
from tests.cli.conftest import Said
from tests.packet.jobs import ROOT
from tests.packet.text_boxes import cut_short, findings

SAWS = ROOT / "gallery" / "saws"
SECTIONS = tuple(mt.section(name) for name in ("SHS 50x50x3", "UPN 80", "FLAT 60x10"))


def pages(saw: str, which: str, seed: int = 3) -> tuple[Page, ...]:
    machine = mt.Saw.load(SAWS / f"{saw}.toml")
    return practice_pages(machine, exercises(machine, SECTIONS, 12, seed), seed, which)


def said(found: tuple[Page, ...]) -> str:
    return re.sub(r"\s+", " ", " ".join(box.says for page in found for box in page.drawing.text_boxes()))


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("saw", ["hinged", "column"])
@pytest.mark.parametrize("which", ["questions", "answers"])
def test_the_lettering(saw: str, which: str, language: str) -> None:
    with speaking(words_of(language)):
        found = pages(saw, which)
    assert [one for page in found for one in (*findings(page), *cut_short(page.drawing.text_boxes()))] == []


def test_answers_stand_on_their_own_pages() -> None:
    questions, answers = said(pages("hinged", "questions")), said(pages("hinged", "answers"))
    assert "What must the scale read?" in questions and "What must the scale read?" not in answers
    assert "The scale reads 126, the arm swung to the feed side." in answers and "reads 126" not in questions
    assert "Each bar takes half of the corner: 108 / 2 = 54; from square that is 90 - 54 = 36" in answers
    assert "throws teeth" in answers
    assert "invented" in questions and "invented" in answers


def test_the_same_set_has_the_same_bytes() -> None:
    machine = mt.Saw.load(SAWS / "hinged.toml")
    one, other = (practice_files(machine, exercises(machine, SECTIONS, 6, 4), 4) for _ in range(2))
    assert one == other and [*one] == ["questions.pdf", "answers.pdf"]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    from mitertool.cli.main import run

    def run_with(*arguments: str) -> Said:
        return Said(run(arguments), *capsys.readouterr())

    return run_with


def test_the_command(call: Callable[..., Said], tmp_path: Path) -> None:
    out = tmp_path / "practice"
    asked = ("practice", "--saw", str(SAWS / "hinged.toml"), "--count", "6", "--seed", "3", "--out", str(out), "--json")
    done = call(*asked)
    assert (done.code, done.err) == (0, "")
    assert done.json["files"] == ["answers.pdf", "questions.pdf"]
    assert sorted(done.json["kinds"]) == ["guide", "key", "long", "read", "stop", "support"]
    before = (out / "answers.pdf").read_bytes()
    assert call(*asked).code == 0 and (out / "answers.pdf").read_bytes() == before


def test_a_packet_is_never_replaced_by_practice(call: Callable[..., Said], tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_text('{"job": "Gate", "revision": "", "part": "whole"}', "utf-8")
    done = call("practice", "--saw", str(SAWS / "hinged.toml"), "--out", str(tmp_path))
    assert done.code == 2 and "holds the packet of a job" in done.err


@pytest.mark.parametrize(("option", "value"), [("--count", "0"), ("--count", "many"), ("--seed", "-1")])
def test_bad_numbers_are_told(call: Callable[..., Said], tmp_path: Path, option: str, value: str) -> None:
    done = call("practice", "--saw", str(SAWS / "hinged.toml"), option, value, "--out", str(tmp_path / "x"))
    assert done.code == 2 and option in done.err and not (tmp_path / "x").exists()
