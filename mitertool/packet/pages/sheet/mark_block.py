"""The block of one mark on the cut sheet: what to cut, how it lies, what to set at each end; knows packet's rooms."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from mitertool.cut import Cut
from mitertool.drawing import FRAME, THIN, Drawing, Line, Polygon, Text, wrap
from mitertool.job import SolvedPiece
from mitertool.job.settings import JobSetting, number_of
from mitertool.job.solved import EndWay, FurtherCut
from mitertool.packet.pages.setting.vise_view import vise_view
from mitertool.packet.pages.sheet.dimensioned import from_above, from_the_side, to_fit
from mitertool.packet.pages.sheet.pictorial import end_picture
from mitertool.packet.paper.layout import Block, box, cell
from mitertool.packet.paper.stand import seen_along
from mitertool.packet.words import (
    all_more,
    as_drawn,
    back_words,
    between,
    lies,
    reading,
    reading_label,
    reasons_of,
    stop_words,
    which_way,
)
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import Units, show_length
from mitertool.quantity.problem_words import reason_says
from mitertool.saw import Machine
from mitertool.saw.feed.stops import Stop
from mitertool.sections import Section

_TITLE: Final = 14.4
_MARK: Final = 80.0
"""Width for a mark: the longest of the widest letters stands whole in it."""

_TICK: Final = 4.4
_MOST_TICKS: Final = 16

_LABELS: Final = 17.0
"""Width left of the plan that names its sides."""

_SIDES: Final = 13.0
"""Least height that the names of both sides take."""

_SETTINGS: Final = 16.8
"""Height of the settings above their words."""

_WORDS: Final = 4.6
"""Line pitch of the words below a setting."""

_SIDE: Final = 46.0
"""Width of the column with the end view."""

_PICTURE: Final = 46.0
"""Height of the pictures of both ends."""

_ACROSS: Final = 13.0
"""Paper mm that the width of a section takes in the plan, so that every angle is easy to see."""


def mark_block(
    solved: SolvedPiece,
    width: float,
    units: Units,
    saw: Machine | None,
    settings: Sequence[JobSetting] = (),
    with_stop: bool = False,
) -> Block:
    """The block of a mark, `width` paper mm wide; `settings` are those of the job, by whose numbers cuts are named.

    The stop is told with the bars where there are any: there a piece may lie turned.
    """
    views, tall = _views(solved, width - _SIDE - _LABELS - 6, units)
    shown, deep = _settings(solved, width, units, settings, solved.stop if with_stop else None)
    ends = _pictures(solved, width)
    height = _TITLE + tall + deep + (_PICTURE + 2 if ends.entities else 0)
    drawing = box(width, height) + _title(solved, width)
    drawing += views.moved(3 + _LABELS, -_TITLE - tall)
    drawing += _in_the_vise(solved.piece.section, saw, tall, units).moved(width - _SIDE, -_TITLE - tall)
    drawing += shown.moved(0, -_TITLE - tall) + ends.moved(0, -_TITLE - tall - deep)
    return Block(height, drawing)


def _pictures(solved: SolvedPiece, width: float) -> Drawing:
    """Both ends in the round, hanging from (0, 0).

    Nothing where neither has more than one cut, is beveled, or cut with the bar rolled.
    """
    piece = solved.piece
    rolled = any(way.roll % 180 for end in ("left", "right") for way in solved.ways_of(end))
    if not (piece.further or piece.beveled or rolled):
        return Drawing()
    half = width / 2
    size = (half - 6, _PICTURE - 6)
    left, right = (end_picture(piece.section, piece.end(end)[0], end, *size, piece.end(end)[1]) for end in OTHER_END)
    names = [
        cell("left end, as the bar lies in the picture", (3, -4.5), half - 6, 2.8),
        cell("right end", (half + 3, -4.5), half - 6, 2.8),
    ]
    rules = [Line((0, 0), (width, 0), THIN), Line((half, 0), (half, -_PICTURE - 2), THIN)]
    return Drawing(names) + Drawing(rules) + left.moved(3, -_PICTURE) + right.moved(half + 3, -_PICTURE)


def _title(solved: SolvedPiece, width: float) -> Drawing:
    order, count = solved.order, solved.quantity
    facts = [solved.piece.section.name, order.grade, "OPPOSITE HAND" if solved.hand == "opposite" else ""]
    ways = [order.lies or lies(solved.piece.section), f"face out: {order.face_out}" if order.face_out else ""]
    frame = f"for frame {order.frame}" if order.frame else ""
    ticks = _TICK * count if count <= _MOST_TICKS else 0.0
    texts = [
        cell(solved.mark, (3, -7.5), _MARK, 5.5, bold=True),
        cell(f"{count} piece{'s' if count > 1 else ''}", (6 + _MARK, -7.5), 26, 5.0, bold=True),
        cell(", ".join(fact for fact in facts if fact), (35 + _MARK, -7.5), width - 38 - _MARK, 4.5),
        cell(
            "; ".join(word for word in (*ways, frame) if word),
            (3, -13.1),
            width - ticks - 8,
            3.5,
        ),
    ]
    return Drawing([*texts, *_ticks(count, width), Line((0, -_TITLE), (width, -_TITLE), THIN)])


def _ticks(count: int, width: float) -> list[Polygon]:
    """A box to tick for every piece, where they have room."""
    if count > _MOST_TICKS:
        return []
    lefts = [width - 3 - _TICK * (i + 1) for i in range(count)]
    return [Polygon([(x, -13.8), (x + 3.2, -13.8), (x + 3.2, -10.6), (x, -10.6)], THIN) for x in lefts]


def _views(solved: SolvedPiece, room: float, units: Units) -> tuple[Drawing, float]:
    """Plan, and side view where a cut is beveled, hanging above (0, 0); and how high they are."""
    piece = solved.piece
    k = min(_ACROSS / piece.section.width, 3.0)
    steep = piece.overall - piece.short_point
    k = min(k, (room - 12) / max(steep, 1e-9))
    shown = to_fit(piece, room, k, units)
    plan = from_above(shown, k).scaled(k)
    side_view = from_the_side(shown, k).scaled(k) if piece.beveled else Drawing(())
    low = plan.bounds()
    rise = side_view.bounds()[3] + 6 if side_view.entities else 0.0
    left = (room - (low[2] - low[0])) / 2 - low[0]
    bottom = rise + 2 - low[1]
    both = plan.moved(left, bottom) + side_view.moved(left, 3)
    if side_view.entities:
        both += Drawing([Text((-_LABELS, 7), "from the", 2.8), Text((-_LABELS, 3), "fixed side", 2.8)])
    return both + _sides(bottom, piece.section.width * k), max(low[3] + bottom + 2, 38.0)


def _sides(bottom: float, across: float) -> Drawing:
    """Which side of the plan is which; one above the other also beside a plan that is lower than the words."""
    top = bottom + max(across, _SIDES)
    return Drawing(
        [
            Text((-_LABELS, top - 2), "moving", 2.8),
            Text((-_LABELS, top - 6), "jaw side", 2.8),
            Text((-_LABELS, bottom + 3), "fixed", 2.8),
            Text((-_LABELS, bottom - 1), "jaw side", 2.8),
        ]
    )


def _in_the_vise(section: Section, saw: Machine | None, tall: float, units: Units) -> Drawing:
    """The section between the jaws, its size, and from where it is seen."""
    size = f"{show_length(section.width, units)} wide, {show_length(section.height, units)} high"
    words: list[Text | Line] = [
        Text((2, 9.8), "fixed jaw", 2.8),
        Text((_SIDE - 2, 9.8), "moving jaw", 2.8, "right"),
        cell(size, (1, 5.6), _SIDE - 2, 2.8, "center"),
        Text((_SIDE / 2, 1.5), seen_along(saw), 2.8, "center"),
        Line((0, 0), (0, tall), THIN),
    ]
    return vise_view(section, _SIDE - 2, tall - 18).moved(1, 14.3) + Drawing(words)


def _settings(
    solved: SolvedPiece, width: float, units: Units, settings: Sequence[JobSetting], stop: Stop | None
) -> tuple[Drawing, float]:
    """The row to walk down at the saw, left end, length, right end; and how deep it is."""
    third, piece = width / 3, solved.piece
    ends = ((solved.ways_of("left"), piece.left), (solved.ways_of("right"), piece.right))
    words = [_end_words(ways, cut, third - 4, units) for ways, cut in ends]
    for lines, end in zip(words, ("left", "right"), strict=True):
        further = [one for one in solved.further if one.end == end]
        for one in further:
            number = number_of(settings, one.reach, solved.order.grade) if one.reach else 0
            lines += _further_words(one, number, third - 4, units, len(further) == 1)
    made = not any(reasons_of(way) for ways, _ in ends for way in ways)
    says = f"stop {stop_words(stop, units)}" if made and stop else ""
    below = [(line, False) for line in wrap(says, third - 4, 3.5)]
    below += [(line, True) for line in wrap(between(*(ways for ways, _ in ends)), third - 4, 3.5, bold=True)]
    deep = _SETTINGS + _WORDS * max(1 + len(below), *(len(lines) for lines in words)) + 1
    parts = Drawing([Line((0, 0), (width, 0), FRAME)])
    left, right = (f"{name}, CUT 1" if more else name for name, more in zip(*_names(piece), strict=True))
    parts += Drawing(_end_setting(left, *ends[0], words[0], third))
    parts += Drawing(_end_setting(right, *ends[1], words[1], third)).moved(2 * third, 0)
    parts += Drawing([Line((x, 0), (x, -deep), THIN) for x in (third, 2 * third)])
    texts = [
        cell("LONG POINT", (2, -5), third - 4, 3.0, "center"),
        cell(show_length(piece.long_point, units), (2, -14), third - 4, 7.0, "center", bold=True),
        cell(f"short point {show_length(piece.short_point, units)}", (2, -20), third - 4, 3.5, "center"),
        *(
            cell(line, (2, -20 - _WORDS * (i + 1)), third - 4, 3.5, "center", bold)
            for i, (line, bold) in enumerate(below)
        ),
    ]
    return parts + Drawing(texts).moved(third, 0), deep


def _end_words(ways: Sequence[EndWay], cut: Cut, width: float, units: Units) -> list[tuple[str, bool]]:
    """Lines below the reading of the first way and whether each is bold; then every other way with its own reading."""
    lines: list[tuple[str, bool]] = []
    for told, same in _told_alike(ways, cut):
        number = _numbers(same)
        if lines:
            heading = f"or {number}: " if number else "or "
            lines += [(line, True) for line in wrap(f"{heading}{told[0]}", width, 3.5, bold=True)]
        why = (reason_says(reason, units) for reason in reasons_of(same[0]))
        lines += [(line, True) for one in why for line in wrap(one, width, 3.5, bold=True)]
        lines += [(line, False) for line in wrap(told[1], width, 3.5)]
        lines += [(line, True) for line in wrap(told[2], width, 3.5, bold=True)]
        lines += [(number, False)] if number and same[0] is ways[0] else []
    return lines


def _names(piece: Piece) -> tuple[tuple[str, str], tuple[bool, bool]]:
    """Both ends by name, and whether each has further cuts."""
    return ("LEFT END", "RIGHT END"), (bool(piece.left_further), bool(piece.right_further))


def _further_words(one: FurtherCut, number: int, width: float, units: Units, alone: bool) -> list[tuple[str, bool]]:
    """What is set for a further cut, by which setting and where it is marked, in lines, some of them bold.

    Where it is not `alone` only the list tells the places: the block must stay on a page.
    """
    reach = as_drawn(one.way)
    against = [reason_says(reason, units) for reason in reasons_of(one.way)]
    sets = [
        (f"{reading_label(reach)} {reading(reach, one.cut)}", True),
        (which_way(reach, one.cut), False),
        (all_more(one.way, one.cut), True),
        (f"setting {number}" if number else "", False),
    ]
    said = [(f"CUT {one.number}, on the piece:", True), *([(why, True) for why in against] or sets)]
    back = back_words(one.back, units) if alone else ""
    said += [(f"mark back from cut 1: {back}", False)] if back else []
    return [(line, bold) for words, bold in said for line in wrap(words, width, 3.5, bold=bold)]


def _told_alike(ways: Sequence[EndWay], cut: Cut) -> Iterator[tuple[tuple[str, str, str], list[EndWay]]]:
    """Reading, which way, and roll, tilt or bevel in words, each with the ways that are told so."""
    told: dict[tuple[str, str, str], list[EndWay]] = {}
    for way in ways:
        words = (reading(as_drawn(way), cut), which_way(way.reach, cut), all_more(way, cut))
        told.setdefault(words, []).append(way)
    yield from told.items()


def _numbers(ways: Sequence[EndWay]) -> str:
    found = [str(way.number) for way in ways if way.number]
    return f"setting{'s' if len(found) > 1 else ''} {', '.join(found)}" if found else ""


def _end_setting(
    name: str, ways: Sequence[EndWay], cut: Cut, words: list[tuple[str, bool]], width: float
) -> list[Text]:
    reach = ways[0].reach
    return [
        cell(f"{name}: {reading_label(reach)}", (2, -5), width - 4, 3.0, "center"),
        cell(reading(as_drawn(ways[0]), cut), (2, -14), width - 4, 7.0, "center", bold=True),
        *(
            cell(line, (2, -15 - _WORDS * (i + 1)), width - 4, 3.5, "center", bold)
            for i, (line, bold) in enumerate(words)
        ),
    ]
