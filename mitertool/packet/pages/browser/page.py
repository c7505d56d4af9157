"""The whole page: head with its policy, the bar of counts, the work in its order; knows the parts and their files."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Final

from mitertool.job import Solution
from mitertool.packet.floor.made import floor_of
from mitertool.packet.floor.values import FloorSheet
from mitertool.packet.pages.browser import ticks
from mitertool.packet.pages.browser.after_part import further_part, recut_parts, second_ends_part
from mitertool.packet.pages.browser.bar_part import bar_part
from mitertool.packet.pages.browser.frame_part import frames_part
from mitertool.packet.pages.browser.job_part import job_part, left_overs
from mitertool.packet.pages.browser.markup import Markup, element, joined, sentence
from mitertool.packet.words import origin
from mitertool.words import phrase

_POLICY: Final = (
    "default-src 'none'; style-src 'sha256-{style}'; script-src 'sha256-{script}'; base-uri 'none'; form-action 'none'"
)
"""No request at all; of style and script only those that the page holds."""


def cut_sheet_page(solution: Solution, floor: FloorSheet | None = None) -> bytes:
    """The cut sheet as one HTML file in UTF-8 that asks no network for anything; the same job gives the same bytes.

    `floor` is what stands on it where it is made already.
    """
    sheet = floor or floor_of(solution)
    before, after = _around(sheet, solution)
    # Each part by itself: as one text, which every element around it holds once more, it is eight times as large.
    parts = [joined(part).encode() for part in _work(sheet, solution)]
    return b"".join((before.encode(), *parts, after.encode()))


_HERE: Final = Markup("<here>")
"""Stands for the work: no text of a job comes to a page with such a bracket."""


def _around(sheet: FloorSheet, solution: Solution) -> tuple[str, str]:
    """The page up to the work and from it on."""
    main = element("main", job_part(sheet, solution), _HERE, _tools(), _foot(sheet, solution))
    body = element(
        "body",
        *(_top(), main, element("script", Markup(_file("script.js")))),
        data_key=_key(sheet),
        data_opening=ticks.opening(sheet.head),
    )
    page = element("html", _head(sheet), body, lang=phrase("language.tag"))
    before, after = f"<!doctype html>\n{page}\n".split(_HERE)
    return before, after


def _head(sheet: FloorSheet) -> Markup:
    policy = _POLICY.format(style=_hash("style.css"), script=_hash("script.js"))
    return element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", http_equiv="Content-Security-Policy", content=policy),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("title", phrase("browser.title", job=sheet.head.name)),
        element("style", Markup(_file("style.css"))),
    )


def _top() -> Markup:
    """What stays in sight: how much is done, and the way to what is next."""
    done, count, left = (element("span", "0", data_shows=name) for name in ("done", "all", "to-do"))
    status = element("p", sentence("browser.progress", done=done, all=count, left=left), role="status")
    meter = element("progress", id="meter", value=0, max=1, aria_label=phrase("browser.meter"))
    kept = element("p", phrase("browser.not-kept"), id="not-kept", class_="prove", hidden=True)
    following = element("button", phrase("browser.next"), type="button", id="next", class_="first")
    inside = element("div", status, following)
    return element("header", inside, meter, kept, class_="bar-top scripted", hidden=True)


def _tools() -> Markup:
    """What is done with the ticks."""
    return element(
        "div",
        element("button", phrase("browser.only"), type="button", id="only", aria_pressed="false"),
        element("button", phrase("browser.write"), type="button", id="write"),
        element("button", phrase("browser.anew"), type="button", id="anew", data_asks=phrase("browser.anew/asks")),
        class_="tools scripted",
        hidden=True,
    )


def _work(sheet: FloorSheet, solution: Solution) -> Iterator[Markup | None]:
    """Pieces that are recut, bars and second ends of blanks in the order of work, then further cuts, and frames."""
    yield from recut_parts(sheet, solution)
    if solution.plan is None:
        yield from (bar_part(bar, solution) for bar in sheet.bars)
    for step in solution.plan.steps if solution.plan else ():
        if step.recut is not None:
            yield second_ends_part(sheet.second_ends[step.recut], solution)
        else:
            yield bar_part(sheet.bars[step.bar or 0], solution)
    yield further_part(solution)
    yield from frames_part(solution)


def _foot(sheet: FloorSheet, solution: Solution) -> Markup:
    """What is left of the bars, and what the page was made from."""
    return element("footer", left_overs(sheet), element("p", origin(solution.job), class_="soft"))


def _key(sheet: FloorSheet) -> str:
    """By what a browser keeps the ticks: job, revision, inputs and the plan, so that none falls on another cut."""
    cuts = [(bar.number, bar.count, bar.section.name, row.numbers, row.mark) for bar in sheet.bars for row in bar.rows]
    plan = sha256(repr((cuts, [(row.mark, row.quantity) for row in sheet.further])).encode()).hexdigest()[:12]
    return f"mitertool {sheet.head.name} {sheet.head.revision} {sheet.digest} {plan}"


@cache
def _file(name: str) -> str:
    return files("mitertool.packet.pages.browser").joinpath(name).read_text(encoding="utf-8")


def _hash(name: str) -> str:
    return b64encode(sha256(_file(name).encode()).digest()).decode()
