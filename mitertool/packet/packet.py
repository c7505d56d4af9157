"""Puts every file of a packet together and writes them as one whole folder; knows packet's rooms and drawing."""

from __future__ import annotations

import json
from pathlib import Path

from mitertool.base.errors import CannotMake
from mitertool.base.files import refuse_foreign_folder, write_whole_folder
from mitertool.base.names import distinct_file_names
from mitertool.job import Solution
from mitertool.packet.pieces_csv import pieces_csv
from mitertool.packet.records import of_plan, of_solution
from mitertool.packet.sheet import cut_sheet
from mitertool.packet.sketch import lettering_scale, sketch


def write_packet(solution: Solution, folder: Path, anyway: bool = False) -> tuple[str, ...]:
    """Write the packet of a solved job as `folder` and return the names of its files.

    Raises `CannotMake` and writes nothing where the job has problems, unless `anyway`; `BadInput` where
    `folder` holds anything that mitertool did not write.
    """
    if solution.problems and not anyway:
        raise CannotMake(solution.problems)
    refuse_foreign_folder(folder)
    files = packet_files(solution)
    write_whole_folder(folder, files)
    return tuple(sorted(files))


def packet_files(solution: Solution) -> dict[str, bytes]:
    """The content of every file of a packet by its name inside the folder; same solution, same bytes."""
    from mitertool.drawing import pdf

    head = solution.job.head
    title = f"Cut sheet: {head.name}"
    return {
        "cut-sheet.pdf": pdf.write(cut_sheet(solution), title),
        "pieces.csv": pieces_csv(solution),
        "plan.json": _plan_json(solution),
        **_sketches(solution),
    }


def _plan_json(solution: Solution) -> bytes:
    solved = of_solution(solution)
    record = {
        **of_plan(solution.plan),
        "job": solved["job"],
        "inputs": solution.job.digest,
        "pieces": solved["pieces"],
        "assemblies": solved["assemblies"],
        "problems": solved["problems"],
    }
    return (json.dumps(record, indent=1, ensure_ascii=False) + "\n").encode()


def _sketches(solution: Solution) -> dict[str, bytes]:
    from mitertool.drawing import dxf

    names = distinct_file_names([piece.mark for piece in solution.pieces])
    return {
        f"sketches/{name}.dxf": dxf.write(
            sketch(piece, solution.job.head), f"{piece.mark}, {solution.job.head.name}", lettering_scale(piece)
        )
        for name, piece in zip(names, solution.pieces, strict=True)
    }
