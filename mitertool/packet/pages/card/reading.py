"""How a sheet is read: each sign of it drawn, with what to do; cautions; the letters of the detailed pages."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.drawing import CENTER, FRAME, OUTLINE, THIN, Arc, Drawing, Entity, Line, Point, Polygon, Text, fit
from mitertool.packet.cautions import cautions, feed_caution
from mitertool.packet.pages.card.told import NOTE, notes, row, titled
from mitertool.packet.pages.setting.letters import GAP, GUIDE, LIFT, LONGEST, MEAN, PACKING, STOP, SWING, TILT, TRAVEL
from mitertool.packet.pages.setting.vise_view import wedge
from mitertool.packet.pages.sheet.arrows import again_arrow, kerf_sign, long_arrow, slant, tilt_arrow, turn_arrow
from mitertool.packet.pages.sheet.figures import lift_spot
from mitertool.packet.paper.layout import LEAST, Block, cell
from mitertool.packet.paper.stand import feed_way
from mitertool.quantity import Units, show_length
from mitertool.quantity.units import MM_PER_INCH
from mitertool.saw import Machine
from mitertool.words import phrase

_ABREAST: Final = 4

_ROLL, _ROLLED = 6.6, 40.0
"""mm of the sign of a roll, and degrees by which its bar stands rolled: a sign, not to scale."""

_SAMPLES: Final = (1234.5, 869.5)
_INCH_SAMPLES: Final = (48.5 * MM_PER_INCH, 34.0 * MM_PER_INCH)
_KEY: Final = 31.0
_FIRST: Final = 12.5
"""mm: what is keyed and what is measured in the pictures of a sheet's signs, and how wide each is at most."""


def reading_blocks(saw: Machine | None, width: float, units: Units, detail: bool = False) -> Iterator[Block]:
    """The first page, its samples in the units of the sheets; with `detail` the letters of the pages that it adds."""
    yield titled(phrase("card.read"), width)
    way = "plain" if saw is None else "feed" if saw.feed else "stop"
    for code, picture in _signs(feed_way(saw), units):
        if _has_sign(code, saw):
            says = phrase(f"card.read.{code}/{way}" if code in _BY_WAY else f"card.read.{code}")
            yield row(Drawing(picture), says, width)
    yield from notes(list(_words_on_sheets(saw, units)), width)
    yield titled(phrase("card.cautions"), width)
    fed = (feed_caution(),) if saw and saw.feed else ()
    own = (saw.feed.caution,) if saw and saw.feed and saw.feed.caution else ()
    yield from notes((*cautions(), *fed, *own), width)
    if detail and saw:
        yield titled(phrase("card.letters"), width)
        yield from _letters(saw, width)


_BY_WAY: Final = ("key", "pivot")
"""Signs that say another thing on a saw with a feed, on one with a stop, and where no saw is known."""


def _has_sign(code: str, saw: Machine | None) -> bool:
    """Whether the sheets of a saw have a sign: a scale, a blade that tilts, a stop, things that stand back."""
    if saw is None:
        return code not in ("reading", "tilt", "stop", "pivot")
    if code == "stop":
        return saw.feed is None
    if code == "tilt":
        return saw.tilt is not None
    return code != "pivot" or saw.feed is not None or (saw.bed.swing_axis is not None and bool(saw.obstacles))


def _words_on_sheets(saw: Machine | None, units: Units) -> Iterator[str]:
    """What the words of this saw's sheets mean that want a line."""
    yield phrase("card.word.off")
    if saw is None:
        return
    if not saw.feed:
        yield phrase("card.word.past")
    yield phrase("card.word.prove")
    if saw.guides:
        yield phrase("card.word.guides" if saw.guides.fixed_u is not None else "card.word.guides/gap")
    axis = saw.bed.swing_axis
    if saw.arm and (axis is not None or not saw.arm.stands_on_axis):
        case, told = lift_spot(saw.arm, units)
        jaw = {"jaw": show_length(saw.arm.stop + axis, units)} if axis is not None else {}
        yield phrase(f"card.word.lift{case}", **told, **jaw)
    if saw.obstacles and axis is not None:
        yield phrase("card.word.clear")
    if saw.cutting:
        yield phrase("card.word.shop")


def letters_of(saw: Machine) -> tuple[str, ...]:
    """The letters that the pages of `--detail` have of a saw."""
    has = (
        ((SWING,), True),
        (("B1",), bool(saw.obstacles)),
        ((GUIDE, GAP), saw.guides is not None),
        ((LIFT, STOP, TRAVEL, LONGEST, MEAN), saw.arm is not None),
        ((PACKING,), True),
        ((TILT,), saw.tilt is not None),
    )
    return tuple(letter for letters, there in has if there for letter in letters)


def _letters(saw: Machine, width: float) -> Iterator[Block]:
    each, letters = width / _ABREAST, letters_of(saw)
    for i in range(0, len(letters), _ABREAST):
        abreast = list(enumerate(letters[i : i + _ABREAST]))
        texts = [cell(letter, (n * each, -4), 8, NOTE, bold=True) for n, letter in abreast]
        texts += [cell(phrase(f"card.letter.{one.lower()}"), (n * each + 7, -4), each - 10, NOTE) for n, one in abreast]
        yield Block(5.0, Drawing(texts), gap=0.0)


def _signs(way: float, units: Units) -> Iterator[tuple[str, list[Entity]]]:
    """Every sign about the middle of its box, with the code of its sentence; the feed lies on the side of `way`."""
    past = phrase("sheet.more", tenths="0.2")
    key, first = (show_length(size, units) for size in (_SAMPLES if units == "mm" else _INCH_SAMPLES))
    yield "reading", [_words("123.5°", (-9.5, 3.4), 3.5, bold=True), Text((-1.9, 2.2), past, LEAST), *_scale()]
    yield "arm", [*slant(way, 7.0).moved(0, -3.5).entities]
    yield "tilt", [*tilt_arrow(way, 6.0).moved(0, -3.0).entities]
    yield "roll", _rolls()
    yield "again", [*again_arrow(6.0).moved(-11, 3).entities, _words(phrase("sheet.rounds", count=2), (3, 0), 3.5)]
    yield "key", [_words(key, (0, 0), fit(key, _KEY, 7.0, bold=True), bold=True)]
    yield "stop", _stop(way)
    yield "pivot", [_bar(-14, 14), Line((0, -4.2), (0, 4.2), CENTER), *_dot((0, -1))]
    yield "ends", [_piece(-16, -2, 3.5, -3.5), _piece(2, 12.5, 3.5, 3.5)]
    yield "tape", _kerfs(way)
    yield "first", [_square(-16), _words(first, (-5, 0), fit(first, _FIRST, 3.5)), Line((2, -2), (15, -2), THIN)]
    yield "stays", [_words(phrase("sheet.stays"), (0, 0), 4.0)]


def _rolls() -> list[Entity]:
    """A bar that is rolled over to the right, and one over to the left, each with the wedge at its top."""
    bar = Drawing([Polygon([(-1.3, -1.3), (1.3, -1.3), (1.3, 1.3), (-1.3, 1.3)], OUTLINE, 0.93), wedge((0.0, 1.3))])
    right = turn_arrow(_ROLL) + bar.turned(-_ROLLED)
    left = turn_arrow(_ROLL, False) + bar.turned(_ROLLED)
    return [*right.moved(6, 0).entities, *left.moved(-6, 0).entities]


def _words(says: str, at: Point, height: float, bold: bool = False) -> Text:
    return Text(at, says, height, "center", "middle", 0.0, bold)


def _scale() -> list[Entity]:
    """Lines of a scale half a degree apart, and a pointer two tenths past one of them."""
    lines: list[Entity] = [Line((x, -1.6), (x, 0.4 if i % 2 else -0.4), THIN) for i, x in enumerate((-15, -5, 5, 15))]
    return [*lines, Line((-15, -1.6), (15, -1.6), THIN), *long_arrow((-3, -5.4), (-3, -1.9)).entities]


def _stop(way: float) -> list[Entity]:
    """A bar whose end touches the stop on the discharge side of the blade."""
    blade = Line((way * 6, -4), (way * 6, 4), OUTLINE)
    stop = Polygon([(-way * 12, -4), (-way * 14, -4), (-way * 14, 4), (-way * 12, 4)], OUTLINE, 0.6)
    return [_bar(-12, 16) if way > 0 else _bar(-16, 12), blade, stop]


def _bar(x0: float, x1: float) -> Polygon:
    return Polygon([(x0, -2.6), (x1, -2.6), (x1, 2.6), (x0, 2.6)], OUTLINE, 0.93)


def _piece(x0: float, x1: float, left: float, right: float) -> Polygon:
    """A piece from above, the ends of its upper edge shifted so against those of its lower one."""
    return Polygon([(x0, -2.6), (x1, -2.6), (x1 + right, 2.6), (x0 + left, 2.6)], OUTLINE, 0.93)


def _kerfs(way: float) -> list[Entity]:
    """A mark with its kerf beyond it, and one with its kerf before it."""
    lead = "left" if way > 0 else "right"
    return [
        part
        for x, past in ((-14.5, True), (1.5, False))
        for part in kerf_sign(past, lead).scaled(1.8).moved(x, -2.5).entities
    ]


def _dot(at: Point) -> list[Entity]:
    return [Arc(at, 0.6, 0, 360, OUTLINE)]


def _square(x: float) -> Polygon:
    return Polygon([(x, -2), (x + 4, -2), (x + 4, 2), (x, 2)], FRAME)
