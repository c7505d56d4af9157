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
from mitertool.base.names import nearest, refuse_unknown_keys
from mitertool.job.model import Job
from mitertool.nest import Done, Stock
from mitertool.quantity import count, positive_length

COLUMNS: Final = ("what", "name", "length", "quantity", "grade")
_NEEDED: Final = ("what", "name", "quantity")
_PIECE, _USED, _LEFT = _WHAT = ("piece", "bar used", "length left")


def read_done(path: Path, job: Job) -> Done:
    """Read a CSV with a heading row: what, name, length, quantity, grade; bare lengths are in the job's units.

    "piece" counts good pieces of a mark; "bar used" names a section and the length of whole bars gone; "length left"
    a section and a length of one of them that may still be cut. A section may be named in any way that a job may name
    it; a grade that is not told is the only one that the job has of it. Raises `BadInput` naming file and line.
    """
    good: dict[str, int] = {}
    bars: dict[str, list[Stock]] = {_USED: [], _LEFT: []}
    for line, row in _rows(path):
        try:
            _read_row(row, job, good, bars)
        except BadInput as error:
            raise error.at(path.name, f"line {line}") from None
    return Done(good, tuple(bars[_USED]), tuple(bars[_LEFT]))


def _rows(path: Path) -> Iterator[tuple[int, dict[str, str]]]:
    """Every row that holds anything, by column, with its line."""
    try:
        table = list(csv.reader(path.read_text(encoding="utf-8-sig").splitlines()))
    except OSError as error:
        raise BadInput("file", str(path), f"cannot be read: {error.strerror}") from error
    except (UnicodeDecodeError, csv.Error) as error:
        raise BadInput("file", str(path), f"is not a table in UTF-8: {error}") from error
    head = [cell.strip() for cell in table[0]] if table else []
    if not set(_NEEDED) <= set(head):
        needed = f"needed are {', '.join(_NEEDED)}; commas between them"
        raise BadInput("columns", ", ".join(head), needed, (path.name, "line 1"))
    try:
        refuse_unknown_keys("column", head, COLUMNS)
    except BadInput as error:
        raise error.at(path.name, "line 1") from None
    for line, cells in enumerate(table[1:], 2):
        if any(cell.strip() for cell in cells):
            if len(cells) > len(head):
                raise BadInput("cells", len(cells), f"as many as columns, {len(head)}", (path.name, f"line {line}"))
            yield line, dict(zip(head, (cell.strip() for cell in cells), strict=False))


def _read_row(row: Mapping[str, str], job: Job, good: dict[str, int], bars: Mapping[str, list[Stock]]) -> None:
    what, name = row.get("what", ""), one_form(of_cell(row.get("name", "")))
    if what not in _WHAT:
        raise BadInput("what", what, f"allowed: {', '.join(_WHAT)}")
    quantity = count(row.get("quantity") or "1", "quantity", least=0)
    if what == _PIECE:
        good[name] = good.get(name, 0) + quantity
        _check_good(name, good[name], job)
        return
    length = positive_length(row.get("length", ""), job.head.units, "length")
    section = _section(name, job)
    grade = _grade(of_cell(row.get("grade", "")), section, job)
    bar = Stock(section, length, grade, quantity, 0.0 if what == _LEFT else None)
    bars[what].append(bar if what == _LEFT else _of_stock(bar, job))


def _check_good(mark: str, good: int, job: Job) -> None:
    asked = dict(pair for order in job.pieces for pair in order.counts)
    if mark not in asked:
        raise BadInput("mark", mark, _one_of(mark, asked))
    if good > asked[mark]:
        raise BadInput(f"{mark}, good pieces", good, f"allowed: 0 to {asked[mark]}, as many as the job asks for")


def _section(name: str, job: Job) -> str:
    """The section as the job's bars call it, named as the job may name it."""
    found = job.sections.named(name, "name").name
    known = dict.fromkeys(section for section, _ in _grades(job))
    if found not in known:
        raise BadInput("name", name, f"the job has nothing of it; its sections are {', '.join(known)}")
    return found


def _grade(given: str, section: str, job: Job) -> str:
    """The grade of a row: as the job writes it, or the only one that the job has of this section."""
    known = list(dict.fromkeys(grade for one, grade in _grades(job) if one == section))
    if not given:
        if len(known) > 1:
            raise BadInput("grade", "nothing", f"the job has {section} of {_listed(known)}; say which")
        return known[0]
    same = [grade for grade in known if _plain(grade) == _plain(given)]
    if not same:
        raise BadInput("grade", given, f"the job has {section} of {_listed(known)}")
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
        raise BadInput("bar used", used.section, "name a bar that the job's stock has, and its length")
    return attrs.evolve(used, length=found.length)


def _plain(grade: str) -> str:
    return "".join(grade.split()).casefold()


def _listed(grades: Iterable[str]) -> str:
    return " and ".join(grade or "no grade" for grade in grades)


def _one_of(mark: str, known: Mapping[str, int]) -> str:
    like = nearest(mark, known)
    return f"the nearest marks are {', '.join(like)}" if like else f"the job has {', '.join(known)}"
