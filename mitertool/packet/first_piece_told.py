"""What a first piece says and what to change, as rows for a terminal and a page alike; knows saw's proof and words."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from mitertool.quantity import Units, show_gap
from mitertool.saw.proof.first_piece import Finding, FirstPiece
from mitertool.saw.proof.fit_up import Opening, Share
from mitertool.words import phrase


def fit_rows(opened: Sequence[Opening], shares: Sequence[Share], unit: Units) -> list[tuple[str, str]]:
    """What opens at the joints and what it uses up of a tolerance, in words."""
    rows = []
    for joint in opened:
        where = "throat" if joint.throat else "heel"
        gap = show_gap(max(joint.throat, joint.heel), unit)
        name = phrase("screen.joint", end=phrase(f"end.{joint.mark}"))
        rows.append((name, phrase(f"screen.opens/{where}", gap=gap)))
    for share in shares:
        rows.append((share.what, _used(share)))
    return [*rows, _of_class(shares[0])] if shares else rows


def _used(share: Share) -> str:
    if share.share is None:
        return phrase("screen.no-value")
    return phrase("screen.used/check" if share.wants_checking else "screen.used", percent=100 * share.share)


def _of_class(share: Share) -> tuple[str, str]:
    return phrase("screen.tolerance"), phrase("screen.class", of=share.of, certainty=share.certainty)


def finding_rows(found: FirstPiece, unit: Units) -> list[tuple[str, str]]:
    """Every error with how sure it is, what to change, what else to measure and what nobody said."""
    return [*_errors(found, unit), *change_rows(found, unit), *_more(found, unit)]


def rows_but_change(found: FirstPiece, unit: Units) -> list[tuple[str, str]]:
    """The same without what to change, for a reader who has that before it."""
    return [*_errors(found, unit), *_more(found, unit)]


def change_rows(found: FirstPiece, unit: Units) -> list[tuple[str, str]]:
    """What to change at the saw."""
    return [(phrase("screen.change"), told.in_units(unit)) for told in found.change]


def _more(found: FirstPiece, unit: Units) -> list[tuple[str, str]]:
    rows = [(phrase("screen.measure"), told.in_units(unit)) for told in found.measure]
    return rows + [(phrase("screen.assumed"), told.in_units(unit)) for told in found.assumed]


def _errors(found: FirstPiece, unit: Units) -> list[tuple[str, str]]:
    def degrees(value: float) -> str:
        return f"{value:.2f}°"

    def length(value: float) -> str:
        return f"{show_gap(value, unit)}{' mm' if unit == 'mm' else ''}"

    rows = [_row(finding, degrees) for finding in found.angles]
    rows.append(_row(found.length, length))
    return rows + ([_row(found.lead, degrees)] if found.lead else [])


def line_words(on: str) -> str:
    """Of what an error is, in words."""
    return phrase(f"end.{on}") if on in ("left", "right") else phrase(f"line.{on}")


def _row(finding: Finding, show: Callable[[float], str]) -> tuple[str, str]:
    error = f"{'-' if finding.error < 0 else '+'}{show(abs(finding.error))}"
    code = "screen.error" if finding.sure else "screen.error/unsure"
    return line_words(finding.on), phrase(code, error=error, within=show(finding.uncertainty))
