"""A sentence with lengths in it: shown in the reader's units, and words of others left as they are."""

from __future__ import annotations

import pytest

from mitertool.quantity.sentence import Sentence

TOLD = Sentence("stands at {}, where it needs {}", (25.4, 203.2))


@pytest.mark.parametrize(
    ("units", "says"),
    [
        ("mm", "stands at 25.4 mm, where it needs 203.2 mm"),
        ("in", 'stands at 1.000", where it needs 8.000"'),
        ("ft-in", 'stands at 1", where it needs 8"'),
    ],
)
def test_lengths_in_the_units_of_the_reader(units: str, says: str) -> None:
    assert TOLD.in_units(units) == says  # type: ignore[arg-type]


def test_words_of_others_hold_no_length() -> None:
    assert Sentence.words("{mark}: {}").in_units("mm") == "{mark}: {}"
