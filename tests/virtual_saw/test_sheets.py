"""The cut sheet read as a person reads it, from the lettering of its PDF, and cut by on the virtual saw."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from tests.virtual_saw import judge, mutations, random_jobs, sheet_judge, work
from tests.virtual_saw.judge import Counted
from tests.virtual_saw.sheet_ends import Card, End, Short
from tests.virtual_saw.sheet_reader import Sheet
from tests.virtual_saw.test_gallery import GALLERY, JOBS

BY_LOT = 60
AT_ONCE = 10
DRAWN = {seed: random_jobs.job(seed) for seed in range(300)}
POINTED = [seed for seed, job in DRAWN.items() if "meets =" in job.text and "two_sided" in (job.saw or "")][:2]
"""Jobs with more than one plane at an end, on scales that read up both ways: rare by lot."""

PER_JOB = 15
"""Changes tried of a sheet, by lot out of all."""


@pytest.mark.parametrize("name", JOBS)
def test_the_sheets_of_the_gallery(name: str) -> None:
    assert work.sheet_faults(work.of_gallery(GALLERY / name / "job.toml")) == []


@pytest.mark.parametrize("first", range(0, BY_LOT, AT_ONCE))
def test_sheets_by_lot(first: int, tmp_path: Path) -> None:
    wrong = {seed: work.sheet_faults(work.by_lot(seed, tmp_path)) for seed in range(first, first + AT_ONCE)}
    assert {seed: faults for seed, faults in wrong.items() if faults} == {}


@pytest.mark.parametrize("seed", POINTED)
def test_sheets_of_further_cuts_on_a_scale_that_reads_up_both_ways(seed: int, tmp_path: Path) -> None:
    assert work.sheet_faults(work.by_lot(seed, tmp_path)) == []


@pytest.fixture(scope="module", params=["boathouse-gate", "hatch-frame"])
def told(request: pytest.FixtureRequest) -> tuple[work.Work, Sheet, Counted]:
    job = work.of_gallery(GALLERY / request.param / "job.toml")
    return job, Sheet(job.pdf(), job.units), judge.job(job.saw, job.drawing, job.bars, "tape")[1]


def test_no_wrong_step_on_a_sheet_passes(told: tuple[work.Work, Sheet, Counted]) -> None:
    """Lengths by one step of what is printed; readings, rolls, tilts, sides, marks and counts as for plan.json."""
    job, sheet, _ = told
    every = list(mutations.of_bars(job.saw, sheet.bars, sheet_judge.step_of(sheet)))
    tried = Random(0).sample(every, PER_JOB)
    assert [
        what for what, _, bars in tried if not list(sheet_judge.bars_told(sheet, bars, job.saw, job.drawing, job.bars))
    ] == []


def test_no_wrong_card_passes(told: tuple[work.Work, Sheet, Counted]) -> None:
    job, sheet, _ = told
    for mark, card in sheet.cards.items():
        for wrong in _wrong_cards(card, job.saw.division, job.saw.two_sided):
            assert list(sheet_judge.card(sheet, mark, wrong, job.saw, job.drawing, job.bars)), (mark, wrong)


@pytest.mark.parametrize("seed", POINTED)
def test_no_wrong_further_cut_on_a_card_passes(seed: int, tmp_path: Path) -> None:
    job = work.by_lot(seed, tmp_path)
    sheet = Sheet(job.pdf(), job.units)
    further = {(mark, at): cut for mark, card in sheet.cards.items() for at, cut in card.further.items()}
    assert further
    for (mark, at), cut in further.items():
        card = sheet.cards[mark]
        wrong = [{**card.further, at: way} for way in _wrong_ways(cut, job.saw.division, job.saw.two_sided)]
        left_out = {one: way for one, way in card.further.items() if one != at}
        for cuts in (*wrong, left_out):
            told = replace(card, further=cuts)
            assert list(sheet_judge.card(sheet, mark, told, job.saw, job.drawing, job.bars)), (mark, told)


def test_no_wrong_reading_in_the_table_of_pieces_passes(told: tuple[work.Work, Sheet, Counted]) -> None:
    job, sheet, _ = told
    assert sheet.readings
    for at, cuts in sheet.readings.items():
        for cut, ways in enumerate(cuts):
            for way in ways:
                for wrong in _wrong_shorts(way, job.saw.division):
                    changed = [*cuts[:cut], ways - {way} | {wrong}, *cuts[cut + 1 :]]
                    assert list(sheet_judge.readings({at: changed}, sheet.cards, job.saw)), (at, wrong)


def _wrong_shorts(way: Short, division: float) -> Iterator[Short]:
    yield replace(way, reading=way.reading + division)
    yield replace(way, rolled=not way.rolled)
    yield replace(way, tilted=not way.tilted)
    if way.side:
        yield replace(way, side="feed" if way.side == "discharge" else "discharge")
        yield replace(way, side="")


def _wrong_cards(card: Card, division: float, two_sided: bool) -> Iterator[Card]:
    for end, ways in card.ends.items():
        for said in ways:
            for wrong in _wrong_ways(said, division, two_sided):
                yield replace(card, ends={end: [wrong]})


def _wrong_ways(said: End, division: float, two_sided: bool) -> Iterator[End]:
    arm = said.arm
    yield replace(said, arm=replace(arm, reading=arm.reading + division))
    if two_sided and arm.reading:
        yield replace(said, arm=replace(arm, side="feed" if arm.side == "discharge" else "discharge"))
    if arm.tilt:
        yield replace(said, arm=replace(arm, tilt=-arm.tilt))
    yield replace(said, settings=(said.settings[0] + 100,))
    yield replace(said, settings=())


def test_a_total_told_wrong_is_seen(told: tuple[work.Work, Sheet, Counted]) -> None:
    _, sheet, counted = told
    assert list(sheet_judge.first_page(sheet, counted)) == []
    for name in ("bars", "cuts", "swings", "tilts", "rolls"):
        wrong = replace(counted, **{name: getattr(counted, name) + 1})
        assert [says.split()[4].rstrip(",") for says in sheet_judge.first_page(sheet, wrong)] == [name]
