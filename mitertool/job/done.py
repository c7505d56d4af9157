"""done.csv: what of a job is already cut, so that the rest can be planned; knows the file, the job and nest."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Final

import attrs

from mitertool.base.cells import of_cell
from mitertool.base.errors import BadInput
from mitertool.base.letters import one_form
from mitertool.base.names import all_of, among, nearest, refuse_unknown_keys
from mitertool.job.model import Job
from mitertool.nest import Done, Stock
from mitertool.quantity import count, positive_length
from mitertool.quantity.tables import read_whole
from mitertool.rack.bars import plain
from mitertool.words import phrase

COLUMNS: Final = ("what", "name", "length", "quantity", "grade")
_NEEDED: Final = ("what", "name", "quantity")
PIECE, SPOILED, USED, LEFT = ("piece", "spoiled", "bar used", "length left")
JOB, REVISION = ("job", "revision")
_WHAT: Final = (PIECE, SPOILED, USED, LEFT, JOB, REVISION)


@attrs.frozen
class Spoiled:
    """`count` pieces of a mark that went wrong; `length` is the longest line (mm) that is left of each, 0: not told."""

    mark: str
    count: int
    length: float = 0.0


@attrs.frozen
class WorkDone:
    """What was done of a job: pieces and bars, and what went wrong. `content` is the file that told it."""

    done: Done = attrs.field(factory=Done)
    spoiled: tuple[Spoiled, ...] = ()
    content: bytes = b""


def read_work(
    path: Path,
    job: Job,
    asked: Mapping[str, int] | None = None,
    revision: str | None = None,
    content: bytes | None = None,
) -> WorkDone:
    """Read a CSV with a heading row: what, name, length, quantity, grade; bare lengths are in the job's units.

    "piece" counts good pieces of a mark, "spoiled" those that went wrong, where a length is told with the longest line
    that is left; "bar used" names a section and the length of whole bars gone; "length left" a section and a length of
    one of them that may still be cut. "job" and "revision" say of which job it is told. A section may be named in any
    way that a job may name it; a grade that is not told is the only one that the job has of it.

    `asked` are the marks with their numbers, and `revision` the revision, where they are not the job's own. `content`
    is what stands in the file, where it is not there yet. Raises `BadInput` naming file and line.
    """
    content = read_whole(path) if content is None else content
    known = dict(pair for order in job.pieces for pair in order.counts) if asked is None else asked
    reader = _Reader(job, known, job.head.revision if revision is None else revision)
    for line, row in rows_of_done(path, content):
        try:
            reader.read(row)
        except BadInput as error:
            raise error.at(path.name, phrase("where.line", line=line)) from None
    good = {mark: count for mark, count in reader.good.items() if count}
    done = Done(good, tuple(reader.bars[USED]), tuple(reader.bars[LEFT]))
    return WorkDone(done, tuple(reader.spoiled), content)


def rows_of_done(path: Path, content: bytes) -> Iterator[tuple[int, dict[str, str]]]:
    """Every row of such a table that holds anything, by column, with its line. Raises `BadInput` for another one."""
    try:
        table = list(csv.reader(content.decode("utf-8-sig").splitlines()))
    except (UnicodeDecodeError, csv.Error) as error:
        raise BadInput(phrase("what.file"), str(path), phrase("refuse.no-csv", why=error)) from error
    head = [cell.strip() for cell in table[0]] if table else []
    if not set(_NEEDED) <= set(head):
        needed = phrase("refuse.columns", names=", ".join(_NEEDED))
        raise BadInput(phrase("what.columns"), ", ".join(head), needed, (path.name, phrase("where.line", line=1)))
    try:
        refuse_unknown_keys(phrase("what.column"), head, COLUMNS)
    except BadInput as error:
        raise error.at(path.name, phrase("where.line", line=1)) from None
    for line, cells in enumerate(table[1:], 2):
        if any(cell.strip() for cell in cells):
            if len(cells) > len(head):
                raise BadInput(
                    phrase("what.cells"),
                    len(cells),
                    phrase("refuse.cells", count=len(head)),
                    (path.name, phrase("where.line", line=line)),
                )
            yield line, dict(zip(head, (cell.strip() for cell in cells), strict=False))


@attrs.define
class _Reader:
    """What the rows told so far, and what they are held against."""

    job: Job
    asked: Mapping[str, int]
    revision: str
    good: dict[str, int] = attrs.field(factory=dict)
    spoiled: list[Spoiled] = attrs.field(factory=list)
    bars: dict[str, list[Stock]] = attrs.field(factory=lambda: {USED: [], LEFT: []})

    def read(self, row: Mapping[str, str]) -> None:
        """Take a row in. Raises `BadInput` for one that cannot be so."""
        what, name = row.get("what", ""), one_form(of_cell(row.get("name", "")))
        if what not in _WHAT:
            raise BadInput("what", what, among(_WHAT))
        quantity = count(row.get("quantity") or "1", "quantity", least=0)
        if what in (JOB, REVISION):
            self._of_job(what, name)
        elif what == PIECE:
            self._piece(name, quantity)
        elif what == SPOILED:
            self._spoiled(name, quantity, row.get("length", ""))
        else:
            self._bar(what, name, quantity, row)

    def _of_job(self, what: str, name: str) -> None:
        own = self.job.head.name if what == JOB else self.revision
        if name != one_form(own):
            raise BadInput(what, name, phrase("rest.other-job", own=own))

    def _piece(self, mark: str, quantity: int) -> None:
        self._known(mark)
        self.good[mark] = self.good.get(mark, 0) + quantity
        if self.good[mark] > self.asked[mark]:
            most = phrase("refuse.good-pieces", most=self.asked[mark])
            raise BadInput(phrase("what.good-pieces", mark=mark), self.good[mark], most)

    def _spoiled(self, mark: str, quantity: int, length: str) -> None:
        self._known(mark)
        left = positive_length(length, self.job.head.units, "length") if length else 0.0
        if quantity:
            self.spoiled.append(Spoiled(mark, quantity, left))

    def _known(self, mark: str) -> None:
        if mark not in self.asked:
            raise BadInput("mark", mark, _one_of(mark, self.asked))

    def _bar(self, what: str, name: str, quantity: int, row: Mapping[str, str]) -> None:
        length = positive_length(row.get("length", ""), self.job.head.units, "length")
        section = _section(name, self.job)
        grade = _grade(of_cell(row.get("grade", "")), section, self.job)
        bar = Stock(section, length, grade, quantity, 0.0 if what == LEFT else None)
        self.bars[what].append(bar if what == LEFT else _of_stock(bar, self.job))


def _section(name: str, job: Job) -> str:
    """The section as the job's bars call it, named as the job may name it."""
    found = job.sections.named(name, "name").name
    known = dict.fromkeys(section for section, _ in _grades(job))
    if found not in known:
        raise BadInput("name", name, phrase("refuse.no-such-section", sections=", ".join(known)))
    return found


def _grade(given: str, section: str, job: Job) -> str:
    """The grade of a row: as the job writes it, or the only one that the job has of this section."""
    known = list(dict.fromkeys(grade for one, grade in _grades(job) if one == section))
    if not given:
        if len(known) > 1:
            allowed = phrase("refuse.which-grade", section=section, grades=_listed(known))
            raise BadInput("grade", phrase("found.nothing"), allowed)
        return known[0]
    same = [grade for grade in known if plain(grade) == plain(given)]
    if not same:
        raise BadInput("grade", given, phrase("refuse.grade", section=section, grades=_listed(known)))
    return same[0]


def _grades(job: Job) -> Iterator[tuple[str, str]]:
    """Every section of the job's pieces and stock, with its grade."""
    yield from ((order.piece.section.name, order.grade) for order in job.pieces)
    yield from ((bar.section, bar.grade) for bar in job.stock)


def _of_stock(used: Stock, job: Job) -> Stock:
    """The bar used with the length that the job's stock gives it."""
    same = (bar for bar in job.stock if used.same_bar(bar))
    found = next(same, None)
    if found is None and job.rack is not None:  # a left-over, which the rack keeps count of
        return used
    if found is None:
        raise BadInput(USED, used.section, phrase("refuse.bar-used"))
    return attrs.evolve(used, length=found.length)


def _listed(grades: Iterable[str]) -> str:
    return all_of([grade or phrase("found.no-grade") for grade in grades])


def _one_of(mark: str, known: Mapping[str, int]) -> str:
    like = nearest(mark, known)
    return phrase("refuse.nearest-marks" if like else "refuse.marks", marks=", ".join(like or known))
