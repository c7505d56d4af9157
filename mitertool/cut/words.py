"""A cut as a person gives it: from square, from the bar, as a corner, or as rise and run; knows quantity."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from mitertool.base.errors import BadInput
from mitertool.base.names import all_of, among, refuse_unknown_keys
from mitertool.cut.cut import Cut
from mitertool.quantity import angle, slope_angle
from mitertool.words import phrase

KEYS: Final = ("miter", "bevel", "slope", "from_bar", "long", "corner")
"""What a cut given by a table may have."""

WAYS: Final = ("miter", "slope", "from_bar", "corner")
"""Of which it has one at most."""

LONG: Final = ("moving", "fixed")
LARGEST_FROM_BAR: Final = 90
LARGEST_CORNER: Final = 180
"""degrees"""

_WORDED: Final = re.compile(r"(?P<angle>.+?)\s*(?P<word>from[ -]bar|corner)", re.IGNORECASE)


def cut_from(value: object, what: str) -> Cut:
    """The cut given by a number, a text or a table.

    A number or "22.5" is degrees from square; "3:12" is rise:run; "60 from bar" is the angle between blade and
    bar; "90 corner" is the included angle of two equal members. A table has miter and bevel, or slope, or
    from_bar (with long = "moving" or "fixed"), or corner. Raises `BadInput` naming `what`.
    """
    if isinstance(value, Mapping):
        return _from_table(value, what)
    if isinstance(value, str):
        return Cut(_from_text(value, what))
    return _named(what, lambda: Cut(angle(value, what)))


def from_bar(degrees: float, long: str = "moving", what: str = "from_bar") -> float:
    """The miter of a cut at `degrees` to the bar's axis, its long point on the moving or the fixed side."""
    if not 0 < degrees <= LARGEST_FROM_BAR:
        raise BadInput(what, degrees, phrase("refuse.from-bar", most=LARGEST_FROM_BAR))
    if long not in LONG:
        raise BadInput("long", long, among(LONG))
    return (90 - degrees) * (1 if long == "moving" else -1)


def from_corner(degrees: float, what: str = "corner") -> float:
    """The miter of two equal members at an included angle."""
    if not 0 < degrees <= LARGEST_CORNER:
        raise BadInput(what, degrees, phrase("refuse.corner", most=LARGEST_CORNER))
    return 90 - degrees / 2


def _from_text(text: str, what: str) -> float:
    if ":" in text:
        return slope_angle(text, what)
    worded = _WORDED.fullmatch(text.strip())
    if not worded:
        return _named(what, lambda: Cut(angle(text, what))).miter
    degrees = angle(worded["angle"], what)
    return from_corner(degrees, what) if worded["word"].lower() == "corner" else from_bar(degrees, what=what)


def _from_table(table: Mapping[str, Any], what: str) -> Cut:
    refuse_unknown_keys(what, table, KEYS)
    ways = [key for key in WAYS if key in table]
    if len(ways) > 1:
        raise BadInput(what, all_of(ways), phrase("refuse.cut-ways"))
    if "long" in table and "from_bar" not in table:
        raise BadInput(what, "long", phrase("refuse.long"))
    way = ways[0] if ways else "miter"
    bevel = angle(table.get("bevel", 0), phrase("what.part", what=what, part="bevel"))
    return _named(what, lambda: Cut(_one_way(way, table, phrase("what.part", what=what, part=way)), bevel))


def _one_way(way: str, table: Mapping[str, Any], what: str) -> float:
    if way == "slope":
        return slope_angle(table["slope"], what)
    degrees = angle(table.get(way, 0), what)
    if way == "from_bar":
        return from_bar(degrees, table.get("long", "moving"), what)
    return from_corner(degrees, what) if way == "corner" else degrees


def _named(what: str, make: Any) -> Cut:
    try:
        cut: Cut = make()
    except BadInput as error:
        raise error if error.what.startswith(what) else error.at(what) from None
    return cut
