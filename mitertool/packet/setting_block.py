"""A setting of the saw on paper: steps in the order of doing and where each number is; knows walk_down and views."""

from __future__ import annotations

from typing import Final

from mitertool.drawing import THIN, Drawing, Line, text_width, wrap
from mitertool.packet.blade_view import blade_view
from mitertool.packet.layout import Block, box, cell
from mitertool.packet.letters import LETTER
from mitertool.packet.load_chart import load_chart
from mitertool.packet.plan_view import plan_view
from mitertool.packet.tilt_view import tilt_view
from mitertool.packet.vise_view import lettered_vise, seen_from
from mitertool.packet.walk_down import Step, walk_down
from mitertool.quantity import Units
from mitertool.saw import Reach

PAPER: Final = 186.0
"""mm. Width of a setting drawn alone."""

_TITLE: Final = 12.5
_PITCH: Final = 4.5
_PLAIN: Final = 3.6
_STEP: Final = 2.6
"""mm, lettering of a step; what is set on the saw is larger."""

_SET: Final = 3.5
_COUNT: Final = 3.0
_SHARE: Final = 0.52
"""Of the width for the steps; the views have the rest."""

_PLAN: Final = 46.0
_VISE: Final = 33.0
_BLADE: Final = 33.5
_NUMBER: Final = 5.0
_LETTER: Final = 7.5
_VALUE: Final = 32.0


def setting_drawing(reach: Reach, units: Units, grade: str = "") -> Drawing:
    """A setting by itself, with the verdict and every reason; paper mm."""
    saw = reach.setting.saw
    made_up = ", an invented saw" if saw.invented else ""
    verdict = "can be cut" if reach.ok else "CANNOT be cut"
    title = f"{saw.name}{made_up}: {reach.section.name} {verdict}"
    why = "; ".join(reason.says for reason in reach.reasons)
    return setting_block(reach, title, why, PAPER, units, grade).drawing


def setting_block(reach: Reach, title: str, uses: str, width: float, units: Units, grade: str = "") -> Block:
    """The block of a setting: `title`, below it what `uses` it, then steps and views."""
    lines = wrap(uses, width - 6, _STEP)
    head = _TITLE - 4 + _PITCH * len(lines)
    steps, deep = _steps(walk_down(reach, units, grade), width * _SHARE)
    views, tall = _views(reach, width * (1 - _SHARE) - 3)
    below = blade_view(reach, width - 4, _BLADE)
    middle = max(deep, tall)
    height = head + middle + (_BLADE + 3 if below.entities else 0)
    drawing = box(width, height) + Drawing([cell(title, (3, -6), width - 6, 4.5, bold=True)])
    drawing += Drawing(cell(line, (3, -6 - _PITCH * (i + 1)), width - 6, _STEP) for i, line in enumerate(lines))
    drawing += Drawing([Line((0, -head), (width, -head), THIN)])
    drawing += steps.moved(0, -head) + views.moved(width * _SHARE + 1, -head)
    if below.entities:
        drawing += below.moved(2, -height + 2)
    return Block(height, drawing)


def _views(reach: Reach, width: float) -> tuple[Drawing, float]:
    """From above; below it the bar in the vise, the load, and a tilted blade; hanging from (0, 0)."""
    whole = plan_view(reach, width, _PLAN).moved(0, -_PLAN - 2)
    parts = [lettered_vise(reach.section, width / 2, _VISE, reach.pack)]
    parts.append(tilt_view(reach, width / 2, _VISE) if reach.tilt else load_chart(reach, width / 2, _VISE))
    if reach.tilt and reach.travel_through is not None:
        parts.append(load_chart(reach, width / 2, _VISE))
    y = -_PLAN - 4 - _VISE
    for i, part in enumerate(parts):
        whole += part.moved(width / 2 * (i % 2), y - (_VISE + 8) * (i // 2))
    names = (("from above", -4), ("in the vise,", y - 6), (seen_from(reach.setting.saw), y - 10))
    whole += Drawing(cell(words, (0, at), width / 2, 2.8) for words, at in names)
    return whole, _PLAN + _VISE + 14 + (_VISE + 8) * ((len(parts) - 1) // 2)


def _steps(steps: tuple[Step, ...], width: float) -> tuple[Drawing, float]:
    """The steps under one another, hanging from (0, 0); and how deep they go."""
    whole, y, last = Drawing(), -1.2, 0
    for step in steps:
        shown, deep = _step(step, width, step.number != last)
        y -= 0.5 if step.number != last else 0.0
        whole += shown.moved(0, y)
        y, last = y - deep, step.number
    return whole, -y + 2


def _step(step: Step, width: float, first: bool) -> tuple[Drawing, float]:
    """One step hanging from (0, 0), with its number where it is the first of it; and how deep it goes."""
    left, room = 3 + _NUMBER + _LETTER, width - _NUMBER - _LETTER - 4
    values = wrap(step.value, _VALUE, _SET, bold=True) if step.value else ()
    taken = max((text_width(value, _SET, bold=True) + 2 for value in values), default=0.0)
    lines = wrap(step.says, room - taken, _STEP, step.warns)
    pitch = _PITCH if step.value or step.letter else _PLAIN
    texts = [cell(str(step.number), (3, -pitch), _NUMBER - 1, _COUNT, bold=True)] if first else []
    texts += [cell(step.letter, (3 + _NUMBER, -pitch), _LETTER - 1, LETTER, bold=True)] if step.letter else []
    texts += [cell(line, (left, -pitch - _PLAIN * i), room, _STEP, bold=step.warns) for i, line in enumerate(lines)]
    texts += [
        cell(value, (width - _VALUE - 1, -pitch - _PITCH * i), _VALUE, _SET, "right", bold=True)
        for i, value in enumerate(values)
    ]
    return Drawing(texts), pitch + max(_PLAIN * (len(lines) - 1), _PITCH * (len(values) - 1))
