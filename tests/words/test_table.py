"""Words by their code, filled in by name, in one language for the length of a block."""

from __future__ import annotations

import re
from string import Formatter

import pytest

from mitertool.words import LANGUAGES, counted, phrase, speaking, words_of

GERMAN = {"a.b": "{n} Stäbe aus {section}", "c/one": "{count} Stab", "c/many": "{count} Stäbe"}


def places(text: str) -> set[str]:
    """The names that are filled in."""
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def test_what_varies_is_filled_in_by_its_name() -> None:
    with speaking(GERMAN):
        assert phrase("a.b", section="RHS", n=3) == "3 Stäbe aus RHS"


def test_words_that_differ_by_how_many() -> None:
    with speaking(GERMAN):
        assert [counted("c", n) for n in (0, 1, 2)] == ["0 Stäbe", "1 Stab", "2 Stäbe"]


def test_a_language_holds_inside_its_block_only() -> None:
    before = phrase("side.fixed")
    with pytest.raises(KeyError), speaking(GERMAN):
        phrase("side.fixed")
    assert phrase("side.fixed") == before


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_language_says_all_that_english_says(language: str) -> None:
    """The same codes, the same places to fill in."""
    english, words = words_of("en"), words_of(language)
    assert set(words) == set(english)
    assert {code: places(text) for code, text in words.items()} == {
        code: places(text) for code, text in english.items()
    }


def test_every_code_names_its_room() -> None:
    assert [code for code in words_of("en") if not re.fullmatch(r"[a-z-]+\.[a-z0-9_.-]+(/[a-z0-9-]+)?", code)] == []


def test_a_language_that_there_is_not() -> None:
    with pytest.raises(KeyError, match="tlh"):
        words_of("tlh")
