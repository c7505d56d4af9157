"""An exercise of practice as a value: what is asked, the answer with its working, and what stands on the saw."""

from __future__ import annotations

from typing import Final, Literal

import attrs

from mitertool.piece import Piece
from mitertool.quantity import Units, angle, length
from mitertool.quantity.problem import Remark
from mitertool.saw import Reach
from mitertool.words import phrase

Kind = Literal["read", "long", "guide", "support", "key", "stop"]
"""What is asked: the reading of the scale, the long side, the moving guide, whether a block is cut, a length to key or
where a stop stands."""

Unit = Literal["angle", "length", "word"]

HURTS: Final = ("read", "guide", "support", "key", "stop")
"""Kinds whose wrong answer may hurt somebody or the saw: their answers carry a caution."""


@attrs.frozen
class RightAnswer:
    """The answer to an exercise: degrees, mm, or one of several `words`; figures hold `within` so much of `value`."""

    unit: Unit
    value: float | str
    within: float = 0.0
    words: tuple[str, ...] = ()

    def is_met_by(self, given: str, units: Units) -> bool:
        """Whether an answer as it is written is right, a bare length in `units`. Raises `BadInput` for no figure."""
        if isinstance(self.value, str):
            return given == self.value
        what = phrase("practice.your-answer")
        found = angle(given, what) if self.unit == "angle" else length(given, units, what)
        return abs(found - self.value) <= self.within


@attrs.frozen
class Exercise:
    """An exercise with its answer; `says` is the answer in words, `working` how it is found, a line each.

    `reach` is how the saw stands for it, `piece` what is cut where its lengths are asked for; `given` are the figures
    of saw and bar from which the answer is worked out, told below the question.
    """

    kind: Kind
    reach: Reach = attrs.field(eq=False)
    asks: Remark
    answer: RightAnswer
    says: Remark
    working: tuple[Remark, ...]
    piece: Piece | None = attrs.field(default=None, eq=False)
    given: tuple[Remark, ...] = ()

    @property
    def question(self) -> tuple[Remark, ...]:
        """What is asked and what is given for it, a paragraph each."""
        return (self.asks, *self.given)

    @property
    def hurts(self) -> bool:
        """Whether a wrong answer may hurt."""
        return self.kind in HURTS
