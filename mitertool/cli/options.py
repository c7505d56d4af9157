"""Options that several commands share, each said once, and how an answer is printed; knows typer and quantity."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from textwrap import wrap
from typing import Annotated, Any, Final

import typer

from mitertool import cli, drawing, working
from mitertool import saw as saws
from mitertool.base.errors import BadInput
from mitertool.base.speech import encoding_of_output, remark, spelled
from mitertool.cli.commands import choice, options
from mitertool.cli.default_saw import NO_SAW, default_saw, tell
from mitertool.quantity import UNITS, Units, units
from mitertool.sections import Section, laid_by, section

SectionName = Annotated[str, typer.Argument(help="As the mill tag names it, e.g. 'RHS 80x40x3'.", metavar="NAME")]
EndOption = Annotated[str, choice("Which end of the piece.", ("left", "right"))]
LAY: Final = "How it lies: degrees counter-clockwise, or a word such as 'heel up'."


@options
class Printed:
    """Every answer may be one JSON object."""

    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object: mm, degrees, full precision.")] = False

    @property
    def drawn(self) -> bool:
        """Whether a drawing takes standard output."""
        return False


@options
class InUnits(Printed):
    """An answer with lengths."""

    units: Annotated[str, choice("Of bare numbers and answers.", UNITS, "--units")] = "mm"

    @property
    def unit(self) -> Units:
        """The units asked for."""
        return units(self.units, "--units")

    def unit_or(self, usual: Units) -> Units:
        """The units asked for, or else those of a file."""
        return self.unit if self.units else usual


@options
class InUnitsAsRead(InUnits):
    """An answer in the units of the file that is read."""

    units: Annotated[str, choice("Of answers; the file's where none are given.", UNITS, "--units")] = ""


@options
class Worked:
    """An answer with its working."""

    working: Annotated[bool, typer.Option("--working", help="Print formula, numbers and result, step by step.")] = False


@options
class Sketched(Printed):
    """An answer that may be drawn."""

    sketch: Annotated[
        Path | None,
        typer.Option("--sketch", help="Draw it: .dxf, .pdf, .svg or .png by its ending; - prints SVG."),
    ] = None
    force: Annotated[bool, typer.Option("--force", help="With --sketch: write over a file that is not its own.")] = (
        False
    )

    @property
    def drawn(self) -> bool:
        """Whether a drawing takes standard output."""
        return self.sketch is not None and str(self.sketch) == "-"

    def may_sketch(self, source: Path | None = None) -> None:
        """Raise `BadInput` where a drawing may not be written there; `source` is what it is made from."""
        if self.drawn and self.as_json:
            raise BadInput("--sketch", "-", "standard output takes one answer; name a file, or leave out --json")
        if self.sketch is not None and not self.drawn:
            cli.may_sketch(self.sketch, self.force, source)

    def draw(self, picture: drawing.Drawing, title: str, lettering: float = 1.0) -> None:
        """Write the picture where it is asked for; `lettering` is model mm for a paper mm."""
        if self.drawn:
            sys.stdout.write(cli.printed_sketch(picture, lettering))
        elif self.sketch is not None:
            cli.write_sketch(picture, self.sketch, title, lettering)


@options
class Sawn:
    """An answer for a saw."""

    saw: Annotated[
        Path | None,
        typer.Option("--saw", help="Saw file (TOML): angles as its scale reads them; none: no saw."),
    ] = None

    @property
    def saw_file(self) -> Path | None:
        """The file that was named, or else the default one; None where there is neither, or none was asked for."""
        if self.saw is not None:
            return None if str(self.saw) == NO_SAW else self.saw
        found = default_saw()
        return found.file if found else None

    def machine(self) -> saws.Saw | None:
        """The saw of that file; a default one is told of."""
        found = default_saw() if self.saw is None else None
        if found is None:
            return saws.Saw.load(self.saw_file) if self.saw_file else None
        try:
            machine = saws.Saw.load(found.file)
        except BadInput as error:
            raise error.at(found.by) from error.__cause__
        tell(found)
        return machine


@options
class Laid:
    """A section as it lies in the vise."""

    lay: Annotated[str, typer.Option("--lay", help=LAY)] = "0"


def with_working(lines: Iterable[str], steps: Iterable[working.Step] | None) -> list[str]:
    """Lines of an answer with its working below; `steps` is None where it was not asked for."""
    return [*lines, *(["", "Working"] if steps is not None else []), *(line for s in steps or () for line in s.lines)]


def find_section(name: str, lay: str = "0") -> Section:
    """The section of a name, laid as asked."""
    return laid_by(section(name), lay)


_WIDE: Final = 100
"""Characters of a line of cautions."""


def answer(record: Mapping[str, Any], lines: Iterable[str], o: Printed, caution: str = "") -> None:
    """Print the record as JSON, or the lines for a person; either with what can hurt, where anything can.

    Where a drawing went to standard output, the lines go beside it.
    """
    if o.as_json:
        said = {"caution": caution} if caution else {}
        text = json.dumps({"format": 1, **record, **said}, indent=1, ensure_ascii=False, allow_nan=False)
    else:
        text = "\n".join([*lines, *wrap(f"Caution: {caution}" if caution else "", _WIDE)])
    if o.drawn:
        remark(text)
    else:
        sys.stdout.write(text + "\n")


def aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    """Rows of a table with every column as wide as its widest cell, in the letters that standard output has."""
    encoding = encoding_of_output()
    told = [[spelled(cell, encoding) for cell in row] for row in rows]
    widths = [max(map(len, column)) for column in zip(*told, strict=True)]
    return ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in told]


def columns(rows: Iterable[tuple[str, str]]) -> list[str]:
    """Words and values in two columns."""
    found = list(rows)
    width = max((len(word) for word, _ in found), default=0)
    return [f"{word:<{width}}  {value}" for word, value in found]
