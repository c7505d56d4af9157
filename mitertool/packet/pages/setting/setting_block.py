"""A setting of the saw on paper: steps in the order of doing and where each number is; knows walk_down and views."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from mitertool.drawing import THIN, Drawing, Line, text_width, wrap
from mitertool.packet.cautions import for_cuts
from mitertool.packet.pages.setting.blade_view import blade_view
from mitertool.packet.pages.setting.letters import LETTER
from mitertool.packet.pages.setting.load_chart import load_chart
from mitertool.packet.pages.setting.plan_view import plan_view, set_back_rows
from mitertool.packet.pages.setting.tilt_view import tilt_view
from mitertool.packet.pages.setting.vise_view import lettered_vise
from mitertool.packet.pages.setting.walk_down import ToDo, walk_down
from mitertool.packet.paper.layout import Block, box, cell
from mitertool.packet.paper.stand import seen_along
from mitertool.packet.words import section_words
from mitertool.quantity import Units
from mitertool.quantity.problem_words import reason_says
from mitertool.saw import Reach
from mitertool.words import phrase

PAPER: Final = 186.0
"""mm. Width of a setting drawn alone."""

_TITLE: Final = 12.5
_PITCH: Final = 4.5
_PLAIN: Final = 3.6
_STEP: Final = 2.6
"""mm, lettering of a step; what is set on the saw is larger."""

_SET: Final = 3.5
_COUNT: Final = 3.0
_CAUTION: Final = 2.8
_SHARE: Final = 0.52
"""Of the width for the steps; the views have the rest."""

_PLAN: Final = 42.0
_MORE: Final = 4.8
"""Height of a plan of up to three set-backs, and what each further one adds."""

_HEADING: Final = 5.0
_VISE: Final = 33.0
_CHART: Final = 43.0
_BLADE: Final = 37.0
_AROUND: Final = 2.0
"""mm kept free above and below the plane of the blade."""

_NUMBER: Final = 5.0
_LETTER: Final = 7.5
_VALUE: Final = 32.0


def setting_drawing(reach: Reach, units: Units, grade: str = "") -> Drawing:
    """A setting by itself, with the verdict, every reason and what can hurt; paper mm."""
    saw = reach.setting.saw
    name = phrase("setting.invented", saw=saw.name) if saw.invented else saw.name
    title = phrase("setting.ok" if reach.ok else "setting.cannot", saw=name, section=section_words(reach.section))
    why = "; ".join(reason_says(reason, units) for reason in reach.reasons)
    block = setting_block(reach, title, why, PAPER, units, grade)
    lines = wrap(for_cuts([reach]), PAPER, _CAUTION)
    return block.drawing + Drawing(
        cell(line, (0, -block.height - _PITCH * (i + 1)), PAPER, _CAUTION) for i, line in enumerate(lines)
    )


def setting_block(reach: Reach, title: str, uses: str, width: float, units: Units, grade: str = "") -> Block:
    """The block of a setting: `title`, below it what `uses` it, then steps and views where the cut can be made."""
    lines = wrap(uses, width - 6, _STEP)
    head = _TITLE - 4 + _PITCH * len(lines)
    if not reach.ok:
        return Block(head + 1, box(width, head + 1) + _headed(title, lines, width))
    steps, deep = _steps(walk_down(reach, units, grade), width * _SHARE)
    views, tall = _views(reach, width * (1 - _SHARE) - 3)
    below = _below(reach, width - 4)
    middle = max(deep, tall)
    _, low, _, high = below.bounds()
    height = head + middle + (high - low + 2 * _AROUND if below.entities else 0)
    drawing = box(width, height) + _headed(title, lines, width) + Drawing([Line((0, -head), (width, -head), THIN)])
    drawing += steps.moved(0, -head) + views.moved(width * _SHARE + 1, -head)
    if below.entities:
        drawing += below.moved(2, -height + _AROUND - low)
    return Block(height, drawing)


def _headed(title: str, lines: Sequence[str], width: float) -> Drawing:
    """The title with its lines below it, hanging from (0, 0)."""
    said = (cell(line, (3, -6 - _PITCH * (i + 1)), width - 6, _STEP) for i, line in enumerate(lines))
    return Drawing([cell(title, (3, -6), width - 6, 4.5, bold=True), *said])


def _views(reach: Reach, width: float) -> tuple[Drawing, float]:
    """From above; below it the bar in the vise, beside it a tilted blade or the load; hanging from (0, 0)."""
    tall = _PLAN + _MORE * max(0, set_back_rows(reach) - 3)
    whole = plan_view(reach, width, tall).moved(0, -tall - _HEADING)
    y = -tall - _HEADING - 2 - _VISE
    vise = lettered_vise(reach.section, width / 2, _VISE, reach.pack)
    low = y + min(vise.bounds()[1], 0.0)
    beside = tilt_view if reach.tilt else load_chart
    whole += vise.moved(0, y) + beside(reach, width / 2, _VISE).moved(width / 2, y)
    names = (
        (phrase("setting.from-above"), -4),
        (phrase("setting.in-the-vise"), low - 4),
        (seen_along(reach.setting.saw), low - 8),
    )
    whole += Drawing(cell(words, (0, at), width / 2, 2.8) for words, at in names)
    return whole, 10 - low


def _below(reach: Reach, width: float) -> Drawing:
    """The plane of the blade, and beside it the load where the tilted blade has its place; on (0, 0), or nothing."""
    if not reach.tilt or reach.passage is None:
        return blade_view(reach, width, _BLADE)
    chart = load_chart(reach, _CHART, _VISE)
    return blade_view(reach, width - _CHART, _BLADE) + chart.moved(width - _CHART, 0)


def _steps(steps: tuple[ToDo, ...], width: float) -> tuple[Drawing, float]:
    """The steps under one another, hanging from (0, 0); and how deep they go."""
    whole, y, last = Drawing(), -1.2, 0
    for step in steps:
        shown, deep = _step(step, width, step.number != last)
        y -= 0.5 if step.number != last else 0.0
        whole += shown.moved(0, y)
        y, last = y - deep, step.number
    return whole, -y + 2


def _step(step: ToDo, width: float, first: bool) -> tuple[Drawing, float]:
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
