"""Letters on paper: what cannot be seen or has no shape is told, and words that look alike are found.

Which letters are drawn as nothing: Default_Ignorable_Code_Point in DerivedCoreProperties of the Unicode character
database, and U+2800, whose name is BRAILLE PATTERN BLANK.
"""

from __future__ import annotations

import pytest

from mitertool.base.letters import first_alike, one_form, unprintable

SEEN = ["A-1", "STÜTZE", "Łódź ≤ Ω", "БАЛКА", "½ ± 1°", "Ֆ", "“A”", "x\N{COMBINING CIRCUMFLEX ACCENT}", "門かド문"]


@pytest.mark.parametrize("text", SEEN)
def test_what_has_shapes_is_printed(text: str) -> None:
    assert unprintable(text) == ""


UNSEEN = {
    "zero-width space": "\u200b",
    "zero-width joiner": "\u200d",
    "word joiner": "\u2060",
    "soft hyphen": "\u00ad",
    "byte order mark": "\ufeff",
    "grapheme joiner": "\u034f",
    "variation selector": "\ufe0f",
    "Hangul filler": "\u3164",
    "blank Braille": "\u2800",
    "right-to-left mark": "\u200f",
    "tag": "\U000e0041",
    "escape": "\x1b",
    "bell": "\x07",
    "private": "\ue000",
    "unassigned": "\u0378",
    "half of a pair": "\ud800",
    "line separator": "\u2028",
}


@pytest.mark.parametrize("name", UNSEEN)
def test_what_cannot_be_seen_is_told_by_its_number(name: str) -> None:
    says = unprintable(f"A{UNSEEN[name]}B")
    assert says.startswith(f"U+{ord(UNSEEN[name]):04X} cannot be seen")


@pytest.mark.parametrize("text", ["Aก", "क", "𓀀"])
def test_what_has_no_shape_is_told(text: str) -> None:
    assert unprintable(text).startswith(f"U+{ord(text[-1]):04X} has no shape")


@pytest.mark.parametrize("text", ["\N{HEBREW LETTER ALEF}", "\N{ARABIC LETTER ALEF}"])
def test_what_is_set_from_right_to_left_is_told(text: str) -> None:
    assert "right to left" in unprintable(text)


def test_accents_are_composed() -> None:
    assert one_form("STU\N{COMBINING DIAERESIS}TZE") == "STÜTZE"
    assert one_form("\N{KELVIN SIGN}") == "K"
    assert one_form("A-1") == "A-1"


ALIKE = {
    "Cyrillic A": ("A-1", "\N{CYRILLIC CAPITAL LETTER A}-1"),
    "Greek A": ("A-1", "\N{GREEK CAPITAL LETTER ALPHA}-1"),
    "Cyrillic and Greek O": ("\N{CYRILLIC CAPITAL LETTER O}", "\N{GREEK CAPITAL LETTER OMICRON}"),
    "full width": ("A-1", "\N{FULLWIDTH LATIN CAPITAL LETTER A}-1"),
    "hyphens": ("A-1", "A\N{NON-BREAKING HYPHEN}1"),
    "ligature": ("fi", "\N{LATIN SMALL LIGATURE FI}"),
    "composed and not": ("Ü", "U\N{COMBINING DIAERESIS}"),
}


@pytest.mark.parametrize("name", ALIKE)
def test_words_that_look_alike_are_found(name: str) -> None:
    assert first_alike(["Z", ALIKE[name][0], "Y", ALIKE[name][1]]) == ALIKE[name]


def test_words_that_are_told_apart_pass() -> None:
    words = ["A", "a", "A-1", "A1", "Ä", "\N{CYRILLIC CAPITAL LETTER ZHE}", "é", "è", "0", "O", "l", "I", "1"]
    assert first_alike(words) is None
