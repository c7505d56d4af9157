"""`mitertool rack list|add|note|remove|book|free|export|import`: the shop's left-overs; knows rack."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager
from itertools import groupby
from pathlib import Path
from shlex import join
from typing import Annotated, Any, ClassVar, Final

import attrs
import typer

from mitertool.base.errors import BadInput
from mitertool.base.files import write_whole
from mitertool.base.totals import summed
from mitertool.cli.booked import bar_numbers, free_command
from mitertool.cli.commands import Command, command, options
from mitertool.cli.groups import ByName, Group
from mitertool.cli.options import InUnits, Printed, aligned, answer, find_section
from mitertool.cut import Cut
from mitertool.quantity import Units, count, positive_length, show_angle, show_length
from mitertool.quantity.tables import read_whole
from mitertool.rack import RackBook
from mitertool.rack.exchange import end_of, exported, imported
from mitertool.rack.place import rack_file
from mitertool.rack.values import BookedBar, Booking, Freed, RackBar, called, rack_bar
from mitertool.words import counted, phrase

_WIDE: Final = 40
"""Characters of the picture of the longest left-over."""


class OfRack(ByName):
    """What is done with the rack."""

    says = "command.rack"
    rooms: ClassVar = dict.fromkeys(("list", "add", "note", "remove", "book", "free", "export", "import"), __name__)

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
    wanted = find_section(o.section, option="--section").name if o.section else ""
    with o.opened(new=True) as book:
        lying = [bar for bar in book.lying() if wanted in ("", bar.section)]
        bookings = book.bookings()
    longest = max((bar.length for bar in lying), default=1.0)
    groups = groupby(lying, key=lambda bar: (bar.section, bar.grade))
    lines = [line for key, bars in groups for line in _listed(key, list(bars), longest, o.unit)]
    there, expected = ([bar for bar in lying if bar.expected == is_so] for is_so in (False, True))
    totals = [counted("rack.list.total", len(there), length=_together(there, o.unit), file=o.file)]
    if expected:
        totals.append(counted("rack.list.expected", len(expected), length=_together(expected, o.unit)))
    closing = [phrase("rack.when-cut-job", job=one.called, command=free_command(one, o.file)) for one in bookings]
    answer({"rack": str(o.file), "left_overs": [_record(bar) for bar in lying]}, [*lines, *totals, *closing], o)


def _together(bars: Sequence[RackBar], unit: Units) -> str:
    return show_length(summed(bar.length for bar in bars), unit)


def _listed(key: tuple[str, str], bars: Sequence[RackBar], longest: float, unit: Units) -> Iterator[str]:
    yield " ".join(key).strip()
    words = ("number", "length", "ends", "heat", "place", "date", "state")
    rows = [(*(phrase(f"rack.list.{word}") for word in words), "")]
    for bar in bars:
        picture = "=" * max(1, round(_WIDE * bar.length / longest))
        ends = f"{_end(bar.left)} {_end(bar.right)}"
        told = (show_length(bar.length, unit), ends, bar.heat, bar.place, bar.date, _state(bar))
        rows.append((str(bar.number), *told, picture))
    yield from aligned(rows)
    yield ""


def _state(bar: RackBar) -> str:
    """Who has booked it, and whose plan will leave it."""
    booked = [phrase("rack.list.booked", job=bar.taken.called)] if bar.taken else []
    expected = [phrase("rack.list.expected-from", job=bar.came.called)] if bar.came else []
    return ", ".join((*expected, *booked))


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
        "expected": bar.expected,
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
    answer({"numbers": list(numbers)}, [counted("rack.added", len(numbers), numbers=shown, section=bar.section)], o)


@options
class NoteOptions(OfRackFile):
    """Left-overs, and what of them is said anew."""

    numbers: Numbers
    heat: Annotated[str | None, typer.Option("--heat", help="option.rack.add.heat")] = None
    place: Annotated[str | None, typer.Option("--place", help="option.rack.add.place")] = None
    date: Annotated[str | None, typer.Option("--date", help="option.rack.add.date")] = None


@command(NoteOptions, "rack note 3 4 --heat 4711 --place 'bay 3'", "rack note 3 --place yard")
def note(o: NoteOptions) -> None:
    """What `mitertool rack note` does."""
    numbers, texts = _numbers(o.numbers), {"heat": o.heat, "place": o.place, "date": o.date}
    told = {name: " ".join(text.split()) for name, text in texts.items() if text is not None}
    if not told:
        raise BadInput("note", phrase("found.nothing"), phrase("rack.nothing-noted"))
    with o.opened() as book, book.changing():
        book.note(numbers, told)
    answer({"numbers": numbers, **told}, [phrase("rack.noted", numbers=_numbered(numbers))], o)


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
        lying = [bar for bar in opened.lying() if bar.number in numbers]
    told = phrase("rack.booked" if new else "rack.so-booked", job=called(o.job, o.revision))
    warned = [phrase("rack.only-expected", number=bar.number, job=bar.came.called) for bar in lying if bar.came]
    answer({"booked": numbers, "new": new}, [told, *warned], o)


@options
class FreeOptions(OfBooking):
    """A booking."""

    job: Annotated[str, typer.Argument(help="option.rack.book.job", metavar="NAME")]
    cut: Annotated[str, typer.Option("--cut", help="option.rack.free.cut")] = ""
    bought: Annotated[str, typer.Option("--bought", help="option.rack.free.bought")] = ""
    begun: Annotated[str, typer.Option("--begun", help="option.rack.free.begun")] = ""
    undo: Annotated[bool, typer.Option("--undo", help="option.rack.free.undo")] = False


@command(
    FreeOptions,
    "rack free 'Boathouse gate' --revision B",
    "rack free 'Boathouse gate' --cut all",
    "rack free 'Boathouse gate' --cut 1 --bought 2",
    "rack free 'Shed door' --revision B --undo",
)
def free(o: FreeOptions) -> None:
    """What `mitertool rack free` does."""
    if o.undo:
        _reopen(o)
        return
    with o.opened() as opened, opened.changing():
        found = opened.free(o.job, o.revision, *map(bar_numbers, (o.cut, o.bought, o.begun)))
    cut, new = ([found.booking.name(bar) for bar in bars] for bars in (found.cut, found.new))
    added = [bar.number for bar in found.added]
    record = {"freed": list(found.free), "cut": cut, "new_uncut": new, "added": added}
    answer(record, [*_freed(o, found), *_to_undo(o, found)], o)


def _reopen(o: FreeOptions) -> None:
    """Take a closing back."""
    if o.cut or o.bought or o.begun:
        raise BadInput("--undo", o.cut or o.bought or o.begun, phrase("rack.undo-alone"))
    with o.opened() as opened, opened.changing():
        found = opened.reopen(o.job, o.revision)
    told = phrase("rack.reopened", job=found.called, numbers=_numbered(found.takes))
    answer({"booked": list(found.takes)}, [told], o)


def _to_undo(o: FreeOptions, found: Freed) -> Iterator[str]:
    if found.cut or found.begun:
        yield phrase("rack.undo-with", command=free_command(found.booking, o.file, undo=True))


def _freed(o: FreeOptions, found: Freed) -> Iterator[str]:
    yield phrase("rack.freed", numbers=_numbered(found.free))
    if found.cut:
        yield phrase("rack.freed-cut", bars=", ".join(map(found.booking.name, found.cut)))
        yield from _steel_there("rack.left-there", [bar.leaves for bar in found.cut if bar.leaves])
    if found.begun:
        yield phrase("rack.freed-begun", bars=", ".join(map(found.booking.name, found.begun)))
    yield from _steel_there("rack.added-bought", found.added)
    if found.added:
        yield phrase("rack.note-them", command=_note_command(o, [bar.number for bar in found.added]))
    if found.new:
        yield phrase("rack.freed-new", bars=", ".join(map(found.booking.name, found.new)))


def _steel_there(code: str, bars: Sequence[RackBar]) -> Iterator[str]:
    """What lies there since, a line for those that are alike."""
    alike: dict[str, list[int]] = {}
    for bar in bars:
        steel = " ".join(word for word in (bar.section, bar.grade, show_length(bar.length, "mm")) if word)
        alike.setdefault(steel, []).append(bar.number)
    yield from (phrase(code, steel=steel, numbers=_numbered(numbers)) for steel, numbers in alike.items())


def _note_command(o: FreeOptions, numbers: Sequence[int]) -> str:
    """The command that says heat and place of left-overs."""
    rack = [] if o.file == rack_file() else ["--rack", str(o.file)]
    return join(["mitertool", "rack", "note", *map(str, numbers), "--heat", "HEAT", "--place", "PLACE", *rack])


def _numbered(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers)) or phrase("found.nothing")


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
    "note": note,
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
