"""A sheet of labels of the shop's own: the keys of [labels], and the sheet as a value; knows quantity."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.quantity.compare import longer
from mitertool.quantity.keys import Key, Rule, Values, exact, keys_of, need
from mitertool.quantity.kinds import LENGTH_FROM_ZERO, POSITIVE_LENGTH, Kind, choice, count
from mitertool.quantity.tables import Table
from mitertool.quantity.units import MM_PER_INCH

PAPERS: Final = {"a4": (210.0, 297.0), "letter": (8.5 * MM_PER_INCH, 11 * MM_PER_INCH)}
"""mm: ISO 216, and ANSI/ASME Y14.1 size A."""

LEAST_WIDTH: Final = 40.0
LEAST_HEIGHT: Final = 25.0
"""mm. Five lines of the smallest lettering, and a mark with a length beside it: a smaller label holds no piece."""


@attrs.frozen
class LabelSheet:
    """A sheet of equal labels: paper size, columns and rows, label size, first label's corner and pitch, mm."""

    paper: tuple[float, float]
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float

    @property
    def count(self) -> int:
        """Labels on a sheet."""
        return self.columns * self.rows


def _least(name: str, least: float) -> Rule:
    def check(found: Values) -> None:
        if longer(least, found[name]):
            raise BadInput(name, exact(found[name]), exact(least, "refuse.small-label"))

    return Rule(check)


def _check_paper(found: Values) -> None:
    """Refuse labels that run over the edge of the paper."""
    for size, edge, many, gap, room in (
        ("width", "left", "columns", "gap_across", PAPERS[found["paper"]][0]),
        ("height", "top", "rows", "gap_down", PAPERS[found["paper"]][1]),
    ):
        takes = found.get(edge, 0.0) + found[many] * found[size] + (found[many] - 1) * found.get(gap, 0.0)
        if longer(takes, room):
            take = exact(takes, "found.labels", count=str(found[many]))
            raise BadInput(many, take, exact(room, "refuse.small-paper"))


_MANY: Final[Kind] = count(most=40)

LABELS: Final = keys_of(
    "table.labels",
    _least("width", LEAST_WIDTH),
    _least("height", LEAST_HEIGHT),
    Rule(_check_paper),
    paper=need("labels.paper", choice(tuple(PAPERS))),
    width=need("labels.width", POSITIVE_LENGTH),
    height=need("labels.height", POSITIVE_LENGTH),
    columns=need("labels.columns", _MANY),
    rows=need("labels.rows", _MANY),
    left=Key("labels.left", LENGTH_FROM_ZERO),
    top=Key("labels.top", LENGTH_FROM_ZERO),
    gap_across=Key("labels.gap_across", LENGTH_FROM_ZERO),
    gap_down=Key("labels.gap_down", LENGTH_FROM_ZERO),
)


def label_sheet(table: Table) -> LabelSheet:
    """The sheet that a [labels] table tells of. Raises `BadInput` for labels too small, or more than the paper has."""
    said = LABELS.read(table)
    width, height = said["width"], said["height"]
    return LabelSheet(
        *(PAPERS[said["paper"]], said["columns"], said["rows"], width, height),
        *(said.get("left", 0.0), said.get("top", 0.0)),
        *(width + said.get("gap_across", 0.0), height + said.get("gap_down", 0.0)),
    )
