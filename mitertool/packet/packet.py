"""Puts every file of a packet together and writes them as one whole folder; knows packet's rooms and drawing."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from functools import partial
from pathlib import Path
from typing import Final

import attrs

from mitertool.base.beside import beside
from mitertool.base.collector import rarely_collecting
from mitertool.base.errors import BadInput, CannotMake
from mitertool.base.folders import finish_killed, refuse_foreign_folder, write_whole_folder
from mitertool.base.language import spoken
from mitertool.base.names import distinct_file_names
from mitertool.drawing import dxf, pdf
from mitertool.job import Job, Solution
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.browser.page import cut_sheet_page
from mitertool.packet.pages.card.card import card_pages
from mitertool.packet.pages.labels import label_pages
from mitertool.packet.pages.sheet.sheet import sheet_pages
from mitertool.packet.pages.sketch.jig import jig_scale, jig_sketch
from mitertool.packet.pages.sketch.sketch import in_rows, lettering_scale, paper_sketch
from mitertool.packet.pages.triangles import triangle_pages
from mitertool.packet.pages.wraps import wrap_drawing, wrap_pages, wrapped_marks
from mitertool.packet.records import of_plan_file
from mitertool.packet.records.earlier import folder_name, whose
from mitertool.packet.records.pieces_csv import pieces_csv
from mitertool.packet.words import origin
from mitertool.words import phrase


@attrs.frozen
class Options:
    """What a packet may have otherwise: a label sheet by name ("" follows the units), codes on labels, and `detail`.

    `detail` puts behind the cut sheet what each setting comes to: lift, travel, load, with the letters of its pictures.
    """

    labels: str = ""
    codes: bool = False
    detail: bool = False


Tell = Callable[[float, str], None]
"""Called with the share of the work that is done, 0 to 1, and the code of what is being done."""


def _nothing(_share: float, _code: str) -> None:
    return None


def write_packet(
    solution: Solution,
    folder: Path,
    anyway: bool = False,
    options: Options | None = None,
    tell: Tell = _nothing,
    booking: AbstractContextManager[object] | None = None,
) -> tuple[str, ...]:
    """Write the packet of a solved job as `folder` and return the names of its files.

    `booking` is entered when all files are made and left when the folder stands: what is booked in it stands or falls
    with the folder.

    What a killed run left undone there is finished first, whatever comes of this one. Raises `CannotMake` and writes
    nothing where the job has problems, unless `anyway`; `BadInput` where `folder` holds anything that mitertool did
    not write.
    """
    finish_killed(folder)
    if solution.problems and not anyway:
        raise CannotMake(solution.refusal, solution.refusal_in_lines)
    _refuse_other(folder, solution)
    refuse_foreign_folder(folder)
    with rarely_collecting():
        files = packet_files(solution, options or Options(), tell)
    with booking or nullcontext():
        write_whole_folder(folder, files)
    return tuple(sorted(files))


def folder_of(solution: Solution) -> str:
    """The name of a folder for a packet: that of the job, its revision, and whether it is the rest."""
    return folder_name(solution.job.head, *(["rest"] if solution.job.rest else []))


def _refuse_other(folder: Path, solution: Solution) -> None:
    """Raise `BadInput` where the folder holds the packet of another job, revision or part: that one stays whole."""
    found, head = whose(folder), solution.job.head
    part = "rest" if solution.job.rest else "whole"
    if found and (found.job, found.revision, found.part) != (head.name, head.revision, part):
        told = {"job": f"{found.job} {found.revision}".strip(), "part": phrase(f"rest.part/{found.part}")}
        raise BadInput(phrase("what.output-folder"), str(folder), phrase("rest.other-packet", **told))


def packet_files(solution: Solution, options: Options, tell: Tell = _nothing) -> dict[str, bytes]:
    """The content of every file of a packet by its name inside the folder, in the language of the job.

    Same solution, same bytes.
    """
    with spoken(solution.job.head.language):
        return _files(solution, options, tell)


def _files(solution: Solution, options: Options, tell: Tell) -> dict[str, bytes]:
    tell(0.3, "progress.sheet")
    work = partial(_of_marks, solution, options)
    with beside(work) if len(solution.pieces) >= _MANY else nullcontext(work) as of_marks:
        files = _of_all_work(solution, options)
        tell(0.6, "progress.sketches")
        return {**files, **of_marks()}


_MANY: Final = 20
"""Marks from which a second process is worth its beginning, a fortieth of a second: of ten it saves no more."""


def _of_all_work(solution: Solution, options: Options) -> dict[str, bytes]:
    """What tells of the work and its settings."""
    title, floor = phrase("packet.cut-sheet", job=solution.job.head.name), floor_of(solution)
    return {
        "cut-sheet.pdf": pdf.write(sheet_pages(solution, options.detail, floor), title),
        "cut-sheet.html": cut_sheet_page(solution, floor),
        "card.pdf": _card(solution.job, options.detail),
        "pieces.csv": pieces_csv(solution),
        "plan.json": _plan_json(solution),
    }


def _of_marks(solution: Solution, options: Options) -> dict[str, bytes]:
    """What a mark, a piece or a frame has of its own, about half of all that is to be done; nothing of a setting."""
    pages = label_pages(solution, options.labels, options.codes)
    return {
        "labels.pdf": pdf.write(pages, phrase("packet.labels", job=solution.job.head.name)),
        **_sketches(solution),
        **_jigs(solution),
        **_wraps(solution),
        **_triangles(solution),
    }


def _card(job: Job, detail: bool) -> bytes:
    """The card of the saw, as its file has it: the same whatever the job."""
    pages = card_pages(job.as_measured or job.saw, job.saw_path, job.head.units, detail)
    return pdf.write(pages, phrase("packet.card"))


def _plan_json(solution: Solution) -> bytes:
    return (json.dumps(of_plan_file(solution), indent=1, ensure_ascii=False) + "\n").encode()


def _jigs(solution: Solution) -> dict[str, bytes]:
    """A drawing of the stops for every frame that is set out by its corners, and for its mirror image."""
    head = solution.job.head
    hands = (hand for order in solution.frames for hand in order.hands)
    made = [(hand.assembly, hand.out) for hand in hands if hand.out]
    files = {}
    for name, (assembly, out) in zip(distinct_file_names([one.mark for one, _ in made]), made, strict=True):
        title = phrase("jig.title", mark=assembly.mark, job=head.name)
        files[f"jigs/{name}.dxf"] = dxf.write(jig_sketch(assembly, out, head.units, title), title, jig_scale(assembly))
    return files


def _wraps(solution: Solution) -> dict[str, bytes]:
    """A template to scale for every mark of tube that is marked by one, for a printer and as a drawing."""
    made = tuple(wrapped_marks(solution))
    job, units = solution.job, solution.job.head.units
    files = {}
    for name, wrapped in zip(distinct_file_names([mark for mark, _ in made]), made, strict=True):
        title = f"{wrapped[0]}, {job.head.name}"
        files[f"wraps/{name}.pdf"] = pdf.write(wrap_pages(wrapped, job), title)
        files[f"wraps/{name}.dxf"] = dxf.write(wrap_drawing(wrapped, units), title)
    return files


def _triangles(solution: Solution) -> dict[str, bytes]:
    """Paper triangles for whoever marks cuts by hand; none where no end leans over a face."""
    pages = triangle_pages(solution)
    return {"triangles.pdf": pdf.write(pages, phrase("packet.triangles", job=solution.job.head.name))} if pages else {}


def _sketches(solution: Solution) -> dict[str, bytes]:
    head, made_from = solution.job.head, origin(solution.job)
    every, *names = distinct_file_names(["all", *(piece.mark for piece in solution.pieces)])
    scales = [lettering_scale(piece) for piece in solution.pieces]
    papers = (paper_sketch(piece, head, made_from) for piece in solution.pieces)
    models = [dxf.model_of(paper, scale) for paper, scale in zip(papers, scales, strict=True)]
    files = {
        f"sketches/{name}.dxf": dxf.write_models([(model, (0.0, 0.0))], f"{piece.mark}, {head.name}")
        for name, piece, model in zip(names, solution.pieces, models, strict=True)
    }
    places = in_rows([model.box for model in models], scales)
    return {**files, f"sketches/{every}.dxf": dxf.write_models(list(zip(models, places, strict=True)), head.name)}
