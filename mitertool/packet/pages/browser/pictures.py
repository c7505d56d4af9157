"""Pictures of the page as SVG inside it; knows the drawings of the sheet and the SVG writer."""

from __future__ import annotations

from mitertool.drawing import Drawing, svg
from mitertool.packet.pages.browser.markup import Markup, element
from mitertool.packet.pages.setting.plan_view import plan_view
from mitertool.packet.pages.setting.vise_view import vise_view
from mitertool.packet.paper.stand import seen_along
from mitertool.saw import Reach
from mitertool.words import phrase

_WIDE, _HIGH, _VISE = 100.0, 48.0, 40.0
"""Paper mm: a screen in the hand is about as wide as the first with its lettering still plain."""


def picture(drawing: Drawing, says: str) -> Markup:
    """A drawing with what it shows written below it."""
    inside = Markup(svg.inline(drawing, says, 2.0))
    return element("figure", inside, element("figcaption", says), class_="picture")


def of_setting(reach: Reach) -> Markup:
    """The bar between the jaws, and the saw from above."""
    vise = picture(vise_view(reach.section, _WIDE / 2, _VISE, reach.pack), seen_along(reach.setting.saw))
    plan = picture(plan_view(reach, _WIDE, _HIGH), phrase("browser.from-above"))
    return element("div", vise, plan, class_="pictures")
