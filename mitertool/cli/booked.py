"""The booking of a plan on the rack, as a block around the writing of its packet; knows job and rack."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from mitertool.base.errors import BadInput
from mitertool.job import Solution
from mitertool.rack import RackBook
from mitertool.words import phrase


@contextmanager
def booked_with(solution: Solution) -> Iterator[None]:
    """What a plan takes and leaves is booked when the block ends well, and not at all otherwise.

    Raises `BadInput` where the job draws on no rack, or does not say what goes back.
    """
    drawn = solution.job.rack
    if drawn is None:
        raise BadInput("--book", solution.job.path.name, phrase("rack.needs-rack"))
    if drawn.keep is None:
        raise BadInput("keep", "nothing", phrase("rack.keep-needed"), (solution.job.path.name, "[nest]"))
    with RackBook.opened(drawn.file) as book, book.changing():
        book.book(solution.booking)
        yield
