"""card.pdf: the pages of the card of a saw, from its file, the units and the language alone; knows paper and words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import mitertool
from mitertool.drawing import A4, FRAME, LETTER, Drawing, Line, Page
from mitertool.packet.cautions import invented, short
from mitertool.packet.pages.card.measuring import measuring_blocks
from mitertool.packet.pages.card.proving import proving_blocks
from mitertool.packet.pages.card.reading import reading_blocks
from mitertool.packet.paper.layout import FOOT, HEAD, MARGIN, Block, Paper, cell, pages
from mitertool.quantity import Units
from mitertool.saw import Machine
from mitertool.words import phrase

_SECOND_LINE: Final = 5.0
"""mm that the head takes more where the saw is told to be invented."""

_BARE: Final = 34.0
"""mm for how lengths without a unit are meant."""


def card_pages(saw: Machine | None, saw_path: str, units: Units, detail: bool = False) -> tuple[Page, ...]:
    """One to three pages, A4 for mm and Letter for inches; without a saw file those by which one is begun.

    With `detail` the letters of the pages that it adds to a sheet are told too.
    """
    width, height = A4 if units == "mm" else LETTER
    paper = Paper(width, height, _SECOND_LINE if saw and saw.invented else 0.0)
    blocks = list(_blocks(saw, paper.inner, units, detail))
    return pages(blocks, paper, lambda n, of: _head(saw, saw_path, paper, (n, of), units))


def _blocks(saw: Machine | None, width: float, units: Units, detail: bool) -> Iterator[Block]:
    yield from reading_blocks(saw, width, units, detail)
    yield from measuring_blocks(saw, width, units)
    yield from proving_blocks(saw, width)


def _head(saw: Machine | None, saw_path: str, paper: Paper, number: tuple[int, int], units: Units) -> Drawing:
    """Whose card it is, the page, how its bare lengths are meant, the caution, and what it was made from."""
    top, inner = paper.height - MARGIN, paper.inner
    whose = phrase("card.title", saw=saw.name) if saw else phrase("card.title/no-saw")
    day = saw.scale.offset_date if saw else ""
    made = phrase("card.made/corrected", file=saw_path, day=day) if day else phrase("card.made", file=saw_path)
    bare = phrase("sheet.all-in-mm") if units == "mm" else ""
    texts = [
        cell(bare, (paper.width - MARGIN - 28 - _BARE, top - 6), _BARE, 3.5, bold=True),
        cell(whose, (MARGIN, top - 6), inner - 32 - (_BARE if bare else 0), 5.5, bold=True),
        cell(
            phrase("card.page", number=number[0], of=number[1]), (paper.width - MARGIN - 28, top - 6), 28, 3.5, "right"
        ),
        cell(invented() if saw and saw.invented else "", (MARGIN, top - 12), inner, 3.0),
        cell(short(), (MARGIN, MARGIN + 4.5), inner, 2.8),
        cell(
            f"mitertool {mitertool.__version__}{', ' if saw else ''}{made if saw else ''}", (MARGIN, MARGIN), inner, 2.5
        ),
    ]
    heights = (top - HEAD - paper.more_head + 2, MARGIN + FOOT - 1)
    return Drawing([*texts, *(Line((MARGIN, y), (paper.width - MARGIN, y), FRAME) for y in heights)])
