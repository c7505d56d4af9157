"""An earlier packet read back from its plan.json: whose it is, and the marks it was made of; knows values of job."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import safe_file_name
from mitertool.cut import Cut
from mitertool.cut.ends import End, Further
from mitertool.job import Job
from mitertool.job.before import OldMark, OldPacket
from mitertool.job.orders import Head
from mitertool.packet.records.parts import PARTS
from mitertool.piece import Piece
from mitertool.piece.marks import PieceMark
from mitertool.piece.poses import opposite_mark
from mitertool.quantity.compare import same_length
from mitertool.words import phrase

PLAN: Final = "plan.json"


@attrs.frozen
class Whose:
    """The job and revision of a packet, and whether it is of the whole job or of the rest."""

    job: str
    revision: str
    part: str


def folder_name(head: Head, *words: str) -> str:
    """The name of a folder for the packet of a job and revision, with words behind."""
    return safe_file_name("-".join(part for part in (head.name, head.revision, *words) if part))


def whose(folder: Path) -> Whose | None:
    """Whose packet a folder holds; None where it holds none that tells."""
    found = whose_plan(folder)
    return found and found[0]


def whose_plan(folder: Path) -> tuple[Whose, dict[str, Any]] | None:
    """The same with what its plan file holds."""
    try:
        plan = json.loads((folder / PLAN).read_text(encoding="utf-8"))
        found = Whose(str(plan["job"]), str(plan["revision"]), str(plan["part"]))
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None
    return (found, plan) if found.part in PARTS else None


def earlier(folder: Path, job: Job, what: str) -> OldPacket:
    """The packet of an earlier revision of a job, which the option `what` names.

    Raises `BadInput` for a folder of another job, or of none.
    """
    found, plan = of_job(folder, job, what)
    if found.part != PARTS[0]:
        raise BadInput(what, str(folder), phrase("rest.not-whole"))
    try:
        marks = tuple(one for record in plan["pieces"] for one in _marks(record, job))
        return OldPacket(found.revision, marks, str(plan["inputs"]))
    except (KeyError, TypeError, ValueError) as error:
        raise BadInput(what, str(folder), phrase("rest.no-packet")) from error


def of_job(folder: Path, job: Job, what: str) -> tuple[Whose, dict[str, Any]]:
    """Whose packet a folder holds, and its plan file. Raises `BadInput` for one of another job, or where none is."""
    told = whose_plan(folder)
    if told is None:
        raise BadInput(what, str(folder), phrase("rest.no-packet"))
    if told[0].job != job.head.name:
        found = f"{told[0].job} {told[0].revision}".strip()
        raise BadInput(what, found, phrase("rest.other-job", own=job.head.name))
    return told


def _marks(record: Mapping[str, Any], job: Job) -> Iterator[OldMark]:
    """The mark as drawn and its opposite hand; one where that is the same piece."""
    mark, section, grade = record["mark"], record["section"], record["grade"]
    piece = piece_of(record, job)
    quantity, opposite = record["quantity"], record["opposite"]
    places = (one for one in record.get("places", ()) if not one["what"])
    holes = tuple(PieceMark(one["at_mm"], one["end"], one["side"]) for one in places)
    if piece and opposite and piece.is_own_opposite and not holes:
        yield OldMark(mark, quantity + opposite, section, grade, piece)
        return
    if quantity:
        yield OldMark(mark, quantity, section, grade, piece, holes)
    if opposite:
        other = tuple(one.mirrored for one in holes)
        yield OldMark(opposite_mark(mark), opposite, section, grade, piece and piece.opposite_hand(), other)


def piece_of(record: Mapping[str, Any], job: Job) -> Piece | None:
    """The piece by its section and cuts; None where the section is not known, or is another by now."""
    try:
        section = job.sections.named(record["section"], "section").lay(0, record["laid_end_for_end"])
    except BadInput:
        return None
    section = section.lay(record["rotated_deg"] - section.rotation)
    if not (same_length(section.width, record["wide_mm"]) and same_length(section.height, record["high_mm"])):
        return None
    left, right = (_end(record, end) for end in ("left", "right"))
    made = Piece(section, record["centerline_mm"], left, right, at="centerline")
    return made if same_length(made.long_point, record["long_point_mm"]) else None


def _end(record: Mapping[str, Any], end: str) -> End:
    further = tuple(map(_further, record[f"{end}_further"]))
    return (_cut(record[end]), *further) if further else _cut(record[end])


def _cut(record: Mapping[str, Any]) -> Cut:
    return Cut(record["miter_deg"], record["bevel_deg"])


def _further(record: Mapping[str, Any]) -> Further:
    across, up = record["meets_mm"]
    return Further(_cut(record), (across, up))
