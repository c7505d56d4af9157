"""What a packet of the rest tells of pieces that are cut and of what changed, in words for paper and screen alike."""

from __future__ import annotations

from collections.abc import Iterator

from mitertool.cut import Cut
from mitertool.job.before import CutAlready, Difference, MarkChange, Rest
from mitertool.quantity import Units, show_angle, show_length
from mitertool.quantity.problem_words import problem_why
from mitertool.words import phrase


def shown(value: object, kind: str, units: Units) -> str:
    """A number of a difference as a person reads it."""
    if kind == "length" and isinstance(value, float | int):
        return show_length(value, units)
    if kind == "angle" and isinstance(value, float | int):
        return show_angle(value)
    return str(value) or "-"


def difference(one: Difference, units: Units) -> tuple[str, str, str]:
    """What is another, what it was and what it is."""
    before, after = (shown(number.value, number.kind, units) for number in (one.before, one.after))
    return phrase(f"rest.what/{one.code}"), before, after


def called(offer: CutAlready) -> str:
    """The mark of pieces, and that they are spoiled ones or blanks."""
    if offer.blank:
        return phrase("rest.mark-blank", mark=offer.mark)
    return phrase("rest.mark-spoiled", mark=offer.mark) if offer.spoiled else offer.mark


def fate(offer: CutAlready, rest: Rest) -> str:
    """What becomes of pieces."""
    if offer.fate in ("scrap", "finish"):
        return phrase(f"rest.fate/{offer.fate}")
    if offer.fate == "keep":
        return phrase("rest.fate/keep" if offer.to == offer.mark else "rest.fate/keep-as", to=offer.to)
    return phrase("rest.fate/recut-taken" if rest.taken else "rest.fate/recut", to=offer.to)


def how(offer: CutAlready, units: Units) -> str:
    """What is cut of them, by the ends of the piece that is there, or why nothing is; "" where nothing may be."""
    if offer.against:
        return phrase("rest.how/cannot", mark=offer.against.mark, why=problem_why(offer.against, units))
    if offer.how is None or not offer.how.cuts:
        return ""
    left, right = offer.how.off
    anew = {"left": bool(left > _NOTHING), "right": bool(right > _NOTHING)}
    which = "both" if all(anew.values()) else "left" if anew["left"] else "right"
    ends = dict(zip(("left_end", "right_end"), map(_end, offer.how.ends), strict=True))
    return phrase(f"rest.how/{which}", left=show_length(left, units), right=show_length(right, units), **ends)


def _end(cut: Cut) -> str:
    code = "rest.how.end-beveled" if cut.bevel else "rest.how.end"
    return phrase(code, angle=show_angle(cut.miter), bevel=show_angle(cut.bevel))


_NOTHING = 1e-6
"""mm: less comes off only by rounding."""


def lines(rest: Rest, units: Units) -> Iterator[str]:
    """The same on a screen, a line each; marks that are unchanged are not told."""
    for change in rest.changes:
        yield from _change_lines(change, units)
    for offer in rest.offers:
        told = {"count": offer.count, "mark": called(offer), "fate": fate(offer, rest)}
        way = how(offer, units)
        yield phrase("rest.line-how", **told, how=way) if way else phrase("rest.line", **told)


def _change_lines(change: MarkChange, units: Units) -> Iterator[str]:
    for one in change.differences:
        what, before, after = difference(one, units)
        yield phrase("rest.changed-line", mark=change.mark, what=what, before=before, after=after)
    if change.state in ("new", "gone"):
        yield phrase("rest.state-line", mark=change.mark, state=phrase(f"rest.state/{change.state}"))
