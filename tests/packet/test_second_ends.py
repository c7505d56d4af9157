"""Second ends of blanks on paper: after the bars they belong to, against a stop, and no setting said to stay wrongly.

The gate's job with its way of working fixed; where a stop stands and what is cut when is held against the plan itself.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.job import Solution, load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import ROOT
from tests.packet.rounding import length
from tests.packet.text_boxes import findings

GATE = ROOT / "gallery" / "boathouse-gate"


@pytest.fixture(scope="module", params=["by setting", "mixed"])
def solution(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Solution:
    folder: Path = tmp_path_factory.mktemp("gate")
    (folder / "saw.toml").write_bytes((GATE / "saw.toml").read_bytes())
    lines = [line for line in (GATE / "job.toml").read_text().splitlines() if not line.startswith("way =")]
    job = "\n".join(lines).replace("[nest]\n", f'[nest]\nway = "{request.param}"\n')
    (folder / "job.toml").write_text(job, encoding="utf-8")
    return solve(load(folder / "job.toml"))


def test_every_second_end_has_its_stop_behind_its_bars(solution: Solution) -> None:
    said = [box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes()]
    assert solution.recuts
    for one in solution.recuts:
        begin = said.index(f"Bar {one.recut.after}")
        title = said.index("Second ends of blanks", begin)
        then = f"Bar {one.recut.after + 1}"
        end = said.index(then, begin) if then in said else len(said)
        rows = said[title:end]
        assert f"{one.recut.count} × {one.recut.mark}" in rows or one.recut.mark in rows
        assert one.stop
        assert length(one.stop.from_blade, "mm") in rows
        assert any(f"blank {length(one.recut.blank, 'mm')}" in row for row in rows)


def test_a_blank_is_told_as_a_blank(solution: Solution) -> None:
    said = " ".join(box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes())
    for mark in {one.recut.mark for one in solution.recuts}:
        assert f"blank of {mark}" in said


def test_the_pages_are_clean(solution: Solution) -> None:
    assert [wrong for sheet in cut_sheet(solution) for wrong in findings(sheet)] == []


def test_no_setting_stays_that_was_moved_for_a_second_end(solution: Solution) -> None:
    """Arm and blade walked through bars and second ends: where a row sets nothing they stand as it needs them."""
    stood: tuple[float, float] | None = None
    for bar in floor_of(solution).bars:
        rows = {number: row for row in bar.rows for number in row.numbers}
        for number in sorted(rows):
            needs = (rows[number].reading.degrees, rows[number].reading.tilt)
            if not rows[number].sets:
                assert stood == pytest.approx(needs)
            stood = needs
        for one in (one for one in solution.recuts if one.recut.after == bar.number):
            assert one.reach
            stood = (one.reach.scale, one.reach.tilt)


def test_every_mark_is_measured_once(solution: Solution) -> None:
    said = [box.says for sheet in cut_sheet(solution) for box in sheet.drawing.text_boxes()]
    assert sum(word.startswith("first: long point") for word in said) == len(solution.pieces)
