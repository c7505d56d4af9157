"""Widths of text and how it is made to fit."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth

from mitertool.base.faces import DEJAVU, MICRO_HEI
from mitertool.drawing import Dimension, Text, fit, shorten, text_width, wrap, wrap_evenly
from mitertool.drawing.helvetica import BOLD, REGULAR
from mitertool.drawing.lettering import in_helvetica
from mitertool.drawing.pdf import _registered

WIN_ANSI = [bytes([code]).decode("cp1252", errors="ignore") for code in (*range(32, 127), *range(128, 256))]
PRINTABLE = [character for character in WIN_ANSI if character]


@pytest.mark.parametrize(("bold", "font"), [(False, "Helvetica"), (True, "Helvetica-Bold")])
def test_every_width_is_that_of_the_metrics_that_reportlab_carries(bold, font):
    table = BOLD if bold else REGULAR
    assert {c: table[c] for c in PRINTABLE} == {c: pytest.approx(stringWidth(c, font, 1000)) for c in PRINTABLE}


def test_the_tables_hold_win_ansi_and_nothing_else():
    assert set(REGULAR) == set(BOLD) == set(PRINTABLE)


@settings(deadline=None)
@given(st.text(st.sampled_from(PRINTABLE), max_size=40), st.floats(1, 20), st.booleans())
def test_a_text_is_as_wide_as_its_characters(says, height, bold):
    # Adobe core 14 AFM: CapHeight 718, so lettering h high has the font size h / 0.718.
    expected = stringWidth(says, "Helvetica-Bold" if bold else "Helvetica", height / 0.718)
    assert text_width(says, height, bold) == pytest.approx(expected)


@pytest.mark.parametrize("says", ["Ω", "БАЛКА", "漢字", "한", "かカ"])
def test_a_letter_of_another_script_is_as_wide_as_in_the_face_that_has_it(says):
    # reportlab's reading of the files; capitals are 1493 of 2048 units high in DejaVu Sans, 1462 in Micro Hei.
    face, high = (DEJAVU, 1493) if says < "\u0500" else (MICRO_HEI, 1462)
    natural = stringWidth(says, _registered(face), 7.18 * 2048 / high)
    assert text_width(says, 7.18) == pytest.approx(natural, rel=1e-3)


def test_a_character_that_no_face_has_counts_a_whole_font_size():
    assert text_width("ก", 7.18) == pytest.approx(10)
    assert not in_helvetica("Ω")
    assert in_helvetica("90° ±½ …")


def test_fit_lowers_the_lettering_until_it_fits():
    # "HH" is 2 * 722 wide: 14.44 mm at 7.18 mm.
    assert fit("HH", 20, 7.18) == 7.18
    assert fit("HH", 14.44 / 2, 7.18) == pytest.approx(3.59)
    assert fit("HH", 1, 7.18) == 2.5
    assert fit("HH", 1, 7.18, least=1.8) == 1.8
    assert fit("HH", 1, 2.0) == 2.0


@settings(deadline=None)
@given(st.text(min_size=1, max_size=30), st.floats(1, 100), st.floats(2.5, 20), st.booleans())
def test_what_fits_fits_and_could_not_be_larger(says, width, height, bold):
    fitted = fit(says, width, height, bold)
    assert 2.5 <= fitted <= height
    assert fitted == 2.5 or text_width(says, fitted, bold) <= width * (1 + 1e-9)
    assert fitted == height or text_width(says, fitted * (1 + 1e-9), bold) >= width * (1 - 1e-9)


def test_shorten_cuts_and_ends_with_an_ellipsis():
    assert shorten("HHHH", 30, 7.18) == "HHHH"
    # H 7.22 mm, ellipsis 10 mm.
    assert shorten("HHHH", 24.5, 7.18) == "HH…"
    assert shorten("H HHH", 21, 7.18) == "H…"
    assert shorten("HHHH", 9, 7.18) == ""


@settings(deadline=None)
@given(st.text(max_size=30), st.floats(0, 60), st.booleans())
def test_a_shortened_text_is_no_wider_than_asked(says, width, bold):
    short = shorten(says, width, 3.5, bold)
    assert text_width(short, 3.5, bold) <= width
    assert short == says or short == "" or says.startswith(short[:-1])


def test_wrap_breaks_at_spaces_and_inside_a_word_that_is_too_wide():
    # Widths at 7.18 mm: H 7.22 mm, space 2.78 mm, so that two words of two letters are 31.66 mm long.
    assert wrap("HH HH", 31.7, 7.18) == ("HH HH",)
    assert wrap("HH HH", 31.6, 7.18) == ("HH", "HH")
    assert wrap("HH  \n HH\t", 31.5, 7.18) == ("HH", "HH")
    assert wrap("HHHHH H", 15, 7.18) == ("HH", "HH", "H", "H")
    assert wrap("  ", 10, 7.18) == ()
    assert wrap("5\xa0mm", 4, 2.5) != ("5", "mm")


def test_no_end_of_a_line_parts_a_number_from_its_fraction():
    wide = text_width("1'-0 13/16\"", 3.0)
    assert wrap("at 1'-0 13/16\" LEAF-9", wide, 3.0) == ("at", "1'-0 13/16\"", "LEAF-9")
    assert wrap("sheet 3 TH-1/2", wide * 0.7, 3.0) == ("sheet 3", "TH-1/2")


def test_even_lines_are_as_few_and_none_much_longer_than_another():
    """An H is 0.722 and a space 0.278 of the font size, 10 for letters 7.18 high: HHH H is 31.66 wide, H HH 24.44."""
    assert wrap("HHH H HH", 35, 7.18) == ("HHH H", "HH")
    assert wrap_evenly("HHH H HH", 35, 7.18) == ("HHH", "H HH")
    assert wrap_evenly("HH HH", 31.7, 7.18) == ("HH HH",)
    assert wrap_evenly("HHHHH H", 15, 7.18) == ("HH", "HH", "H", "H")
    assert wrap_evenly("  ", 10, 7.18) == ()


@settings(deadline=None)
@given(st.text(max_size=60), st.floats(11, 80), st.booleans())
def test_wrapped_lines_fit_and_lose_no_letter(says, width, bold):
    lines = wrap(says, width, 3.5, bold)
    assert all(text_width(line, 3.5, bold) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == Text((0, 0), says, 3.5).says.replace(" ", "")


@pytest.mark.parametrize("bad", ["\x00", "\n", "\t", "\x1b", "\x7f", "\x85", "\u2028", "\ud800", "\uffff"])
def test_characters_that_cannot_be_printed_become_spaces(bad):
    assert Text((0, 0), f"a{bad}b", 3).says == "a b"
    assert Dimension((0, 0), (1, 0), 5, f"a{bad}b").says == "a b"


def test_accents_are_composed():
    assert Text((0, 0), "A\u030a", 3).says == "\u00c5"
