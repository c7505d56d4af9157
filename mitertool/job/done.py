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
from mitertool.words import phrase

COLUMNS: Final = ("what", "name", "length", "quantity", "grade")
_NEEDED: Final = ("what", "name", "quantity")
PIECE, USED, LEFT = _WHAT = ("piece", "bar used", "length left")


def read_done(path: Path, job: Job) -> Done:
    """Read a CSV with a heading row: what, name, length, quantity, grade; bare lengths are in the job's units.

    "piece" counts good pieces of a mark; "bar used" names a section and the length of whole bars gone; "length left"
    a section and a length of one of them that may still be cut. A section may be named in any way that a job may name
    it; a grade that is not told is the only one that the job has of it. Raises `BadInput` naming file and line.
    """
    good: dict[str, int] = {}
    bars: dict[str, list[Stock]] = {USED: [], LEFT: []}
    for line, row in _rows(path):
        try:
            _read_row(row, job, good, bars)
        except BadInput as error:
            raise error.at(path.name, phrase("where.line", line=line)) from None
    return Done(good, tuple(bars[USED]), tuple(bars[LEFT]))


def _rows(path: Path) -> Iterator[tuple[int, dict[str, str]]]:
    """Every row that holds anything, by column, with its line."""
    try:
        table = list(csv.reader(path.read_text(encoding="utf-8-sig").splitlines()))
    except OSError as error:
        raise BadInput(phrase("what.file"), str(path), phrase("refuse.unread", why=error.strerror)) from error
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


def _read_row(row: Mapping[str, str], job: Job, good: dict[str, int], bars: Mapping[str, list[Stock]]) -> None:
    what, name = row.get("what", ""), one_form(of_cell(row.get("name", "")))
    if what not in _WHAT:
        raise BadInput("what", what, among(_WHAT))
    quantity = count(row.get("quantity") or "1", "quantity", least=0)
    if what == PIECE:
        good[name] = good.get(name, 0) + quantity
        _check_good(name, good[name], job)
        return
    length = positive_length(row.get("length", ""), job.head.units, "length")
    section = _section(name, job)
    grade = _grade(of_cell(row.get("grade", "")), section, job)
    bar = Stock(section, length, grade, quantity, 0.0 if what == LEFT else None)
    bars[what].append(bar if what == LEFT else _of_stock(bar, job))


def _check_good(mark: str, good: int, job: Job) -> None:
    asked = dict(pair for order in job.pieces for pair in order.counts)
    if mark not in asked:
        raise BadInput("mark", mark, _one_of(mark, asked))
    if good > asked[mark]:
        raise BadInput(phrase("what.good-pieces", mark=mark), good, phrase("refuse.good-pieces", most=asked[mark]))


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
    same = [grade for grade in known if _plain(grade) == _plain(given)]
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
    if found is None:
        raise BadInput(USED, used.section, phrase("refuse.bar-used"))
    return attrs.evolve(used, length=found.length)


def _plain(grade: str) -> str:
    return "".join(grade.split()).casefold()


def _listed(grades: Iterable[str]) -> str:
    return all_of([grade or phrase("found.no-grade") for grade in grades])


def _one_of(mark: str, known: Mapping[str, int]) -> str:
    like = nearest(mark, known)
    return phrase("refuse.nearest-marks" if like else "refuse.marks", marks=", ".join(like or known))
