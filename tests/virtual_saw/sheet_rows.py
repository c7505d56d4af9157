"""The rows of a bar as the sheet has them: what is set, rolled, keyed or stopped for cuts by their numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from tests.virtual_saw import sheet_patterns as says
from tests.virtual_saw.sheet_ends import Arm, from_square
from tests.virtual_saw.sheet_text import Word, lines

MM = 72 / 25.4
SAME = 1.5
"""Points. Lettering that begins at one place."""

ABOVE = 6.5 * MM
"""Points from the base line of a row's numbers to the top of the row."""

NEXT_LINE = 6.0 * MM
"""Points. Numbers that follow so closely are of one row; rows are higher."""

Lengths = Callable[[str], float]


@dataclass(frozen=True)
class Line:
    """The nearest line of the scale, and the tenths of a division past it, short of it where less than 0."""

    line: float
    tenths: float


@dataclass(frozen=True)
class Row:
    """A row: its cuts, what it says of arm and blade (None: as before), of the roll, of the way to its place.

    `tilted` says that the blade's tilt is told too; else it stays. `figure` is the large one, `told` the words below.
    Of a blank `later` is the end that is cut later, "left" or "right" as drawn; `beside` is what else comes off.
    """

    numbers: tuple[int, ...]
    mark: str
    arm: Arm | None
    line: Line | None
    half: bool
    told: str
    figure: str
    long: float | None = None
    short: float | None = None
    count: int = 0
    keyed: bool = False
    tilted: bool = False
    later: str = ""
    beside: str = ""


@dataclass(frozen=True)
class Columns:
    """Where the columns of a heading begin, points; `key` is where its figures end, None without any.

    `plain`: no saw is known; `keyed`: the figures are keyed into a feed.
    """

    cut: float
    read: float
    off: float
    key: float | None
    plain: bool
    keyed: bool


def columns(heading: Sequence[Word]) -> Columns | None:
    """The columns, where a line is a heading of rows."""
    by_text = {word.text: word for word in heading}
    read = next((by_text[text] for text in says.READS if text in by_text), None)
    if says.CUT not in by_text or says.OFF not in by_text or read is None:
        return None
    keyed, stopped = (
        next((word.end for word in heading if title.fullmatch(word.text)), None) for title in (says.KEYED, says.STOPPED)
    )
    key = stopped if keyed is None else keyed
    plain = read.text == says.READS[1]
    return Columns(by_text[says.CUT].x, read.x, by_text[says.OFF].x, key, plain, keyed is not None)


def rows_of(block: Sequence[Word], length: Lengths) -> Iterator[Row]:
    """The rows of a bar, over its pages."""
    for page in sorted({word.page for word in block}):
        on_page = [word for word in block if word.page == page]
        headings = [found for line in lines(on_page) if (found := columns(line))]
        if headings:
            yield from _on_page(on_page, headings[0], length)


def _on_page(words: Sequence[Word], at: Columns, length: Lengths) -> Iterator[Row]:
    end = max((word.y for word in words if word.text.startswith(says.TAPED)), default=0.0)
    column = [word for word in words if word.bold and at.cut - SAME < word.x < TURN and word.y > end]
    numbers = [word for word in column if says.NUMBERS_LINE.fullmatch(word.text)]
    starts: list[list[Word]] = []
    for word in numbers:
        if starts and starts[-1][-1].y - word.y < NEXT_LINE:
            starts[-1].append(word)
        else:
            starts.append([word])
    tops = [*(start[0].y + ABOVE for start in starts), end]
    for start, top, low in zip(starts, tops, tops[1:], strict=False):
        band = [word for word in words if low < word.y <= top and word not in start]
        numbered = all(word.text.isdigit() for word in start)
        yield _row((", " if numbered else " ").join(word.text for word in start), band, at, length)


def _row(numbers: str, band: Sequence[Word], at: Columns, length: Lengths) -> Row:
    off = [word for word in band if abs(word.x - at.off) < SAME]
    first, *others = (" ".join(w.text for w in off if w.bold) or off[0].text).split(" + ")
    found, beside = says.MADE.fullmatch(first), [says.MADE.fullmatch(other) for other in others]
    assert found
    rounds = says.IN_ALL.search(" ".join(word.text for word in off))
    blank = says.BLANK.fullmatch(found[2])
    mark = "" if found[2] in says.SCRAP else (blank[1] if blank else found[2]).replace(" ", "")
    notes = [w for w in band if w.bold and w.size < SMALL]
    below = [w.text for x in (BOXES, WIDE_WORDS, WORDS) for w in band if abs(w.x - x) < SAME and w.size < SMALL]
    until = at.off if at.plain else at.read + READING
    by_figure = " ".join(
        word.text for word in band if at.read - 10 < word.x < until and word.size < SMALL and not word.bold
    )
    large = [word for word in band if word.bold and word.size > LARGE]
    scale = next((w for w in large if at.read < w.x < at.read + READING and says.FIGURE.fullmatch(w.text)), None)
    ends = (at.key, MOVED_END) if at.key else ()
    to_key = next((w for w in large if any(abs(w.end - end) < 3 * SAME for end in ends)), None)
    figure = to_key.text if to_key else ""
    moved = [w.text for w in notes if to_key and at.read < w.x and w.end < to_key.x]
    told = " ".join([*moved, *below])
    arm, line = (None, None) if scale is None else _arm(scale.text, by_figure, large, mark, at)
    long, short, both = (
        _length(pattern, band, length) for pattern in (says.FIRST_LONG, says.FIRST_SHORT, says.FIRST_BOTH)
    )
    half = says.HALF in " ".join(w.text for w in band if TURN < w.x < at.read)
    later = says.LATER.search(told) if blank else None
    return Row(
        *(numbers_of(numbers), mark, arm, line, half, told, figure),
        *(long, short or both, int(rounds[1] if rounds else found[1] or 1), at.keyed),
        tilted=at.plain or any(says.TILT.fullmatch(word.text) for word in large),
        later=later[2] if later else "",
        beside=beside[0][2].replace(" ", "") if beside and beside[0] else "",
    )


SMALL = 12.0
"""Points. Notes are set smaller than this."""

LARGE = 16.0
"""Points. What is set or keyed is larger."""

READING = 45 * MM

TURN = (12 + 40.0) * MM
"""Points from the left: where numbers of cuts end, in boxes to tick or before them."""

BOXES, WIDE_WORDS, WORDS = (12 + 20.4) * MM, (12 + 99.8) * MM, (12 + 118.0) * MM
"""Points from the left: where words begin below the boxes to tick, and those of how the bar comes to its place, which
begin earlier where nothing stands below the boxes."""

MOVED_END = (12 + 147.2) * MM
"""Points from the left: where the figure of a bar that is moved by hand ends."""


def _arm(figure: str, beside: str, large: Sequence[Word], mark: str, at: Columns) -> tuple[Arm, Line | None]:
    line = float(figure.rstrip("°"))
    tilted = next((found for word in large if (found := says.TILT.fullmatch(word.text))), None)
    top = says.TOP.search(beside)
    up = float(tilted[1]) * (-1 if top and (top[1] == "discharge" or top[2] == "bottom") else 1) if tilted else 0.0
    if at.plain:
        long = says.LONG.search(beside)
        return from_square("right" if mark else "left", line, long[1] if long else "square", up), None
    exact, tenths, side = says.EXACTLY.search(beside), says.TENTHS.search(beside), says.SIDE.search(_plain(beside))
    past = float(tenths[1]) * (1 if tenths[2] == "more" else -1) if tenths else 0.0
    return Arm(float(exact[1]) if exact else line, side[1] or side[2] if side else "", up), Line(line, past)


def _plain(beside: str) -> str:
    """The words beside a reading without those of the tilt."""
    return says.TOP.sub("", beside)


def _length(pattern: object, band: Sequence[Word], length: Lengths) -> float | None:
    found = (pattern.match(word.text) for word in band)  # type: ignore[attr-defined]
    return next((length(one[1]) for one in found if one), None)


def numbers_of(text: str) -> tuple[int, ...]:
    """Cuts by their numbers: "2 to 5", "2, 4, 6", or the first three and the last in equal steps."""
    assert says.NUMBERS.fullmatch(text), text
    if " and so on to " in text:
        told, _, last = text.partition(" and so on to ")
        first, second, *_ = (int(number) for number in told.split(", "))
        return tuple(range(first, int(last) + 1, second - first))
    first_text, _, last = text.partition(" to ")
    if last:
        return tuple(range(int(first_text), int(last) + 1))
    return tuple(int(number) for number in text.replace(",", " ").split())
