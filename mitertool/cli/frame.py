"""`mitertool frame SHAPE`: one frame without a job file, read by the same reader as a job's; knows job and packet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mitertool.cli.frame_words import ShapesAsk, lying
from mitertool.cli.options import (
    AsJson,
    ForceOption,
    SawPath,
    SketchPath,
    UnitsOption,
    WorkingOption,
    answer,
    load_saw,
    may_sketch,
    units_of,
    with_working,
    write_sketch,
)

if TYPE_CHECKING:
    from mitertool.job import FrameOrder
    from mitertool.quantity import Units

SectionOption = Annotated[list[str], typer.Option("--section", help="One, or one a side in order (repeat it).")]
Length = Annotated[str, typer.Option(help="Length.")]
Measured = Annotated[str, typer.Option(help="outside, inside, centerline; over heels, between legs, toe to toe.")]
Gap = Annotated[str, typer.Option(help="Left open at each joint.")]
Corners = Annotated[str, typer.Option(help="miter or butt.")]
Lay = Annotated[str, typer.Option(help="Degrees, or words such as 'heel up'.")]


def build() -> typer.Typer:
    """The command with one command below it for each shape."""
    app = typer.Typer(
        help="Solve one frame: a shape and its sizes.", cls=ShapesAsk, rich_markup_mode=None, add_completion=False
    )
    shapes = (
        (rectangle, "A rectangle from its sizes."),
        (polygon, "A regular polygon, or one by its corners."),
        (drawing, "A closed frame out of a DXF drawing."),
        (brace, "A brace between two faces."),
        (infill, "Uprights between two posts."),
    )
    for shape, words in shapes:
        app.command(shape.__name__, short_help=words)(shape)
    return app


def rectangle(
    ctx: typer.Context,
    section: SectionOption,
    width: Length,
    height: Length,
    measured: Measured,
    corners: Corners = "",
    through: Annotated[str, typer.Option(help="Butted: width or height sides run through.")] = "",
    root_gap: Gap = "",
    lay: Lay = "",
    saw: SawPath = None,
    sketch: SketchPath = None,
    force: ForceOption = False,
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Solve a rectangular frame, mitered or butted, and prove that it closes."""
    may_sketch(sketch, force)
    words = {**lying(ctx), "lay": lay}
    sizes = {"width": width, "height": height, "measured": measured, "corners": corners, "through": through}
    _solve("rectangle", section, {**sizes, "root_gap": root_gap, **words}, saw, sketch, working, as_json, units)


def polygon(
    ctx: typer.Context,
    section: SectionOption,
    measured: Measured,
    sides: Annotated[str, typer.Option(help="Of a regular polygon, with one of its sizes.")] = "",
    side: Length = "",
    across_flats: Length = "",
    across_corners: Length = "",
    points: Annotated[str, typer.Option(help="Corners, '0,0 0,900 1200,0'.")] = "",
    lengths: Annotated[str, typer.Option(help="Sides in order, '900 1200 1500', with --angles.")] = "",
    angles: Annotated[str, typer.Option(help="Inside after each side, '90 36.87'.")] = "",
    is_open: Annotated[bool, typer.Option("--open", help="The first and last corner are free ends.")] = False,
    deduct: Annotated[str, typer.Option(help="Taken off each free end, for a cap or a plate.")] = "",
    corners: Corners = "",
    root_gap: Gap = "",
    lay: Lay = "",
    saw: SawPath = None,
    sketch: SketchPath = None,
    force: ForceOption = False,
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Solve a polygon: regular, by its corners, or by sides and angles; closed or open."""
    may_sketch(sketch, force)
    words = {**lying(ctx), "lay": lay, "corners": corners, "root_gap": root_gap}
    sizes = {"side": side, "across_flats": across_flats, "across_corners": across_corners, "deduct": deduct}
    lists: dict[str, Any] = {"points": [p.split(",") for p in points.split()], "lengths": lengths.split()}
    shape = {"sides": sides, **sizes, **lists, "angles": angles.split(), "measured": measured}
    given = {**shape, **words, **({"closed": False} if is_open else {})}
    _solve("polygon", section, given, saw, sketch, working, as_json, units)


def drawing(
    ctx: typer.Context,
    section: SectionOption,
    file: Annotated[str, typer.Option(help="DXF file.")],
    line: Annotated[str, typer.Option(help="What its lines are: centerline, outside or inside.")],
    layer: Annotated[str, typer.Option(help="Only the lines of this layer.")] = "",
    drawing_units: Annotated[str, typer.Option(help="mm or in, where the file itself states none.")] = "",
    node: Annotated[str, typer.Option(help="Ends closer than this meet.")] = "",
    corners: Corners = "",
    root_gap: Gap = "",
    lay: Lay = "",
    saw: SawPath = None,
    sketch: SketchPath = None,
    force: ForceOption = False,
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Solve the closed frame that the lines of a DXF drawing make."""
    words = {**lying(ctx), "lay": lay, "corners": corners, "root_gap": root_gap}
    may_sketch(sketch, force, Path(file))
    given = {"file": file, "line": line, "layer": layer, "units": drawing_units, "node": node, **words}
    _solve("drawing", section, given, saw, sketch, working, as_json, units)


def brace(
    section: SectionOption,
    inside_width: Length = "",
    inside_height: Length = "",
    rise: Length = "",
    run: Length = "",
    legs: Annotated[str, typer.Option(help="Knee brace: along the beam, down the post: '400 300'.")] = "",
    ends: Annotated[str, typer.Option(help="Lower and upper: level, plumb, square; or point.")] = "",
    lay: Lay = "",
    saw: SawPath = None,
    sketch: SketchPath = None,
    force: ForceOption = False,
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Solve a brace: corner to corner inside a rectangle, by rise and run, or as a knee."""
    may_sketch(sketch, force)
    words = ends.split() * (2 if len(ends.split()) == 1 else 1)
    sizes: dict[str, Any] = {"inside_width": inside_width, "inside_height": inside_height, "rise": rise, "run": run}
    given = {**sizes, "legs": legs.split(), "ends": words, "lay": lay}
    _solve("brace", section, given, saw, sketch, working, as_json, units)


def infill(
    section: SectionOption,
    opening: Length,
    height: Length,
    clear_most: Annotated[str, typer.Option(help="Greatest clear gap.")],
    rake: Annotated[str, typer.Option(help="Slope of the rails, degrees.")] = "",
    lay: Lay = "",
    saw: SawPath = None,
    sketch: SketchPath = None,
    force: ForceOption = False,
    working: WorkingOption = False,
    as_json: AsJson = False,
    units: UnitsOption = "mm",
) -> None:
    """Space uprights evenly between two posts, level or along a raked rail."""
    may_sketch(sketch, force)
    given = {"opening": opening, "height": height, "clear_most": clear_most, "rake": rake, "lay": lay}
    _solve("infill", section, given, saw, sketch, working, as_json, units)


def _solve(
    shape: str,
    section: list[str],
    given: dict[str, Any],
    saw: Any,
    sketch: Any,
    working: bool,
    as_json: bool,
    units: str,
) -> None:
    from mitertool.job import one_frame

    unit = units_of(units)
    keys = {key: value for key, value in given.items() if value not in ("", [])}
    solution = one_frame({"mark": "F", "shape": shape, "section": section, **keys}, unit, load_saw(saw))
    order = solution.frames[0]
    from mitertool.packet.cautions import for_job
    from mitertool.packet.records import of_solution

    steps = None
    if working:
        from mitertool.working import for_assembly

        steps = for_assembly(order.assembly, unit)
    if sketch:
        _write(order, sketch, unit)
    answer(of_solution(solution), with_working(_lines(solution, unit), steps), as_json, for_job(solution))
    if solution.problems:
        raise typer.Exit(1)


def _lines(solution: Any, unit: Units) -> list[str]:
    from mitertool.cli.check import solved_lines
    from mitertool.packet.sheet.frame_block import frame_notes
    from mitertool.packet.words import instead

    past = [instead(one, unit) for one in solution.past]
    against = [f"cannot be made: {problem}" for problem in solution.problems]
    return [*solved_lines(solution, unit), *frame_notes(solution.frames[0], unit), *past, *against]


def _write(order: FrameOrder, path: Any, unit: Units) -> None:
    from mitertool.packet.sheet.frame_block import frame_drawing

    write_sketch(frame_drawing(order.assembly, unit), path, f"frame, {order.assembly.shape}")
