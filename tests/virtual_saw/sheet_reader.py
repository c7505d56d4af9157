"""The cut sheet read as a person at the saw reads it: bars, settings, cards and totals, by its lettering alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from tests.virtual_saw import sheet_patterns as says
from tests.virtual_saw.figures import STEP, length
from tests.virtual_saw.further import Further
from tests.virtual_saw.lays import Lies
from tests.virtual_saw.sheet_ends import (
    Arm,
    Card,
    Short,
    arm_of,
    ends_of,
    from_square,
    rolled_from,
    shorts_of,
    side_of,
)
from tests.virtual_saw.sheet_text import Word, lines, table, words
from tests.virtual_saw.walk import Bar, Step, Stop


class Sheet:
    """A cut sheet; `units` are those of its job."""

    def __init__(self, pdf: bytes, units: str) -> None:
        self.units = units
        self.words = [word for word in words(pdf) if not says.FOOT.match(word.text)]
        self.lines = [" ".join(word.text for word in line) for line in lines(self.words)]

    def length(self, text: str) -> float:
        return length(text.strip(), self.units)

    def first(self, pattern: object) -> tuple[str, ...]:
        """The groups of the first place where a pattern stands, over lines."""
        found = pattern.search(" ".join(self.lines))  # type: ignore[attr-defined]
        if not found:
            raise ValueError(f"not on the sheet: {pattern}")
        return tuple(found.groups())

    @cached_property
    def arms(self) -> dict[int, Arm]:
        """The settings by their numbers."""
        rows = (row for _, row in table(self.words, says.SETTINGS, 0))
        return {int(row[0]): arm_of(row[1], row[2]) for row in rows}

    @cached_property
    def blocks(self) -> dict[int, tuple[Arm, Lies]]:
        """The settings as they are walked down, each with how the bar is laid for it; some sheets have none."""
        titles = [word for word in self.words if says.BLOCK.match(word.text)]
        ends = [word for word in self.words if says.BLOCK.match(word.text) or says.BAR.fullmatch(word.text)]
        found = {}
        for title in titles:
            then = next((word for word in ends if _behind(word, title)), None)
            number, arm, lies = self._block(title, then)
            found[number] = (arm, lies)
        return found

    def _block(self, title: Word, then: Word | None) -> tuple[int, Arm, Lies]:
        rows = list(_walked_down([word for word in self.words if _between(word, title, then)]))
        head, read, arm = says.BLOCK.match(title.text), *_row(rows, says.BLOCK_ARM)
        sizes = says.BLOCK_SIZES.fullmatch(_row(rows, says.BLOCK_LAY)[1])
        reading = says.READING.match(arm)
        assert head and read and sizes and reading, rows
        tilt, degrees = _row(rows, says.BLOCK_TILT)
        tilted = float(degrees.rstrip("°")) * (1 if tilt[1] == "feed" else -1) if tilt else 0.0
        if head[2] != reading[1]:
            raise ValueError(f"{title.text}, and below it {arm}")
        lies = Lies(self.length(sizes[1]), self.length(sizes[2]), _lies([title.text]), self.near)
        return int(head[1]), Arm(float(reading[1]), side_of(reading[2], read[1]), tilted), lies

    @property
    def near(self) -> float:
        """mm. What a printed length may be out by rounding."""
        return STEP[self.units] / 2 + ROUNDED

    @cached_property
    def marks(self) -> dict[str, tuple[int, float, float]]:
        """Each mark's quantity, long point and short point."""
        rows = (row for _, row in table(self.words, says.MARKS, 1))
        return {row[0].replace(" ", ""): (int(row[1]), self.length(row[4]), self.length(row[5])) for row in rows}

    @cached_property
    def readings(self) -> dict[tuple[str, str], list[set[Short]]]:
        """What the table of pieces says of the cuts of each end of a mark."""
        rows = [row for _, row in table(self.words, says.MARKS, 1)]
        return {
            (row[0].replace(" ", ""), end): shorts_of(row[at])
            for row in rows
            for end, at in (("left", 6), ("right", 7))
        }

    @cached_property
    def cards(self) -> dict[str, Card]:
        return dict(self._cards())

    def _cards(self) -> Iterator[tuple[str, Card]]:
        every = list(lines(self.words))
        titles = [i for i, line in enumerate(every) if _is_title(line)]
        for at, end in zip(titles, [*titles[1:], len(every)], strict=True):
            yield every[at][0].text, self._card([line for line in every[at:end] if line[0].page == every[at][0].page])

    def _card(self, block: Sequence[Sequence[Word]]) -> Card:
        said = [word.text for line in block for word in line]
        sizes = next(found for text in said if (found := says.SIZES.fullmatch(text)))
        lies = Lies(self.length(sizes[1]), self.length(sizes[2]), _lies(said), self.near)
        ends = list(ends_of(block))
        further = {at: cut for _, _, cuts in ends for at, cut in cuts.items()}
        return Card(lies, {end: ways for end, ways, _ in ends}, further)

    @cached_property
    def further(self) -> list[Further]:
        """The cuts that are made on parted pieces."""
        return [self._further(row) for _, row in table(self.words, says.FURTHER, 2)]

    def _further(self, row: Sequence[str]) -> Further:
        number, scale, pieces, mark, back, how = row
        named, read = says.FURTHER_MARK.fullmatch(mark), says.READING.match(scale)
        assert named and read, row
        arm = self.arms[int(number)] if number != "-" else from_square(named[2], scale, how)
        if number != "-" and abs(arm.reading - float(read[1])) > SHOWN_ANGLE:
            raise ValueError(f"{row} where the setting reads {arm}")
        long = says.FURTHER_LONG.search(back)
        marks = self._back(back[: long.start()] if long else back)
        longs = tuple(self.length(text) for text in long[1].split(",")) if long else ()
        turned = bool(says.CARD_TURNED.search(how))
        said = (rolled_from(how), turned, marks, {}, longs)
        return Further(named[1].replace(" ", ""), int(pieces), named[2], arm.reading, arm.side, arm.tilt, *said)

    def _back(self, said: str) -> dict[str, float]:
        """How far back, by the edges of the box; where no height is told, at both of a side."""
        found = {}
        for side, where, text in says.FURTHER_BACK.findall(said):
            for level in {"bed": ("bottom",), "top": ("top",), "": ("bottom", "top")}[where]:
                found[f"{side}_{level}"] = self.length(text)
        return found

    @cached_property
    def bars(self) -> list[Bar]:
        """The bars in their order, as their lists tell them."""
        titles = [word for word in self.words if says.BAR.fullmatch(word.text)]
        return [self._bar(title, then) for title, then in zip(titles, [*titles[1:], None], strict=True)]

    def _bar(self, title: Word, then: Word | None) -> Bar:
        head = says.BAR.fullmatch(title.text)
        assert head
        block = [word for word in self.words if _between(word, title, then)]
        steps = [*self._feed(block), *self._stops(block), *self._plain(block)]
        tapes = self._tapes(block)
        steps = [replace(step, tape=tape, kerf_behind=kerf) for step, (tape, kerf) in zip(steps, tapes, strict=True)]
        marks = [step.mark for step in steps if step.mark]
        listed, poses = _order(block)
        if listed != marks:
            raise ValueError(f"{listed} from the leading end, {marks} in the list below")
        lies, count = self.cards[marks[0]].lies, int(head[2] or 1)
        long, drop = self.length(head[4]), self.length(head[5])
        return Bar(head[3].split(",")[0], lies, long, count, tuple(steps), tuple(poses), drop)

    def _tapes(self, block: Sequence[Word]) -> list[tuple[tuple[float, float], bool]]:
        """The tape marks of each cut, and whether the kerf lies past them."""
        said = " ".join(_paragraph(list(lines(block)), says.TAPE))
        found = [(self.length(a), self.length(b or a), kerf) for _, a, b, kerf in says.TAPE_PLACE.findall(said)]
        return [((fixed, moving), kerf == "past") for fixed, moving, kerf in found]

    def _feed(self, block: Sequence[Word]) -> Iterator[Step]:
        """A row of the feed list: the first cut goes so far past the axis, the others on or back.

        A row that makes nothing is keyed once, or so often as it says.
        """
        last: Step | None = None
        for _, (key, count, mark, _, _, _, sets) in table(block, says.FEED_LIST, 1):
            if count == "0":
                continue
            moved = (
                -self.length(key.removeprefix("back")) if key.startswith("back") else self.length(key) if key else None
            )
            told = self._told(last, mark, sets)
            told = replace(told, key=moved)
            for last in _repeated(told, _times(sets) if count == "-" else int(count), sets):
                yield last

    def _stops(self, block: Sequence[Word]) -> Iterator[Step]:
        last: Step | None = None
        for _, (distance, touches, count, mark, sets) in table(block, says.STOP_LIST, 2):
            told = self._told(last, mark, sets)
            if moved := says.MOVED.search(sets):
                told = replace(told, on=self.length(moved[2]) * (1 if moved[1] == "on" else -1))
            elif distance not in says.NO_STOP:
                told = replace(told, stop=Stop(self.length(distance), words=touches))
            for last in _repeated(told, 1 if count == "-" else int(count), sets):
                yield last

    def _plain(self, block: Sequence[Word]) -> Iterator[Step]:
        """Where no saw is known: degrees from square and where the piece is long; the left end leads."""
        for _, (numbers, finishes, angle, long) in table(block, says.PLAIN_LIST, 0):
            first, _, last = numbers.partition(" to ")
            lead = bool(says.LEADING_END.search(finishes))
            arm = from_square("left" if lead else "right", angle, long)
            mark = "" if lead else finishes.replace(" ", "")
            for _ in range(int(first), int(last or first) + 1):
                yield Step(arm.reading, arm.side, arm.tilt, mark=mark)

    def _told(self, last: Step | None, mark: str, sets: str) -> Step:
        """What is set before a row: nothing where it names no setting."""
        mark = "" if mark in says.SCRAP else mark.replace(" ", "")
        named = says.SETTING.search(sets)
        if not named:
            assert last, "the first cut names no setting"
            return Step(last.reading, last.side, last.tilt, mark=mark)
        arm, (_, lies) = self.arms[int(named[1])], self.blocks.get(int(named[1]), (None, None))
        if abs(arm.reading - float(named[2])) > SHOWN_ANGLE or (named[3] and named[3] != arm.side):
            raise ValueError(f"the list says {named[0]}, the setting reads {arm}")
        roll, to = _rolls(sets)
        return Step(arm.reading, arm.side, arm.tilt, roll, mark, roll_to=to, lies=lies)


def _order(block: Sequence[Word]) -> tuple[list[str], list[str]]:
    """The pieces of a bar in their order, and how each lies."""
    said = " ".join(_paragraph(list(lines(block)), says.ORDER)).split(says.TAPE.pattern)[0]
    marks, poses = [], []
    for item in says.ORDER.sub("", said).split(", "):
        found = says.PIECE.match(item.strip())
        assert found, said
        marks += [found[2].replace(" ", "")] * int(found[1] or 1)
        poses += [says.POSES[found[3]]] * int(found[1] or 1)
    return marks, poses


def _paragraph(block: Sequence[Sequence[Word]], begins: re.Pattern[str]) -> Iterator[str]:
    """The lines of a paragraph from the one that begins so, as far as they follow on each other."""
    at = next(i for i, line in enumerate(block) if begins.match(line[0].text))
    yield " ".join(word.text for word in block[at])
    for before, line in pairwise(block[at:]):
        if line[0].page != before[0].page or before[0].y - line[0].y > PARAGRAPH:
            return
        yield " ".join(word.text for word in line)


PARAGRAPH = 15.0
"""Points. Lines further apart than this are not of one paragraph."""


def _lies(said: Sequence[str]) -> str:
    """The words for a lay; those of a frame speak of its outside, which is the moving side."""
    for text in said:
        if found := says.CARD_LIES.search(text):
            return found[0]
        if found := says.FRAME_ANGLE.search(text):
            level = "bottom" if found[2] == "up" else "top"
            return f"heel at the {level}, {'moving' if found[1] == 'out' else 'fixed'}-jaw side"
        if found := says.FRAME_CHANNEL.search(text):
            return f"toes toward the {'moving' if found[1] == 'out' else 'fixed'} jaw"
        if found := says.FRAME_Z.search(text):
            return f"web up, flange low toward the {'moving' if found[1] == 'out' else 'fixed'} jaw"
    return ""


ROUNDED = 1e-6
"""mm. Half a step of what is printed, and the rounding of double precision."""

SHOWN_ANGLE = 0.01
"""degrees. One step of a printed angle."""


def _rolls(sets: str) -> tuple[float, float | None]:
    """How far the bar is rolled on; or else to where, from how it is drawn, its top toward the moving jaw."""
    if odd := says.ROLL_TO.search(sets):
        return 0.0, float(odd[1]) * (1 if odd[2] == "moving" else -1)
    if says.ROLL_OVER.search(sets):
        return 0.0, 180.0
    if says.ROLL_BACK.search(sets):
        return 0.0, 0.0
    return (180.0 if says.ROLL_HALF.search(sets) else 0.0), None


def _repeated(told: Step, pieces: int, sets: str) -> Iterator[Step]:
    """A row for several pieces: what is set before it is set once, or each time where it says so."""
    each = says.EACH.search(sets)
    for number in range(pieces):
        yield told if number == 0 or each else replace(told, roll=0.0)


def _times(sets: str) -> int:
    """How often a row stands for itself."""
    each = says.EACH.search(sets)
    return int(each[1]) if each else 1


def _behind(word: Word, other: Word) -> bool:
    return (word.page, -word.y) > (other.page, -other.y)


def _walked_down(block: Sequence[Word]) -> Iterator[tuple[str, str]]:
    """The rows of a setting as it is walked down: the words of each, and its value."""
    first, value, pictures = says.BLOCK_COLUMNS
    said, values = "", ""
    for line in lines([word for word in block if word.x < pictures]):
        if line[0].x < first and said:
            yield said, values
            said, values = "", ""
        said = " ".join([said, *(word.text for word in line if first <= word.x < value)]).strip()
        values = " ".join([values, *(word.text for word in line if word.x >= value)]).strip()
    yield said, values


def _row(rows: Sequence[tuple[str, str]], words: re.Pattern[str]) -> tuple[re.Match[str] | None, str]:
    """The row with these words, and its value."""
    return next(((found, value) for said, value in rows if (found := words.search(said))), (None, ""))


def _between(word: Word, title: Word, then: Word | None) -> bool:
    return _behind(word, title) and (then is None or _behind(then, word))


def _is_title(line: Sequence[Word]) -> bool:
    return len(line) > 2 and bool(says.CARD_PIECES.fullmatch(line[1].text))
