"""How arm and blade stand and how a piece is rolled, from the words of the sheet."""

from __future__ import annotations

from dataclasses import dataclass

from tests.virtual_saw import sheet_patterns as says


@dataclass(frozen=True)
class Arm:
    """What is told of arm and blade."""

    reading: float
    side: str
    tilt: float


def from_square(end: str, angle: float, where: str, tilt: float) -> Arm:
    """How a saw whose scale reads 0 at square and grows to the feed side is set, left ends leading.

    Long at the moving side, or at the top, is a swing or a tilt to the discharge side at a left end, to the feed side
    at a right end.
    """
    sign = -1.0 if end == "left" else 1.0
    return Arm(sign * (-angle if where == "fixed" else angle), "feed", sign * tilt)


def piece_arm(plain: bool, end: str, reading: float, side: str, said: str) -> Arm:
    """The arm for a cut on a parted piece: as its reading and its words have it."""
    if plain:
        where, bevel = says.LONG_SIDE.search(said), says.BEVEL.search(said)
        up = -1.0 if where and where[2] == "bottom" else 1.0
        across = "fixed" if where and where[1] == "fixed jaw" else "moving"
        return from_square(end, reading, across, up * float(bevel[1]) if bevel else 0.0)
    tilted = says.FURTHER_TILT.search(said)
    tilt = float(tilted[1]) * (1 if tilted[2] == "feed" else -1) if tilted else 0.0
    return Arm(reading, side or "feed", tilt)


def rolled_from(said: str) -> float:
    """How far a piece is rolled from its picture."""
    rolled = says.PIECE_ROLL.search(said)
    if not rolled:
        return 0.0
    return 180.0 if rolled[1] else float(rolled[2]) * (1 if rolled[3] == "moving" else -1)
