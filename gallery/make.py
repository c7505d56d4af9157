"""Makes every gallery job anew: its packet and a picture of the page on which its first bar begins."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Final

from PIL import Image

from mitertool.base.files import write_whole
from mitertool.drawing import Page, png
from mitertool.job import Solution, load, solve
from mitertool.packet.packet import write_packet
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.words import phrase

GALLERY: Final = Path(__file__).resolve().parent

DPI: Final = 100
GREYS: Final = 16
"""Levels of grey that keep the edges of letters smooth; all of them and color would double the file."""


def make(job: Path) -> None:
    """Write the packet and the picture of a job beside its file."""
    solution = solve(load(job))
    write_packet(solution, job.parent / "packet")
    write_whole(job.parent / "cut-sheet.png", picture(first_bar(solution)))


def first_bar(solution: Solution) -> Page:
    """The page of the cut sheet on which the first bar begins."""
    title = phrase("sheet.bar", number=1)
    return next(page for page in cut_sheet(solution) if title in {box.says for box in page.drawing.text_boxes()})


def picture(page: Page) -> bytes:
    """The page as a PNG in a few greys."""
    buffer = BytesIO()
    drawn = Image.open(BytesIO(png.write(page.drawing, dpi=DPI)))
    drawn.convert("L").quantize(GREYS, dither=Image.Dither.NONE).save(buffer, "PNG", optimize=True)
    return buffer.getvalue()


if __name__ == "__main__":
    for path in sorted(GALLERY.glob("*/job.toml")):
        make(path)
