"""The rack's file: what lies on it, and every change of it as one transaction; knows SQLite.

A change is before or after, whenever a run is killed: SQLite's rollback journal holds that, and no write-ahead log is
used, which does not work on a shared folder. Two runs at once wait for each other by the locks of the file; on a
network folder that is as sure as the locks of that folder are.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut import Cut
from mitertool.rack.schema import MARK, STEPS
from mitertool.rack.values import ALL, BookedBar, Booking, Claim, Closed, Freed, RackBar, called
from mitertool.words import phrase

_WAITS: Final = 20.0
"""seconds that a run waits for another one at the same rack."""

_FIELDS: Final = (
    "section, grade, heat, length, square, left_miter, left_bevel, right_miter, right_bevel, place, date, bought"
)
_LYING: Final = f"""
    SELECT l.number, {", ".join("l." + name for name in _FIELDS.split(", "))},
        t.job, t.revision, t.plan, tb.number, tb.copy, c.job, c.revision, c.plan, cb.number, cb.copy
    FROM left_over l
    LEFT JOIN booked_bar tb ON tb.takes = l.number LEFT JOIN booking t ON t.id = tb.booking
    LEFT JOIN booked_bar cb ON cb.leaves = l.number LEFT JOIN booking c ON c.id = cb.booking
    WHERE l.removed = '' ORDER BY l.section, l.grade, l.length DESC, l.number"""

_LEFT_BY: Final = f"""
    SELECT number, {_FIELDS} FROM left_over WHERE number IN (
        SELECT leaves FROM closed_bar WHERE job = ? AND cut = 1 AND leaves IS NOT NULL
        UNION SELECT leaves FROM booked_bar JOIN booking ON booking.id = booked_bar.booking
        WHERE job = ? AND leaves IS NOT NULL) ORDER BY number"""

_BEGUN: Final = 2
"""How a closed bar is kept that was cut in part: neither what it took is there nor what it would have left."""

_INTO_CLOSED: Final = "INSERT INTO closed (job, revision, plan, work, bars"


class NumbersTaken(BadInput):
    """Numbers of left-overs that stand on a packet are those of others by now: it is made anew with the next ones."""


@attrs.frozen(eq=False)
class RackBook:
    """An open rack; `with RackBook.opened(path) as rack`."""

    path: Path
    file: sqlite3.Connection

    @classmethod
    @contextmanager
    def opened(cls, path: Path, new: bool = True) -> Iterator[Self]:
        """The rack of a file, made where there is none and `new` allows. Raises `BadInput` for any other file."""
        if not new and not path.exists():
            raise BadInput("rack", str(path), phrase("rack.none-there"))
        with _told(path):
            path.parent.mkdir(parents=True, exist_ok=True)
            file = sqlite3.connect(path, timeout=_WAITS, isolation_level=None)
            try:
                file.execute("PRAGMA foreign_keys = ON")
                _bring_up(file, path)
                yield cls(path, file)
            finally:
                file.close()

    @contextmanager
    def changing(self) -> Iterator[None]:
        """One change of the rack: all of it or, where the block is left by an error or killed, nothing."""
        with _told(self.path):
            self.file.execute("BEGIN IMMEDIATE")
            try:
                yield
            except BaseException:
                if self.file.in_transaction:  # a full disk has ended it already
                    self.file.execute("ROLLBACK")
                raise
            self.file.execute("COMMIT")

    def lying(self) -> tuple[RackBar, ...]:
        """Everything on the rack, booked or not, by section and grade, the longest first."""
        with _told(self.path):
            return tuple(map(_bar, self.file.execute(_LYING)))

    def booking(self, job: str, revision: str) -> Booking | None:
        """What a job and revision has booked."""
        asked = "SELECT id, job, revision, plan, date, work FROM booking WHERE job = ? AND revision = ?"
        row = self.file.execute(asked, (job, revision)).fetchone()
        if row is None:
            return None
        lying = {bar.number: bar for bar in self.lying()}
        asked = "SELECT number, copy, takes, leaves, section, grade, heat, length FROM booked_bar WHERE booking = ?"
        bars = tuple(_booked_bar(one, lying) for one in self.file.execute(asked, row[:1]))
        return Booking(row[1], row[2], row[3], row[4], bars, row[5])

    def left_by(self, job: str) -> tuple[RackBar, ...]:
        """Every left-over that bars of a job are to leave, or left, whatever became of it since."""
        with _told(self.path):
            rows = self.file.execute(_LEFT_BY, (job, job)).fetchall()
        return tuple(_bar((*row, *(None,) * 10)) for row in rows)

    def left_as_cut(self, job: str) -> tuple[tuple[str, str, int], ...]:
        """What lies there that bars of a job left which were told as cut: revision, bar and number of each."""
        asked = """
            SELECT revision, c.number, copy, l.number FROM closed_bar c JOIN left_over l ON l.number = c.leaves
            WHERE job = ? AND cut = 1 AND removed = '' ORDER BY l.number"""
        with _told(self.path):
            rows = self.file.execute(asked, (job,)).fetchall()
        return tuple((revision, f"{number}.{copy}", lying) for revision, number, copy, lying in rows)

    def bookings(self) -> tuple[Booking, ...]:
        """All that is booked and not given back, the oldest first."""
        with _told(self.path):
            whose = self.file.execute("SELECT job, revision FROM booking ORDER BY id").fetchall()
            return tuple(found for one in whose for found in [self.booking(*one)] if found)

    def closed(self) -> tuple[Closed, ...]:
        """The bookings of which something was cut when they were given back, the oldest first."""
        with _told(self.path):
            rows = self.file.execute("SELECT job, revision, plan, work, bars FROM closed ORDER BY rowid")
            return tuple(
                Closed(job, revision, plan, work, tuple(bars.split(", "))) for job, revision, plan, work, bars in rows
            )

    def add(self, bars: Iterable[RackBar]) -> tuple[int, ...]:
        """Put left-overs on the rack, inside a change; the numbers that they have there."""
        return tuple(self._add(bar) for bar in bars)

    def _add(self, bar: RackBar) -> int:
        values: list[Any] = [bar.section, bar.grade, bar.heat, bar.length, bar.square]
        values += [bar.left.miter, bar.left.bevel, bar.right.miter, bar.right.bevel, bar.place, bar.date, bar.bought]
        into, marks = _FIELDS, ", ".join("?" * len(values))
        if bar.number:
            into, marks, values = f"{into}, number", f"{marks}, ?", [*values, bar.number]
        number = self.file.execute(f"INSERT INTO left_over ({into}) VALUES ({marks})", values).lastrowid
        return int(number or 0)

    def note(self, numbers: Sequence[int], told: Mapping[str, str]) -> None:
        """Say the heat, the place or the date of left-overs anew, inside a change.

        `told` are texts by these names. Raises `BadInput` where one is not there.
        """
        lying = {bar.number for bar in self.lying()}
        for number in numbers:
            if number not in lying:
                raise BadInput("left-over", number, phrase("rack.not-there"))
            for name in ("heat", "place", "date"):
                if name in told:
                    self.file.execute(f"UPDATE left_over SET {name} = ? WHERE number = ?", (told[name], number))

    def remove(self, numbers: Sequence[int], why: str) -> None:
        """Take left-overs off the rack, inside a change. Raises `BadInput` where one is not there or is booked."""
        self._free(numbers)
        for number in numbers:
            self.file.execute("UPDATE left_over SET removed = ? WHERE number = ?", (why, number))

    def book(self, booking: Booking) -> bool:
        """Book what a plan takes and put there what it leaves, inside a change; False where it is so booked already.

        Raises `BadInput` where the job and revision has booked another plan, where it, or another plan of the same
        pieces of the job, was closed as cut, or where something is not there or booked; `NumbersTaken` where what it
        leaves has numbers that another run has given away meanwhile.
        """
        self.refuse_cut(booking)
        before = self.booking(booking.job, booking.revision)
        if before is not None:
            if before.plan == booking.plan:
                return False
            raise BadInput("booking", called(booking.job, booking.revision), _differs(before, booking))
        self._free(booking.takes)
        self._still_free([bar.leaves.number for bar in booking.bars if bar.leaves and bar.leaves.number])
        self._write(booking, [self._add(bar.leaves) if bar.leaves else None for bar in booking.bars])
        return True

    def numbers_for(self, booking: Booking) -> tuple[int, ...]:
        """The numbers of what a plan leaves: those that it has, else the next ones.

        These are its own when it is booked; until then another run may get them.
        """
        with _told(self.path):
            before = self.booking(booking.job, booking.revision)
            if before is not None and before.plan == booking.plan:
                return tuple(bar.leaves.number for bar in before.bars if bar.leaves)
            wanted = sum(bar.leaves is not None for bar in booking.bars)
            return tuple(range(self._last + 1, self._last + wanted + 1))

    @property
    def _last(self) -> int:
        """The last number that was given away."""
        row = self.file.execute("SELECT seq FROM sqlite_sequence WHERE name = 'left_over'").fetchone()
        return int(row[0]) if row else 0

    def _still_free(self, numbers: Sequence[int]) -> None:
        """Raise `NumbersTaken` where one of the numbers was given away."""
        if numbers and min(numbers) <= self._last:
            raise NumbersTaken("rack", str(self.path), phrase("rack.numbers-taken"))

    def refuse_cut(self, booking: Booking) -> None:
        """Raise `BadInput` where the job and revision was booked and closed as cut, or the same pieces of the job."""
        whose, work = (booking.job, booking.revision), booking.work
        for one in self.closed():
            if (one.job, one.revision) == whose or (one.job == booking.job and work and one.work == work):
                told = phrase("rack.cut-already", bars=", ".join(one.bars))
                raise BadInput("booking", called(one.job, one.revision), told)

    def restore(self, bars: Iterable[RackBar], bookings: Iterable[Booking], closed: Iterable[Closed] = ()) -> None:
        """Left-overs and bookings as an earlier rack had them, inside a change. Raises `BadInput` for a second one."""
        known = {(one.job, one.revision) for one in self.closed()}
        rows = [_closed_row(one) for one in closed if (one.job, one.revision) not in known]
        self.file.executemany(f"{_INTO_CLOSED}) VALUES (?, ?, ?, ?, ?)", rows)
        self.add(bars)
        for booking in bookings:
            if self.booking(booking.job, booking.revision):
                raise BadInput("booking", called(booking.job, booking.revision), phrase("rack.booked-here"))
            self._write(booking, [bar.leaves.number if bar.leaves else None for bar in booking.bars])

    def _write(self, booking: Booking, leaves: Sequence[int | None]) -> None:
        asked = "INSERT INTO booking (job, revision, plan, date, work) VALUES (?, ?, ?, ?, ?)"
        values = (booking.job, booking.revision, booking.plan, booking.date, booking.work)
        own = self.file.execute(asked, values).lastrowid
        for bar, left in zip(booking.bars, leaves, strict=True):
            row = (own, bar.number, bar.copy, bar.takes or None, left, *_steel(bar))
            self.file.execute("INSERT INTO booked_bar VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", row)

    def free(
        self,
        job: str,
        revision: str,
        cut: Sequence[str] = (),
        bought: Sequence[str] = (),
        begun: Sequence[str] = (),
    ) -> Freed:
        """Undo a booking, inside a change, but for the bars that were `cut`, by their numbers or "all".

        What the others took lies free again, and what they would have left is gone; those of new steel that are
        `bought` go on the rack whole. Of the bars that were cut what they took is used up and what they left lies
        there, and the booking is kept as closed. Those that are `begun` are cut in part: what they took is used up,
        and what they would have left is not there. Raises `BadInput` where there is no such booking, or another job has
        booked what would be gone.
        """
        found = self.booking(job, revision)
        if found is None:
            known = ", ".join(one.called for one in self.bookings()) or phrase("found.nothing")
            raise BadInput("booking", called(job, revision), phrase("rack.no-booking", known=known))
        half = _among(found, begun, "--begun")
        was_cut = [bar for bar in _among(found, cut, "--cut") if bar not in half]
        others = [bar for bar in found.bars if bar not in was_cut and bar not in half]
        in_yard = [bar for bar in _among(found, bought, "--bought") if bar.new and bar in others]
        gone = [bar.leaves.number for bar in (*others, *half) if bar.leaves]
        self._free(gone)
        self._forget(job, revision)
        self.remove(gone, phrase("rack.never-cut"))
        used = [bar.takes for bar in (*was_cut, *half) if bar.takes]
        self.remove(used, phrase("rack.cut-up", job=job, revision=revision))
        new = tuple(bar for bar in others if bar.new and bar not in in_yard)
        bars = [attrs.evolve(bar.new, bought=job) for bar in in_yard if bar.new]
        numbers = self.add(bars)
        if was_cut or half:
            self._close(found, was_cut, half, dict(zip(in_yard, numbers, strict=True)))
        added = tuple(attrs.evolve(bar, number=number) for bar, number in zip(bars, numbers, strict=True))
        free = tuple(bar.takes for bar in others if bar.takes)
        return Freed(found, tuple(was_cut), free, new, added, tuple(half))

    def _close(
        self,
        booking: Booking,
        cut: Sequence[BookedBar],
        begun: Sequence[BookedBar],
        added: Mapping[BookedBar, int],
    ) -> None:
        """Keep a booking as closed, with all that its bars were."""
        bars = tuple(booking.name(bar) for bar in booking.bars if bar in cut or bar in begun)
        whose = (booking.job, booking.revision)
        row = _closed_row(Closed(*whose, booking.plan, booking.work, bars))
        self.file.execute(f"{_INTO_CLOSED}, date) VALUES (?, ?, ?, ?, ?, ?)", (*row, booking.date))
        for bar in booking.bars:
            told = (*whose, bar.number, bar.copy, bar.takes or None, bar.leaves.number if bar.leaves else None)
            how = _BEGUN if bar in begun else int(bar in cut)
            more = (*_steel(bar), how, added.get(bar))
            self.file.execute("INSERT INTO closed_bar VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", (*told, *more))

    def reopen(self, job: str, revision: str) -> Booking:
        """Take the closing of a booking back, inside a change: all lies there and is booked as it was before.

        Raises `BadInput` where none is closed, or where something that it gave back or left is booked or gone since.
        """
        asked = "SELECT plan, work, date FROM closed WHERE job = ? AND revision = ?"
        whose = self.file.execute(asked, (job, revision)).fetchone()
        if whose is None:
            known = ", ".join(called(one.job, one.revision) for one in self.closed()) or phrase("found.nothing")
            raise BadInput("booking", called(job, revision), phrase("rack.none-closed", known=known))
        asked = "SELECT * FROM closed_bar WHERE job = ? AND revision = ? ORDER BY rowid"
        rows = [_closed_bar(row[2:]) for row in self.file.execute(asked, (job, revision))]
        if not rows:
            raise BadInput("booking", called(job, revision), phrase("rack.closed-elsewhere"))
        self._free([number for row in rows for number in row.there])
        self.remove([row.added for row in rows if row.added], phrase("rack.not-bought"))
        for number in (number for row in rows for number in row.gone):
            self.file.execute("UPDATE left_over SET removed = '' WHERE number = ?", (number,))
        for table in ("closed", "closed_bar"):
            self.file.execute(f"DELETE FROM {table} WHERE job = ? AND revision = ?", (job, revision))
        booking = Booking(job, revision, whose[0], whose[2], tuple(row.bar for row in rows), whose[1])
        self._write(booking, [row.leaves for row in rows])
        return booking

    def _forget(self, job: str, revision: str) -> None:
        """Take a booking out of the file, and nothing of what it took and leaves."""
        self.file.execute(
            "DELETE FROM booked_bar WHERE booking IN (SELECT id FROM booking WHERE job = ? AND revision = ?)",
            (job, revision),
        )
        self.file.execute("DELETE FROM booking WHERE job = ? AND revision = ?", (job, revision))

    def _free(self, numbers: Sequence[int]) -> None:
        """Raise `BadInput` for the first of the numbers that does not lie there free."""
        lying = {bar.number: bar for bar in self.lying()}
        for number in numbers:
            if number not in lying:
                raise BadInput("left-over", number, phrase("rack.not-there"))
            taken = lying[number].taken
            if taken:
                raise BadInput("left-over", number, phrase("rack.taken", job=taken.called))


def _among(booking: Booking, named: Sequence[str], what: str) -> list[BookedBar]:
    """The bars of a booking that are named. Raises `BadInput` for a name that none has."""
    for one in named:
        if one != ALL and not any(bar.is_among([one]) for bar in booking.bars):
            known = ", ".join(map(booking.name, booking.bars))
            raise BadInput(what, one, phrase("rack.no-such-bar", bars=known))
    return [bar for bar in booking.bars if bar.is_among(named)]


@attrs.frozen
class _ClosedBar:
    """A bar of a closed booking: what it was, the numbers of what it left and of what was put there whole; 0: none.

    `cut` is 1 for one that was, `_BEGUN` for one that was cut in part, else 0.
    """

    bar: BookedBar
    leaves: int | None
    cut: int
    added: int

    @property
    def there(self) -> tuple[int, ...]:
        """The left-overs that lie free since it was closed."""
        own = {0: self.bar.takes, 1: self.leaves}.get(self.cut)
        return tuple(number for number in (own, self.added) if number)

    @property
    def gone(self) -> tuple[int, ...]:
        """The left-overs that are off the rack since then."""
        took, left = self.cut != 0, self.cut != 1
        return tuple(number for number in (self.bar.takes * took, (self.leaves or 0) * left) if number)


def _closed_bar(row: Sequence[Any]) -> _ClosedBar:
    number, copy, takes, leaves, *steel, cut, added = row
    return _ClosedBar(_booked_bar((number, copy, takes, None, *steel), {}), leaves, cut, added or 0)


def _steel(bar: BookedBar) -> tuple[str, str, str, float]:
    """What a bar of new steel is, as the file has it."""
    return (bar.new.section, bar.new.grade, bar.new.heat, bar.new.length) if bar.new else ("", "", "", 0.0)


def _closed_row(one: Closed) -> tuple[str, ...]:
    return one.job, one.revision, one.plan, one.work, ", ".join(one.bars)


def _booked_bar(row: Sequence[Any], lying: Mapping[int, RackBar]) -> BookedBar:
    number, copy, takes, leaves, section, grade, heat, length = row
    new = RackBar(section, length, length, grade, heat) if section else None
    return BookedBar(number, copy, takes or 0, lying.get(leaves), new)


def _bar(row: Sequence[Any]) -> RackBar:
    number, section, grade, heat, length, square, lm, lb, rm, rb, place, date, bought, *by = row
    left, right = Cut(lm, lb), Cut(rm, rb)
    taken, came = (Claim(*claim) if claim[0] is not None else None for claim in (by[:5], by[5:]))
    return RackBar(section, length, square, grade, heat, left, right, place, date, number, taken, came, bought)


def _differs(before: Booking, booking: Booking) -> str:
    """What another plan of the same job and revision takes and leaves otherwise."""
    words = [", ".join(map(str, one.takes)) or phrase("found.nothing") for one in (before, booking)]
    lengths = [", ".join(f"{bar.leaves.length:g}" for bar in one.bars if bar.leaves) for one in (before, booking)]
    told = {"took": words[0], "takes": words[1], "job": before.job, "revision": before.revision}
    told |= {"left": lengths[0] or phrase("found.nothing"), "leaves": lengths[1] or phrase("found.nothing")}
    return phrase("rack.other-plan", **told)


def _bring_up(file: sqlite3.Connection, path: Path) -> None:
    """The tables of the newest version. Raises `BadInput` for a file that is no rack, or a newer one."""
    mark, version = (file.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version"))
    if version == len(STEPS) and mark == MARK:
        return
    tables = file.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if mark != MARK and tables:
        raise BadInput("rack", str(path), phrase("rack.other-file"))
    if version > len(STEPS):
        raise BadInput("rack", str(path), phrase("rack.newer", found=version, known=len(STEPS)))
    file.execute("BEGIN IMMEDIATE")
    version = file.execute("PRAGMA user_version").fetchone()[0]  # another run may have been first
    for statement in (one for step in STEPS[version:] for one in step.split(";") if one.strip()):
        file.execute(statement)
    file.execute(f"PRAGMA application_id = {MARK}")
    file.execute(f"PRAGMA user_version = {len(STEPS)}")
    file.execute("COMMIT")


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """What SQLite raises, as a sentence."""
    try:
        yield
    except sqlite3.OperationalError as error:
        locked = "locked" in str(error)
        raise BadInput("rack", str(path), phrase("rack.locked" if locked else "rack.unusable", why=error)) from error
    except sqlite3.DatabaseError as error:
        raise BadInput("rack", str(path), phrase("rack.damaged", why=error)) from error
    except OSError as error:
        raise BadInput("rack", str(path), phrase("rack.unusable", why=error.strerror)) from error
