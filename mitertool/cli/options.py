"""Options that several commands share, and how an answer is printed; knows typer and quantity."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Annotated, Any, Final

import typer

if TYPE_CHECKING:
    from mitertool.drawing import Drawing
    from mitertool.quantity import Units
    from mitertool.saw import Saw
    from mitertool.sections import Section
    from mitertool.working import Step

SectionName = Annotated[str, typer.Argument(help="As the mill tag names it, e.g. 'RHS 80x40x3'.", metavar="NAME")]
JobPath = Annotated[Path, typer.Argument(help="Job file (TOML).", metavar="JOB")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object, mm and degrees in full precision.")]
UnitsOption = Annotated[
    str, typer.Option("--units", help="mm, in, ft-in, in/16, in/32, ft-in/32: bare numbers and answers.")
]
SawPath = Annotated[Path | None, typer.Option("--saw", help="Saw file (TOML): angles as its scale reads them.")]
LayOption = Annotated[
    str, typer.Option("--lay", help="How it lies: degrees counter-clockwise, or a word such as 'heel up'.")
]
SketchPath = Annotated[
    Path | None, typer.Option("--sketch", help="Write a drawing: .dxf, .pdf, .svg or .png by its ending.")
]
ForceOption = Annotated[bool, typer.Option("--force", help="With --sketch: write over a file that is not its own.")]

WorkingOption = Annotated[bool, typer.Option("--working", help="Print formula, numbers and result, step by step.")]


def with_working(lines: Iterable[str], steps: Iterable[Step] | None) -> list[str]:
    """Lines of an answer with its working below; `steps` is None where it was not asked for."""
    return [*lines, *(["", "Working"] if steps is not None else []), *(line for s in steps or () for line in s.lines)]


def units_of(given: str) -> Units:
    """The units asked for."""
    from mitertool.quantity import units

    return units(given, "--units")


def find_section(name: str, lay: str = "0") -> Section:
    """The section of a name, laid as asked."""
    from mitertool.sections import laid_by, section

    return laid_by(section(name), lay)


def load_saw(path: Path | None) -> Saw | None:
    """The saw of a file, or None."""
    if path is None:
        return None
    from mitertool.saw import Saw

    return Saw.load(path)


_WIDE: Final = 100
"""Characters of a line of cautions."""


def answer(record: Mapping[str, Any], lines: Iterable[str], as_json: bool, caution: str = "") -> None:
    """Print the record as JSON, or the lines for a person; either with what can hurt, where anything can."""
    if as_json:
        said = {"caution": caution} if caution else {}
        text = json.dumps({"format": 1, **record, **said}, indent=1, ensure_ascii=False, allow_nan=False)
    else:
        text = "\n".join([*lines, *wrap(f"Caution: {caution}" if caution else "", _WIDE)])
    sys.stdout.write(text + "\n")


def aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows of a table with every column as wide as its widest cell."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]


def columns(rows: Iterable[tuple[str, str]]) -> list[str]:
    """Words and values in two columns."""
    found = list(rows)
    width = max((len(word) for word, _ in found), default=0)
    return [f"{word:<{width}}  {value}" for word, value in found]


def may_sketch(path: Path | None, force: bool, source: Path | None = None) -> None:
    """Raise `BadInput` where a drawing would be written over its own source, or over a file that is not its own.

    Its own is a drawing written here and not changed since; over any other but the source `force` writes.
    """
    from mitertool.base.errors import BadInput

    if path is None:
        return
    try:
        against = _against(path, force, source) if path.exists() else ""
    except OSError as error:
        against = f"cannot be written: {error.strerror}"
    if against:
        raise BadInput("--sketch", str(path), against)


def _against(path: Path, force: bool, source: Path | None) -> str:
    """What forbids to write a drawing over the file; "" where nothing does."""
    from mitertool.drawing.seal import is_sealed

    if source is not None and source.exists() and path.samefile(source):
        return "the drawing is made from this file; name another"
    if not path.is_file():
        return "it exists and is not a plain file; name another"
    own = force or is_sealed(path)
    return "" if own else "a file that is not its own stands there; name another, or write over it with --force"


def write_sketch(drawing: Drawing, path: Path, title: str, lettering: float = 1.0) -> None:
    """Write a drawing in the format that the path's ending names; `lettering` is model mm for a paper mm."""
    from mitertool.base.errors import BadInput
    from mitertool.base.files import write_whole
    from mitertool.drawing.seal import sealed

    kind = path.suffix.lower()
    if kind not in (".dxf", ".pdf", ".svg", ".png"):
        raise BadInput("--sketch", str(path), "the file must end in .dxf, .pdf, .svg or .png")
    if kind == ".dxf":
        from mitertool.drawing import dxf

        content = dxf.write(drawing, title, lettering)
    else:
        content = _picture(drawing.scaled(1 / lettering), kind, title)
    write_whole(path, sealed(content, kind))


def _picture(drawing: Drawing, kind: str, title: str) -> bytes:
    if kind == ".svg":
        from mitertool.drawing import svg

        return svg.write(drawing)
    if kind == ".png":
        from mitertool.drawing import png

        return png.write(drawing)
    from mitertool.drawing import Page, pdf

    x0, y0, x1, y1 = drawing.bounds()
    return pdf.write([Page(x1 - x0 + 20, y1 - y0 + 20, drawing.moved(10 - x0, 10 - y0))], title)
