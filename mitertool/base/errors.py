"""The errors that mitertool raises, and the exit code each one ends in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final, Protocol, Self

from mitertool.words import phrase

_LONGEST_SHOWN: Final = 120
"""Characters of bad input that are repeated in a refusal; the rest is cut so that it stays one line."""


class MitertoolError(Exception):
    """Anything mitertool refuses; its text is one line for a person.

    Attributes: `exit_code`, the code a command line ends in.
    """

    exit_code = 2

    @property
    def lines(self) -> tuple[str, ...]:
        """What is told, a line each: one where not several things are told at once."""
        return (str(self),)


class Told(Protocol):
    """Words with lengths in them, which every reader has in units of his own."""

    def in_units(self, units: Any) -> str:
        """The words in these units."""


class BadInput(MitertoolError):
    """Input that is not allowed, told as what, what was found, what is allowed.

    What was found and what is allowed may be told with lengths in them; they stand in mm until `in_units` is asked.

    Attributes: `what` (key, option or value), `found` (as given), `allowed` (a clause), `where` (file and
    table, outermost first; empty inside the library).
    """

    def __init__(self, what: str, found: object, allowed: str | Told, where: tuple[str, ...] = ()) -> None:
        self.what = what
        self.found = _words(found, "mm")
        self.allowed = str(_words(allowed, "mm"))
        self.where = where
        self._told = (found, allowed)
        super().__init__(_one_line(what, self.found, self.allowed, where))

    def at(self, *where: str) -> Self:
        """The same refusal with the place it was met put in front."""
        return self._again(self.what, (*where, *self.where))

    def of(self, what: str) -> Self:
        """The same refusal of what its reader knows by another name: the option that gave it."""
        return self._again(what, self.where)

    def _again(self, what: str, where: tuple[str, ...]) -> Self:
        return type(self)(what, *self._told, where)

    def in_units(self, units: str) -> BadInput:
        """The same refusal with its lengths in these units; itself where it tells of none."""
        if not any(hasattr(part, "in_units") for part in self._told):
            return self
        found, allowed = (_words(part, units) for part in self._told)
        return BadInput(self.what, found, str(allowed), self.where)


class UnknownName(BadInput):
    """A name that is not known, or that several things share; `choices` are the names it could have been.

    >>> try:
    ...     mt.section("RHS 80x40x99")
    ... except mt.UnknownName as error:
    ...     error.found
    'RHS 80x40x99'
    """

    def __init__(
        self,
        what: str,
        found: object,
        allowed: str,
        where: tuple[str, ...] = (),
        choices: Sequence[str] = (),
    ) -> None:
        self.choices = tuple(choices)
        super().__init__(what, found, allowed, where)

    def _again(self, what: str, where: tuple[str, ...]) -> Self:
        return type(self)(what, self.found, self.allowed, where, self.choices)


class BadRows(MitertoolError):
    """Rows of a table that are not allowed, all of them; `refusals` holds one for each bad row, `rows` counts all."""

    def __init__(self, refusals: Sequence[BadInput], rows: int) -> None:
        self.refusals = tuple(refusals)
        self.rows = rows
        super().__init__("; ".join(map(str, self.refusals)))

    @property
    def lines(self) -> tuple[str, ...]:
        """A line for each row."""
        return tuple(map(str, self.refusals))

    def at(self, *where: str) -> BadRows:
        """The same rows with the place of their table put in front."""
        return BadRows([one.at(*where) for one in self.refusals], self.rows)


class CutShort(MitertoolError):
    """Work that the user stopped before it came to what it was for: nothing of it is kept."""

    exit_code = 130


class CannotMake(MitertoolError):
    """A job that is well written but cannot be made as asked; `reasons` holds every cause, one clause each.

    `told` is the same in lines, where that is more than one can read in one.
    """

    exit_code = 1

    def __init__(self, reasons: Sequence[str], told: Sequence[str] = ()) -> None:
        self.reasons = tuple(reasons)
        self.told = tuple(told)
        super().__init__("; ".join(self.reasons))

    @property
    def lines(self) -> tuple[str, ...]:
        """A line for all, or those in which it is told."""
        return self.told or super().lines


def _words(part: object, units: str) -> object:
    return part.in_units(units) if hasattr(part, "in_units") else part


def _one_line(what: str, found: object, allowed: str, where: tuple[str, ...]) -> str:
    place = "".join(f"{_short(part)}: " for part in where)
    shown = f"'{_short(found)}'" if isinstance(found, str) else _short(_text(found))
    return " ".join(phrase("refuse.line", place=place, what=_short(what), found=shown, allowed=_plain(allowed)).split())


def _text(found: object) -> str:
    try:
        return str(found)
    except ValueError:  # an integer of more digits than the interpreter prints
        return phrase("found.long-number")


def _short(text: str) -> str:
    plain = _plain(text)
    return plain if len(plain) <= _LONGEST_SHOWN else f"{plain[:_LONGEST_SHOWN]}…"


def _plain(text: str) -> str:
    return "".join(character if character.isprintable() else " " for character in text)
