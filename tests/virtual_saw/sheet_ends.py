"""What the sheet says of an end of a mark: arm and blade, how the bar lies and is rolled, the ways on its card."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from tests.virtual_saw import sheet_patterns as says
from tests.virtual_saw.lays import Lies
from tests.virtual_saw.sheet_text import Word


@dataclass(frozen=True)
class Arm:
    """What a setting or a card says of arm and blade."""

    reading: float
    side: str
    tilt: float


@dataclass(frozen=True)
class End:
    """A way to cut an end of a mark by its card: how arm and blade are set, the bar laid end for end or not and then
    rolled from its picture, and the numbers of the settings that are so.
    """

    arm: Arm
    roll: float
    turned: bool = False
    settings: tuple[int, ...] = ()


@dataclass(frozen=True)
class Card:
    """A mark: how the bar lies in its picture, its two lengths, the ways to part the bar at its ends, and what is cut
    on the piece afterwards, by its end and number.
    """

    lies: Lies
    ends: Mapping[str, Sequence[End]]
    further: Mapping[tuple[str, int], End] = field(default_factory=dict)


@dataclass(frozen=True)
class Short:
    """A way to make a cut as the table of pieces tells it: reading, its side where one is said, roll and tilt."""

    reading: float
    side: str
    rolled: bool
    tilted: bool


def arm_of(scale: str, arm: str) -> Arm:
    read, swung, tilted = says.READING.match(scale), says.ARM.search(arm), says.TILT.search(arm)
    assert read, scale
    swung = None if tilted and swung and swung.start() >= tilted.start() else swung
    side = side_of(read[2], swung[2] if swung else None)
    tilt = float(tilted[1]) * (1 if tilted[2] == "feed" else -1) if tilted else 0.0
    return Arm(float(read[1]), side, tilt)


def from_square(end: str, angle: str, long: str) -> Arm:
    """How a saw whose scale reads 0 at square and grows to the feed side is set, left ends leading: long at the moving
    side or at the top is a swing or a tilt to the discharge side at a left end, to the feed side at a right end.
    """
    where, bevel = says.LONG_SIDE.search(long), says.BEVEL.search(long)
    sign = -1.0 if end == "left" else 1.0
    across = sign * (-1 if where and where[1] == "fixed jaw" else 1)
    up = sign * (-1 if where and where[2] == "bottom" else 1)
    read = says.READING.match(angle)
    assert read, angle
    return Arm(across * float(read[1]), "feed", up * float(bevel[1]) if bevel else 0.0)


def side_of(read: str | None, swung: str | None) -> str:
    """The side on which a reading stands: as it is said beside it, else where the arm goes."""
    return {"feed": "feed", "disch": "discharge", None: swung or "feed"}[read]


def shorts_of(said: str) -> list[set[Short]]:
    """The ways of every cut of an end, the one that parts the bar first, from its cell in the table of pieces."""
    cuts: list[set[Short]] = []
    for other, reading, side, asked in says.PIECE_END.findall(said):
        way = Short(float(reading), side, "roll" in asked, "tilt" in asked or "bevel" in asked)
        if other:
            cuts[-1].add(way)
        else:
            cuts.append({way})
    return cuts


def ends_of(block: Sequence[Sequence[Word]]) -> Iterator[tuple[str, list[End], dict[tuple[str, int], End]]]:
    """The two ends of a card, each in the column under its heading: how the bar is parted, then the further cuts."""
    at = next(i for i, line in enumerate(block) if any(says.CARD_END.fullmatch(word.text) for word in line))
    columns: dict[Word, list[str]] = {word: [] for word in block[at]}
    for before, line in zip(block[at:], block[at + 1 :], strict=False):
        if before[0].y - line[0].y > CARD_GAP or line[0].text == says.SETTINGS[0]:
            break
        if says.CARD_PICTURES.match(line[0].text):
            break
        for word in line:
            columns[min(columns, key=lambda head, word=word: abs(head.x + head.end - word.x - word.end))].append(
                word.text
            )
    for heading, said in columns.items():
        if (end := says.CARD_END.fullmatch(heading.text)) and said:
            yield (end[1].lower(), *_end_of(end[1].lower(), end[2] == "from square", " ".join(said)))


def _end_of(end: str, plain: bool, said: str) -> tuple[list[End], dict[tuple[str, int], End]]:
    first, *further = says.CARD_FURTHER.split(said)
    if plain:
        ways, cuts = [_plain(end, first)], [_plain(end, cut) for cut in further[1::2]]
    else:
        ways, cuts = list(_ways(first)), [_end(cut, cut) for cut in further[1::2]]
    return ways, {(end, int(number)): cut for number, cut in zip(further[::2], cuts, strict=True)}


def _plain(end: str, said: str) -> End:
    return End(from_square(end, said, said), 0.0)


CARD_GAP = 40.0
"""Points. What stands further below an end of a card is not of it."""


def _ways(said: str) -> Iterator[End]:
    """The first way names its settings at its end, every other one before it."""
    first, *others = says.CARD_OTHER_WAY.split(said)
    yield _end(first, first)
    for numbers, way in zip(others[::2], others[1::2], strict=True):
        yield _end(way, numbers)


def _end(said: str, numbers: str) -> End:
    reading, named = says.READING.match(said), says.CARD_SETTING.search(numbers)
    assert reading, said
    arm = arm_of(said, said[reading.end() :])
    settings = tuple(int(number) for number in named[1].split(", ")) if named else ()
    return End(arm, rolled_from(said), bool(says.CARD_TURNED.search(said)), settings)


def rolled_from(said: str) -> float:
    """How far the bar is rolled from its picture."""
    rolled = says.CARD_ROLL.search(said)
    if not rolled:
        return 0.0
    return 180.0 if rolled[1] else float(rolled[2]) * (1 if rolled[3] == "moving" else -1)
