"""Drawings of an answer: where one may be written, and in which format; knows the writers of drawing."""

from __future__ import annotations

from pathlib import Path

from mitertool import drawing as drawings
from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole
from mitertool.drawing.seal import is_sealed, sealed
from mitertool.words import phrase


def may_sketch(path: Path, force: bool, source: Path | None = None) -> None:
    """Raise `BadInput` where a drawing would be written over its own source, or over a file that is not its own.

    Its own is a drawing written here and not changed since; over any other but the source `force` writes.
    """
    try:
        against = _against(path, force, source) if path.exists() else ""
    except OSError as error:
        against = phrase("refuse.unwritten", why=error.strerror)
    if against:
        raise BadInput("--sketch", str(path), against)


def _against(path: Path, force: bool, source: Path | None) -> str:
    """What forbids to write a drawing over the file; "" where nothing does."""
    if source is not None and source.exists() and path.samefile(source):
        return phrase("refuse.own-source")
    if not path.is_file():
        return phrase("refuse.no-file")
    own = force or is_sealed(path)
    return "" if own else phrase("refuse.not-own")


def write_sketch(drawing: drawings.Drawing, path: Path, title: str, lettering: float = 1.0) -> None:
    """Write a drawing in the format that the path's ending names; `lettering` is model mm for a paper mm."""
    kind = path.suffix.lower()
    if kind not in (".dxf", ".pdf", ".svg", ".png"):
        raise BadInput("--sketch", str(path), phrase("refuse.ending"))
    write_whole(path, sealed(_content(drawing, kind, title, lettering), kind))


def printed_sketch(drawing: drawings.Drawing, lettering: float = 1.0) -> str:
    """A drawing as SVG in letters that every terminal and pipe has; `lettering` is model mm for a paper mm."""
    content = drawings.svg.write(drawing.scaled(1 / lettering)).decode()
    return content.encode("ascii", "xmlcharrefreplace").decode()


def _content(drawing: drawings.Drawing, kind: str, title: str, lettering: float) -> bytes:
    if kind == ".dxf":
        return drawings.dxf.write(drawing, title, lettering)
    picture = drawing.scaled(1 / lettering)
    if kind == ".svg":
        return drawings.svg.write(picture)
    if kind == ".png":
        return drawings.png.write(picture)
    x0, y0, x1, y1 = picture.bounds()
    page = drawings.Page(x1 - x0 + 20, y1 - y0 + 20, picture.moved(10 - x0, 10 - y0))
    return drawings.pdf.write([page], title)
