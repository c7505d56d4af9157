"""The cut sheet read as a person reads it, from the lettering of its PDF, and cut by on the virtual saw."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from tests.virtual_saw import judge, mutations, sheet_judge, work
from tests.virtual_saw.judge import Counted
from tests.virtual_saw.sheet_ends import Card, End
from tests.virtual_saw.sheet_reader import Sheet
from tests.virtual_saw.test_gallery import GALLERY, JOBS

BY_LOT = 60
AT_ONCE = 10
PER_JOB = 15
"""Changes tried of a sheet, by lot out of all."""


@pytest.mark.parametrize("name", JOBS)
def test_the_sheets_of_the_gallery(name: str) -> None:
    assert work.sheet_faults(work.of_gallery(GALLERY / name / "job.toml")) == []


@pytest.mark.parametrize("first", range(0, BY_LOT, AT_ONCE))
def test_sheets_by_lot(first: int, tmp_path: Path) -> None:
    wrong = {seed: work.sheet_faults(work.by_lot(seed, tmp_path)) for seed in range(first, first + AT_ONCE)}
    assert {seed: faults for seed, faults in wrong.items() if faults} == {}


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


def test_a_total_told_wrong_is_seen(told: tuple[work.Work, Sheet, Counted]) -> None:
    _, sheet, counted = told
    assert list(sheet_judge.first_page(sheet, counted)) == []
    for name in ("bars", "cuts", "swings", "tilts", "rolls"):
        wrong = replace(counted, **{name: getattr(counted, name) + 1})
        assert [says.split()[4].rstrip(",") for says in sheet_judge.first_page(sheet, wrong)] == [name]
