"""What stands about a bar: the vise as the operator sees it, the plan with what is set back, and in words the rest.

Paper mm.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from mitertool.drawing import Drawing, text_width, wrap
from mitertool.packet.floor.values import BarWork
from mitertool.packet.pages.setting.vise_view import WEDGE, top_of, vise_view
from mitertool.packet.pages.setting.walk_down import shop_rows
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.bar_plan import bar_plan, set_back_rows
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import Block, cell
from mitertool.packet.paper.stand import seen_along
from mitertool.packet.words import lies
from mitertool.quantity import Units, show_length, show_limit
from mitertool.saw import Machine, Reach
from mitertool.words import phrase

_TALL: Final = 24.0
_VISE: Final = 46.0
_BED, _OVER_JAWS = 8.9, 7.2
"""Where the bed is drawn, and how far above it low jaws leave clear."""

_WORDS: Final = 48.0
_PITCH, _GAP, _TIGHT, _UNDER = 3.7, 1.1, 3.57, 0.8
"""mm from line to line of words, and at most as much more from what is told to what is told next; a line in the same
words may be closer, by what descenders leave. Below the last line."""

_ROW: Final = 4.8
"""What each further row of set-backs adds."""


def panel_block(work: BarWork, saw: Machine | None, units: Units, width: float, said_above: str = "") -> Block:
    """Vise, plan and words beside each other, but those that are `said_above`; without a saw file how the bar lies."""
    words = [_whole(says) for says in dict.fromkeys(panel_words(work, units)) if says != said_above]
    if not (saw and work.settings):
        return _without_plan(work, words, units, width)
    rows = sum(set_back_rows(work, moving) for moving in (True, False))
    least = _TALL + _ROW * max(0, rows - 1)
    lines, vise = _spaced(words, _WORDS - 2, least), _in_the_vise(work, units)
    tall = max(least, _deep(lines) + _UNDER)
    plan = bar_plan(work, saw, units, width - _VISE - _WORDS - 3, tall).moved(_VISE + 3, 0)
    return _panel(vise + plan, lines, (width - _WORDS + 2, _WORDS - 2), tall)


def _without_plan(work: BarWork, words: Sequence[str], units: Units, width: float) -> Block:
    """The vise with its sides beside it, and size and words beside those: there is room for all of them abreast."""
    section, chalk, fixed = work.section, chalk_words(work), phrase("side.fixed")
    left = text_width(fixed, NOTE) + 1.0
    moving = left + _VISE_BESIDE + 1.0
    view = vise_view(section, _VISE_BESIDE, _LOW - 1.6, top=top_of(section) if chalk else None).moved(left, 1.0)
    texts = [
        cell(fixed, (0, 1.4), left - 1.0, NOTE),
        cell(phrase("side.moving"), (moving, 1.4), _BESIDE - moving - 2.0, NOTE),
        cell(_size(work, units), (_BESIDE, _LOW - ROW - 1.0), width - _BESIDE, ROW, bold=True),
    ]
    if chalk:
        texts.append(cell(chalk, (moving, _LOW - 4.6), _BESIDE - moving - 2.0, NOTE))
    lines = _spaced(words, width - _BESIDE, _LOW - _FIRST)
    tall = max(_LOW, _FIRST + _deep(lines) + _UNDER)
    drawing = (view + Drawing(texts)).moved(0, tall - _LOW)
    return _panel(drawing, lines, (_BESIDE, width - _BESIDE), tall, _FIRST)


def _spaced(words: Sequence[str], room: float, tall: float) -> list[tuple[float, str]]:
    """Words in lines, each with how far down it stands: as far apart from one to the next as `tall` leaves, mm."""
    told = [wrap(says, room, NOTE) for says in words]
    count = sum(map(len, told))
    free = max(tall, _PITCH * count + _UNDER) - _TIGHT * count - _UNDER
    gap = min(_GAP, free / max(1, len(told) - 1))
    starts = [(line, gap * at) for at, lines in enumerate(told) for line in lines]
    return [(_TIGHT * number + more, line) for number, (line, more) in enumerate(starts, 1)]


def _deep(lines: Sequence[tuple[float, str]]) -> float:
    return lines[-1][0] if lines else 0.0


def _panel(
    drawing: Drawing, lines: Sequence[tuple[float, str]], beside: tuple[float, float], tall: float, first: float = 0.0
) -> Block:
    """What is drawn on (0, 0); `beside` it, from so far left and so wide, lines of words from `first` below the top."""
    left, room = beside
    texts = [cell(line, (left, tall - first - deep), room, NOTE) for deep, line in lines]
    return Block(tall, (drawing + Drawing(texts)).moved(0, -tall), keep_with_next=True, gap=1.0)


_LOW, _VISE_BESIDE, _BESIDE, _FIRST = 13.6, 40.0, 92.0, 5.0
"""Where no plan is drawn: how tall it is, how wide the vise, and where the size stands, with words so far below it."""


def _whole(says: str) -> str:
    """Words in which no mixed fraction is broken over the end of a line."""
    return re.sub(r"(\d) (?=\d+/\d)", "\\1\u00a0", says)


def _in_the_vise(work: BarWork, units: Units) -> Drawing:
    """The section between the jaws with its size, its top marked where the bar is rolled or could roll; on (0, 0)."""
    section, chalk = work.section, chalk_words(work)
    fixed = phrase("side.fixed")
    left = min(text_width(fixed, NOTE), _VISE / 2)
    texts = [
        cell(fixed, (0, 5.5), left, NOTE),
        cell(phrase("side.moving"), (left + 1, 5.5), _VISE - left - 1, NOTE, "right"),
        cell(_size(work, units), (0, 0.7), _VISE, ROW, "center", bold=True),
    ]
    view = vise_view(section, _VISE, _TALL - 11.0, top=top_of(section) if chalk else None).moved(0, _BED)
    if chalk:
        left, foot = _VISE / 2 + 2 * WEDGE, max(view.bounds()[3], _BED + _OVER_JAWS)
        texts.append(cell(chalk, (left, foot), _VISE - left, NOTE))
    return view + Drawing(texts)


def _size(work: BarWork, units: Units) -> str:
    wide, high = (show_length(length, units) for length in (work.section.width, work.section.height))
    return phrase("sheet.size", wide=wide, high=high)


def chalk_words(work: BarWork) -> str:
    """What the wedge at the top of the bar is for: it is rolled, or must not roll; "" where it has none."""
    if any(row.turn for row in work.rows):
        return phrase("sheet.chalk")
    return phrase("sheet.chalk/keep") if _could_roll(work) else ""


def _could_roll(work: BarWork) -> bool:
    """Whether a round bar must keep its top up while it is moved: its slants lie by it."""
    pieces = work.run.pieces if work.run else ()
    return work.section.shape.round and any(cut.miter or cut.bevel for one in pieces for cut in (one.left, one.right))


def panel_words(work: BarWork, units: Units) -> Iterator[str]:
    """How the bar lies, what else is set for it, and what the shop's own table says."""
    if says := lies(work.section):
        yield says
    yield from _outside(work.outside)
    if not work.settings:
        yield phrase("sheet.vise-seen", seen=seen_along(None))
    reaches = [setting.reach for setting in work.settings if setting.reach.ok]
    if not reaches:
        return
    yield phrase("sheet.vise-seen", seen=seen_along(reaches[0].setting.saw))
    yield from stands_words(work, units)
    if any(row.stop and row.stop.holds for row in work.rows):
        yield phrase("sheet.back-off")
    yield from _shop(reaches[0], work.grade)
    yield from _packed(reaches, units)
    if work.lines:
        yield phrase("sheet.program-parts", lines=work.lines)


def _outside(up: Sequence[bool]) -> Iterator[str]:
    """Which plates of a hopper show their outside, counted from the leading end of the bar as its strip is drawn."""
    if not up:
        return
    if len(set(up)) == 1:
        yield phrase(f"sheet.outside/{'up' if up[0] else 'down'}")
        return
    places = {way: [str(number) for number, one in enumerate(up, 1) if one is way] for way in (True, False)}
    yield phrase("sheet.outside/both", up=", ".join(places[True]), down=", ".join(places[False]))


def stands_words(work: BarWork, units: Units) -> Iterator[str]:
    """Where the guides stand, if that is for all cuts, and how high the arm is lifted for them: the most of any."""
    reaches = [setting.reach for setting in work.settings if setting.reach.ok]
    if not reaches:
        return
    saw = reaches[0].setting.saw
    if work.guides is not None:
        yield figures.guides_apart(work.guides, saw, units)
    edges = [reach.stop_height for reach in reaches if reach.stop_height is not None]
    if edges and saw.arm:
        case, told = figures.lift_spot(saw.arm, units)
        yield phrase(f"sheet.edge-up{case}", height=show_limit(max(edges), units, "up"), **told)


def _shop(reach: Reach, grade: str) -> Iterator[str]:
    """The rows of the shop's own table for grade and wall."""
    for row in shop_rows(reach, grade):
        found = [phrase("sheet.blade-speed", speed=row.speed) if row.speed else "", row.feed, row.coolant]
        found += [phrase("sheet.pressure", pressure=row.vise_pressure)] if row.vise_pressure else []
        yield ", ".join(word for word in found if word)


def _packed(reaches: Sequence[Reach], units: Units) -> Iterator[str]:
    """What is packed under a bar that does not lie safely."""
    for pack in dict.fromkeys(reach.pack for reach in reaches if reach.pack):
        yield phrase("sheet.pack", height=show_length(pack.height, units))
