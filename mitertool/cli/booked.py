"""The booking of a plan on the rack, as a block around the writing of its packet; knows job and rack."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from mitertool.base.errors import BadInput
from mitertool.job import Job, Solution
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


def still_booked(job: Job) -> Iterator[str]:
    """That the packet before a rest has left-overs booked, which this one may not draw on until they are given back."""
    if job.rest is None or job.rack is None or not job.rack.file.exists():
        return
    name, revision = job.head.name, job.rest.revision or job.head.revision
    with RackBook.opened(job.rack.file, new=False) as book:
        found = book.booking(name, revision)
    if found and found.takes:
        numbers = ", ".join(map(str, found.takes))
        yield phrase(
            "rack.still-booked", numbers=numbers, called=f"{name} {revision}".strip(), job=name, revision=revision
        )
