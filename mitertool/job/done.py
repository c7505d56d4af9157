"""done.csv: what of a job is already cut, so that the rest can be planned; knows the file, the job and nest."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

import attrs

from mitertool.base.cells import of_cell
from mitertool.base.errors import BadInput
from mitertool.base.letters import one_form
from mitertool.base.names import all_of, among, nearest, refuse_unknown_keys
from mitertool.base.tolerances import SAME_LEFT_OVER
from mitertool.job.before import OldPacket
from mitertool.job.model import Job
from mitertool.job.pieces_done import BlanksDone, PiecesDone, Spoiled
from mitertool.nest import Done, Stock
from mitertool.quantity import count, positive_length
from mitertool.quantity.keys import exact
from mitertool.quantity.tables import decoded, read_whole
from mitertool.rack.bars import plain
from mitertool.rack.values import LONGEST
from mitertool.words import phrase

COLUMNS: Final = ("what", "name", "length", "quantity", "grade", "heat")
ENTRY: Final = "entry"
"""A column more of what the program writes: rows of one number were written at once."""

_NEEDED: Final = ("what", "name", "quantity")
PIECE, SPOILED, RECUT, USED, LEFT = ("piece", "spoiled", "recut", "bar used", "length left")
BAR, BEGUN = ("bar cut", "bar begun")
JOB, REVISION = ("job", "revision")
LATER: Final[Mapping[str, str]] = {"left": "left later", "right": "right later"}
"""Blanks, by the end that is cut later."""

SECOND, OFF = ("second end", "not good")
_END: Final = {what: end for end, what in LATER.items()}
_WHAT: Final = (PIECE, SPOILED, RECUT, USED, LEFT, BAR, BEGUN, *_END, SECOND, OFF, JOB, REVISION)


@attrs.frozen
class WorkDone:
    """What was done of a job: bars gone and left of all its revisions, and the pieces of each; `revision` is its own.

    `content` is the file that told it.
    """

    revision: str = ""
    used: tuple[Stock, ...] = ()
    left: tuple[Stock, ...] = ()
    pieces: Mapping[str, PiecesDone] = attrs.field(factory=dict, hash=False)
    content: bytes = b""

    def of(self, revision: str) -> PiecesDone:
        """The pieces of a revision."""
        return self.pieces.get(revision, PiecesDone())

    def has_left(self, section: str, length: float) -> bool:
        """Whether so long a length (mm) of a section is left of a bar before."""
        return any(one.section == section and abs(one.length - length) <= SAME_LEFT_OVER for one in self.left)

    @property
    def done(self) -> Done:
        """What a search for bars leaves out, by the marks of the job's own revision."""
        good = {mark: count for mark, count in self.of(self.revision).good.items() if count}
        return Done(good, self.used, self.left)


def read_work(
    path: Path, job: Job, before: Sequence[OldPacket] = (), content: bytes | None = None, alone: bool = False
) -> WorkDone:
    """Read a CSV with a heading row: what, name, length, quantity, grade, heat; bare lengths are in the job's units.

    "piece" counts good pieces of a mark, "spoiled" those that went wrong, where a length is told with the longest
    line that is left, and "recut" those of either that were made into others since; "bar used" names a section and
    the length of whole bars gone; "length left" a section and a length of one of them that may still be cut; "bar
    cut" is the number of a bar on the sheet, of which the rows beside it tell, "bar begun" of one that is cut in
    part. "left later" and "right later" count blanks of a mark with their length, whose other end is finished, and
    "second end" those of them that are blanks no more. "not good" takes pieces back that were counted as good.
    "job" says of which job it is told, "revision" of which revision all that follows is; before that it is of the
    packet `before`, the last of them, or else of the job's own. A section may be named in any way that a job may
    name it; a grade that is not told is the only one that the job has of it. The heat is that of pieces and blanks.

    `content` is what stands in the file, where it is not there yet. `alone`: rows of revisions that are not known are
    passed over. Raises `BadInput` naming file and line.
    """
    content = read_whole(path) if content is None else content
    known = {job.head.revision: dict(pair for order in job.pieces for pair in order.counts)}
    known |= {old.revision: old.asked for old in before}
    reader = _Reader(job, known, before[-1].revision if before else job.head.revision, alone)
    for line, row in rows_of_done(path, content):
        try:
            reader.read(row)
        except BadInput as error:
            raise error.at(path.name, phrase("where.line", line=line)) from None
    left = tuple(one for one in reader.bars[LEFT] if one.quantity)
    return WorkDone(job.head.revision, tuple(reader.bars[USED]), left, reader.pieces, content)


def rows_of_done(path: Path, content: bytes) -> Iterator[tuple[int, dict[str, str]]]:
    """Every row of such a table that holds anything, by column, with its line. Raises `BadInput` for another one."""
    try:
        table = list(csv.reader(decoded(path.name, content).splitlines()))
    except csv.Error as error:
        raise BadInput(phrase("what.file"), str(path), phrase("refuse.no-csv", why=error)) from error
    head = [cell.strip() for cell in table[0]] if table else []
    if not set(_NEEDED) <= set(head):
        needed = phrase("refuse.columns", names=", ".join(_NEEDED))
        raise BadInput(phrase("what.columns"), ", ".join(head), needed, (path.name, phrase("where.line", line=1)))
    try:
        refuse_unknown_keys(phrase("what.column"), head, (*COLUMNS, ENTRY))
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
    """What the rows told so far, and what they are held against: the marks of every known revision, with how many."""

    job: Job
    known: Mapping[str, Mapping[str, int]]
    revision: str
    alone: bool
    pieces: dict[str, PiecesDone] = attrs.field(factory=dict)
    bars: dict[str, list[Stock]] = attrs.field(factory=lambda: {USED: [], LEFT: []})

    def read(self, row: Mapping[str, str]) -> None:
        """Take a row in. Raises `BadInput` for one that cannot be so."""
        what, name = row.get("what", ""), one_form(of_cell(row.get("name", "")))
        if what not in _WHAT:
            raise BadInput("what", what, among(_WHAT))
        quantity = count(row.get("quantity") or "1", "quantity", least=0)
        if what == JOB:
            if name != one_form(self.job.head.name):
                raise BadInput(what, name, phrase("rest.other-job", own=self.job.head.name))
        elif what == REVISION:
            self._turn_to(name)
        elif what in (USED, LEFT):
            self._bar(what, name, quantity, row)
        elif self.revision in self.known and quantity:
            told = row.get("length", "")
            length = positive_length(told, self.job.head.units, "length") if told else 0.0
            found = self._with(what, name, quantity, length)
            heat = one_form(of_cell(row.get("heat", "")))
            self.pieces[self.revision] = found.of_heat(name, heat) if what in (PIECE, SPOILED, *_END) else found

    def _turn_to(self, revision: str) -> None:
        known = {one_form(one): one for one in self.known}
        if revision not in known and not self.alone:
            shown = " ".join(dict.fromkeys(known.values()))
            raise BadInput(
                REVISION, revision, phrase("rest.other-revision", known=shown or phrase("rest.revision-none"))
            )
        self.revision = known.get(revision, revision)

    def _with(self, what: str, name: str, quantity: int, length: float) -> PiecesDone:
        """What there is of the pieces of the revision with a row more. Raises `BadInput` where that cannot be."""
        so_far = self.pieces.get(self.revision, PiecesDone())
        if what in (BAR, BEGUN):
            return so_far.with_bar(name, begun=what == BEGUN)
        asked = self.known[self.revision]
        if name not in asked:
            raise BadInput("mark", name, _one_of(name, asked))
        if what == PIECE:
            return so_far.with_good(name, quantity, asked[name])
        if what in _END:
            if not length:
                raise BadInput("length", phrase("found.nothing"), phrase("rest.blank-length"))
            return so_far.with_blanks(BlanksDone(name, _END[what], length, quantity), asked[name])
        if what == SECOND:
            return so_far.without_blanks(name, quantity, length)
        if what == OFF:
            return so_far.without(Spoiled(name, quantity))
        if what == SPOILED:
            return so_far.with_spoiled(Spoiled(name, quantity, length))
        return so_far.without(Spoiled(name, quantity, length))

    def _bar(self, what: str, name: str, quantity: int, row: Mapping[str, str]) -> None:
        length = positive_length(row.get("length", ""), self.job.head.units, "length")
        section = _section(name, self.job)
        grade = _grade(of_cell(row.get("grade", "")), section, self.job)
        if what == LEFT and length > LONGEST:
            raise BadInput("length", exact(length), phrase("rest.left-too-long", most=f"{LONGEST:g}"))
        if what == LEFT:
            self.bars[LEFT].append(Stock(section, length, grade, quantity, 0.0))
            return
        more = self._gone_of_left(Stock(section, length, grade, quantity))
        if more:
            self.bars[USED].append(_of_stock(Stock(section, length, grade, more), self.job))

    def _gone_of_left(self, used: Stock) -> int:
        """How many of the bars gone are none of the lengths left before, of which those that are one are taken off."""
        more = used.quantity or 0
        for i, one in enumerate(self.bars[LEFT]):
            if one.group == used.group and abs(one.length - used.length) <= SAME_LEFT_OVER:
                taken = min(more, one.quantity or 0)
                self.bars[LEFT][i] = attrs.evolve(one, quantity=(one.quantity or 0) - taken)
                more -= taken
        return more


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
