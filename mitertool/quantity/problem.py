"""What cannot be made as asked, with the mark that it is told of; knows sentences."""

from __future__ import annotations

import attrs

from mitertool.quantity.sentence import Sentence
from mitertool.quantity.units import Units


@attrs.frozen
class Problem:
    """Why the pieces of `mark` cannot be made as asked; `told` is the whole sentence, its mark at the front."""

    mark: str
    told: Sentence

    def why(self, units: Units) -> str:
        """The sentence without its mark, in these units."""
        return self.told.in_units(units).removeprefix(self.mark).lstrip(",: ")
