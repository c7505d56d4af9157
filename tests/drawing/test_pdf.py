"""The PDF writer, read back by pypdf; positions and widths against values worked out by hand."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader
from reportlab import rl_config
from reportlab.pdfbase.pdfmetrics import stringWidth

from mitertool.drawing import A4, FILL, HIDDEN, LETTER, OUTLINE, Arc, Drawing, Line, Page, Polygon, Text, pdf

MM = 72 / 25.4


def read(*entities, size=A4):
    return PdfReader(BytesIO(pdf.write([Page(*size, Drawing(entities))], "Title")))


def content(*entities):
    return read(*entities).pages[0].get_contents().get_data().decode("latin-1")


def test_pages_have_their_sizes_and_the_file_its_title(every_kind):
    written = pdf.write([Page(*A4, every_kind), Page(*LETTER, every_kind)], "Sheet 1", "Frame Ł")
    reader = PdfReader(BytesIO(written), strict=True)
    assert [(float(p.mediabox.width), float(p.mediabox.height)) for p in reader.pages] == [
        pytest.approx((210 * MM, 297 * MM), abs=1e-3),
        pytest.approx((612, 792), abs=1e-3),
    ]
    assert (reader.metadata.title, reader.metadata.subject) == ("Sheet 1", "Frame Ł")


def test_a_page_is_in_mm_from_its_lower_left_corner():
    lines = content(Line((10, 20), (30, 40.5), OUTLINE))
    assert f"{MM:.6f}"[:7] in lines
    assert "0.500 w 1 J 1 j [] 0 d 0.000 G" in lines
    assert "10.0000 20.0000 m 30.0000 40.5000 l S" in lines


def test_a_dashed_layer_has_its_dashes():
    # ISO 128-2: 12 and 3 line widths of 0.25 mm.
    assert "0.250 w 0 J 1 j [3.000 0.750] 0 d" in content(Line((0, 0), (50, 0), HIDDEN))


def test_a_circle_is_closed_and_passes_its_quarters():
    lines = content(Arc((50, 60), 10, 0, 360, OUTLINE))
    for point in ("60.0000 60.0000", "50.0000 70.0000", "40.0000 60.0000", "50.0000 50.0000"):
        assert point in lines
    assert "h S" in lines


def test_fills_are_grey_and_a_layer_without_a_pen_draws_no_line():
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    assert "0.750 g 0.0000 0.0000 m" in content(Polygon(square, OUTLINE, 0.75))
    assert " h B" in content(Polygon(square, OUTLINE, 0.75))
    assert " h f" in content(Polygon(square, FILL, 0.0))
    assert " h S" in content(Polygon(square, OUTLINE))
    assert " l n" in content(Line((0, 0), (1, 1), FILL))


def test_every_text_is_found_again(every_kind):
    reader = PdfReader(BytesIO(pdf.write([Page(*A4, every_kind.moved(20, 30))], "Title")))
    lines = {line.strip() for line in reader.pages[0].extract_text().splitlines()}
    found = "\n".join(lines)
    for box in every_kind.text_boxes():
        assert box.says in found


@pytest.mark.parametrize("says", ["(paren\\theses)", "½ ° ± × ß é Å € … – “q”", "100 % {a} <b> & 'c'"])
def test_win_ansi_text_is_helvetica_and_nothing_is_embedded(says):
    page = read(Text((20, 20), says, 3.5)).pages[0]
    assert page.extract_text().strip() == says
    fonts = {font.get_object()["/BaseFont"] for font in page["/Resources"]["/Font"].values()}
    assert fonts == {"/Helvetica", "/Helvetica-Bold"}


# AFM widths of what Helvetica has: o with acute and d 556 (bold 611), space 278. Of the others DejaVu Sans says, in
# 2048 units an em: L with stroke 1151 (1315), z with acute 1075 (1192), less or equal 1716, omega 1565 (1741).
@pytest.mark.parametrize(
    ("bold", "helvetica", "dejavu"),
    [
        (False, 2 * 0.556 + 2 * 0.278, 1151 + 1075 + 1716 + 1565),
        (True, 2 * 0.611 + 2 * 0.278, 1315 + 1192 + 1716 + 1741),
    ],
)
def test_other_text_is_embedded_at_the_measured_width(bold, helvetica, dejavu):
    says = "Łódź ≤ Ω"
    page = read(Text((20, 20), says, 3.5, bold=bold)).pages[0]
    assert page.extract_text().strip() == says
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    embedded = [font for font in fonts if "DejaVu" in font["/BaseFont"]]
    assert embedded
    assert all("/FontFile2" in font["/FontDescriptor"] for font in embedded)
    matrices = []
    page.extract_text(visitor_text=lambda text, cm, tm, font, size: matrices.append((text.strip(), tm, size)))
    _, (across, *_), size = next(found for found in matrices if found[0])
    natural = stringWidth(says, "DejaVu Sans Bold" if bold else "DejaVu Sans", size)
    assert across * natural == pytest.approx(helvetica * 3.5 / 0.718 + dejavu / 1493 * 3.5, rel=1e-4)


def test_han_kana_and_hangul_are_letters_of_an_embedded_part():
    says = "桟橋ゲート LEAF-1 강교"
    written = pdf.write([Page(*A4, Drawing((Text((20, 20), says, 3.5),)))], "Title")
    page = PdfReader(BytesIO(written), strict=True).pages[0]
    assert page.extract_text().strip() == says
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    named = [font for font in fonts if "MicroHei" in font["/BaseFont"].replace(" ", "")]
    parts = [font["/FontDescriptor"]["/FontFile2"] for font in named]
    assert parts
    # The whole file of the face has 5 MB.
    assert sum(len(part.get_data()) for part in parts) < 100_000


def test_a_text_no_font_has_is_written_all_the_same():
    written = pdf.write([Page(*A4, Drawing((Text((20, 20), "กข 𝄞", 3.5),)))], "Title")
    assert len(PdfReader(BytesIO(written), strict=True).pages) == 1


def test_a_turned_text_runs_up_the_page():
    lines = content(Text((10, 20), "up", 7.18, turn=90))
    assert "10.0000 Tf 0.000000 1.000000 -1.000000 0.000000 10.0000 20.0000 Tm (up) Tj" in lines


def test_the_library_is_left_as_it_was(every_kind):
    before = rl_config.useA85
    pdf.write([Page(*A4, every_kind)], "Title")
    assert rl_config.useA85 == before
