"""The booking of a plan on the rack, as a block around the writing of its packet, and what is told of it; knows job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from shlex import join
from typing import Final

import attrs

from mitertool.base.errors import BadInput, CutShort
from mitertool.job import Job, Solution
from mitertool.quantity import Units, show_length
from mitertool.rack import Booking, RackBar, RackBook
from mitertool.rack.bars import rests
from mitertool.rack.place import rack_file
from mitertool.rack.values import ALL, called
from mitertool.words import phrase


@attrs.define
class Booked:
    """The booking of a solved job; `new` is False where it was booked so already, None where nothing is booked yet."""

    solution: Solution
    new: bool | None = None

    def number(self) -> None:
        """Give what the plan will leave on the rack its numbers, so that paper and screen tell them."""
        with self._opened() as book:
            book.refuse_cut(self.solution.booking)
            numbers = book.numbers_for(self.solution.booking)
        self.solution = attrs.evolve(self.solution, numbers=numbers)

    @contextmanager
    def block(self) -> Iterator[None]:
        """What the plan takes and leaves is booked when the block ends well, and not at all otherwise."""
        with self._opened() as book, book.changing():
            self.new = book.book(self.solution.booking)
            yield

    def _opened(self) -> AbstractContextManager[RackBook]:
        """The rack. Raises `BadInput` where the job draws on none, or does not say what goes back."""
        drawn = self.solution.job.rack
        if drawn is None:
            raise BadInput("--book", self.solution.job.path.name, phrase("rack.needs-rack"))
        if drawn.keep is None:
            raise BadInput("keep", phrase("found.nothing"), phrase("rack.keep-needed"), self._where)
        return RackBook.opened(drawn.file)

    @property
    def _where(self) -> tuple[str, str]:
        return self.solution.job.path.name, "[nest]"

    def lines(self) -> Iterator[str]:
        """What was booked, and what closes it."""
        if self.new is None or self.solution.job.rack is None:
            return
        found, units = self.solution.booking, self.solution.job.head.units
        yield phrase("rack.booked" if self.new else "rack.so-booked", job=found.called)
        lying = {bar.number: bar for bar in self.solution.job.rack.bars}
        for bar in found.bars:
            if bar.takes:
                yield phrase("rack.summary.takes", bar=found.name(bar), **_told(lying[bar.takes], units))
        for what, many in Counter(_steel(bar.new, units) for bar in found.bars if bar.new).items():
            yield phrase("rack.summary.new", count=many, steel=what)
        for bar in found.bars:
            if bar.leaves:
                told = {"number": bar.leaves.number, "steel": _steel(bar.leaves, units)}
                yield phrase("rack.summary.leaves", bar=found.name(bar), **told)
        yield phrase("rack.when-cut", command=free_command(found, self.solution.job.rack.file))

    @property
    def record(self) -> dict[str, object] | None:
        """The same for --json."""
        found = self.solution.booking
        return None if self.new is None else {"job": found.job, "revision": found.revision, "new": self.new}


def refuse_cut_up(solution: Solution, folder: Path | None) -> None:
    """Raise `BadInput` where the plan would be written over the packet of a booking that was closed as cut."""
    drawn = solution.job.rack
    if drawn is None or folder is None or not folder.exists() or not drawn.file.exists():
        return
    with RackBook.opened(drawn.file, new=False) as book:
        book.refuse_cut(solution.booking)


def refuse_cut_short(solution: Solution) -> None:
    """Raise `CutShort` where the user stopped the search: a plan is booked that every run finds again."""
    if solution.plan is not None and solution.plan.cut_short:
        raise CutShort(phrase("rack.cut-short"))


def still_booked(job: Job) -> Iterator[str]:
    """That the packet before a rest is booked, and this one draws on nothing of it until that is closed."""
    if job.rest is None or job.rack is None or not job.rack.file.exists():
        return
    name, revision = job.head.name, job.rest.revision or job.head.revision
    with RackBook.opened(job.rack.file, new=False) as book:
        found = book.booking(name, revision)
    if found:
        takes = ", ".join(map(str, found.takes)) or phrase("found.nothing")
        cut = [name for name in job.rest.bars_of_whole if any(bar.is_among([name]) for bar in found.bars)]
        command = free_command(found, job.rack.file, ",".join(cut) or "1,2")
        yield phrase(
            "rack.still-booked" if cut else "rack.still-booked/bars",
            called=found.called,
            numbers=takes,
            command=command,
        )


def begun_and_cut(job: Job) -> Iterator[str]:
    """That a bar is told as begun and to the rack as cut, so that what is left of it would count twice."""
    rest, rack = job.rest, job.rack
    if rest is None or rack is None:
        return
    for revision, begun in rest.begun:
        for closed, bar, number in rack.as_cut:
            if bar == begun and closed in (revision, *rests(revision, _MOST_RESTS)):
                told = {"bar": bar.removesuffix(".1"), "job": called(job.head.name, closed), "number": number}
                yield phrase("rest.begun-and-cut", **told)


_MOST_RESTS: Final = 20
"""Rests of a revision, one behind the other, that are looked at."""


def free_command(booking: Booking, file: Path, cut: str = ALL, undo: bool = False, begun: str = "") -> str:
    """The command that closes a booking when its bars are cut, some `begun` alone, or takes that back."""
    how = ["--undo"] if undo else ["--cut", cut] if cut else []
    how += ["--begun", begun] if begun else []
    revision = ["--revision", booking.revision] if booking.revision else []
    rack = [] if file == rack_file() else ["--rack", str(file)]
    return join(["mitertool", "rack", "free", booking.job, *revision, *how, *rack])


def _told(bar: RackBar, units: Units) -> dict[str, object]:
    heat = phrase("rack.summary.heat", heat=bar.heat) if bar.heat else ""
    more = ", ".join(word for word in (bar.place, heat) if word)
    return {"number": bar.number, "steel": ", ".join(word for word in (_steel(bar, units), more) if word)}


def _steel(bar: RackBar, units: Units) -> str:
    return " ".join(word for word in (bar.section, bar.grade, show_length(bar.length, units)) if word)


def bar_numbers(given: str) -> list[str]:
    """Bars named with commas between."""
    return [one.strip() for one in given.split(",") if one.strip()]
