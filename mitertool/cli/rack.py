"""`mitertool rack list|add|remove|book|free|export|import`: the shop's left-overs; knows rack."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager
from itertools import groupby
from pathlib import Path
from typing import Annotated, Any, ClassVar, Final

import attrs
import typer

from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole
from mitertool.cli.commands import ByName, Command, Group, command, options
from mitertool.cli.options import InUnits, Printed, aligned, answer, find_section
from mitertool.cut import Cut
from mitertool.quantity import Units, count, positive_length, show_angle, show_length
from mitertool.quantity.tables import read_whole
from mitertool.rack import RackBook
from mitertool.rack.exchange import end_of, exported, imported
from mitertool.rack.place import rack_file
from mitertool.rack.values import BookedBar, Booking, RackBar, rack_bar
from mitertool.words import counted, phrase

_WIDE: Final = 40
"""Characters of the picture of the longest left-over."""


class OfRack(ByName):
    """What is done with the rack."""

    says = "command.rack"
    rooms: ClassVar = dict.fromkeys(("list", "add", "remove", "book", "free", "export", "import"), __name__)

    @classmethod
    def held(cls, name: str) -> Any:
        """The command of a name of the list; two of the names are words of the language."""
        return _BY_NAME[name]


rack = Group(OfRack)

Numbers = Annotated[list[str], typer.Argument(help="option.rack.numbers", metavar="NUMBER...")]


@options
class OfRackFile(Printed):
    """The rack's file."""

    rack: Annotated[
        Path | None,
        typer.Option("--rack", help="option.rack.rack"),
    ] = None

    @property
    def file(self) -> Path:
        """Where it lies."""
        return self.rack or rack_file()

    def opened(self, new: bool = False) -> AbstractContextManager[RackBook]:
        """The rack; `new`: made where there is none."""
        return RackBook.opened(self.file, new)


@options
class OfBooking(OfRackFile):
    """A job and revision."""

    revision: Annotated[str, typer.Option("--revision", help="option.rack.revision")] = ""


@options
class ListOptions(OfRackFile, InUnits):
    """What is listed."""

    section: Annotated[str, typer.Option("--section", help="option.rack.list.section")] = ""


@command(ListOptions, "rack list --units in", "rack list --section 'RHS 80x40x3'")
def list_rack(o: ListOptions) -> None:
    """What `mitertool rack list` does."""
    wanted = find_section(o.section).name if o.section else ""
    with o.opened(new=True) as book:
        lying = [bar for bar in book.lying() if wanted in ("", bar.section)]
    longest = max((bar.length for bar in lying), default=1.0)
    groups = groupby(lying, key=lambda bar: (bar.section, bar.grade))
    lines = [line for key, bars in groups for line in _listed(key, list(bars), longest, o.unit)]
    total = show_length(sum(bar.length for bar in lying), o.unit)
    answer(
        {"rack": str(o.file), "left_overs": [_record(bar) for bar in lying]},
        [*lines, counted("rack.list.total", len(lying), length=total, file=o.file)],
        o,
    )


def _listed(key: tuple[str, str], bars: Sequence[RackBar], longest: float, unit: Units) -> Iterator[str]:
    yield " ".join(key).strip()
    words = ("number", "length", "ends", "heat", "place", "date", "booked")
    rows = [(*(phrase(f"rack.list.{word}") for word in words), "")]
    for bar in bars:
        picture = "=" * max(1, round(_WIDE * bar.length / longest))
        booked = bar.taken.called if bar.taken else ""
        ends = f"{_end(bar.left)} {_end(bar.right)}"
        told = (show_length(bar.length, unit), ends, bar.heat, bar.place, bar.date, booked)
        rows.append((str(bar.number), *told, picture))
    yield from aligned(rows)
    yield ""


def _end(cut: Cut) -> str:
    return show_angle(cut.miter) + (f"/{show_angle(cut.bevel)}" if cut.bevel else "")


def _record(bar: RackBar) -> dict[str, Any]:
    cuts, claims = {"left": bar.left, "right": bar.right}, {"booked": bar.taken, "left_by": bar.came}
    ends = {end: {"miter_deg": cut.miter, "bevel_deg": cut.bevel} for end, cut in cuts.items()}
    whose = {key: attrs.asdict(claim) if claim else None for key, claim in claims.items()}
    return {
        **{key: getattr(bar, key) for key in ("number", "section", "grade", "heat", "place", "date")},
        "length_mm": bar.length,
        "whole_mm": bar.square,
        **ends,
        **whose,
    }


@options
class AddOptions(OfRackFile, InUnits):
    """A left-over."""

    section: Annotated[str, typer.Argument(help="option.section.name", metavar="SECTION")]
    length: Annotated[str, typer.Argument(help="option.rack.add.length", metavar="LENGTH")]
    grade: Annotated[str, typer.Option("--grade", help="option.rack.add.grade")] = ""
    heat: Annotated[str, typer.Option("--heat", help="option.rack.add.heat")] = ""
    left: Annotated[str, typer.Option("--left", help="option.rack.add.left")] = "0"
    right: Annotated[str, typer.Option("--right", help="option.rack.add.right")] = "0"
    place: Annotated[str, typer.Option("--place", help="option.rack.add.place")] = ""
    date: Annotated[str, typer.Option("--date", help="option.rack.add.date")] = ""
    quantity: Annotated[str, typer.Option("--quantity", help="option.rack.add.quantity")] = "1"


@command(
    AddOptions,
    "rack add 'RHS 80x40x3' 2350 --grade S355 --heat 4711 --place 'bay 3'",
    "rack add 'L 50x50x5' '1.2 m' --left 45 --quantity 2",
)
def add(o: AddOptions) -> None:
    """What `mitertool rack add` does."""
    section, length = find_section(o.section), positive_length(o.length, o.unit, "length")
    ends = [end_of(o.left, "--left"), end_of(o.right, "--right")]
    texts: dict[str, Any] = {"grade": o.grade, "heat": o.heat, "place": o.place, "date": o.date}
    bar = rack_bar(section, length, ends[0], ends[1], **{key: " ".join(text.split()) for key, text in texts.items()})
    with o.opened(new=True) as book, book.changing():
        numbers = book.add([bar] * count(o.quantity, "--quantity", most=1000))
    shown = ", ".join(map(str, numbers))
    answer({"numbers": list(numbers)}, [phrase("rack.added", numbers=shown, section=bar.section)], o)


@options
class RemoveOptions(OfRackFile):
    """Left-overs that are gone."""

    numbers: Numbers
    why: Annotated[str, typer.Option("--why", help="option.rack.remove.why")] = "removed"


@command(RemoveOptions, "rack remove 3", "rack remove 3 4 --why scrapped")
def remove(o: RemoveOptions) -> None:
    """What `mitertool rack remove` does."""
    numbers = _numbers(o.numbers)
    with o.opened() as book, book.changing():
        book.remove(numbers, o.why)
    answer({"removed": numbers}, [phrase("rack.removed", numbers=", ".join(map(str, numbers)))], o)


@options
class BookOptions(OfBooking):
    """Left-overs for a job."""

    numbers: Numbers
    job: Annotated[str, typer.Option("--job", help="option.rack.book.job")]


@command(BookOptions, "rack book 3 --job 'Jetty stand'", "rack book 3 4 --job 'Jetty stand' --revision B")
def book(o: BookOptions) -> None:
    """What `mitertool rack book` does."""
    numbers = _numbers(o.numbers)
    bars = tuple(BookedBar(i, 1, number) for i, number in enumerate(numbers, 1))
    with o.opened() as opened, opened.changing():
        new = opened.book(Booking(o.job, o.revision, "by hand: " + " ".join(map(str, sorted(numbers))), "", bars))
    told = phrase("rack.booked" if new else "rack.so-booked", job=f"{o.job} {o.revision}".strip())
    answer({"booked": numbers, "new": new}, [told], o)


@options
class FreeOptions(OfBooking):
    """A booking."""

    job: Annotated[str, typer.Argument(help="option.rack.book.job", metavar="NAME")]
    cut: Annotated[str, typer.Option("--cut", help="option.rack.free.cut")] = ""


@command(FreeOptions, "rack free 'Boathouse gate' --revision B", "rack free 'Boathouse gate' --cut 1,2")
def free(o: FreeOptions) -> None:
    """What `mitertool rack free` does."""
    cut = [one.strip() for one in o.cut.split(",") if one.strip()]
    with o.opened() as opened, opened.changing():
        found = opened.free(o.job, o.revision, cut)
    back = [bar.takes for bar in found.bars if bar.takes and not bar.is_among(cut)]
    shown = ", ".join(map(str, back)) or phrase("rack.nothing")
    answer({"freed": back}, [phrase("rack.freed", numbers=shown)], o)


@options
class ExportOptions(OfRackFile):
    """Where the table goes."""

    out: Annotated[Path | None, typer.Option("--out", help="option.rack.export.out")] = None


@command(ExportOptions, "rack export --out rack.csv", "rack export --json")
def export(o: ExportOptions) -> None:
    """What `mitertool rack export` does."""
    with o.opened() as opened:
        table = exported(opened)
    if o.out is None and not o.as_json:
        sys.stdout.write(table.decode())
        return
    if o.out:
        write_whole(o.out, table)
    answer({"out": str(o.out or ""), "table": table.decode()}, [str(o.out)], o)


@options
class ImportOptions(OfRackFile):
    """A table."""

    table: Annotated[Path, typer.Argument(help="option.rack.import.table", metavar="CSV")]


@command(ImportOptions, "rack import rack.csv", "rack import rack.csv --rack new.sqlite")
def bring_in(o: ImportOptions) -> None:
    """What `mitertool rack import` does."""
    content = read_whole(o.table)
    with o.opened(new=True) as opened:
        new, same = imported(opened, content, o.table.name)
    answer({"new": new, "same": same}, [phrase("rack.imported", new=new, same=same)], o)


_BY_NAME: Final[dict[str, Command[Any]]] = {
    "list": list_rack,
    "add": add,
    "remove": remove,
    "book": book,
    "free": free,
    "export": export,
    "import": bring_in,
}


def _numbers(given: Sequence[str]) -> list[int]:
    numbers = [count(one, "number") for one in given]
    if len(set(numbers)) < len(numbers):
        raise BadInput("number", ", ".join(given), phrase("rack.twice"))
    return numbers
