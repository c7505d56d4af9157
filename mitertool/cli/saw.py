"""`mitertool saw check|draw FILE`: every key of a saw file explained, and the saw drawn; knows saw and packet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mitertool.cli.options import (
    AsJson,
    ForceOption,
    UnitsOption,
    aligned,
    answer,
    find_section,
    load_saw,
    may_sketch,
    units_of,
    write_sketch,
)

if TYPE_CHECKING:
    from mitertool.saw.explain import Explained

SawFile = Annotated[Path, typer.Argument(help="Saw file (TOML).", metavar="FILE")]


def build() -> typer.Typer:
    """The command with one command below it for checking and one for drawing."""
    app = typer.Typer(help="Check a saw file, or draw the saw.", rich_markup_mode=None, add_completion=False)
    app.command("check", short_help="Explain every key of a saw file.")(check)
    app.command("draw", short_help="Draw the saw with a bar in it.")(draw)
    return app


def check(file: SawFile, as_json: AsJson = False) -> None:
    """Read a saw file, refuse an impossible machine, and print every key with its meaning and what the file says."""
    from mitertool.packet.cautions import INVENTED, SHORT
    from mitertool.saw import Saw
    from mitertool.saw.explain import explain
    from mitertool.saw.questions import questions

    saw = Saw.load(file)
    rows = explain(file)
    record: dict[str, Any] = {
        "name": saw.name,
        "invented": saw.invented,
        "keys": [
            {"table": r.table, "key": r.key, "says": r.says, "found": list(r.found), "read": list(r.read)} for r in rows
        ],
        "questions": [{"table": q.table, "key": q.key, "says": q.says} for q in questions(saw)],
    }
    table = aligned([(f"[{r.table}] {r.key}", _understood(r), r.says) for r in rows])
    made_up = [INVENTED] if saw.invented else []
    asked = [f"question: {question.says}" for question in questions(saw)]
    answer(record, [f"{saw.name}: the file is in order", *made_up, *asked, *table], as_json, SHORT)


def _understood(one: Explained) -> str:
    """How the values of a key are read, each with what the file says where that is written in another way."""
    return ", ".join(_value(read, found) for read, found in zip(one.read, one.found, strict=True)) or "-"


def _value(read: str, found: str) -> str:
    return read if not found or read.startswith(found) else f"{read} (written {found})"


def draw(
    file: SawFile,
    sketch: Annotated[Path, typer.Option("--sketch", help="Where to draw: .dxf, .pdf, .svg or .png.")],
    force: ForceOption = False,
    section: Annotated[str, typer.Option("--section", help="A bar to lay in the vise.")] = "SHS 60x60x4",
    miter: Annotated[str, typer.Option(help="The miter to swing to, degrees from square.")] = "0",
    bevel: Annotated[str, typer.Option(help="The bevel, degrees from square.")] = "0",
    end: Annotated[str, typer.Option(help="Which end of the piece: left or right.")] = "right",
    lay: Annotated[str, typer.Option(help="Degrees, or words such as 'heel up'.")] = "0",
    as_json: AsJson = False,
    units: UnitsOption = "",
) -> None:
    """Draw the saw with a bar in it from above and in the plane of the blade, and list what is set, in order.

    Lengths stand in the units of the file, unless others are asked for.
    """
    from mitertool.cut import Cut, cut_from
    from mitertool.packet.cautions import for_cuts
    from mitertool.packet.setting.setting_block import setting_drawing
    from mitertool.quantity import angle

    may_sketch(sketch, force)
    saw = load_saw(file)
    assert saw is not None
    cut = Cut(cut_from(miter, "--miter").miter, angle(bevel, "--bevel"))
    reach = saw.reach(find_section(section, lay), cut, end)
    write_sketch(setting_drawing(reach, units_of(units) if units else saw.units), sketch, saw.name)
    answer({"sketch": str(sketch)}, [str(sketch)], as_json, for_cuts([reach]))
