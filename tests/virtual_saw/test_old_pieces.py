"""Spoiled pieces by lot, recut to others as plan.json tells: laid, stopped and cut, and held to the drawing."""

from __future__ import annotations

import pytest

from tests.virtual_saw import old_pieces

JOBS = 60
OUT = 0.05
"""mm."""


@pytest.fixture(scope="module")
def spoiled(tmp_path_factory: pytest.TempPathFactory) -> list[old_pieces.Spoiled]:
    """Those of so many jobs in which the spoiled piece becomes another."""
    drawn = (old_pieces.by_lot(seed, tmp_path_factory.mktemp("lot")) for seed in range(JOBS))
    return [one for one in drawn if one.rows]


def test_what_a_spoiled_piece_becomes_is_as_drawn(spoiled: list[old_pieces.Spoiled]) -> None:
    assert [found for one in spoiled for found in old_pieces.faults(one)] == []
    cuts = [len(row["cuts"]) for one in spoiled for row in one.rows]
    assert (cuts.count(1) > JOBS // 4, cuts.count(2) > JOBS // 10) == (True, True)


def test_each_cut_has_its_setting_and_that_tells_what_it_makes(spoiled: list[old_pieces.Spoiled]) -> None:
    for one in spoiled:
        settings = {setting["number"]: setting for setting in one.plan["settings"]}
        last = one.rows[0]["cuts"][-1]
        assert ("NEW", last["end"]) in {(use["mark"], use["end"]) for use in settings[last["setting"]]["makes"]}
        ends = {use["end"] for cut in one.rows[0]["cuts"] for use in settings[cut["setting"]]["makes"]}
        assert len(ends) >= len(one.rows[0]["cuts"])


def test_a_stop_that_stands_wrong_is_seen(spoiled: list[old_pieces.Spoiled]) -> None:
    told = [one for one in spoiled if one.rows[0]["cuts"][-1]["stop"]]
    assert all(list(old_pieces.faults(old_pieces.moved(one, OUT))) for one in told)
