"""Every figure of a packet against `check --json`: the cut sheet as another program reads it, the tables, the plan.

The PDF is read with pypdf; figures are rounded by `tests.packet.rounding`, not by the package. Settings of an opposite
hand, which the JSON does not hold, follow from those of the piece as drawn: its cuts change places, and a cut that
goes to the other end of the piece swings the other way.
"""

from __future__ import annotations

import contextlib
import csv
import io
import itertools
import json
import re
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from pypdf import PdfReader

from mitertool.cli.main import run
from mitertool.job import Solution
from mitertool.packet.packet import Options, packet_files
from tests.packet.jobs import GALLERY
from tests.packet.rounding import angle, length, rounded

JOBS = (
    *GALLERY,
    *("fractions", "thirty-seconds", "inches", "beveled, bar rolled", "beveled, blade tilted", "beveled, no saw"),
    *("parallel and pointed", "tiny, huge, short", "no saw", "every lay"),
)
KG_PER_POUND = 0.45359237
"""Exact: international yard and pound agreement of 1959."""

Record = dict[str, Any]


class Made(NamedTuple):
    """A job as its file, the scale of its saw (None without), the answer of `check --json`, its packet, its pages."""

    head: Record
    scale: Record | None
    answer: Record
    files: dict[str, bytes]
    pages: tuple[str, ...]

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
    return Made(head, saw and saw["scale"], checked(path), files, tuple(page.extract_text() for page in pages))


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
def test_the_table_of_pieces(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    text = run_together(made.text)
    for mark in marks(made):
        piece = mark.piece
        lengths = (length(piece[key], made.units) for key in ("long_point_mm", "short_point_mm"))
        ends = (sided_reading(made.scale, end) for end in (mark.left, mark.right))
        cells = (mark.mark, str(mark.quantity), piece["section"], piece["grade"], *lengths)
        left, right = ends
        asked = "(?:roll|tilt|packed|bevel|,)*"  # in a word what else a cut asks
        row = re.escape(run_together("".join((*cells, left)))) + asked + re.escape(run_together(right))
        assert re.search(row, text), cells


def test_parallel_ends_are_told_from_mirrored_ones(made_of: Callable[[str], Made]) -> None:
    """+45 and -45 are parallel, +45 and +45 mirrored; only the parallel ends say so."""
    text = run_together(made_of("parallel and pointed").text)
    assert "PARALLEL1RHS80x40x31000100045°45°pointsopposite" in text
    assert "POINTED1FLAT60x20120045°135°SLIVER" in text


def run_together(text: str) -> str:
    """A text without its spaces and line ends: cells of a row follow each other, and a long one has several lines."""
    return "".join(text.split())


def block(made: Made, mark: Mark) -> str:
    """The text of a mark's block, from its title to the last of its settings."""
    title = rf"^{re.escape(mark.mark)} {mark.quantity} pieces? (?:.*\n)+?LONG POINT\n.*\nshort point .*$"
    found = re.findall(title, made.text, re.MULTILINE)
    assert len(found) == 1, f"{mark.mark} has {len(found)} blocks"
    return str(found[0])


@pytest.mark.parametrize("name", JOBS)
def test_the_block_of_every_mark(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    for mark in marks(made):
        text, piece = block(made, mark), mark.piece
        longest, shortest = (length(piece[key], made.units) for key in ("long_point_mm", "short_point_mm"))
        hand = ", OPPOSITE HAND" * mark.mark.endswith("-OH")
        facts = ", ".join(fact for fact in (piece["section"], piece["grade"]) if fact)
        assert text.splitlines()[0].endswith(f"{'s' * (mark.quantity > 1)} {facts}{hand}")
        assert re.search(rf"^long point {re.escape(longest)}$", text, re.MULTILINE), "dimension"
        assert text.endswith(f"LONG POINT\n{longest}\nshort point {shortest}")
        for word, end in (("LEFT", mark.left), ("RIGHT", mark.right)):
            says = reading(made.scale, end)
            asked = ("on this saw" if says == CANNOT else "scale reads") if made.scale else "from square"
            assert f"{word} END: {asked}\n{says}\n" in text


@pytest.mark.parametrize("name", JOBS)
def test_rolls_and_tilts_of_every_mark(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    for mark in marks(made):
        text = " ".join(block(made, mark).split())
        left, _, right = text.partition("RIGHT END")
        for says, end in ((left, mark.left), (right, mark.right)):
            jaw = "moving" if end.roll > 0 else "fixed"
            turn = "half a turn" if end.roll == 180 else f"{angle(abs(end.roll))}, its top to the {jaw} jaw"
            assert (f"bar rolled from the picture {turn}" in says) == bool(end.roll)
            assert (f"tilt {angle(abs(end.tilt))}" in says) == bool(end.tilt)


@pytest.mark.parametrize("name", JOBS)
def test_the_totals_of_the_first_page(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    found = list(marks(made))
    mass = sum(mark.quantity * mark.piece["nominal_mass_kg"] for mark in found)
    shown = f"{rounded(mass, '0.1')} kg" if made.units == "mm" else f"{rounded(mass / KG_PER_POUND, '0.1')} lb"
    count = sum(mark.quantity for mark in found)
    counted = f"{count} piece{'s' * (count > 1)} of {len(found)} mark{'s' * (len(found) > 1)}"
    assert f"{counted}, {shown} in pieces (nominal mass)" in made.pages[0]


@pytest.mark.parametrize("name", [*GALLERY, "fractions", "thirty-seconds"])
def test_the_totals_of_the_bars(name: str, made_of: Callable[[str], Made]) -> None:
    made = made_of(name)
    plan, text = json.loads(made.files["plan.json"]), run_together(made.text)
    bought = length(sum(bar["count"] * bar["stock_length_mm"] for bar in plan["bars"]), made.units)
    bars = sum(bar["count"] for bar in plan["bars"])
    cuts = sum(bar["count"] * len(bar["cuts"]) for bar in plan["bars"])
    assert run_together(f"{bars} bars, {bought} of stock, {cuts} cuts") in text
    tilts = f", {plan['tilts']} tilts of the blade" if plan["tilts"] else ""
    assert run_together(f"{plan['swings']} swings of the arm{tilts}, {plan['rolls']} rolls of the bar") in text
    parts = ", ".join(f"{part} {length(plan['steel_mm'][part], made.units)}" for part in STEEL)
    assert run_together(f"{bought} bought: {parts}.") in text


STEEL = ("pieces", "kerf", "wedges", "trim", "grip", "drops")
LIES = {"as-drawn": "", "end-for-end": " end for end", "rolled": " rolled"}


@pytest.mark.parametrize("name", [*GALLERY, "fractions", "thirty-seconds"])
def test_the_bars(name: str, made_of: Callable[[str], Made]) -> None:
    """Every bar with its length and drop, its pieces as they lie, and each cut by tape on both sides."""
    made = made_of(name)
    text = run_together(made.text)
    for number, bar in enumerate(json.loads(made.files["plan.json"])["bars"], 1):
        alike = f", {bar['count']} alike" if bar["count"] > 1 else ""
        names = ", ".join(word for word in (bar["section"], bar["grade"]) if word)
        sizes = f"{length(bar['stock_length_mm'], made.units)}, drop {length(bar['drop_mm'], made.units)}"
        assert run_together(f"Bar {number}{alike}: {names}, {sizes}") in text
        lying = [piece["mark"] + LIES.get(piece["pose"], " end for end and rolled") for piece in bar["pieces"]]
        counted = [(says, len(list(alike_ones))) for says, alike_ones in itertools.groupby(lying)]
        order = ", ".join(f"{count} x {says}" if count > 1 else says for says, count in counted)
        assert run_together(f"From the leading end: {order}Tape from the leading end,") in text
        kerfs = list(kerf_sides(bar))
        told = zip(bar["cuts"], kerfs, strict=True)
        places = "; ".join(f"cut {n}: {by_tape(cut, kerf, made.units)}" for n, (cut, kerf) in enumerate(told, 1))
        assert run_together(f"Tape from the leading end, {places}") in text


def kerf_sides(bar: Record) -> Iterator[str]:
    """The first cut, and one after a cut that is not shared, begins a piece: its kerf is before it."""
    begins = True
    for n, cut in enumerate(bar["cuts"]):
        yield "before" if begins else "past"
        begins = not begins and not cut["shared"] and n + 1 < len(bar["cuts"])


def by_tape(cut: Record, kerf: str, units: str) -> str:
    """Where a cut stands by tape, on both sides where they differ on paper."""
    fixed, moving = (length(cut[f"{side}_mm"], units) for side in ("fixed", "moving"))
    place = fixed if fixed == moving else f"{fixed} fixed side, {moving} moving side"
    return f"{place}, kerf {kerf}, shared" if cut["shared"] else f"{place}, kerf {kerf}"


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
                assert side == side_of(pointer(made.scale, wanted))
                assert by_the_rule(made.scale, wanted) in (angle(float(scale)), f"{angle(float(scale))} {side}")
                assert float(roll) == pytest.approx(wanted.roll, abs=1e-9)


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
