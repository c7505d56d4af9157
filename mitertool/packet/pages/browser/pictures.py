"""Pictures of the page as SVG inside it; knows the drawings of the sheet and the SVG writer."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from mitertool.drawing import Drawing, Text, svg
from mitertool.frame.leaning import Leaning
from mitertool.job import FrameOrder
from mitertool.packet.floor.values import BarWork, CutRow, PieceRow, Reading, Tape, Turn
from mitertool.packet.pages.browser.markup import Markup, element, joined
from mitertool.packet.pages.fitter.pattern import plate_drawing, plate_says
from mitertool.packet.pages.fitter.picture import FEW_INSIDE, frame_drawing, picture_notes
from mitertool.packet.pages.fitter.told import title_of
from mitertool.packet.pages.setting.vise_view import top_of, vise_view
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.arrows import from_side, kerf_sign, sign_of, slant, tilt_arrow
from mitertool.packet.pages.sheet.bar_panel import chalk_words
from mitertool.packet.pages.sheet.bar_plan import bar_plan
from mitertool.packet.pages.sheet.bar_strip import side_block, strip_block
from mitertool.packet.pages.sheet.piece_rows import shapes
from mitertool.packet.pages.sheet.rolls import roll_picture
from mitertool.packet.paper.stand import feed_way, leads
from mitertool.quantity import Units, show_length
from mitertool.saw import Machine
from mitertool.sections import Section
from mitertool.words import phrase

_WIDE, _VISE, _PLAN = 84.0, (50.0, 30.0), (96.0, 32.0)
"""Paper mm: a screen in the hand is about as wide as the first with its lettering still plain; a plan has the name of
each thing beside its figure, and is wider."""

_SIDES: Final = 1.9
"""Paper mm: lettering of the sides below the vise, which is drawn half as wide as the others and shown as wide."""

_FRAME, _FULL = (70.0, 52.0), (150.0, 110.0)
"""Paper mm of a frame, and of one with many bars inside."""

_SIGN: Final = 6.0
"""Paper mm of an arrow in a line of text."""


def picture(drawing: Drawing, says: str, more: str = "") -> Markup:
    """A drawing with what it shows written below it."""
    inside = Markup(svg.inline(drawing, says, 1.5))
    return element("figure", inside, element("figcaption", more or says), class_="picture")


def of_vise(work: BarWork, units: Units) -> Markup:
    """The section between the jaws as the operator sees it, with its size."""
    wide, high = (show_length(length, units) for length in (work.section.width, work.section.height))
    size = phrase("sheet.size", wide=wide, high=high)
    pack = next((setting.reach.pack for setting in work.settings if setting.reach.pack), None)
    sides = [
        Text((2, -1.5), phrase("side.fixed"), _SIDES, "left", "top"),
        Text((_VISE[0] - 2, -1.5), phrase("side.moving"), _SIDES, "right", "top"),
    ]
    chalk = chalk_words(work)
    view = vise_view(work.section, *_VISE, pack, top_of(work.section) if chalk else None) + Drawing(sides)
    return picture(view, phrase("browser.in-the-vise"), ", ".join(word for word in (size, chalk) if word))


def of_plan(work: BarWork, saw: Machine | None, units: Units) -> Markup | None:
    """The saw from above with what is set back; None where no saw is known or it can make no cut of the bar."""
    if saw is None or not any(setting.reach.ok for setting in work.settings):
        return None
    return picture(bar_plan(work, saw, units, *_PLAN), phrase("browser.from-above"))


def of_strip(work: BarWork, saw: Machine | None) -> Markup | None:
    """The bar from above with its cuts by number, from the side where one is slanted so; None without stock."""
    if work.run is None:
        return None
    bar = work.run.bar
    side, says = side_block(bar, saw, _WIDE, bar.stock_length), phrase("sheet.strip-side")
    above = picture(strip_block(bar, saw, _WIDE, bar.stock_length).drawing, phrase("browser.strip"))
    return joined(above, picture(_unsaid(side.drawing, says), says)) if side else above


def _unsaid(drawing: Drawing, says: str) -> Drawing:
    """A drawing without words that stand below it."""
    return Drawing(part for part in drawing.entities if not (isinstance(part, Text) and part.says == says))


def of_frame(order: FrameOrder, units: Units) -> Markup:
    """The frame with its marks and the numbers of its corners; large where many bars are to be told apart."""
    size = _FRAME if len(order.assembly.inside) <= FEW_INSIDE else _FULL
    drawn = frame_drawing(order.assembly, units, *size, order.out)
    return picture(drawn, title_of(order), " ".join(picture_notes(drawn, order.assembly)))


def of_plate(one: Leaning, units: Units) -> Markup:
    """The flat pattern of a plate of a hopper with its sizes."""
    title, *more = plate_says(one, units)
    return picture(plate_drawing(one, units, _WIDE), title, " ".join((f"{title}.", *more)))


def of_piece(row: PieceRow) -> Markup:
    """How a piece lies where it is cut, as on page one of the sheet. Words beside it say the same."""
    return _sign(shapes(row), "shape")


def arm(shown: Reading, saw: Machine | None) -> Markup:
    """The blade over the bar beside a reading, from the operator's place. Words beside it say the same."""
    return _sign(sign_of(shown, saw, _SIGN))


def cut(row: CutRow, bar: BarWork) -> Markup:
    """How a cut lies over its bar, seen from above, where no saw is known. Words beside it say the same."""
    return _sign(slant(figures.lean(row, bar), _SIGN))


def bevel(row: CutRow, bar: BarWork) -> Markup:
    """How a cut leans over the bed, seen from the fixed jaw, where no saw is known."""
    return _sign(from_side(figures.lean_up(row, bar), _SIGN))


def kerf(place: Tape, saw: Machine | None) -> Markup:
    """A mark with its kerf on its side, before its word."""
    return _sign(kerf_sign(place.past, leads(saw)))


def tilt(shown: Reading, saw: Machine) -> Markup:
    """The blade tilted over the bed, seen from the fixed jaw, before its words."""
    return _sign(tilt_arrow(feed_way(saw) * shown.tilt, _SIGN))


_TURNS: Final = 128
"""Signs of rolls that are kept: they have no words, and a job has few that differ."""


@lru_cache(maxsize=_TURNS)
def turn(section: Section, told: Turn, often: bool) -> Markup:
    """How the bar stands after a roll, before its words; `often`: before each of several cuts."""
    return _sign(roll_picture(section, told, _SIGN, often))


def _sign(drawing: Drawing, look: str = "sign") -> Markup:
    return element("span", Markup(svg.inline(drawing, "", 0.5)), class_=look, aria_hidden="true")
