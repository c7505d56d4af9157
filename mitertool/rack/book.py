"""The rack's file: what lies on it, and every change of it as one transaction; knows SQLite.

A change is before or after, whenever a run is killed: SQLite's rollback journal holds that, and no write-ahead log is
used, which does not work on a shared folder. Two runs at once wait for each other by the locks of the file; on a
network folder that is as sure as the locks of that folder are.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final, Self

import attrs

from mitertool.base.errors import BadInput
from mitertool.cut import Cut
from mitertool.rack.schema import MARK, STEPS
from mitertool.rack.values import BookedBar, Booking, Claim, RackBar, called
from mitertool.words import phrase

_WAITS: Final = 20.0
"""seconds that a run waits for another one at the same rack."""

_FIELDS: Final = "section, grade, heat, length, square, left_miter, left_bevel, right_miter, right_bevel, place, date"
_LYING: Final = f"""
    SELECT l.number, {", ".join("l." + name for name in _FIELDS.split(", "))},
        t.job, t.revision, t.plan, tb.number, tb.copy, c.job, c.revision, c.plan, cb.number, cb.copy
    FROM left_over l
    LEFT JOIN booked_bar tb ON tb.takes = l.number LEFT JOIN booking t ON t.id = tb.booking
    LEFT JOIN booked_bar cb ON cb.leaves = l.number LEFT JOIN booking c ON c.id = cb.booking
    WHERE l.removed = '' ORDER BY l.section, l.grade, l.length DESC, l.number"""


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
                self.file.execute("ROLLBACK")
                raise
            self.file.execute("COMMIT")

    def lying(self) -> tuple[RackBar, ...]:
        """Everything on the rack, booked or not, by section and grade, the longest first."""
        with _told(self.path):
            return tuple(map(_bar, self.file.execute(_LYING)))

    def booking(self, job: str, revision: str) -> Booking | None:
        """What a job and revision has booked."""
        asked = "SELECT id, job, revision, plan, date FROM booking WHERE job = ? AND revision = ?"
        row = self.file.execute(asked, (job, revision)).fetchone()
        if row is None:
            return None
        lying = {bar.number: bar for bar in self.lying()}
        bars = self.file.execute("SELECT number, copy, takes, leaves FROM booked_bar WHERE booking = ?", row[:1])
        found = (BookedBar(number, copy, takes or 0, lying.get(leaves)) for number, copy, takes, leaves in bars)
        return Booking(row[1], row[2], row[3], row[4], tuple(found))

    def add(self, bars: Iterable[RackBar]) -> tuple[int, ...]:
        """Put left-overs on the rack, inside a change; the numbers that they have there."""
        return tuple(self._add(bar) for bar in bars)

    def _add(self, bar: RackBar) -> int:
        values: list[Any] = [bar.section, bar.grade, bar.heat, bar.length, bar.square]
        values += [bar.left.miter, bar.left.bevel, bar.right.miter, bar.right.bevel, bar.place, bar.date]
        into, marks = _FIELDS, ", ".join("?" * len(values))
        if bar.number:
            into, marks, values = f"{into}, number", f"{marks}, ?", [*values, bar.number]
        number = self.file.execute(f"INSERT INTO left_over ({into}) VALUES ({marks})", values).lastrowid
        return int(number or 0)

    def remove(self, numbers: Sequence[int], why: str) -> None:
        """Take left-overs off the rack, inside a change. Raises `BadInput` where one is not there or is booked."""
        self._free(numbers)
        for number in numbers:
            self.file.execute("UPDATE left_over SET removed = ? WHERE number = ?", (why, number))

    def book(self, booking: Booking) -> bool:
        """Book what a plan takes and put there what it leaves, inside a change; False where it is so booked already.

        Raises `BadInput` where the job and revision has booked another plan, or something is not there or booked.
        """
        before = self.booking(booking.job, booking.revision)
        if before is not None:
            if before.plan == booking.plan:
                return False
            raise BadInput("booking", called(booking.job, booking.revision), _differs(before, booking))
        self._free(booking.takes)
        self._write(booking, [self._add(bar.leaves) if bar.leaves else None for bar in booking.bars])
        return True

    def restore(self, bars: Iterable[RackBar], bookings: Iterable[Booking]) -> None:
        """Left-overs and bookings as an earlier rack had them, inside a change. Raises `BadInput` for a second one."""
        self.add(bars)
        for booking in bookings:
            if self.booking(booking.job, booking.revision):
                raise BadInput("booking", called(booking.job, booking.revision), phrase("rack.booked-here"))
            self._write(booking, [bar.leaves.number if bar.leaves else None for bar in booking.bars])

    def _write(self, booking: Booking, leaves: Sequence[int | None]) -> None:
        asked = "INSERT INTO booking (job, revision, plan, date) VALUES (?, ?, ?, ?)"
        own = self.file.execute(asked, (booking.job, booking.revision, booking.plan, booking.date)).lastrowid
        for bar, left in zip(booking.bars, leaves, strict=True):
            values = (own, bar.number, bar.copy, bar.takes or None, left)
            self.file.execute("INSERT INTO booked_bar VALUES (?, ?, ?, ?, ?)", values)

    def free(self, job: str, revision: str, cut: Sequence[str] = ()) -> Booking:
        """Undo a booking, inside a change, but for the bars that were `cut`, by their numbers; what it was.

        What the others took lies free again, and what they would have left is gone. Of the bars that were cut what
        they took is used up and what they left stays. Raises `BadInput` where there is no such booking, or another
        job has booked what would be gone.
        """
        found = self.booking(job, revision)
        if found is None:
            known = (called(*whose) for whose in self.file.execute("SELECT job, revision FROM booking"))
            raise BadInput("booking", called(job, revision), phrase("rack.no-booking", known=", ".join(known)))
        unknown = [one for one in cut if not any(bar.is_among([one]) for bar in found.bars)]
        if unknown:
            raise BadInput(
                "--cut", unknown[0], phrase("rack.no-such-bar", bars=", ".join(b.called for b in found.bars))
            )
        was_cut = [bar for bar in found.bars if bar.is_among(cut)]
        gone = [bar.leaves.number for bar in found.bars if bar.leaves and bar not in was_cut]
        self._free(gone)
        self.file.execute(
            "DELETE FROM booked_bar WHERE booking IN (SELECT id FROM booking WHERE job = ? AND revision = ?)",
            (job, revision),
        )
        self.file.execute("DELETE FROM booking WHERE job = ? AND revision = ?", (job, revision))
        self.remove(gone, phrase("rack.never-cut"))
        self.remove([bar.takes for bar in was_cut if bar.takes], phrase("rack.cut-up", job=job, revision=revision))
        return found

    def _free(self, numbers: Sequence[int]) -> None:
        """Raise `BadInput` for the first of the numbers that does not lie there free."""
        lying = {bar.number: bar for bar in self.lying()}
        for number in numbers:
            if number not in lying:
                raise BadInput("left-over", number, phrase("rack.not-there"))
            taken = lying[number].taken
            if taken:
                raise BadInput("left-over", number, phrase("rack.taken", job=taken.called))


def _bar(row: Sequence[Any]) -> RackBar:
    number, section, grade, heat, length, square, lm, lb, rm, rb, place, date, *by = row
    left, right = Cut(lm, lb), Cut(rm, rb)
    taken, came = (Claim(*claim) if claim[0] is not None else None for claim in (by[:5], by[5:]))
    return RackBar(section, length, square, grade, heat, left, right, place, date, number, taken, came)


def _differs(before: Booking, booking: Booking) -> str:
    """What another plan of the same job and revision takes and leaves otherwise."""
    words = [", ".join(map(str, one.takes)) or phrase("rack.nothing") for one in (before, booking)]
    lengths = [", ".join(f"{bar.leaves.length:g}" for bar in one.bars if bar.leaves) for one in (before, booking)]
    told = {"took": words[0], "takes": words[1]}
    told |= {"left": lengths[0] or phrase("rack.nothing"), "leaves": lengths[1] or phrase("rack.nothing")}
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
