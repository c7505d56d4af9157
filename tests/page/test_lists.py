"""The lists of parts of a job on its page: each row with what it became, or with what is wrong with it, and where."""

from __future__ import annotations

from pathlib import Path

import html5lib

from tests.page.conftest import Asks
from tests.page.test_pages import valid

JOB = '[job]\nname = "L"\n[[list]]\nfile = "parts.csv"\nangles = "from square"\nat = "long-point"\n'
HEAD = "Mark,Section,Length,Qty,Left,Right,Remark\n"
GOOD = "A1,RHS 80x40x3,1200,2,45,45,x\nA2,SHS 50x50x3,700,4,30,0,\n"
BAD = "A1,RHS 80x40x3,1200,2,45,45,\nA2,RHS 80x40x99,900,1,45,0,\nA3,SHS 50x50x3,-700,4,30,-30,\n"


def listed(asks: Asks, shop: Path, rows: str) -> tuple[str, list[list[str]]]:
    """The page of a job with such a list, and the cells of its table that has a column of rows."""
    (shop / "list.toml").write_text(JOB, encoding="utf-8")
    (shop / "parts.csv").write_text(HEAD + rows, encoding="utf-8")
    text = asks().get("/job", params={"file": "list.toml"}).text
    valid(text)
    tree = html5lib.parse(text, namespaceHTMLElements=False)
    tables = [
        [["".join(cell.itertext()) for cell in row if cell.tag in ("th", "td")] for row in table.iter("tr")]
        for table in tree.iter("table")
    ]
    return text, next(table for table in tables if table[0][0] == "row")


def test_each_row_is_shown_with_what_it_became(asks: Asks, shop: Path) -> None:
    """40 wide at 45 degrees at both ends: 80 from tip to tip; 50 wide at 30 at one: 50 tan 30 = 28.87."""
    text, (head, first, second) = listed(asks, shop, GOOD)
    assert head[:4] == ["row", "Mark (A)", "Section (B)", "Length (C)"] and "Remark" in text
    assert first[:3] == ["2", "A1", "RHS 80x40x3"]
    assert first[7:9] == ["2 of RHS 80x40x3 A1", "long point 1200, short point 1120"]
    assert second[8] == "long point 700, short point 671.1"
    assert second[9] == "left 30°, right 0° from square, long at the moving jaw"
    assert second[10].startswith("across the 50 side")


def test_a_bad_row_is_told_with_its_cell_among_the_others(asks: Asks, shop: Path) -> None:
    text, (head, good, unknown, short) = listed(asks, shop, BAD)
    assert "parts.csv: 2 of 3 rows cannot be read" in text and 'role="alert"' in text
    assert head[-1] == "what is wrong"
    assert good[-1] == "" and good[0] == "2"
    assert unknown[0] == "3" and unknown[-1].startswith("B3: section: found 'RHS 80x40x99'; the nearest names are")
    assert short[0] == "4" and short[-1].startswith("C4: length: found '-700 mm'")
