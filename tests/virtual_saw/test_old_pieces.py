"""Spoiled pieces by lot, recut to others as plan.json tells: laid, stopped and cut, and held to the drawing."""

from __future__ import annotations

import pytest

from tests.virtual_saw import old_pieces

JOBS = 60
OUT = 0.05
"""mm."""


NO_LOOK_ALIKE = ("angle", "z")
"""Shapes that turned end for end do not look as they did: the end that trails is cut where its off-cut is held."""


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> list[old_pieces.Spoiled]:
    """So many jobs."""
    return [old_pieces.by_lot(seed, tmp_path_factory.mktemp("lot")) for seed in range(JOBS)]


@pytest.fixture(scope="module")
def spoiled(drawn: list[old_pieces.Spoiled]) -> list[old_pieces.Spoiled]:
    """Those in which the spoiled piece becomes another."""
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


def test_what_comes_out_of_a_spoiled_piece_is_offered_and_nothing_else(drawn: list[old_pieces.Spoiled]) -> None:
    turnable = [one for one in drawn if one.stock.shape not in NO_LOOK_ALIKE]
    assert [bool(one.rows) for one in turnable] == [old_pieces.comes_out(one) for one in turnable]
    assert not any(one.rows and not old_pieces.comes_out(one) for one in drawn)
