"""The cut sheet read as a person at the saw reads it: page one, bars, cuts on parted pieces, by its lettering alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from tests.virtual_saw import sheet_patterns as says
from tests.virtual_saw.figures import STEP, length
from tests.virtual_saw.further import Further
from tests.virtual_saw.lays import Lies
from tests.virtual_saw.recuts import Recut
from tests.virtual_saw.sheet_ends import Arm, piece_arm, rolled_from
from tests.virtual_saw.sheet_rows import MM, SAME, Lengths, Line, Row, rows_of
from tests.virtual_saw.sheet_text import Word, lines, words
from tests.virtual_saw.walk import Bar, Step, Stop


@dataclass(frozen=True)
class Mark:
    """A mark on page one: how many, its long point, and every reading of both ends."""

    count: int
    long: float
    readings: frozenset[Line]


@dataclass(frozen=True)
class Told:
    """A bar as it is told, its rows and the bar that is cut by them, then the second ends that are cut behind it."""

    number: int
    rows: tuple[Row, ...]
    bar: Bar
    second_ends: tuple[Row, ...] = ()


class Sheet:
    """A cut sheet; `units` are those of its job."""

    def __init__(self, pdf: bytes, units: str) -> None:
        self.units = units
        self.words = [word for word in words(pdf) if not says.FOOT.match(word.text)]
        self.lines = [" ".join(word.text for word in line) for line in lines(self.words)]

    def length(self, text: str) -> float:
        return length(text.strip(), self.units)

    @property
    def near(self) -> float:
        """mm. What a printed length may be out by rounding."""
        return STEP[self.units] / 2 + ROUNDED

    @cached_property
    def totals(self) -> tuple[int, ...]:
        """Pieces, bars, cuts, cuts on parted pieces, swings, tilts, rolls."""
        found = says.TOTALS.search(" ".join(self.lines))
        assert found
        return tuple(int(group or 0) for group in found.groups())

    @cached_property
    def marks(self) -> dict[str, Mark]:
        return dict(self._marks())

    def _marks(self) -> Iterator[tuple[str, Mark]]:
        """The rows of the pieces: each begins where the count of a mark stands."""
        every = list(lines(self.words))
        starts = [i for i, line in enumerate(every) if [word.text for word in line[: len(says.PIECES)]] == says.PIECES]
        for at in starts:
            heading, page = every[at], every[at][0].page
            below = [line for line in every[at + 1 :] if line[0].page == page]
            rows = [i for i, line in enumerate(below) if _is_mark(line, heading)]
            for i, row in enumerate(rows):
                then = rows[i + 1] if i + 1 < len(rows) else len(below)
                yield self._mark(heading, below[row], list(_close(below[row:then])))

    def _mark(self, heading: Sequence[Word], row: Sequence[Word], more: Sequence[Word]) -> tuple[str, Mark]:
        by = {word.text: word for word in heading}
        mark = next(word.text for word in row if abs(word.x - by["Mark"].x) < SAME)
        count = next(word.text for word in row if _flush(word, by["Pcs"]))
        long = next(word.text for word in row if _flush(word, by["Long point"]))
        found = frozenset(line for end in says.ENDS for line in _lines_of(by[end], more))
        return mark.replace(" ", ""), Mark(int(count), self.length(long), found)

    @cached_property
    def told(self) -> list[Told]:
        """The bars in their order."""
        large = [word for word in self.words if word.bold and word.size > TITLE]
        titles = [word for word in large if not says.FIGURE.search(word.text)]
        ends = sorted((*titles, *(word for word in self.words if word.text in says.AFTER)), key=_order)
        found: list[Told] = []
        last: Arm | None = None
        for title in large:
            then = next((word for word in ends if _behind(word, title) and word.x < 100), None)
            block = [word for word in self.words if word == title or _between(word, title, then)]
            if says.BAR.fullmatch(title.text):
                found.append(self._bar(title, block, found, last))
                last = arm_of(found[-1].bar.steps[-1])
            elif title.text == says.SECOND_ENDS:
                found[-1] = replace(found[-1], second_ends=tuple(rows_of(block, self.length)))
                last = set_as(found[-1].second_ends[-1], last)
        return found

    @property
    def bars(self) -> list[Bar]:
        return [told.bar for told in self.told]

    @property
    def recuts(self) -> list[Recut]:
        """The second ends of blanks; which end is cut says the row of the blank."""
        return list(self._recuts())

    def _recuts(self) -> Iterator[Recut]:
        blanks: dict[str, tuple[str, str]] = {}
        for after, told in enumerate(self.told, 1):
            blanks |= {row.mark: (told.bar.section, row.later) for row in told.rows if row.later}
            last: Arm | None = arm_of(told.bar.steps[-1])
            for row in told.second_ends:
                last = set_as(row, last)
                yield self._recut(row, last, blanks[row.mark], after)

    def _recut(self, row: Row, arm: Arm, blank: tuple[str, str], after: int) -> Recut:
        (section, end), laid, tape = blank, says.LAID.search(row.told), says.NO_STOP.search(row.told)
        assert laid, row.told
        step = Step(arm.reading, arm.side, arm.tilt, 180.0 if row.half else 0.0, row.mark, roll_to=_roll_to(row.told))
        step = _moved(step, row, self.length)
        fixed, moving = (self.length(text) for text in tape.groups()) if tape else (None, None)
        head = (section, row.mark, len(row.numbers), end, says.POSES[laid[2]], after, self.length(laid[1]))
        return Recut(*head, fixed, moving, step)

    def _bar(self, title: Word, block: Sequence[Word], before: Sequence[Told], last: Arm | None) -> Told:
        head = " ".join(word.text for word in block if word.page == title.page and abs(word.y - title.y) < SAME)
        number = int(says.BAR.match(head)[1])  # type: ignore[index]
        facts = next(word.text for word in block if word.x > title.end and abs(word.y - title.y) < SAME)
        size = says.BAR_LENGTH.search(facts)
        assert size, facts
        alike = says.ALIKE.search(head)
        rows = tuple(rows_of(block, self.length))
        lies = self._lies(block) if not size[2] else next(one.bar.lies for one in before if one.number == int(size[2]))
        steps = self._steps(rows, block, last)
        section = facts[: size.start()].partition(",")[0]
        later = {cut: row.later for row in rows if row.mark for cut in row.numbers}
        blanks = tuple(later[cut] for cut in sorted(later))
        count = int(alike[1]) if alike else 1
        return Told(number, rows, Bar(section, lies, self.length(size[1]), count, tuple(steps), recuts=blanks))

    def _lies(self, block: Sequence[Word]) -> Lies:
        sizes = next(found for word in block if (found := says.SIZES.fullmatch(word.text)))
        beside = [w for w in block if w.x > PANEL or abs(w.x - BY_VISE) < SAME or _on_line(w, block[0])]
        side = sorted(beside, key=lambda word: (word.page, -word.y))
        found = says.LIES.search(" ".join(word.text for word in side))
        return Lies(self.length(sizes[1]), self.length(sizes[2]), found[0] if found else "", self.near)

    def _steps(self, rows: Sequence[Row], block: Sequence[Word], last: Arm | None) -> Iterator[Step]:
        """The rows by the numbers of their cuts, each with its places by tape."""
        by_number = {number: row for row in rows for number in row.numbers}
        tapes, before = self._tapes(block)
        if sorted(by_number) != sorted(tapes):
            raise ValueError(f"cuts {sorted(by_number)} in the rows, {sorted(tapes)} by tape")
        for number in sorted(by_number):
            row = by_number[number]
            last = arm = set_as(row, last)
            yield self._step(row, arm, tapes[number], number not in before)

    def _step(self, row: Row, arm: Arm, tape: tuple[float, float], past: bool) -> Step:
        to = _roll_to(row.told)
        roll = 180.0 if row.half else 0.0
        step = Step(arm.reading, arm.side, arm.tilt, roll, row.mark, tape=tape, kerf_behind=past, roll_to=to)
        return _moved(step, row, self.length)

    def _tapes(self, block: Sequence[Word]) -> tuple[dict[int, tuple[float, float]], set[int]]:
        """The tape marks of each cut, and the cuts whose kerf lies before them."""
        begin = next(i for i, word in enumerate(block) if word.text.startswith(says.TAPED))
        places: dict[int, tuple[float, float]] = {}
        before: set[int] = set()
        for line in lines(block[begin:]):
            for number, side, fixed, moving in zip(line, line[1:], line[2:], line[3:], strict=False):
                if number.bold and number.text.isdigit() and side.text in says.KERF:
                    places[int(number.text)] = (self.length(fixed.text), self.length(moving.text))
                    before |= set() if says.KERF[side.text] else {int(number.text)}
        return places, before

    @cached_property
    def left_over(self) -> dict[int, float]:
        """What is left of each bar, by its number: bold figures below the title, the first of a line the bar's."""
        at = next((i for i, word in enumerate(self.words) if word.text == says.LEFT_OVER), None)
        rest = self.words[at + 1 :] if at is not None else []
        end = next((i for i, word in enumerate(rest) if word.text == says.COUNT), len(rest))
        found = {}
        for line in lines(rest[:end]):
            bold = [word.text for word in line if word.bold]
            if len(bold) == 2 and bold[0].isdigit():
                found[int(bold[0])] = self.length(bold[1])
        return found

    @cached_property
    def further(self) -> list[Further]:
        """The cuts that are made on parted pieces."""
        ends = [word for word in self.words if says.FURTHER_END.fullmatch(word.text)]
        return [self._further(word) for word in ends]

    def _further(self, end: Word) -> Further:
        band = [w for w in self.words if w.page == end.page and end.y - HIGH < w.y < end.y + HIGH]
        mark = min(
            (w for w in band if w.bold and says.FURTHER_MARK.fullmatch(w.text) and w.y > end.y), key=lambda w: w.y
        )
        low = max((w.y for w in band if w.bold and says.FURTHER_MARK.fullmatch(w.text) and w.y < end.y), default=-1.0)
        row = [w for w in band if low + ROW_TOP < w.y < mark.y + ROW_TOP or (low < 0 and w.y < mark.y + ROW_TOP)]
        how = " ".join(w.text for w in row if abs(w.x - FURTHER_WORDS) < SAME)
        large = next(w for w in row if w.bold and says.FIGURE.fullmatch(w.text))
        beside = " ".join(w.text for w in row if large.end < w.x < FURTHER_WORDS - SAME)
        exact, side = says.EXACTLY.search(beside), says.SIDE.search(beside)
        count, which = says.FURTHER_MARK.fullmatch(mark.text), says.FURTHER_END.fullmatch(end.text)
        assert count and which
        reading = float(exact[1]) if exact else float(large.text.rstrip("°"))
        plain = bool(says.LONG_SIDE.search(how))
        arm = piece_arm(plain, which[1], reading, side[1] or side[2] if side else _side(how), how)
        long = says.FURTHER_LONG.search(how)
        longs = tuple(self.length(text) for text in long[1].split(",")) if long else ()
        back = self._back(how[: long.start()] if long else how)
        turned = bool(says.PIECE_TURNED.search(how))
        name = count[2].replace(" ", "")
        said = (rolled_from(how), turned, back, {}, longs)
        return Further(name, int(count[1]), which[1], arm.reading, arm.side, arm.tilt, *said)

    def _back(self, said: str) -> dict[str, float]:
        """How far back, by the edges of the box; where no height is told, at both of a side."""
        found = {}
        for side, where, text in says.FURTHER_BACK.findall(said):
            for level in {"at the bed": ("bottom",), "at the top": ("top",), "": ("bottom", "top")}[where]:
                found[f"{side}_{level}"] = self.length(text)
        return found


ROUNDED = 1e-6
"""mm. Half a step of what is printed, and the rounding of double precision."""

MORE = 9.0 * MM
"""Points. Lines of one mark on page one follow each other so closely."""

TITLE = 17.0
"""Points. Titles of bars and of what follows them are set larger."""

PANEL = 150.0 * MM
"""Points. Beyond this stand the words about a bar."""

BY_VISE = (12 + 92.0) * MM
"""Points. There they begin where no plan of a saw stands between."""

HIGH = 60.0
ROW_TOP = 5.5 * MM
FURTHER_WORDS = (12 + 99.0) * MM


def arm_of(step: Step) -> Arm:
    """How a cut leaves arm and blade."""
    return Arm(step.reading, step.side, step.tilt)


def set_as(row: Row, last: Arm | None) -> Arm:
    """How arm and blade stand for a row: what it does not tell stays as it was."""
    assert row.arm or last, "the first cut tells no setting"
    if row.arm is None or last is None or row.tilted:
        return row.arm or last  # type: ignore[return-value]
    return replace(row.arm, tilt=last.tilt)


def _side(how: str) -> str:
    swung = says.ARM.search(how)
    tilted = says.FURTHER_TILT.search(how)
    if swung is None or (tilted and swung.start() >= tilted.start()):
        return ""
    return swung[2]


def _moved(step: Step, row: Row, length: Lengths) -> Step:
    """The step with how the bar comes to its place, by the figure and the words of its row."""
    figure = row.figure
    if not figure or not re.fullmatch(r"[-\d'\" ./]+(?:mm)?", figure):
        return step
    value = length(figure)
    end, by_hand, touches = (one.search(row.told) for one in (says.END_PAST, says.BY_HAND, says.TOUCHES))
    if touches and touches[3]:
        return replace(step, stop=Stop(length(touches[3]), words=touches[2], bed=value))
    if touches:
        return replace(step, stop=Stop(value, words=touches[1]))
    if end:
        return replace(step, past=(value, end[1] or ""))
    if by_hand:
        return replace(step, on=value if by_hand[1] == "push on" else -value)
    return replace(step, key=value)


def _roll_to(told: str) -> float | None:
    if odd := says.ROLL_TO.search(told):
        return float(odd[1]) * (1 if odd[2] == "moving" else -1)
    if says.ROLL_OVER in told:
        return 180.0
    return 0.0 if says.ROLL_BACK in told else None


def _lines_of(heading: Word, told: Sequence[Word]) -> Iterator[Line]:
    """The readings in the column of an end: figures, each with the tenths in the line below it."""
    column = [word for word in told if heading.x - 2 < word.x < heading.x + 60]
    for word in sorted(column, key=lambda w: -w.y):
        if found := says.FIGURE.fullmatch(word.text):
            below = [w for w in column if word.y - 15 < w.y < word.y - 5]
            tenths = next((hit for w in below if (hit := says.TENTHS.search(w.text))), None)
            past = float(tenths[1]) * (1 if tenths[2] == "more" else -1) if tenths else 0.0
            yield Line(float(found[1]), past)


def _close(below: Sequence[Sequence[Word]]) -> Iterator[Word]:
    """The words of lines that follow each other closely."""
    yield from below[0]
    for before, line in pairwise(below):
        if before[0].y - line[0].y > MORE:
            return
        yield from line


def _is_mark(line: Sequence[Word], heading: Sequence[Word]) -> bool:
    """Whether a line is the first of a mark: its name and its count stand in it, bold."""
    by = dict(zip(says.PIECES, heading, strict=False))
    named = any(word.bold and abs(word.x - by["Mark"].x) < SAME for word in line)
    return named and any(word.bold and _flush(word, by["Pcs"]) and word.text.isdigit() for word in line)


def _flush(word: Word, heading: Word) -> bool:
    return abs(word.end - heading.end) < 2 * SAME


def _behind(word: Word, other: Word) -> bool:
    return _order(word) > _order(other)


def _on_line(word: Word, title: Word) -> bool:
    return word.page == title.page and abs(word.y - title.y) < SAME


def _order(word: Word) -> tuple[int, float]:
    return word.page, -word.y


def _between(word: Word, title: Word, then: Word | None) -> bool:
    return _on_line(word, title) or (_behind(word, title) and (then is None or _behind(then, word)))
