"""A customer's list of parts as it came: text and workbook, columns, numbers, angles, and every bad row told.

Lengths are hand arithmetic: tip to tip of a parallelogram of 45 degrees is its long side and the width once; an angle
of a from the bar's axis is 90 - a from square, an angle of a inside a corner 90 - a/2.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest
import xlsxwriter

from mitertool.base.errors import BadInput, BadRows, MitertoolError
from mitertool.job import Job, load_list
from mitertool.lists.cells import LARGEST, MOST_ROWS, letter

HEAD = "Mark,Section,Length,Qty"
WIDTH = 40.0
OFFICE = Path(__file__).parent / "office"


def read(path: Path, content: str | bytes, units: str = "mm", **said: Any) -> Job:
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return load_list(path, said, units)  # type: ignore[arg-type]


def refused(path: Path, content: str | bytes, **said: Any) -> str:
    with pytest.raises(MitertoolError) as error:
        read(path, content, **said)
    return str(error.value)


@pytest.fixture
def csv(tmp_path: Path) -> Path:
    return tmp_path / "parts.csv"


def one(job: Job) -> Any:
    (order,) = job.pieces
    return order


@pytest.mark.parametrize(
    "content",
    [
        "Mark,Section,Length,Qty\nA,RHS 80x40x3,1200.5,4\n",
        "Mark;Section;Length;Qty\r\nA;RHS 80x40x3;1200,5;4\r\n",
        "Mark\tSection\tLength\tQty\nA\tRHS 80x40x3\t1200.5\t4\n",
        "Mark|Section|Length|Qty\nA|RHS 80x40x3|1200.5|4\n",
        '"Mark","Section","Length","Qty"\n"A","RHS 80x40x3","1200,5","4"\n',
        "\ufeffMark,Section,Length,Qty\nA,RHS 80x40x3,1200.5,4\n",
        "Parts list of 12 March\n\nPOS.;PROFIL;LÄNGE [mm];MENGE;REMARKS\nA;RHS 80x40x3;1.200,5;4;two coats\n".encode(
            "cp1252"
        ),
        "Pos;Profil;Länge (mm);Stück\nA;RHS 80x40x3;1 200,5;4\n".encode("utf-16"),
    ],
    ids=["comma", "semicolon", "tab", "stroke", "quoted", "mark of UTF-8", "western letters", "UTF-16"],
)
def test_a_text_is_read_however_it_was_saved(csv: Path, content: str | bytes) -> None:
    order = one(read(csv, content))
    assert (order.mark, order.quantity, order.piece.long_point) == ("A", 4, 1200.5)
    assert order.piece.section.name == "RHS 80x40x3"


def test_a_quoted_cell_may_hold_the_delimiter_and_a_line_end(csv: Path) -> None:
    job = read(csv, f'{HEAD},Remarks\n"A, upper",RHS 80x40x3,1200,2,"left,\nright"\nB,RHS 80x40x3,900,1,\n')
    assert [order.mark for order in job.pieces] == ["A, upper", "B"]
    assert [row.number for row in job.lists[0].rows] == [2, 3]


@pytest.mark.parametrize(
    ("meant", "left", "right", "miters"),
    [
        ("from square", "45", "-22.5", (45, -22.5)),
        ("from bar", "45", "90", (45, 0)),
        ("from bar", "60", "120", (30, -30)),
        ("from bar", "-60", "90", (-30, 0)),
        ("included", "90", "120", (45, 30)),
        ("from square", "60 from bar", "1:1", (30, 45)),
    ],
)
def test_angles_are_said_once_for_a_list(
    csv: Path, meant: str, left: str, right: str, miters: tuple[float, float]
) -> None:
    text = f"{HEAD},Left,Right\nA,RHS 80x40x3,1200,4,{left},{right}\n"
    piece = one(read(csv, text, angles=meant, at="long-point")).piece
    assert (piece.left.miter, piece.right.miter) == pytest.approx(miters, abs=1e-12)


def test_a_column_says_it_row_by_row(csv: Path) -> None:
    text = (
        "Mark,Section,Length,Units,At,Left,Right,Angles\n"
        "A,RHS 80x40x3,1200,mm,tip to tip,45,135,from bar\n"
        'B,RHS 80x40x3,"47 1/4",in,Long point,45,45,square\n'
        "C,RHS 80x40x3,3.5,ft,sp,90,90,from bar\n"
    )
    a, b, c = (order.piece for order in read(csv, text).pieces)
    assert (a.overall, a.long_point) == pytest.approx((1200, 1200 - WIDTH))
    assert (b.long_point, b.short_point) == pytest.approx((47.25 * 25.4, 47.25 * 25.4 - 2 * WIDTH))
    assert c.short_point == pytest.approx(3.5 * 304.8)


@pytest.mark.parametrize(
    ("heading", "measured", "asked"),
    [
        ("Tip to tip", "overall", 1200),
        ("Short point (mm)", "short_point", 1200),
        ("CL [in]", "centerline", 1200 * 25.4),
    ],
)
def test_a_heading_says_where_and_in_what(csv: Path, heading: str, measured: str, asked: float) -> None:
    text = f"Mark,Section,{heading},Left,Right\nA,RHS 80x40x3,1200,45,45\n"
    assert getattr(one(read(csv, text, angles="from square")).piece, measured) == pytest.approx(asked)


def test_columns_by_heading_and_by_letter(csv: Path) -> None:
    text = "Nummer,What,Profile used,How long\n1,frame,RHS 80x40x3,1200\n"
    said = {"columns": {"mark": "Nummer", "section": "profile used", "length": "D"}, "ignore": ["What"]}
    order = one(read(csv, text, **said))
    assert (order.mark, order.piece.long_point) == ("1", 1200)
    bare = "1,RHS 80x40x3,1200\n2,RHS 80x40x3,900\n"
    job = read(csv, bare, columns="mark=A, section=B, length=C")
    assert [order.piece.long_point for order in job.pieces] == [1200, 900]
    assert letter(27) == "AB"


def test_a_section_may_be_said_once(csv: Path) -> None:
    job = read(csv, "Mark,Length\nA,1200\nB,900\n", section="RHS 80x40x3", grade="S355")
    assert {(order.piece.section.name, order.grade) for order in job.pieces} == {("RHS 80x40x3", "S355")}


def test_both_hands_of_a_mark(csv: Path) -> None:
    text = f"{HEAD},Left,Right,Hand\nA,L 50x50x5,900,3,45,0,as drawn\nA,L 50x50x5,900,2,45,0,opposite\n"
    order = one(read(csv, text, angles="from square", at="long-point"))
    assert (order.quantity, order.opposite) == (3, 2)


@pytest.mark.parametrize(
    ("cells", "found"),
    [
        (("1200,5", "900"), (1200.5, 900)),
        (("1.200,5", "900"), (1200.5, 900)),
        (("1,200.5", "900"), (1200.5, 900)),
        (("1,200", "848.5"), (1200, 848.5)),
        (("1.200", "848,5"), (1200, 848.5)),
        (("1.234.567,0 mm", "0,500"), (None, None)),
    ],
)
def test_the_list_as_a_whole_tells_a_comma_from_a_point(
    csv: Path, cells: tuple[str, str], found: tuple[float | None, float | None]
) -> None:
    text = f"Mark;Section;Length\nA;RHS 80x40x3;{cells[0]}\nB;RHS 80x40x3;{cells[1]}\n"
    if found[0] is None:
        assert "at most 1000000 mm" in refused(csv, text)
        return
    assert [order.piece.long_point for order in read(csv, text).pieces] == list(found)


@pytest.mark.parametrize("cell", ["1,200", "1.200"])
def test_what_may_be_a_thousand_or_a_fraction_is_asked(csv: Path, cell: str) -> None:
    text = f"Mark;Section;Length\nA;RHS 80x40x3;{cell}\n"
    assert cell in refused(csv, text)
    assert "C2" in refused(csv, text)
    answers = {one(read(csv, text, decimal=word)).piece.long_point for word in ("point", "comma")}
    assert answers == {1.2, 1200}
    assert one(read(csv, "Mark;Section;Length\nA;RHS 80x40x3;1.250\n", "in")).piece.long_point == 1.25 * 25.4


def test_every_bad_row_is_told_with_its_cell(csv: Path) -> None:
    rows = [
        "A,RHS 80x40x3,1200,2",
        "B,RHS 80x40x99,1200,2",
        "C,RHS 80x40x3,twelve,2",
        "D,RHS 80x40x3,1200,2.5",
        "E,RHS 80x40x3,=1+1,2",
        "A,RHS 80x40x3,1200,2",
        ",RHS 80x40x3,1200,2",
        "F,RHS 80x40x3,-5,2",
    ]
    with pytest.raises(BadRows) as error:
        read(csv, "\n".join([HEAD, *rows]))
    told = [line.split(": found")[0] for line in error.value.lines]
    assert told == [
        "parts.csv: row 3: B3: section",
        "parts.csv: row 4: C4: length",
        "parts.csv: row 5: D5: quantity",
        "parts.csv: row 6: C6: cell",
        "parts.csv: row 7: A7: mark",
        "parts.csv: row 8: A8: mark",
        "parts.csv: row 9: C9: length",
    ]


@pytest.mark.parametrize(
    ("text", "said", "tells"),
    [
        ("Mark,Section,Long,Colour\nA,RHS 80x40x3,1200,red\n", {}, ["'Long'", "length", 'ignore = ["Long"]']),
        (f"{HEAD},Colour\nA,RHS 80x40x3,1200,1,red\n", {}, ["'Colour'", "column E"]),
        ("Mark,Qty\nA,1\n", {}, ["length", "The length."]),
        ("a,b\nc,d\n", {}, ["header", "mark, length"]),
        (HEAD + "\nA,RHS 80x40x3,1200,1\n", {"columns": {"mark": "Mork"}}, ["'Mork'", "Mark"]),
        (HEAD + ",Count\nA,RHS 80x40x3,1200,1,1\n", {}, ["'Count'", "Qty"]),
        (HEAD + ",Left\nA,RHS 80x40x3,1200,1,45\n", {"at": "overall"}, ["E2", "from square, from bar, included"]),
        (HEAD + ",Left\nA,RHS 80x40x3,1200,1,45\n", {"angles": "from bar"}, ["at", "overall"]),
        (HEAD + ",Left\nA,RHS 80x40x3,1200,1,180\n", {"angles": "from bar", "at": "overall"}, ["E2", "less than 180"]),
        (HEAD + "\n", {}, ["no row below"]),
        ("", {}, ["header"]),
        (HEAD + "\nA,RHS 80x40x3,1200,1\n", {"sheet": "Parts"}, ["no sheets"]),
        (HEAD + "\nA,RHS 80x40x3,1200,1\n", {"header": "9"}, ["header"]),
        (HEAD + "\nA,RHS 80x40x3,1200,1\n", {"encoding": "utf-99"}, ["encoding"]),
        (HEAD + "\nÄ,RHS 80x40x3,1200,1\n", {"encoding": "ascii"}, ["coded otherwise"]),
        (HEAD + '\nA,RHS 80x40x3,1200.5,1\nB,RHS 80x40x3,"900,5",1\n', {}, ["1200.5 (C2)", "900,5 (C3)"]),
        (HEAD + "\nA\0,RHS 80x40x3,1200,1\n", {}, ["no table"]),
        (HEAD + "\nA,RHS 80x40x3,1200,1\n", {"colums": "mark=A"}, ["colums", "columns"]),
    ],
)
def test_what_is_not_understood_is_asked_for(csv: Path, text: str, said: dict[str, Any], tells: list[str]) -> None:
    against = refused(csv, text, **said)
    assert [word for word in tells if word not in against] == []
    assert "\n" not in against


def workbook(path: Path, rows: list[list[Any]], **more: list[list[Any]]) -> bytes:
    """A workbook by a writer that shares nothing with the reader; a text that begins with = is a formula."""
    book = xlsxwriter.Workbook(str(path))
    days = book.add_format({"num_format": "dd.mm.yyyy"})
    for name, content in {"Parts": rows, **more}.items():
        sheet = book.add_worksheet(name)
        for i, row in enumerate(content):
            for j, cell in enumerate(row):
                if isinstance(cell, tuple):
                    sheet.write_formula(i, j, cell[0], None, cell[1])
                else:
                    sheet.write(i, j, cell, *([days] if isinstance(cell, date) else []))
    book.close()
    return path.read_bytes()


ROWS: list[list[Any]] = [["Order 12"], [], ["Mark", "Section", "Length", "Qty"], [101, "RHS 80x40x3", 1200.5, 4]]


def test_a_workbook_is_read_with_its_numbers(tmp_path: Path) -> None:
    path = tmp_path / "parts.xlsx"
    job = read(path, workbook(path, [*ROWS, ["B", "RHS 80x40x3", ("=2*450", 900), ("=1+1", 2)]]))
    assert [(o.mark, o.piece.long_point, o.quantity) for o in job.pieces] == [("101", 1200.5, 4), ("B", 900, 2)]
    assert [row.number for row in job.lists[0].rows] == [4, 5]


def test_a_formula_is_not_run(tmp_path: Path) -> None:
    """The writer keeps an empty text as the result here, as one that cannot compute does."""
    path = tmp_path / "parts.xlsx"
    against = refused(path, workbook(path, [*ROWS, ["B", "RHS 80x40x3", ("=2*450", ""), 2]]))
    assert "C5" in against
    assert "never run" in against


def test_a_day_is_no_angle(tmp_path: Path) -> None:
    path = tmp_path / "parts.xlsx"
    rows = [["Mark", "Section", "Length", "Left"], ["A", "RHS 80x40x3", 1200, date(2026, 12, 3)]]
    against = refused(path, workbook(path, rows), angles="from square", at="overall")
    assert "D2" in against
    assert "write it as text" in against


def test_the_sheet_is_asked_for_where_several_hold_anything(tmp_path: Path) -> None:
    path = tmp_path / "parts.xlsx"
    content = workbook(path, ROWS, Prices=[["Mark", "Price"], ["A", 3]], Empty=[])
    assert "Parts, Prices" in refused(path, content)
    assert "Parts, Prices" in refused(path, content, sheet="Teile")
    assert one(read(path, content, sheet="Parts")).mark == "101"


def test_cells_far_apart_fill_no_memory(tmp_path: Path) -> None:
    path = tmp_path / "parts.xlsx"
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet()
    for i, row in enumerate(ROWS):
        sheet.write_row(i, 0, row)
    sheet.write(1_048_575, 16_383, "far")
    book.close()
    assert "XFD1048576" in refused(path, path.read_bytes())


@pytest.mark.parametrize(
    ("name", "content", "tells"),
    [
        ("a.xlsx", b"PK\x03\x04 no archive", "damaged"),
        ("a.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 of old", "password"),
        ("a.csv", b"\x00\x01\x02" * 50, "no table"),
    ],
)
def test_what_is_no_list(tmp_path: Path, name: str, content: bytes, tells: str) -> None:
    assert tells in refused(tmp_path / name, content)


def test_a_workbook_with_a_damaged_sheet(tmp_path: Path) -> None:
    """The archive is sound, what it holds is not."""
    path = tmp_path / "parts.xlsx"
    workbook(path, ROWS)
    with ZipFile(path) as old:
        inside = {name: old.read(name) for name in old.namelist()}
    with ZipFile(path, "w") as new:
        for name, content in inside.items():
            new.writestr(name, content[:-20] if "sheet1" in name else content)
    assert "damaged" in refused(path, path.read_bytes())


def test_a_cut_off_workbook(tmp_path: Path) -> None:
    path = tmp_path / "parts.xlsx"
    content = workbook(path, ROWS)
    for size in (40, len(content) // 2, len(content) - 10):
        with pytest.raises(BadInput):
            read(path, content[:size])


def test_a_file_too_large_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "parts.csv"
    with path.open("wb") as file:
        file.truncate(100_000_000)
    assert LARGEST < 100_000_000
    with pytest.raises(BadInput, match="100 MB"):
        load_list(path, {}, "mm")


def test_a_million_rows_are_refused(csv: Path) -> None:
    with pytest.raises(BadInput, match=f"at most {MOST_ROWS} rows"):
        read(csv, "A,B,1\n" * 1_000_000)


def test_what_the_whole_list_must_say_is_asked_once(csv: Path) -> None:
    text = f"{HEAD},Left\nA,RHS 80x40x3,1200,1,45\nB,RHS 80x40x3,1200,1,30\n"
    with pytest.raises(BadInput) as error:
        read(csv, text, at="overall")
    assert error.value.where == ("parts.csv", "row 2", "E2")


@pytest.mark.parametrize("name", ["parts.xlsx", "parts.csv", "parts.txt"])
def test_what_an_office_program_wrote(name: str, recwarn: pytest.WarningsRecorder) -> None:
    """The formula =1200+0.5 with the result that the program kept; 60 from the bar is 30 from square."""
    job = load_list(OFFICE / name, {"angles": "from bar", "at": "overall"}, "mm")
    found = [(o.mark, o.quantity, o.piece.overall, o.piece.left.miter, o.piece.right.miter) for o in job.pieces]
    assert found == [("A", 4, pytest.approx(1200.5), 30, -30), ("Bü", 2, pytest.approx(900.25), 0, 0)]
    assert not recwarn.list
