"""Spoken in a table whose letters are all Greek, paper and screen hold no plain word but data.

So nothing that a person reads comes from elsewhere than the table, and what is data stays as it was written: marks,
sections, names, units, keys of files and their values.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from string import Formatter, ascii_letters

import pytest

from mitertool.base import language
from mitertool.cli.main import run
from mitertool.drawing import Drawing, Page
from mitertool.job import Solution, load, solve
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.browser.page import cut_sheet_page
from mitertool.packet.pages.card.card import card_pages
from mitertool.packet.pages.labels import label_pages
from mitertool.packet.pages.preview import preview
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.packet.pages.sketch.sketch import mark_sketch
from mitertool.packet.words import origin
from mitertool.words import Words, speaking, words_of

GALLERY = Path(__file__).resolve().parents[2] / "gallery"
JOBS = ("hatch-frame", "boathouse-gate")
"""In feet and inches on a tilting saw with stops, and in mm on one with a bar feed."""

KEYS = GALLERY.parent / "mitertool" / "saw" / "file" / "keys.py"
"""The keys of a saw's file, which the card to measure asks for by name."""

GREEK = "αβγδεζηθικλμνξοπρστυφχψωяж"
MASK = str.maketrans(ascii_letters, GREEK + GREEK.upper())


def disguised(text: str) -> str:
    """The text with every letter of its own in Greek; its places stay."""
    parts = Formatter().parse(text)
    return "".join(
        written.translate(MASK).replace("{", "{{").replace("}", "}}") + (hole(name, spec) if name is not None else "")
        for written, name, spec, _ in parts
    )


def hole(name: str, spec: str | None) -> str:
    return f"{{{name}:{spec}}}" if spec else f"{{{name}}}"


@cache
def greek() -> Words:
    return {code: disguised(text) for code, text in words_of("en").items()}


DATA = {
    "mm",
    "cm",
    "cm2",
    "in",
    "in2",
    "ft",
    "lb",
    "kg",
    "m",
    "min",
    "deg",
    "tan",
    "arctan",
    "sqrt",
    "mitertool",
    "done",
    "csv",
    "toml",
    "json",
    "dxf",
    "pdf",
    "svg",
    "png",
    "html",
    "com",
    "feed",
    "discharge",
    "side",
    "square",
    "left",
    "right",
    "top",
    "bottom",
    "fixed",
    "moving",
    "jaw",
    "across",
    "true",
    "false",
    "none",
    "miter",
    "butt",
    "first",
    "second",
    "through",
    "out",
    "up",
    "down",
    "heel",
    "leg",
    "toes",
    "outside",
    "inside",
    "centerline",
    "long",
    "point",
    "short",
    "overall",
    "drawn",
    "as",
    "from",
    "bar",
    "cos",
    "oh",
    "wh",
}
"""Units, names of files and programs, keys of files and their values, letters at a picture, commands."""

WORD = re.compile(r"[A-Za-z]{2,}")


def plain(texts: Iterable[str], *files: Path) -> set[str]:
    """The plain words of the texts that stand neither among the data nor in the files."""
    known = {word.casefold() for file in files for word in WORD.findall(file.read_text(encoding="utf-8"))}
    return {word for text in texts for word in WORD.findall(text) if word.casefold() not in known | DATA}


def test_a_word_that_is_no_data_is_found() -> None:
    assert plain(["λεφτ 12 mm", "needs a saw"]) == {"needs", "saw"}
    assert disguised("one {bar:03d} {{x}}").format(bar=7) == f"{'one'.translate(MASK)} 007 {{{'x'.translate(MASK)}}}"


@cache
def solved(name: str) -> Solution:
    return solve(load(GALLERY / name / "job.toml"), effort=0.05)


def of_pages(pages: Iterable[Page]) -> Iterator[str]:
    for page in pages:
        yield from of_drawing(page.drawing)


def of_drawing(drawing: Drawing) -> Iterator[str]:
    yield from (box.says for box in drawing.text_boxes())


class Seen(HTMLParser):
    """What a browser shows of a page, and what it tells of pictures."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self.inside = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = tag
        self.texts += [
            value for name, value in attrs if value and name in ("alt", "title", "aria-label", "placeholder")
        ]

    def handle_data(self, data: str) -> None:
        if self.inside not in ("style", "script"):
            self.texts.append(data)


def of_html(content: str) -> list[str]:
    seen = Seen()
    seen.feed(content)
    return seen.texts


def paper(solution: Solution) -> dict[str, Callable[[], Iterable[str]]]:
    """Everything that a packet prints, by its name."""
    job = solution.job
    made_from = origin(job)
    return {
        "sheet": lambda: of_pages(cut_sheet(solution)),
        "labels": lambda: of_pages(label_pages(solution)),
        "sketches": lambda: (
            text for piece in solution.pieces for text in of_drawing(mark_sketch(piece, job.head, made_from))
        ),
        "card": lambda: of_pages(card_pages(job.as_measured or job.saw, job.saw_path, job.head.units)),
        "browser": lambda: of_html(cut_sheet_page(solution).decode()),
        "preview": lambda: preview(solution, "utf-8"),
    }


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("part", ["sheet", "labels", "sketches", "card", "browser", "preview"])
def test_paper_speaks_by_the_table_alone(name: str, part: str) -> None:
    solution, folder = solved(name), GALLERY / name
    with speaking(greek()):
        texts = list(paper(solution)[part]())
    assert any(letter in text for text in texts for letter in GREEK)
    texts = [text.replace(solution.job.digest, "") for text in texts]
    assert plain(texts, folder / "job.toml", folder / "saw.toml", KEYS) == set()


@pytest.mark.parametrize(
    "command",
    [
        ("check", "{job}"),
        ("nest", "{job}", "--effort", "0.05", "--compare"),
        ("cut", "RHS 80x40x3", "--miter", "30", "--saw", "{saw}", "--working"),
        ("saw", "check", "{saw}"),
        ("piece", "RHS 80x40x3", "--length", "900", "--left", "30", "--saw", "{saw}"),
        ("section", "RHS 80x40x3", "--lays"),
    ],
    ids=lambda command: command[0],
)
def test_the_screen_speaks_by_the_table_alone(
    command: tuple[str, ...], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = GALLERY / "boathouse-gate"
    job, saw = folder / "job.toml", folder / "saw.toml"
    monkeypatch.setenv("MITERTOOL_LANGUAGE", "de")
    monkeypatch.setattr(language, "words_of", lambda _: greek())
    assert run([word.format(job=job, saw=saw) for word in command]) == 0
    told = capsys.readouterr()
    names = {f"{path.parent.name} {path.name}" for path in (job, saw)}
    found = plain([told.out, told.err], job, saw, KEYS)
    assert found - {word for name in names for word in WORD.findall(name)} == set()


def test_the_job_chooses_the_language_of_its_paper(tmp_path: Path) -> None:
    """German where the job says so, whatever the screen speaks; the keys of plan.json stay."""
    for name in ("job.toml", "saw.toml"):
        text = (GALLERY / "hatch-frame" / name).read_text(encoding="utf-8")
        (tmp_path / name).write_text(text.replace("[job]\n", '[job]\nlanguage = "de"\n'), encoding="utf-8")
    solution = solve(load(tmp_path / "job.toml"), effort=0.05)
    files = packet_files(solution, Options())
    assert b'"caution": "Betriebsanleitung' in files["plan.json"]
    assert b'"long_point_mm"' in files["plan.json"]
    assert b'lang="de"' in files["cut-sheet.html"]


def test_a_language_that_there_is_not_is_refused(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("MITERTOOL_LANGUAGE", "tlh")
    assert run(["--version"]) == 2
    assert capsys.readouterr().err == "mitertool: MITERTOOL_LANGUAGE: found 'tlh'; allowed: en, de\n"
