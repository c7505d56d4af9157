"""`mitertool saw check|draw FILE`: every key of a saw file explained, and the saw drawn; knows saw and packet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, ClassVar

import typer

from mitertool import packet
from mitertool.cli.commands import command, options
from mitertool.cli.groups import ByName, Group
from mitertool.cli.options import EndOption, InUnitsAsRead, Laid, Printed, Sketched, aligned, answer, find_section
from mitertool.cut import Cut, cut_from
from mitertool.packet.cautions import for_cuts, invented, short
from mitertool.quantity import angle
from mitertool.saw import Saw
from mitertool.saw.file.explain import Explained, explain
from mitertool.saw.file.questions import questions
from mitertool.words import phrase

SawFile = Annotated[Path, typer.Argument(help="option.saw-file", metavar="FILE")]


class OfSaw(ByName):
    """What is done with a saw file."""

    says = "command.saw"
    rooms: ClassVar = dict.fromkeys(("check", "draw"), __name__)


saw = Group(OfSaw)


@options
class SawCheckOptions(Printed):
    """A saw file."""

    file: SawFile


@command(SawCheckOptions, "saw check saw.toml", "saw check saw.toml --json")
def check(o: SawCheckOptions) -> None:
    """What `mitertool saw check` does."""
    machine = Saw.load(o.file)
    rows = explain(o.file)
    record: dict[str, Any] = {
        "name": machine.name,
        "invented": machine.invented,
        "keys": [
            {
                "table": r.table,
                "key": r.key,
                "says": r.says,
                "found": list(r.found),
                "read": list(r.read),
                "made_of": list(r.made_of),
            }
            for r in rows
        ],
        "questions": [{"table": q.table, "key": q.key, "says": q.says} for q in questions(machine)],
    }
    table = aligned([(f"[{r.table}] {r.key}", _understood(r), r.says) for r in rows])
    made_up = [invented()] if machine.invented else []
    asked = [phrase("screen.question", question=question.says) for question in questions(machine)]
    answer(record, [phrase("screen.in-order", name=machine.name), *made_up, *asked, *table], o, short())


def _understood(one: Explained) -> str:
    """How the values of a key are read, each with what the file says where that is written in another way."""
    values = ", ".join(_value(read, found) for read, found in zip(one.read, one.found, strict=True)) or "-"
    return phrase("saw.made_of", value=values, keys=", ".join(one.made_of)) if one.made_of else values


def _value(read: str, found: str) -> str:
    return read if not found or read.startswith(found) else phrase("screen.written", read=read, written=found)


@options
class DrawOptions(Laid, Sketched, InUnitsAsRead):
    """A saw file, and the bar that lies in the saw."""

    file: SawFile
    sketch: Annotated[Path, typer.Option("--sketch", help="option.draw.sketch")]
    section: Annotated[str, typer.Option("--section", help="option.draw.section")] = "SHS 60x60x4"
    miter: Annotated[str, typer.Option(help="option.draw.miter")] = "0"
    bevel: Annotated[str, typer.Option(help="option.draw.bevel")] = "0"
    end: EndOption = "right"


@command(
    DrawOptions,
    "saw draw saw.toml --sketch saw.pdf",
    "saw draw saw.toml --sketch saw.svg --section 'RHS 80x40x3' --miter 30",
)
def draw(o: DrawOptions) -> None:
    """What `mitertool saw draw` does."""
    o.may_sketch()
    machine = Saw.load(o.file)
    cut = Cut(cut_from(o.miter, "--miter").miter, angle(o.bevel, "--bevel"))
    reach = machine.reach(find_section(o.section, o.lay, "--section"), cut, o.end)
    o.draw(packet.setting_drawing(reach, o.unit_or(machine.units)), machine.name)
    answer({"sketch": str(o.sketch)}, [] if o.drawn else [str(o.sketch)], o, for_cuts([reach]))
