"""A triangular truss panel: a tie, two rafters, posts at equal panels and one at the ridge, webs between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.frame.inside import Diagonal, Fill, Spaced
from mitertool.frame.outlines.outline import Drawn, Outline, by_role
from mitertool.quantity.keys import Key, Values, exact, need
from mitertool.quantity.kinds import POSITIVE_LENGTH, choice, count
from mitertool.sections import Section

WEBS: Final = ("in", "out", "none")
_MOST_PANELS: Final = 100


def _drawn(said: Values, sections: Sequence[Section]) -> Drawn:
    span, rise, ridge = said["span"], said["rise"], said.get("ridge", said["span"] / 2)
    if not 0 < ridge < span:
        raise BadInput("ridge", exact(ridge), exact(span, "refuse.ridge"))
    web = by_role(sections, 3)[2]
    return Drawn((complex(ridge, rise), complex(span, 0), 0j), (1, 0, 1), fills=tuple(_webs(said, web, ridge)))


def _webs(said: Values, web: Section, ridge: float) -> Iterator[Fill]:
    panels, span = said.get("panels", 0), said["span"]
    if not panels:
        return
    left, right = (max(1, round(panels * part / span)) for part in (ridge, span - ridge))
    places = [ridge * i / left for i in range(1, left)] + [ridge + (span - ridge) * i / right for i in range(right)]
    yield Fill(Spaced("uprights", web, at=tuple(places), origin=0.0))
    if said.get("webs", "in") != "none" and panels > 2:
        yield Fill(Diagonal(web, said.get("webs", "in"), middle=ridge))


OUTLINE: Final = Outline(
    ("tie", "rafters", "webs"),
    {
        "span": need("frame.span", POSITIVE_LENGTH),
        "rise": need("frame.truss-rise", POSITIVE_LENGTH),
        "ridge": Key("frame.ridge", POSITIVE_LENGTH),
        "panels": Key("frame.panels", count(2, _MOST_PANELS)),
        "webs": Key("frame.webs", choice(WEBS)),
    },
    _drawn,
)
"""Tie, rafters, and what stands between them may have a section each."""
