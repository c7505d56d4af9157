"""One word, one motion: a bar is rolled about its own axis, and turned end for end; so on paper and on screen.

What else turns in these words is no bar on a saw, and is listed here.
"""

from __future__ import annotations

import re

from mitertool.words import words_of

AMOUNTS = re.compile(r"\b(half a turn|half turn|in turn)\b")
"""By how much a bar is rolled, and one after another."""

TURNS = {
    "end for end": {
        *(
            "caution.heavy",
            "frame.held.rolls",
            "key.saw.handling.turn_most",
            "plan.turn-heavy",
            "record.further-row.turned",
        ),
    },
    "a rail or a bend in plan or in space": {
        *(
            "found.turn",
            "found.landing-turn",
            "frame.rail.says",
            "frame.rail.turn",
            "key.frame.flights",
            "option.corner.to",
        ),
        *("page.corner/to", "quantity.turn-in-plan", "quantity.turn-in-space", "refuse.flight", "refuse.landing-turn"),
        *("refuse.bend-angle", "refuse.rail-turn", "formula.turn-in-space"),
    },
    "one end of a piece against the other": {
        *("key.piece.turned", "page.cut.turned", "refuse.turned-cuts", "refuse.turned-twice", "screen.turn"),
    },
    "the sheet of paper": {"seen.from-left", "seen.from-right"},
}


def says(language: str, pattern: str) -> set[str]:
    """The codes whose words have a pattern, without places for what varies and without amounts of a roll."""
    words = {code: AMOUNTS.sub("", re.sub(r"\{.*?\}", "", text)) for code, text in words_of(language).items()}
    return {code for code, text in words.items() if re.search(pattern, text, flags=re.IGNORECASE)}


def test_turned_is_end_for_end() -> None:
    listed = set().union(*TURNS.values())
    found = says("en", r"\b(turn|turns|turned|turning)\b")
    assert found - listed == set()
    assert listed - says("en", r"\b(turn|turns|turned|turning|end for end)\b") == set()


def test_nothing_is_rotated_flipped_or_spun() -> None:
    assert says("en", r"\b(rotat|flip|spin|spun)") == set()


def test_german_rolls_about_the_axis_and_wenden_is_end_for_end() -> None:
    """What is "gedreht" is an end against the other, or the section of a joint; the sheet of paper is "umgedreht"."""
    turned = {"key.piece.turned", "page.cut.turned", "refuse.turned-cuts", "screen.turn"}
    assert says("de", r"\bgedreht\b") - turned == set()
    assert says("de", r"\bumgedreht|\bumdreh|\bdreht\b") - TURNS["the sheet of paper"] == set()
