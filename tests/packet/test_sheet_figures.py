"""Every figure of a packet against `check --json`: the cut sheet as another program reads it, the tables, the plan.

The PDF is read with pypdf; figures are rounded by `tests.packet.rounding`, not by the package. Settings of an opposite
hand, which the JSON does not hold, follow from those of the piece as drawn: its cuts change places, and a cut that
goes to the other end of the piece swings the other way.
"""

from __future__ import annotations

import contextlib
import csv
import io
import json
import math
import re
import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from pypdf import PdfReader

from mitertool.cli.main import run
from mitertool.job import Solution, load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.packet import Options, packet_files
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import GALLERY, ROOT
from tests.packet.rounding import angle, length, rounded
from tests.virtual_saw.sheet_text import Word, lines, words

JOBS = (
    *GALLERY,
    *("fractions", "thirty-seconds", "inches", "beveled, bar rolled", "beveled, blade tilted", "beveled, no saw"),
    *("parallel and pointed", "tiny, huge, short", "no saw", "every lay"),
)
KG_PER_POUND = 0.45359237
"""Exact: international yard and pound agreement of 1959."""

Record = dict[str, Any]


class Made(NamedTuple):
    """A job as its file, the scale of its saw (None without), the answer of `check --json`, its packet, the text of its
    pages, and all that was lettered at once, as one word each.
    """

    head: Record
    scale: Record | None
    answer: Record
    files: dict[str, bytes]
    pages: tuple[str, ...]
    words: tuple[str, ...]

    @property
    def units(self) -> str:
        return str(self.head.get("units", "mm"))

    @property
    def text(self) -> str:
        return "\n".join(self.pages)


CANNOT = "cannot be cut"


class End(NamedTuple):
    """What must be set for an end, degrees; a swing is positive to the feed side."""

    swing: float
    roll: float
    tilt: float
    miter: float


class Mark(NamedTuple):
    """A mark as the sheet must show it."""

    mark: str
    quantity: int
    piece: Record
    left: End
    right: End


@pytest.fixture(scope="module")
def made_of(solution_of: Callable[[str], Solution]) -> Callable[[str], Made]:
    return cache(lambda name: _made(solution_of(name)))


def _made(solution: Solution) -> Made:
    path = solution.job.path
    head = tomllib.loads(path.read_text(encoding="utf-8"))["job"]
    saw = tomllib.loads((path.parent / head["saw"]).read_text(encoding="utf-8")) if "saw" in head else None
    files = packet_files(solution, Options())
    pages = PdfReader(io.BytesIO(files["cut-sheet.pdf"])).pages
    said = tuple(word.text for word in words(files["cut-sheet.pdf"]))
    return Made(head, saw and saw["scale"], checked(path), files, tuple(page.extract_text() for page in pages), said)


def checked(path: Path) -> Record:
    """The answer of `mitertool check JOB --json`."""
    with contextlib.redirect_stdout(io.StringIO()) as said:
        run(["check", str(path), "--json"])
    answer: Record = json.loads(said.getvalue())
    return answer


def marks(made: Made) -> Iterator[Mark]:
    """Every mark of a job, an opposite hand of its own where the table has one."""
    opposite = {row["mark"] for row in rows(made) if row["hand"] == "opposite"}
    for piece in made.answer["pieces"]:
        left, right = (_end(piece, end) for end in ("left", "right"))
        other = f"{piece['mark']}-OH"
        alone = other not in opposite
        yield Mark(piece["mark"], piece["quantity"] + piece["opposite"] * alone, piece, left, right)
        if not alone:
            yield Mark(other, piece["opposite"], piece, _moved(right), _moved(left))


def _end(piece: Record, end: str) -> End:
    reach, miter = piece["reach"][end], piece[end]["miter_deg"]
    return End(reach["swing_deg"], reach["roll_deg"], reach["tilt_deg"], miter) if reach else End(0, 0, 0, miter)


def _ways(end: End) -> Iterator[End]:
    """The ways to make a cut that a plan may take: as drawn; the bar half a turn over, the arm on its other side; and
    the bar laid end for end, where the roll goes the other way."""
    yield end
    yield End(-end.swing, end.roll - 180 if end.roll > 0 else end.roll + 180, -end.tilt, end.miter)
    yield End(end.swing, -end.roll, end.tilt, end.miter)


def _moved(end: End) -> End:
    return End(-end.swing, end.roll, -end.tilt, end.miter)


def rows(made: Made) -> list[dict[str, str]]:
    """pieces.csv by its heading."""
    return list(csv.DictReader(io.StringIO(made.files["pieces.csv"].decode("utf-8"))))


def reading(scale: Record | None, end: End) -> str:
    """What the protractor must read: the rule of the saw file's [scale]; nothing where the arm does not go so far."""
    if scale is None:
        return angle(abs(end.miter))
    if abs(end.swing) > scale["feed_side_most" if end.swing > 0 else "discharge_side_most"]:
        return CANNOT
    return by_the_rule(scale, end)


def by_the_rule(scale: Record, end: End) -> str:
    """The reading for a swing, whether or not the arm goes so far."""
    if scale.get("two_sided"):
        shown = pointer(scale, end)
        return angle(abs(shown)) + ("" if shown * end.swing > 0 or not shown else f" {side_of(shown)}")
    sign = 1 if scale["positive"] == "feed-side" else -1
    return angle(scale["square"] + sign * end.swing + scale.get("offset", 0))


def sided_reading(scale: Record | None, end: End) -> str:
    """A reading as it stands where no words beside it say which way the arm goes."""
    says = reading(scale, end)
    if scale is None or says == CANNOT or not scale.get("two_sided") or not pointer(scale, end):
        return says
    return f"{says.split()[0]} {side_of(pointer(scale, end))}"


def pointer(scale: Record, end: End) -> float:
    """Where the pointer of a two-sided scale stands, positive to the feed side; of another where the arm does."""
    return end.swing + (scale.get("offset", 0) if scale.get("two_sided") else 0)


def side_of(swing: float) -> str:
    """The side to which a swing goes."""
    return "feed" if swing > 0 else "discharge" if swing < 0 else "square"


def test_the_rule_of_the_scale() -> None:
    sides = {"feed_side_most": 45, "discharge_side_most": 60}
    feed, both = {"square": 90, "positive": "feed-side", **sides}, {"square": 0, "two_sided": True, **sides}
    assert reading(feed, End(45, 0, 0, 45)) == "135°"  # square 90, feed-side: a right +45 reads 135,
    assert reading(feed, End(-45, 0, 0, 45)) == "45°"  # a left +45 reads 45
    assert reading(both, End(-22.5, 0, 0, 22.5)) == "22.5°"
    off = {**both, "offset": -1}  # the arm stands 1 further to the feed side than its pointer
    assert [reading(off, End(swing, 0, 0, 0)) for swing in (45, -45, 0)] == ["44°", "46°", "1° discharge"]
    assert reading(None, End(0, 0, 0, -22.5)) == "22.5°"
    assert reading(both, End(46, 0, 0, 46)) == CANNOT


@pytest.mark.parametrize("name", JOBS)
def test_the_pieces_in_the_order_of_cutting(name: str, made_of: Callable[[str], Made]) -> None:
    """Mark, count, section and long point of every mark follow each other on the first pages."""
    made = made_of(name)
    text = run_together(made.text)
    for mark in marks(made):
        piece = mark.piece
        hand = "oppositehand" * mark.mark.endswith("-OH")
        cells = (str(mark.quantity), piece["section"], length(piece["long_point_mm"], made.units))
        row = re.escape(run_together(mark.mark)) + ".{0,60}?" + re.escape(run_together("".join(cells)))
        assert re.search(row, text), cells
        assert hand in text


@pytest.mark.parametrize("name", JOBS)
def test_every_reading_stands_in_the_scales_own_lines(name: str, made_of: Callable[[str], Made]) -> None:
    """The nearest line, by hand: the division goes so often into the reading; without a saw degrees from square."""
    made = made_of(name)
    division = float(made.scale.get("division", 1)) if made.scale else 0.01
    for mark in marks(made):
        for end in (mark.left, mark.right):
            says = reading(made.scale, end).split()[0]
            if says == CANNOT.split()[0]:
                assert CANNOT in " ".join(made.words)
                continue
            degrees = float(says.rstrip("\u00b0"))
            times = abs(degrees) / division
            lines = {math.copysign(math.floor(times + half) * division, degrees) for half in (0.499999, 0.500001)}
            told = lines if made.scale else {degrees}
            assert any(angle(line + 0.0) in made.words for line in told), (mark.mark, says)


def run_together(text: str) -> str:
    """A text without its spaces and line ends: cells of a row follow each other, and a long one has several lines."""
    return "".join(text.split())


@pytest.mark.parametrize("name", JOBS)
def test_the_pieces_and_their_mass_on_the_first_page(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    found = list(marks(made))
    mass = sum(mark.quantity * mark.piece["nominal_mass_kg"] for mark in found)
    shown = f"{rounded(mass, '0.1')} kg" if made.units == "mm" else f"{rounded(mass / KG_PER_POUND, '0.1')} lb"
    count = sum(mark.quantity for mark in found)
    counted = f"{count} piece{'s' * (count > 1)} of {len(found)} mark{'s' * (len(found) > 1)}"
    assert f"{counted}, {shown}" in made.pages[0]


@pytest.mark.parametrize("name", [*GALLERY, "fractions", "thirty-seconds"])
def test_bars_to_fetch(name: str, made_of: Callable[[str], Made]) -> None:
    """Section, grade and length of every bar of the plan, with how many there are of it in all."""
    made = made_of(name)
    plan, text = json.loads(made.files["plan.json"]), run_together(made.text)
    counted: Counter[tuple[str, str, float]] = Counter()
    for bar in plan["bars"]:
        counted[bar["section"], bar["grade"], round(bar["stock_length_mm"], 3)] += bar["count"]
    for (section, grade, long), count in counted.items():
        assert run_together(f"{count}{section}{grade}{length(long, made.units)}") in text


@pytest.mark.parametrize("name", [*GALLERY, "fractions", "thirty-seconds"])
def test_the_bars(name: str, made_of: Callable[[str], Made]) -> None:
    """Every bar with its section, length and count, and each cut by tape on both sides, in the order of the plan."""
    made = made_of(name)
    text = run_together(made.text)
    at = 0
    for number, bar in enumerate(json.loads(made.files["plan.json"])["bars"], 1):
        names = ", ".join(word for word in (bar["section"], bar["grade"]) if word)
        title = run_together(f"Bar {number}{names}, {length(bar['stock_length_mm'], made.units)}")
        assert title in text[at:], number
        at = text.index(title, at)
        assert (f"{bar['count']}barsalike" in text[at : at + 300]) == (bar["count"] > 1)
        sides = ["before" if side == "before" else "beyond" for side in kerf_sides(bar)]
        places = text[re.compile("Bytape|Markalloutfirst").search(text, at).start() :]  # type: ignore[union-attr]
        for n, cut in enumerate(bar["cuts"], 1):
            fixed, moving = (length(cut[f"{side}_mm"], made.units) for side in ("fixed", "moving"))
            assert run_together(f"{n}{sides[n - 1]}{fixed}{moving}") in places


def kerf_sides(bar: Record) -> Iterator[str]:
    """The first cut, and one after a cut that is not shared, begins a piece: its kerf is before it."""
    begins = True
    for n, cut in enumerate(bar["cuts"]):
        yield "before" if begins else "past"
        begins = not begins and not cut["shared"] and n + 1 < len(bar["cuts"])


@pytest.mark.parametrize("name", [*GALLERY, "fractions"])
def test_every_length_to_key_and_every_stop_stands_in_its_bar(name: str, made_of: Callable[[str], Made]) -> None:
    """By plan.json: what is keyed as a control of one decimal shows it, where a stop stands as a tape has it."""
    made = made_of(name)
    plan = json.loads(made.files["plan.json"])
    titles = [at for at, word in enumerate(made.words) if re.fullmatch(r"Bar \d+", word)]
    assert len(titles) == len(plan["runs"])
    for bar, begin, end in zip(plan["runs"], titles, [*titles[1:], None], strict=True):
        block = made.words[begin:end]
        for line in bar["feed"] or ():
            if line["key_mm"]:
                assert length(abs(line["key_mm"]), made.units) in block
        for stop in bar["stops"]:
            if stop["from_blade_mm"] is not None:
                assert any(length(stop["from_blade_mm"], made.units) in word for word in block)


# How much paper: boathouse-gate has a page for its frames and one for what is left, engine-shed two for its frames in
# space with the tables of how their members are held.
MOST_PAGES = {
    "boathouse-gate": 5,
    "engine-shed": 9,
    "hatch-frame": 7,
    "jetty-stand": 6,
    "keel-jig": 4,
    "lantern-house": 6,
    "loft-window": 4,
    "ramp-rail": 5,
    "slip-trolley": 5,
}


@pytest.mark.parametrize("name", GALLERY)
def test_how_much_paper_a_job_takes(name: str, made_of: Callable[[str], Made]) -> None:
    assert len(made_of(name).pages) <= MOST_PAGES[name]


FRAME_OF_TWO = """[job]
name = "Frame"
saw = "saw.toml"
[nest]
way = "bar by bar"
[[stock]]
section = "RHS 60x40x3"
length = "6 m"
[[frame]]
mark = "F"
shape = "rectangle"
section = "RHS 40x60x3"
width = 1180
height = 840
measured = "outside"
"""


def test_a_frame_of_two_marks_on_one_bar_takes_two_pages(tmp_path: Path) -> None:
    (tmp_path / "saw.toml").write_bytes((ROOT / "gallery" / "saws" / "hinged.toml").read_bytes())
    (tmp_path / "job.toml").write_text(FRAME_OF_TWO, encoding="utf-8")
    solution = solve(load(tmp_path / "job.toml"))
    assert len(solution.pieces) == 2
    assert sum(run.bar.count for run in solution.runs) == 1
    assert len(cut_sheet(solution)) <= 2


def test_sixty_marks_take_at_most_twenty_pages(solution_of: Callable[[str], Solution]) -> None:
    solution = solution_of("many marks")
    assert len(solution.pieces) >= 60
    assert len(cut_sheet(solution)) <= 20


@pytest.mark.parametrize("name", GALLERY)
def test_a_figure_of_page_one_stands_twice_at_most(name: str, made_of: Callable[[str], Made]) -> None:
    """The long point of a mark stands on page one, and where its first piece is measured."""
    made = made_of(name)
    longs = Counter(length(mark.piece["long_point_mm"], made.units) for mark in marks(made))
    told = Counter(
        found[1]
        for word in made.words
        if (
            found := re.match(
                r"first: (?:long point|both sides|length) (.+?)(?: \u00b1.*|, ends .*|, tip to tip .*)?$", word
            )
        )
    )
    assert told == longs
    rows = [at for at, word in enumerate(made.words) if re.fullmatch(r"Bar \d+", word)]
    assert not any("long point" in word for word in made.words[: rows[0] if rows else None])


@pytest.mark.parametrize("name", GALLERY)
def test_every_page_bears_what_it_must(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    for number, page in enumerate(made.pages, 1):
        assert made.head["name"] in page
        assert f"revision {made.head['revision']}" in page
        assert f"page {number} of {len(made.pages)}" in page
        assert re.search(r"mitertool \d+\.\d+\.\d+", page)
        assert f"inputs {json.loads(made.files['plan.json'])['inputs']}" in page
        assert (f"saw file {made.head['saw']}" if made.scale else "no saw file") in page


# --- tables for other programs

COLUMNS = (
    *("mark", "hand", "quantity", "section", "grade"),
    *("long_point_mm", "short_point_mm", "centerline_mm", "overall_mm"),
    *("left_miter_deg", "left_bevel_deg", "right_miter_deg", "right_bevel_deg"),
    *("left_scale_deg", "right_scale_deg", "left_scale_side", "right_scale_side"),
    *("left_roll_deg", "right_roll_deg", "mass_kg", "nominal_mass_kg"),
    *("left_further_deg", "right_further_deg"),
)


@pytest.mark.parametrize("name", JOBS)
def test_the_table_for_other_programs(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    table = rows(made)
    assert tuple(table[0]) == COLUMNS
    by_mark = {row["mark"]: row for row in table}
    assert list(by_mark) == [mark.mark for mark in marks(made)]
    for mark in marks(made):
        row, piece = by_mark[mark.mark], mark.piece
        assert (row["section"], row["grade"]) == (piece["section"], piece["grade"])
        assert int(row["quantity"]) == mark.quantity
        for key in ("long_point_mm", "short_point_mm", "centerline_mm", "overall_mm", "mass_kg", "nominal_mass_kg"):
            assert float(row[key]) == pytest.approx(piece[key], rel=1e-12, abs=1e-9)
        ends = ("left", "right") if row["hand"] == "as drawn" else ("right", "left")
        for column, end in zip(("left", "right"), ends, strict=True):
            for what in ("miter", "bevel"):
                assert float(row[f"{column}_{what}_deg"]) == pytest.approx(piece[end][f"{what}_deg"], abs=1e-9)


@pytest.mark.parametrize("name", JOBS)
def test_the_settings_in_the_table_for_other_programs(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    by_mark = {row["mark"]: row for row in rows(made)}
    for mark in marks(made):
        for end, wanted in (("left", mark.left), ("right", mark.right)):
            scale, roll = (by_mark[mark.mark][f"{end}_{what}_deg"] for what in ("scale", "roll"))
            if made.scale is None:
                assert (scale, roll) == ("", "")
            else:
                side = by_mark[mark.mark][f"{end}_scale_side"]
                told = (angle(float(scale)), f"{angle(float(scale))} {side}")
                ways = [one for one in _ways(wanted) if float(roll) == pytest.approx(one.roll, abs=1e-9)]
                assert any(
                    side == side_of(pointer(made.scale, one)) and by_the_rule(made.scale, one) in told for one in ways
                )


PLAN = {"format": int, "bars": list, "cost": (int, float), "lower_bound": (int, float), "proved": bool}
BAR = {"section": str, "grade": str, "stock_length_mm": float, "count": int, "pieces": list, "drop_mm": float}
PLACED = {"mark": str, "pose": str, "at_mm": float}
COUNTS = {"swings": int, "rolls": int}
POSES = {"as-drawn", "end-for-end", "rolled", "end-for-end-rolled"}


def holds(record: Record, kinds: dict[str, Any]) -> bool:
    """Whether a record has every key with a value of its kind; a truth value is no number."""
    return all(
        key in record and isinstance(record[key], kind) and (kind is bool or not isinstance(record[key], bool))
        for key, kind in kinds.items()
    )


@pytest.mark.parametrize("name", JOBS)
def test_the_plan(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    plan = json.loads(made.files["plan.json"])
    assert holds(plan, {**PLAN, **COUNTS})
    assert plan["format"] == 1
    cut: Counter[str] = Counter()
    for bar in plan["bars"]:
        assert holds(bar, {**BAR, **COUNTS})
        for placed in bar["pieces"]:
            assert holds(placed, PLACED)
            assert placed["pose"] in POSES
            assert 0 < placed["at_mm"] < bar["stock_length_mm"]
            cut[placed["mark"]] += bar["count"]
    stocked = name in (*GALLERY, "fractions", "thirty-seconds")
    assert dict(cut) == ({mark.mark: mark.quantity for mark in marks(made)} if stocked else {})
    assert plan["lower_bound"] <= plan["cost"] + 1e-9


@pytest.mark.parametrize("name", JOBS)
def test_the_plan_holds_what_check_says(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    plan = json.loads(made.files["plan.json"])
    for key in ("job", "pieces", "assemblies", "problems"):
        assert plan[key] == made.answer[key]


@pytest.mark.parametrize("name", ["boathouse-gate", "hatch-frame", "jetty-stand", "lantern-house"])
def test_page_one_tells_on_which_page_each_bar_begins(
    name: str, made_of: Callable[[str], Made], solution_of: Callable[[str], Solution]
) -> None:
    solution, found = solution_of(name), words(made_of(name).files["cut-sheet.pdf"])
    begins = {word.text: str(word.page + 1) for word in found if re.fullmatch(r"Bar \d+", word.text)}
    told: dict[str, str] = {}
    for heading, line in pairwise(_with_heading(lines(found))):
        if [word.text for word in heading[:3]] == ["Bar", "Mark", "Pcs"] and abs(line[0].x - heading[0].x) < 1:
            told[line[1].text] = line[-1].text
    for piece in floor_of(solution).pieces:
        if piece.bars and piece.mark in told:
            assert told[piece.mark] == begins[f"Bar {piece.bars[0]}"], piece.mark
    assert told


def _with_heading(found: Iterable[list[Word]]) -> Iterator[list[Word]]:
    """Each row of the table of pieces right behind its titles, again and again."""
    heading: list[Word] = []
    for line in found:
        if [word.text for word in line[:3]] == ["Bar", "Mark", "Pcs"]:
            heading = line
        elif heading and line[0].page == heading[0].page and len(line) > 5:
            yield heading
            yield line
