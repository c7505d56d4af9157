"""Text in a terminal. Wide characters are those of Unicode Standard Annex 11 (East Asian Width W and F)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mitertool.base.terminal import columns_of, filled, printable, shortened, wrapped

TEXTS = st.text(alphabet=st.sampled_from("ab -°支柱éё\u0301"), max_size=40)


@pytest.mark.parametrize(
    ("text", "columns"), [("", 0), ("LEAF-1", 6), ("45°", 3), ("支柱", 4), ("ﾊﾘ", 2), ("ＡＢ", 4), ("e\u0301", 1)]
)
def test_columns(text: str, columns: int) -> None:
    assert columns_of(text) == columns


def test_what_would_move_or_colour_is_a_question_mark() -> None:
    assert printable("A\x1b[31m\n\tB\u202e") == "A?[31m B?"


@pytest.mark.parametrize(
    ("text", "columns", "short"),
    [
        ("RAIL", 4, "RAIL"),
        ("RAILING", 6, "RAI..."),
        ("支柱支柱", 6, "支..."),
        ("支柱支柱", 8, "支柱支柱"),
        ("RAIL", 2, ".."),
    ],
)
def test_shortened(text: str, columns: int, short: str) -> None:
    assert shortened(text, columns) == short


@pytest.mark.parametrize(
    ("text", "columns", "lines"),
    [
        ("", 9, [""]),
        ("arm 45° to feed side", 9, ["arm 45°", "to feed", "side"]),
        ("a LONGWORDS b", 4, ["a", "LONG", "WORD", "S b"]),
        ("支柱支", 4, ["支柱", "支"]),
        ("支柱支", 5, ["支柱", "支"]),
    ],
)
def test_wrapped(text: str, columns: int, lines: list[str]) -> None:
    assert wrapped(text, columns) == lines


@given(TEXTS, st.integers(2, 30))
def test_a_wrapped_text_fits_and_loses_nothing(text: str, columns: int) -> None:
    lines = wrapped(text, columns)
    assert max(map(columns_of, lines)) <= columns
    assert "".join("".join(lines).split()) == "".join(text.split())


@given(TEXTS, st.integers(0, 30))
def test_a_shortened_and_filled_text_takes_its_columns(text: str, columns: int) -> None:
    assert columns_of(filled(shortened(text, columns), columns)) == columns
