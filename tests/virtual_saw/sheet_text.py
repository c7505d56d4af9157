"""The lettering of a PDF with its places: words as they were set, lines of them, and tables by their headings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import groupby, pairwise
from math import hypot
from typing import Any

from pypdf import PdfReader
from reportlab.pdfbase.pdfmetrics import stringWidth

ROW = 21.0
"""Points. Lettering further below the last line of a table than this is no row of it."""

SAME_LINE = 1.0
"""Points. Lettering whose base lines differ by less stands on one line."""


@dataclass(frozen=True)
class Word:
    """Lettering set at once: where it begins and ends, points from the left, and its base line, from the bottom.

    `size` is that of its font, points, `bold` whether it is set bold.
    """

    page: int
    x: float
    end: float
    y: float
    text: str
    size: float = 0.0
    bold: bool = False


def words(pdf: bytes) -> list[Word]:
    """All lettering, page by page from the top down, a line from left to right."""
    found: list[Word] = []
    for number, page in enumerate(PdfReader(BytesIO(pdf)).pages):

        def see(text: str, cm: Any, tm: Any, font: Any, size: Any, number: int = number) -> None:
            said = " ".join(text.replace("\u00a0", " ").split())
            if said:
                x, y = (tm[4] * cm[i] + tm[5] * cm[2 + i] + cm[4 + i] for i in (0, 1))
                width = (
                    stringWidth(said, font["/BaseFont"].lstrip("/"), size) * hypot(tm[0], tm[1]) * hypot(cm[0], cm[1])
                )
                set_size = size * hypot(tm[0], tm[1]) * hypot(cm[0], cm[1])
                found.append(Word(number, x, x + width, y, said, set_size, "Bold" in font["/BaseFont"]))

        page.extract_text(visitor_text=see)
    return sorted(found, key=lambda word: (word.page, -round(word.y / SAME_LINE), word.x))


def lines(found: Sequence[Word]) -> Iterator[list[Word]]:
    """Words that stand on one line."""
    for _, line in groupby(found, lambda word: (word.page, round(word.y / SAME_LINE))):
        yield list(line)


def table(found: Sequence[Word], headings: Sequence[str], key: int) -> Iterator[tuple[Word, list[str]]]:
    """The rows of every table with these headings, each with its first word; a row begins where column `key` does."""
    every = list(lines(found))
    for at, line in enumerate(every):
        if [word.text for word in line] == list(headings):
            yield from _rows(line, every[at:], key)


def _rows(columns: Sequence[Word], following: Sequence[Sequence[Word]], key: int) -> Iterator[tuple[Word, list[str]]]:
    rows: list[tuple[Word, list[str]]] = []
    for before, line in pairwise(following):
        if line[0].page != before[0].page or before[0].y - line[0].y > ROW:
            break
        cells = _cells(columns, line)
        if cells[key] or not rows:
            rows.append((line[0], cells))
        else:
            joined = [f"{one} {two}".strip() for one, two in zip(rows[-1][1], cells, strict=True)]
            rows[-1] = (rows[-1][0], joined)
    yield from rows


def _cells(columns: Sequence[Word], line: Sequence[Word]) -> list[str]:
    """A cell stands flush with its heading, at the left or at the right."""
    cells = [""] * len(columns)
    for word in line:
        off = [min(abs(word.x - head.x), abs(word.end - head.end)) for head in columns]
        at = off.index(min(off))
        cells[at] = f"{cells[at]} {word.text}".strip()
    return cells
