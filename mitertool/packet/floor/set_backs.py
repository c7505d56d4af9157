"""How far things must stand back for cuts that are made one after the other; knows settings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from mitertool.packet.floor.values import SetBack
from mitertool.quantity.compare import longer
from mitertool.saw import Reach
from mitertool.saw.file.machine import Obstacle


def set_backs_of(reaches: Sequence[Reach]) -> Iterator[SetBack]:
    """Each obstacle with what the cut asks of it that asks most."""
    obstacles: Mapping[str, Obstacle] = {one.name: one for reach in reaches for one in reach.setting.saw.obstacles}
    for name, obstacle in obstacles.items():
        found = [reach.set_backs[name] for reach in reaches if name in reach.set_backs]
        if found:
            least = max(found)
            moves = obstacle.adjustable and longer(least, obstacle.edge)
            yield SetBack(name, obstacle.side, obstacle.stands, least if least > 0 else None, moves)
