"""The words in English, by code, in blocks of the rooms that say them.

A code is `room.what`, with `/one` and `/many` behind it where the words differ by how many, or `/case` where a thing is
told in several ways. {name} is filled in, {{ and }} are braces. A sentence is whole: no room glues halves together, so
that another language may order its words.
"""

from __future__ import annotations

from typing import Final

WORDS: Final = {
    # shared: the sides of a bar and of a saw, as everyone names them
    "side.fixed": "fixed side",
    "side.moving": "moving side",
    # how-many: how many pieces of one kind a bar gives
    "how-many.pieces": "pieces a bar",
    "how-many.used": "used",
    "how-many.used-of": "{used} of {bar}",
    "how-many.left": "left over",
    "how-many.left-slanted": "{shortest} at its shortest line, {longest} at its longest",
    "how-many.leading": "leading cuts",
    "how-many.lies-at": "{pose} at {place}",
    "how-many.as-drawn": "as drawn",
    "how-many.and-so-on": "and so on",
    "how-many.tip-to-tip": "tip to tip",
    "how-many.a-bar": "{count} a bar",
}
