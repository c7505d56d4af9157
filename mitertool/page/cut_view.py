"""What the screen of one cut shows: pictures, readings, steps and figures; knows packet's drawings and words."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Final

import attrs
from markupsafe import Markup

from mitertool.cut import Cut, Face
from mitertool.drawing import Dimension, Drawing, Entity
from mitertool.drawing.explode import text_outside
from mitertool.packet.cautions import for_cuts
from mitertool.packet.pages.cut_said import Row, figure_rows
from mitertool.packet.pages.setting.blade_view import blade_view, moving_view
from mitertool.packet.pages.setting.load_chart import load_chart
from mitertool.packet.pages.setting.plan_view import plan_view, set_back_rows
from mitertool.packet.pages.setting.tilt_view import tilt_view
from mitertool.packet.pages.setting.vise_view import lettered_vise, vise_view
from mitertool.packet.pages.setting.walk_down import ToDo, walk_down
from mitertool.packet.pages.sketch.faces import true_face
from mitertool.packet.pages.sketch.two_views import views
from mitertool.packet.paper.stand import seen_along
from mitertool.packet.words import lies, more, reading, reading_label, which_way
from mitertool.page.cut_asked import STEPS, TOUCH, CutAsked, CutRead
from mitertool.page.screen import picture
from mitertool.piece import Piece
from mitertool.quantity import show_angle, show_area, show_length, show_limit
from mitertool.quantity.problem_words import reason_says
from mitertool.saw import Reach
from mitertool.saw.setting.lays import WorkingLay, lays_that_work, lays_told
from mitertool.saw.setting.reasons import Reason
from mitertool.sections import Section, lies_over
from mitertool.words import phrase

_WIDE: Final = 96.0
_PLAN: Final = 56.0
_MORE: Final = 4.8
_BLADE: Final = 50.0
_VISE: Final = (96.0, 46.0)
_LAY: Final = (24.0, 17.0)
_FACE: Final = (66.0, 40.0)
_PIECE: Final = 90.0
"""Paper mm of the pictures: a telephone shows the widest with its lettering still plain."""

_UPRIGHT: Final = 90.0
"""degrees along which a height is measured."""

_QUARTERS: Final = (0.0, 90.0, 180.0, 270.0)
_ANGLES: Final = ("swing", "tilt")
"""Reasons that tell of degrees."""


@attrs.frozen
class LayShown:
    """A way in which the section may lie: how an address names it, in words, and its picture."""

    value: str
    says: str
    picture: Markup
    chosen: bool


@attrs.frozen
class OtherLay:
    """A lay in which the saw makes the cut after all: what asks for it, how the bar is turned, what is set there."""

    asked: CutAsked
    says: str
    reading: str
    picture: Markup


@attrs.frozen
class InTheWay:
    """Why the cut cannot be made, and by how much."""

    says: str
    by: str


@attrs.frozen
class Motion:
    """The arm on its way: the edge in the section, and what is on it there."""

    asked: CutAsked
    reach: Reach
    read: CutRead

    @property
    def position(self) -> float:
        """Where the arm stands, degrees or mm above rest."""
        lifted, first, through = self._way
        down = self.read.steps
        if down in (TOUCH, STEPS):
            return first if down == TOUCH else through
        if down < TOUCH:
            return lifted - down / TOUCH * (lifted - first)
        return first - (down - TOUCH) / (STEPS - TOUCH) * (first - through)

    @property
    def picture(self) -> Markup:
        """The edge in the plane of the blade."""
        return picture(moving_view(self.reach, self.position, _WIDE, _BLADE), phrase("page.cut.blade"))

    @property
    def chart(self) -> Markup:
        """The load over the way, with where the arm stands."""
        return picture(load_chart(self.reach, *_VISE, self.position), phrase("setting.steel"))

    @property
    def marks(self) -> tuple[str, ...]:
        """The positions lifted clear, no less than that, at first touch and through."""
        lifted, *passed = self._way
        highest = self.reach.setting.saw.arm_type.show_limit(lifted, self.read.units, "up")
        return (highest, *map(self._shown, passed))

    @property
    def _way(self) -> tuple[float, float, float]:
        """Lifted clear of the bar as it is set, first touch, through."""
        one = self.reach
        return one.arm_lift or 0.0, one.first_touch or 0.0, one.through or 0.0

    @property
    def rows(self) -> tuple[Row, ...]:
        """Where the arm stands, and what is on the blade there."""
        way, units = self.reach.passage, self.read.units
        if way is None:
            return ()
        parted = way.cut_between(self.position, way.first_touch)
        return (
            (phrase("page.cut.position"), self._shown(self.position)),
            (phrase("page.cut.contact"), show_length(way.contact(self.position), units)),
            (phrase("page.cut.walls"), str(way.walls(self.position))),
            (phrase("page.cut.parted"), show_area(parted, units)),
        )

    def _shown(self, position: float) -> str:
        return self.reach.setting.saw.arm_type.show(position, self.read.units)


@attrs.frozen
class CutView:
    """One cut, live."""

    asked: CutAsked
    read: CutRead

    @cached_property
    def reach(self) -> Reach | None:
        """What the saw is set to; None without a saw."""
        one = self.read
        return one.saw.reach(one.section, one.cut, one.end) if one.saw else None

    @cached_property
    def face(self) -> Face:
        """The face of the cut."""
        return self.read.cut.face(self.read.section)

    @cached_property
    def piece(self) -> Piece:
        """A piece of the length asked for with the cut at its end, its other end square."""
        ends = (Cut(), self.read.cut) if self.read.end == "right" else (self.read.cut, Cut())
        return Piece(self.read.section, self.read.length, *ends)

    @property
    def ok(self) -> bool:
        """Whether the saw makes it; also where no saw is known."""
        return self.reach is None or self.reach.ok

    @property
    def motion(self) -> Motion | None:
        """The arm on its way; None where nobody says how it moves."""
        return Motion(self.asked, self.reach, self.read) if self.reach and self.reach.passage else None

    @property
    def heading(self) -> tuple[Row, ...]:
        """What is read first: the reading, which way, and what is done besides."""
        cut = self.read.cut
        says = ", ".join(filter(None, (which_way(self.reach, cut), more(self.reach, cut))))
        return ((reading_label(self.reach), reading(self.reach, cut)), ("", says))

    @property
    def in_the_way(self) -> tuple[InTheWay, ...]:
        """Every reason why the saw does not make the cut; what a roll would do is told only where one may help."""
        units = self.read.units
        reasons = self.reach.reasons if self.reach else ()
        told = (self._not_rolled(one) if self.no_lay else one for one in reasons)
        return tuple(InTheWay(reason_says(one, units), self._short(one)) for one in told)

    @staticmethod
    def _not_rolled(reason: Reason) -> Reason:
        return attrs.evolve(reason, more=tuple(one for one in reason.more if one.code != "fine-rolled"))

    def _short(self, reason: Reason) -> str:
        """By how much the saw falls short of what the cut needs."""
        by = abs(reason.need - reason.have)
        if reason.code in _ANGLES or self.read.saw is None:
            return phrase("page.cut.short", by=show_angle(by))
        if reason.code == "lift":
            return phrase("page.cut.short", by=self.read.saw.arm_type.show_limit(by, self.read.units, "up"))
        return phrase("page.cut.short", by=show_limit(by, self.read.units, "up"))

    @property
    def rows(self) -> tuple[Row, ...]:
        """The figures of the cut, as the command line has them."""
        kerf = self.read.saw.kerf if self.read.saw else None
        return tuple(figure_rows(self.face, self.read.cut, kerf, self.reach, self.read.units))

    @property
    def lengths(self) -> tuple[Row, ...]:
        """The lengths of the piece."""
        names = ("long_point", "short_point", "centerline", "overall")
        return tuple((phrase(f"screen.{one}"), show_length(getattr(self.piece, one), self.read.units)) for one in names)

    @cached_property
    def steps(self) -> tuple[ToDo, ...]:
        """What is set, in the order of doing."""
        return walk_down(self.reach, self.read.units, self.asked.grade.strip()) if self.reach else ()

    @property
    def caution(self) -> str:
        """What can hurt."""
        return for_cuts([self.reach])

    @cached_property
    def plan(self) -> Markup | None:
        """The saw from above."""
        if self.reach is None:
            return None
        high = _PLAN + _MORE * max(0, set_back_rows(self.reach) - 3)
        return picture(plan_view(self.reach, _WIDE, high, self.read.units), phrase("page.cut.plan"))

    @property
    def setting_of_arm(self) -> Markup | None:
        """The plane of the blade with the letters of what is set there."""
        drawn = blade_view(self.reach, _WIDE, _BLADE) if self.reach else None
        return picture(drawn, seen_along(self.reach.setting.saw)) if drawn and drawn.entities and self.reach else None

    @cached_property
    def tilt(self) -> Markup | None:
        """The tilted blade."""
        if self.reach is None or not self.reach.tilt:
            return None
        return picture(tilt_view(self.reach, *_VISE), phrase("page.cut.tilt"))

    @property
    def vise(self) -> Markup:
        """The bar between the jaws."""
        section, pack = (self.reach.section, self.reach.pack) if self.reach else (self.read.section, None)
        return picture(lettered_vise(section, *_VISE, pack), phrase("page.cut.vise"))

    @property
    def lies(self) -> str:
        """How it lies there, in words."""
        return lies(self.reach.section if self.reach else self.read.section)

    @property
    def true_face(self) -> Markup:
        """The face in true shape with its sizes."""
        k = max(self.face.width / _FACE[0], self.face.height / _FACE[1])
        drawn = true_face(self.read.cut, self.read.section, None, k, self.read.units)
        return picture(Drawing(map(self._alone, drawn.entities)), phrase("page.cut.face"))

    def _alone(self, drawn: Entity) -> Entity:
        """The height without its word where both have no room between its arrows: it stands upright beside the face."""
        if not (isinstance(drawn, Dimension) and drawn.along == _UPRIGHT and text_outside(drawn)):
            return drawn
        return attrs.evolve(drawn, says=show_length(self.face.height, self.read.units))

    @property
    def from_above(self) -> Markup:
        """The piece from above with its long and short point, and from the side where it has a bevel."""
        section = self.read.section
        k = max(self.piece.overall / _PIECE, section.width / _FACE[1], section.height / _FACE[1])
        above, front = views(self.piece, k, self.read.units)
        whole = above + front.moved(0.0, above.bounds()[1] - front.bounds()[3] - 4) if self.read.cut.bevel else above
        return picture(whole, phrase("page.cut.piece"))

    @property
    def rolled(self) -> str:
        """What comes of rolling the bar half a turn first, where it is cut as it lies and not square."""
        one, now = self.read, self.reach
        if one.saw is None or now is None or not now.ok or now.roll or now.side == "square":
            return ""
        cut, laid = one.cut.reversed, one.section.lay(180)
        over = one.saw.reach(laid, cut, one.end)
        if not lies_over(one.section):
            return phrase("page.cut.rolled/no", why=phrase("problem.unsafe-rolled", section=one.section.name))
        if not over.ok:
            return phrase("page.cut.rolled/no", why=reason_says(over.reasons[0], one.units))
        told = {"label": reading_label(over), "reading": reading(over, cut), "way": which_way(over, cut)}
        return "" if over.roll else phrase("page.cut.rolled", **told)

    @property
    def no_lay(self) -> str:
        """That no lay makes the cut, where that is so."""
        return "" if self.ok or self.other_lays else reason_says(lays_told(()), self.read.units)

    @cached_property
    def other_lays(self) -> tuple[OtherLay, ...]:
        """Where the saw does not make the cut: the lays in which it does."""
        if self.reach is None or self.reach.ok or self.read.saw is None:
            return ()
        found = lays_that_work(self.read.saw, self.read.section, self.read.cut, self.read.end)
        return tuple(self._other(one) for one in found)

    def _other(self, one: WorkingLay) -> OtherLay:
        """A lay that works, and the address of the same cut there: it turns with its bar."""
        turned = self.read.section.rotation - self.read.named.rotation + one.rotation
        lay = one.word or f"{turned % 360:g}"
        angles = {"way": "square", "angle": f"{one.cut.miter:.12g}", "bevel": f"{one.cut.bevel:.12g}"}
        asked = attrs.evolve(self.asked, lay=lay, **angles)
        drawn = vise_view(one.reach.section, *_LAY, one.reach.pack)
        says = ", ".join(filter(None, (which_way(one.reach, one.cut), more(one.reach, one.cut))))
        return OtherLay(asked, one.says, f"{reading(one.reach, one.cut)} {says}", picture(drawn, one.says))


def lays_of(asked: CutAsked, read: CutRead) -> Iterator[LayShown]:
    """Every way in which a section may be laid that looks unlike the others, and the one that is asked for."""
    turns = {f"{turn:g}": turn for turn in _QUARTERS} | dict(read.named.shape.lays(read.named))
    shown = [read.section]
    for value, turn in turns.items():
        laid, chosen = read.named.lay(turn), value == asked.lay
        if chosen or not any(laid.looks_like(other) for other in shown):
            shown.append(laid)
            yield _lay(value, laid, chosen)
    if asked.lay not in turns:
        yield _lay(asked.lay, read.section, True)


def _lay(value: str, laid: Section, chosen: bool) -> LayShown:
    says = lies(laid) or phrase("page.cut.turned", turn=show_angle(laid.rotation))
    return LayShown(value, says, picture(vise_view(laid, *_LAY), says), chosen)
