"""Pages of practice: questions with a line for the answer; answers with the working, the picture and what can hurt."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import mitertool
from mitertool.drawing import A4, FRAME, LETTER, THIN, Drawing, Line, Page, pdf, wrap
from mitertool.packet.cautions import invented, short
from mitertool.packet.pages.practice.picture import after, before, extent
from mitertool.packet.paper.layout import FOOT, HEAD, MARGIN, Block, Paper, boxed, cell, pages
from mitertool.practice import Exercise
from mitertool.saw import Machine
from mitertool.words import phrase

_TEXT: Final = 3.1
_PITCH: Final = 4.9
_NUMBER: Final = 9.0
_VISE: Final = (40.0, 22.0)
_PICTURE: Final = (88.0, 50.0)
_RULE: Final = 12.0
"""mm below a question for the answer's line."""

_SECOND_LINE: Final = 5.0


def practice_files(saw: Machine, exercises: Sequence[Exercise], seed: int) -> dict[str, bytes]:
    """questions.pdf and answers.pdf of a set; same set, same bytes."""
    return {
        f"{name}.pdf": pdf.write(practice_pages(saw, exercises, seed, name), _title(saw, name))
        for name in ("questions", "answers")
    }


def practice_pages(saw: Machine, exercises: Sequence[Exercise], seed: int, which: str) -> tuple[Page, ...]:
    """The pages of the "questions" or of the "answers"; A4 for mm and Letter for inches."""
    width, height = A4 if saw.units == "mm" else LETTER
    paper = Paper(width, height, _SECOND_LINE * (2 if saw.invented else 1))
    block = _question if which == "questions" else _answer
    letters = boxed(phrase("practice.of-pictures"), [phrase("practice.letters")], paper.inner)
    blocks = [] if which == "questions" else letters
    blocks += [block(number, one, paper.inner) for number, one in enumerate(exercises, 1)]
    head = phrase("practice.drawn-by", seed=seed, count=len(exercises))
    return pages(blocks, paper, lambda n, of: _head(saw, _title(saw, which), head, paper, (n, of)))


def _title(saw: Machine, which: str) -> str:
    return phrase(f"practice.{which}", saw=saw.name)


def _question(number: int, exercise: Exercise, width: float) -> Block:
    """A question beside the bar in the vise, a line for the answer under it."""
    room = width - _VISE[0] - _NUMBER - 6
    units = exercise.reach.setting.saw.units
    texts, deep = _under([(one.in_units(units), False) for one in exercise.question], room)
    deep = max(deep + _RULE, _VISE[1] + 8)
    picture = before(exercise, *_VISE).moved(width - _VISE[0], -_VISE[1] - 2)
    rule = Line((_NUMBER, -deep + 1), (_NUMBER + room, -deep + 1), THIN)
    return Block(deep + 4, _numbered(number) + texts + picture + Drawing([rule]), gap=3.0)


def _answer(number: int, exercise: Exercise, width: float) -> Block:
    """The answer, its working and its caution, the picture beside them."""
    saw, units = exercise.reach.setting.saw, exercise.reach.setting.saw.units
    room = width - _PICTURE[0] - _NUMBER - 6
    said = [(exercise.says.in_units(units), True), *((one.in_units(units), False) for one in exercise.working)]
    said += [(phrase(f"practice.caution/{exercise.kind}"), True)] if exercise.hurts else []
    texts, deep = _under(said, room)
    picture = after(exercise, *_PICTURE, saw.units)
    _, _, wide, high = extent(picture)
    whole = _numbered(number) + texts + picture.moved(width - max(wide, _PICTURE[0]), -high - 2)
    deep = max(deep, high + 2) + 1
    return Block(deep, whole + Drawing([Line((0, -deep), (width, -deep), THIN)]), gap=1.0)


def _numbered(number: int) -> Drawing:
    return Drawing([cell(str(number), (0, -_PITCH - 1), _NUMBER - 2, 4.5, bold=True)])


def _under(sentences: Sequence[tuple[str, bool]], room: float) -> tuple[Drawing, float]:
    """Sentences one under the other, each bold or not, beside the number; and how deep they go."""
    y, lines = -_PITCH - 1, []
    for says, bold in sentences:
        for line in wrap(says, room, _TEXT, bold):
            lines.append(cell(line, (_NUMBER, y), room, _TEXT, bold=bold))
            y -= _PITCH
        y -= 1.2
    return Drawing(lines), -y


def _head(saw: Machine, title: str, drawn: str, paper: Paper, number: tuple[int, int]) -> Drawing:
    """Which set it is and whose, the page, and the cautions that every page has."""
    top, inner = paper.height - MARGIN, paper.inner
    page = phrase("practice.page", number=number[0], of=number[1])
    made = f"mitertool {mitertool.__version__}"
    texts = [
        cell(title, (MARGIN, top - 6), inner - 32, 5.5, bold=True),
        cell(page, (paper.width - MARGIN - 30, top - 6), 30, 3.5, "right"),
        cell(drawn, (MARGIN, top - 12), inner, 3.0),
        cell(short(), (MARGIN, MARGIN + 4.5), inner, 2.8),
        cell(made, (MARGIN, MARGIN), inner, 2.5),
    ]
    texts += [cell(invented(), (MARGIN, top - 17), inner, 3.0)] if saw.invented else []
    heights = (top - HEAD - paper.more_head + 2, MARGIN + FOOT - 1)
    return Drawing([*texts, *(Line((MARGIN, y), (paper.width - MARGIN, y), FRAME) for y in heights)])
