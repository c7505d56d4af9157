"""Options that several commands share, each said once, and how an answer is printed; knows typer and quantity."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
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
from mitertool.words import phrase

SectionName = Annotated[str, typer.Argument(help="option.section-name", metavar="NAME")]
EndOption = Annotated[str, choice("option.end", ("left", "right"))]
LAY: Final = "option.lay"


@options
class Printed:
    """Every answer may be one JSON object."""

    as_json: Annotated[bool, typer.Option("--json", help="option.printed.as-json")] = False

    @property
    def drawn(self) -> bool:
        """Whether a drawing takes standard output."""
        return False


@options
class InUnits(Printed):
    """An answer with lengths."""

    units: Annotated[str, choice("option.in-units.units", UNITS, "--units")] = "mm"

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

    units: Annotated[str, choice("option.in-units-as-read.units", UNITS, "--units")] = ""


@options
class Worked:
    """An answer with its working."""

    working: Annotated[bool, typer.Option("--working", help="option.worked.working")] = False


@options
class Sketched(Printed):
    """An answer that may be drawn."""

    sketch: Annotated[
        Path | None,
        typer.Option("--sketch", help="option.sketched.sketch"),
    ] = None
    force: Annotated[bool, typer.Option("--force", help="option.sketched.force")] = False

    @property
    def drawn(self) -> bool:
        """Whether a drawing takes standard output."""
        return self.sketch is not None and str(self.sketch) == "-"

    def may_sketch(self, source: Path | None = None) -> None:
        """Raise `BadInput` where a drawing may not be written there; `source` is what it is made from."""
        if self.drawn and self.as_json:
            raise BadInput("--sketch", "-", phrase("refuse.one-answer"))
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
        typer.Option("--saw", help="option.sawn.saw"),
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
            raise error.at(found.named_by) from error.__cause__
        tell(found)
        return machine


@options
class Laid:
    """A section as it lies in the vise."""

    lay: Annotated[str, typer.Option("--lay", help=LAY)] = "0"


def with_working(lines: Iterable[str], steps: Iterable[working.Step] | None) -> list[str]:
    """Lines of an answer with its working below; `steps` is None where it was not asked for."""
    return [
        *lines,
        *(["", phrase("screen.working")] if steps is not None else []),
        *(line for s in steps or () for line in s.lines),
    ]


def find_section(name: str, lay: str = "0", option: str = "") -> Section:
    """The section of a name, laid as asked. Raises `BadInput` of the `option` where one gave the name."""
    try:
        found = section(name)
    except BadInput as error:
        raise (error.of(option) if option else error) from None
    return laid_by(found, lay)


_WIDE: Final = 100
"""Characters of a line of cautions."""


Record = Mapping[str, Any]


def answer(record: Record | Callable[[], Record], lines: Iterable[str], o: Printed, caution: str = "") -> None:
    """Print the record as JSON, or the lines for a person; either with what can hurt, where anything can.

    A record that takes long is handed as what makes it, and made where it is printed. Where a drawing went to standard
    output, the lines go beside it.
    """
    if o.as_json:
        said = {"caution": caution} if caution else {}
        told = record() if callable(record) else record
        text = json.dumps({"format": 1, **told, **said}, indent=1, ensure_ascii=False, allow_nan=False)
    else:
        text = "\n".join([*lines, *wrap(phrase("screen.caution", caution=caution) if caution else "", _WIDE)])
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
