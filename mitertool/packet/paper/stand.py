"""From where every picture of a bar on a saw is seen: from the fixed jaw's side. Each picture asks here.

Seen from there x runs to the right and the moving jaw is beyond the bar, above it on paper: a piece lies as it is
drawn, its left end at the left, and no picture is ever mirrored. What differs from saw to saw is where the bar comes
from. Looking with the feed, a fixed jaw on the left has the bar come from the right of whoever stands at it, one on
the right from the left. Whoever stands at the moving jaw turns the sheet round: half a turn keeps every hand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.saw import Machine


def feed_way(saw: Machine | None) -> float:
    """Where the feed side lies in a picture: 1 to the right, -1 to the left; as the pieces are drawn without a saw."""
    return 1.0 if saw is None or saw.fixed_jaw == "left" else -1.0


def leads(saw: Machine | None) -> str:
    """At which side of a picture the leading end of a bar lies, "left" or "right"."""
    return "left" if feed_way(saw) > 0 else "right"


def seen_along(saw: Machine | None) -> str:
    """How the section between the jaws is seen: from a piece's right end, so that the fixed jaw is at the left."""
    return phrase("seen.with-feed" if feed_way(saw) > 0 else "seen.against-feed")


def says(saw: Machine) -> str:
    """The place in words, with where the bar comes from."""
    return phrase("seen.from-right" if feed_way(saw) > 0 else "seen.from-left")
