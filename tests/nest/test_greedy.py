"""First fit: the room found is the first one, and twenty times the pieces take about twenty times the tries."""

from __future__ import annotations

from random import Random

import pytest

from mitertool.nest import greedy
from mitertool.nest.lots import lots
from tests.bench.nest_jobs import ALLOWANCE, JOBS


@pytest.mark.parametrize("most", [1, 2, 3, 8, 13])
def test_the_first_room_is_found(most: int) -> None:
    random = Random(most)
    rooms, told = greedy.Rooms(most), [float("-inf")] * most
    for _ in range(60):
        number, room = random.randrange(most), float(random.randint(0, 20))
        rooms.set(number, room)
        told[number] = room
        begin, need = random.randint(0, most), random.randint(0, 22)
        found = [i for i in range(begin, most) if told[i] >= need]
        assert rooms.first(begin, need) == (found[0] if found else -1)


def test_many_pieces_take_few_tries_each(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plain scan of all bars takes a number of tries that grows with the square of the pieces."""
    tries = 0
    put = greedy._Fit._put

    def counted(fit: greedy._Fit, *args: object) -> bool:
        nonlocal tries
        tries += 1
        return put(fit, *args)

    monkeypatch.setattr(greedy._Fit, "_put", counted)
    for pieces in (250, 5000):
        asked = JOBS["few angles"](pieces)
        (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
        tries = 0
        assert greedy.first_fit(lot).whole
        assert tries < 5 * pieces
