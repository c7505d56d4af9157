"""The page for a browser as a file: well-formed, asks for nothing, all text escaped, a box for every cut of plan.json.

Read by html5lib, which refuses what the HTML standard calls a parse error; what it does on a screen is tried in
`tests/browser`.
"""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from math import cos, radians, tan
from pathlib import Path
from typing import Any

import html5lib
import pytest

from mitertool.job import load, solve
from mitertool.job.done import read_work
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.browser.page import cut_sheet_page
from mitertool.packet.pages.sheet.sheet import cut_sheet
from mitertool.words import speaking, words_of
from tests.packet.jobs import GALLERY, NASTY, ROOT, write_job

HTML, SVG = "{http://www.w3.org/1999/xhtml}", "{http://www.w3.org/2000/svg}"


def parsed(page: bytes) -> Any:
    return html5lib.HTMLParser(strict=True).parse(page.decode())


@cache
def files(name: str) -> dict[str, bytes]:
    made = packet_files(solve(load(ROOT / "gallery" / name / "job.toml")), Options())
    return {key: made[key] for key in ("cut-sheet.html", "plan.json")}


def boxes(plan: dict[str, Any]) -> Iterator[str]:
    """A box a cut: of every bar alike, of every blank, of every piece with a further cut."""
    for number, bar in enumerate(plan["bars"], 1):
        for copy in range(1, bar["count"] + 1):
            yield from (f"b{number}-{copy}-{cut}" for cut in range(1, len(bar["cuts"]) + 1))
    for number, recut in enumerate(plan["recuts"], 1):
        yield from (f"r{number}-{blank}" for blank in range(1, recut["count"] + 1))
    for number, further in enumerate(plan["further_cuts"], 1):
        yield from (f"f{number}-{piece}" for piece in range(1, further["pieces"] + 1))


def attributes(tree: Any, name: str) -> list[str]:
    return [node.get(name) for node in tree.iter() if node.get(name) is not None]


@pytest.mark.parametrize("name", GALLERY)
def test_every_cut_of_the_plan_has_its_box(name: str) -> None:
    tree = parsed(files(name)["cut-sheet.html"])
    found = [node.get("id") for node in tree.iter(f"{HTML}input")]
    assert sorted(found) == sorted(boxes(json.loads(files(name)["plan.json"])))
    assert found
    ids = attributes(tree, "id")
    assert len(set(ids)) == len(ids)
    assert {href[1:] for href in attributes(tree, "href")} <= set(ids)
    signs = [node for node in tree.iter(f"{SVG}svg") if not (node.get("role") == "img" and node.get("aria-label"))]
    assert [node for node in signs if node.get("aria-hidden") != "true"] == []


@pytest.mark.parametrize("name", [*GALLERY, *NASTY])
def test_the_page_is_well_formed_and_names_no_host(name: str, tmp_path: Path) -> None:
    path = ROOT / "gallery" / name / "job.toml" if name in GALLERY else write_job(name, tmp_path)
    page = cut_sheet_page(solve(load(path)))
    tree = parsed(page)
    assert all(href.startswith("#") for href in attributes(tree, "href"))
    assert attributes(tree, "src") == []
    assert not re.search(rb"https?:|//|url\(|@import", page)
    (policy,) = (node.get("content") for node in tree.iter(f"{HTML}meta") if node.get("http-equiv"))
    assert policy.startswith("default-src 'none'; ")
    for kind in ("style", "script"):
        (node,) = tree.iter(f"{HTML}{kind}")
        assert f"{kind}-src 'sha256-{b64encode(sha256(node.text.encode()).digest()).decode()}'" in policy


def test_blanks_and_their_second_ends_have_boxes(tmp_path: Path) -> None:
    """Worked by setting, every blank has a box for its second end too, in the order in which the plan has the work."""
    job = (ROOT / "gallery" / "hatch-frame" / "job.toml").read_text(encoding="utf-8")
    (tmp_path / "saw.toml").write_bytes((ROOT / "gallery" / "hatch-frame" / "saw.toml").read_bytes())
    (tmp_path / "job.toml").write_text(job.replace('way = "bar by bar"', 'way = "by setting"'), encoding="utf-8")
    made = packet_files(solve(load(tmp_path / "job.toml")), Options())
    plan, tree = json.loads(made["plan.json"]), parsed(made["cut-sheet.html"])
    found = [node.get("id") for node in tree.iter(f"{HTML}input")]
    assert sorted(found) == sorted(boxes(plan))
    seconds = [name for name in found if name.startswith("r")]
    assert len(seconds) == sum(recut["count"] for recut in plan["recuts"]) > 0
    first, *_ = (recut for recut in plan["recuts"])
    assert found.index("r1-1") > found.index(f"b{first['after_bars']}-1-1")


HOSTILE = """
format = 1
[job]
name = '<script>alert(1)</script> & "gate"'
customer = "</dl><img src=x onerror=alert(1)>"
[[stock]]
section = "SHS 50x50x3"
length = "6 m"
[[piece]]
mark = '=A,"1" <b>'
section = "SHS 50x50x3"
length = 800
left = 30
note = "</li><script>alert(2)</script>"
[nest]
kerf = 2
trim = 10
"""


def hostile(folder: Path) -> Path:
    path = folder / "job.toml"
    path.write_text(HOSTILE, encoding="utf-8")
    return path


def test_words_of_a_job_stay_words(tmp_path: Path) -> None:
    tree = parsed(cut_sheet_page(solve(load(hostile(tmp_path)))))
    assert [len(list(tree.iter(f"{HTML}{name}"))) for name in ("script", "img", "b")] == [1, 0, 0]
    (title,) = tree.iter(f"{HTML}h1")
    assert title.text == '<script>alert(1)</script> & "gate"'
    assert '=A,"1" <b>' in attributes(tree, "data-piece")


def rows(tree: Any) -> Iterator[str]:
    """The rows that the page makes where one of everything is done, as the script puts them together."""
    (body,) = tree.iter(f"{HTML}body")
    yield from body.get("data-opening").split("\n")
    for node in tree.iter():
        if node.get("data-piece"):
            yield node.get("data-before") + "1" + node.get("data-after")
            yield node.get("data-spoiled") + "1" + node.get("data-after")
        if node.get("data-rests"):
            yield node.get("data-used") + "1" + node.get("data-after")
            yield node.get("data-left") + node.get("data-rests").split()[0] + " mm,1" + node.get("data-after")


@pytest.mark.parametrize("name", [*GALLERY, "hostile"])
def test_what_the_page_writes_is_what_is_read_as_done(name: str, tmp_path: Path) -> None:
    job = load(hostile(tmp_path) if name == "hostile" else ROOT / "gallery" / name / "job.toml")
    (tmp_path / "done.csv").write_text("\r\n".join(rows(parsed(cut_sheet_page(solve(job))))), encoding="utf-8")
    work = read_work(tmp_path / "done.csv", job)
    done = work.done
    assert [(one.mark, one.count) for one in work.of(work.revision).spoiled] == [(mark, 1) for mark in done.good]
    assert done.good == {mark: 1 for order in job.pieces for mark, _ in order.counts}
    assert len(done.used) == len(done.left) > 0


def test_what_is_left_of_a_bar_is_never_told_too_long(tmp_path: Path) -> None:
    """Hand arithmetic: 6000 less the piece of 800 to its long point, the kerf of 2 and what trimming took."""
    path = tmp_path / "job.toml"
    path.write_text(HOSTILE.replace("left = 30", "left = 0"), encoding="utf-8")
    (rests,) = attributes(parsed(cut_sheet_page(solve(load(path)))), "data-rests")
    # The trim cut's kerf ends where the piece begins, at 10; the next takes 2 behind the piece: 6000 - 10 - 800 - 2.
    assert rests.split() == ["5990", "5188"]


def test_the_page_says_its_language() -> None:
    words = {**words_of("en"), "language.tag": "de", "browser.next": "Nächster Schnitt"}
    with speaking(words):
        page = cut_sheet_page(solve(load(ROOT / "gallery" / "hatch-frame" / "job.toml")))
    assert b'<html lang="de">' in page
    assert "Nächster Schnitt".encode() in page


def test_a_tick_of_a_row_of_bars_counts_all_that_it_parts(tmp_path: Path) -> None:
    """Three bars at once make three pieces a cut, a box of both hands one of each; bars gone are single bars."""
    parts = '[[piece]]\nmark = "{}"\nsection = "L 50x50x5"\nlength = 500\nleft = 45\nright = -45\n{}\n'
    job = '[job]\nname = "Rows"\n[nest]\nkerf = 2\ntrim = 10\n[[stock]]\nsection = "L 50x50x5"\nlength = 6000\n'
    job += parts.format("A", "quantity = 3\nside_by_side = 3") + parts.format(
        "B", "quantity = 1\nopposite = 1\nboxed = true"
    )
    (tmp_path / "job.toml").write_text(job, encoding="utf-8")
    tree = parsed(cut_sheet_page(solve(load(tmp_path / "job.toml"))))
    found = {row.get("data-mark"): (row.get("data-beside"), row.get("data-each")) for row in tree.iter(f"{HTML}li")}
    assert (found["A"], found["B"]) == ((None, "3"), ("B-OH", None))
    assert sorted(attributes(tree, "data-bars")) == ["2", "3"]
    assert all(used.startswith("bar used,L 50x50x5,") for used in attributes(tree, "data-used"))


def test_a_great_run_is_counted_in_fields(tmp_path: Path) -> None:
    """9999 pieces and 8888 of the other hand, two cuts each: no box a cut, but a field for each row of cuts."""
    page = cut_sheet_page(solve(load(write_job("large numbers", tmp_path))))
    fields = list(parsed(page).iter(f"{HTML}input"))
    assert {node.get("type") for node in fields} == {"number"}
    assert [int(node.get("max")) for node in fields] == [9999, 9999, 8888, 8888]
    assert len(page) < 100_000


def test_no_line_parts_a_number_from_its_fraction() -> None:
    """Of the hatch in feet and inches: what is read between tags, pictures aside, and no attribute."""
    page = files("hatch-frame")["cut-sheet.html"].decode()
    read = re.sub(r"<svg.*?</svg>|<style.*?</style>|<script.*?</script>|<[^>]+>", "|", page, flags=re.DOTALL)
    assert re.search("\\d\u00a0\\d+/16", read)
    assert not re.search(r"\d \d+/\d", read)


def test_the_page_has_the_marks_and_the_stops_of_a_frame(tmp_path: Path) -> None:
    """A rail of 20 with its middle 300 up the clear height of a frame of 50: it lands 290 up either post, and its lower
    stop lies 340 up, from 50 to 1050 across. A miter 50 wide whose ends are both 0.25 degrees out opens by
    2 * 50 / cos 45 * tan 0.25."""
    path = tmp_path / "job.toml"
    path.write_text(
        '[job]\nname = "rail"\n[[frame]]\nmark = "F"\nshape = "rectangle"\nsection = "SHS 50x50x3"\nwidth = 1100\n'
        'height = 900\nmeasured = "outside"\ninside = [{ bars = "rails", section = "SHS 20x20x2", at = [300] }]\n',
        encoding="utf-8",
    )
    told = " ".join(re.sub(r"<[^>]+>", " ", cut_sheet_page(solve(load(path))).decode("utf-8")).split())
    assert "F-2, corners 4 to 3 F-3 290 F-2, corners 1 to 2 F-3 290 " in told
    assert "lower side 50 340 1050 340 0°" in told
    opens = 2 * 50 / cos(radians(45)) * tan(radians(0.25))
    assert f"{opens:.2f}" == "0.62"
    assert re.search(r"opens, each end 0.25° out to the right up 1 F-1 to F-2 90° 0.62 0 0 ", told)


def text(node: Any) -> str:
    return " ".join("".join(node.itertext()).split())


def of_class(tree: Any, name: str) -> list[Any]:
    return [node for node in tree.iter() if name in (node.get("class") or "").split()]


@pytest.mark.parametrize("name", GALLERY)
def test_the_page_says_what_is_keyed_or_set_first_as_paper_does(name: str) -> None:
    solution = solve(load(ROOT / "gallery" / name / "job.toml"))
    paper = [box.says for box in cut_sheet(solution)[0].drawing.text_boxes()]
    begins, ends = (
        next(at for at, says in enumerate(paper) if says.startswith(word)) for word in ("cut first", "customer")
    )
    told = re.fullmatch(r"cut first: bar 1, page \d(?:, (.+))?", " ".join(paper[begins:ends]))
    tree = parsed(files(name)["cut-sheet.html"])
    first = next(text(node) for node in tree.iter(f"{HTML}dd") if text(node).startswith("bar 1"))
    assert told
    assert told[1]
    assert first.removeprefix("bar 1").strip() == told[1]


def test_where_no_saw_is_known_a_cut_has_its_slant_and_the_length_of_its_piece() -> None:
    """As on paper: cut 1 of the lantern house leans like a slash, cut 2 like a backslash, cuts 3 to 5 are square."""
    tree = parsed(files("lantern-house")["cut-sheet.html"])
    (bar,) = [node for node in of_class(tree, "work") if node.get("id") == "bar-1"]
    rows = of_class(bar, "cut")
    assert [text(of_class(row, "long")[0]) if of_class(row, "long") else "" for row in rows] == ["", "960", "", "1240"]
    leans = []
    for row in rows:
        (sign,) = of_class(row, "sign")
        lines = [[float(one.get(key)) for key in ("x1", "y1", "x2", "y2")] for one in sign.iter(f"{SVG}line")]
        x1, y1, x2, y2 = next(line for line in lines if line[1] != line[3])
        leans.append(0 if x1 == x2 else 1 if (x2 - x1) * (y2 - y1) < 0 else -1)
    assert leans == [1, -1, 0, 0]


def test_the_marks_by_tape_stand_open_before_the_cuts_that_are_made_by_them() -> None:
    for name, by_tape in (("lantern-house", True), ("hatch-frame", False)):
        tree = parsed(files(name)["cut-sheet.html"])
        for work in (node for node in of_class(tree, "work") if node.get("id").startswith("bar-")):
            kinds = [node.tag for node in work if text(node).startswith("Tape places") or node.tag == f"{HTML}ol"]
            assert kinds == [f"{HTML}details", f"{HTML}ol"][:: 1 if by_tape else -1]
            (tape,) = [node for node in work.iter(f"{HTML}details") if text(node).startswith("Tape places")]
            assert (tape.get("open") is not None) is by_tape


def test_a_table_has_no_column_that_is_empty() -> None:
    """No heat is told of the hatch's bars, no left-over of it has a place: both columns are left out on a telephone."""
    tree = parsed(files("hatch-frame")["cut-sheet.html"])
    heads = [[text(cell) for cell in table.iter(f"{HTML}th")] for table in tree.iter(f"{HTML}table")]
    assert ["bars", "section", "grade", "length", "each"] in heads
    assert ["bar", "section", "tip to tip", "from square, long at"] in heads


def test_a_wedge_on_a_bar_says_what_it_is() -> None:
    """Bar 1 of the hatch is rolled, its pipe is kept as it lies; no other bar has a mark."""
    page = files("hatch-frame")["cut-sheet.html"].decode()
    assert page.count("high, chalk the top</figcaption>") == page.count("high, keep top up</figcaption>") == 1


@pytest.mark.parametrize(("stock", "heats"), [("heat = '=4711'", ("=4711",)), ("", ())])
def test_what_the_page_writes_has_the_heat_of_all_bars_of_a_mark(
    tmp_path: Path, stock: str, heats: tuple[str, ...]
) -> None:
    path = hostile(tmp_path)
    path.write_text(HOSTILE.replace('length = "6 m"', f'length = "6 m"\n{stock}'), encoding="utf-8")
    job = load(path)
    (tmp_path / "done.csv").write_text("\r\n".join(rows(parsed(cut_sheet_page(solve(job))))), encoding="utf-8")
    (mark,) = (order.mark for order in job.pieces)
    assert read_work(tmp_path / "done.csv", job).of("").heats_of(mark) == heats
