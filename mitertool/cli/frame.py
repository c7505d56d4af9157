"""`mitertool frame SHAPE`: one frame without a job file, read by the same reader as a job's; knows job and packet."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar

import attrs
import typer

from mitertool import packet, working
from mitertool.base.errors import BadInput
from mitertool.cli.commands import choice, command, options
from mitertool.cli.groups import ByName, Group
from mitertool.cli.options import LAY, InUnits, Sawn, Sketched, Worked, answer, with_working
from mitertool.cli.solved import problem_lines, solved_lines
from mitertool.frame import outlines
from mitertool.frame.corner_bars import AGAINST
from mitertool.frame.corner_bars import MEASURED as HOPPER_LINES
from mitertool.frame.corner_work import LENGTH_TO
from mitertool.frame.hoppers import MEMBERS
from mitertool.frame.leaves import HINGED
from mitertool.frame.rails import TOPS
from mitertool.frame.rectangles import CORNERS, THROUGH
from mitertool.job import Solution, one_frame
from mitertool.job.frame_keys import FRAME
from mitertool.packet import records
from mitertool.packet.cautions import for_job, short
from mitertool.packet.pages.fitter.notes import frame_notes
from mitertool.packet.words import instead
from mitertool.quantity import Units
from mitertool.sections import shapes
from mitertool.words import phrase


def told(shape: str, key: str, form: str = "", metavar: str = "LENGTH") -> Any:
    """An option for a key of a [[frame]] table, told by the codes of the key; `form` tells how it is typed."""
    return typer.Option(help=_codes(shape, key, form), metavar=metavar)


def _word(shape: str, key: str, words: Sequence[str], *names: str) -> Any:
    """The same for one that takes one of these words."""
    return choice(_codes(shape, key), words, *names)


def _codes(shape: str, key: str, *more: str) -> str:
    """The codes of the words by which a key is declared, and further ones, a line each."""
    return "\n".join((*FRAME.each[shape].keys[key].codes, *filter(None, more)))


Measured = Annotated[str, _word("rectangle", "measured", shapes.tape_words())]


class Shapes(ByName):
    """The shapes of frames."""

    says = "command.frame"
    rooms: ClassVar = {word: "mitertool.cli.outlined" if word in outlines.WORDS else __name__ for word in FRAME.each}


frame = Group(Shapes)


@options
class Framed(Sawn, Sketched, Worked, InUnits):
    """The bars of a frame, and how its answer is shown."""

    section: Annotated[list[str] | None, typer.Option("--section", help="option.framed.section")]
    lay: Annotated[str, typer.Option(help=LAY)] = ""

    def keys(self) -> dict[str, Any]:
        """What was given of the frame itself, by the keys of a [[frame]] table."""
        shown = {field.name for one in Framed.__mro__[1:] if attrs.has(one) for field in attrs.fields(one)}
        given = {key: value for key, value in vars(self).items() if key not in shown and value not in ("", [], None)}
        return {**given, **({"inside": [*map(_bars, given["inside"])]} if "inside" in given else {})}


def _bars(text: str) -> dict[str, Any]:
    """A table of bars inside, typed as it stands in a job without its braces."""
    try:
        found: dict[str, Any] = tomllib.loads(f"bars = {{ {text} }}")["bars"]
    except tomllib.TOMLDecodeError as error:
        raise BadInput("inside", text, phrase("refuse.inside-typed", why=error)) from None
    return found


def _lying() -> type:
    """Options for the words by which the shapes of open sections say how they lie in a frame."""
    words = {asked.key: Annotated[str, choice(f"key.{asked.means}", asked.allowed)] for asked in shapes.frame_words()}
    made = type("Lying", (), {"__annotations__": words, "__module__": __name__, **dict.fromkeys(words, "")})
    return options(made)


if TYPE_CHECKING:

    class Lying:
        """How open sections lie in the frame."""

else:
    Lying = _lying()


@options
class Joined:
    """How the members meet."""

    corners: Annotated[str, choice("option.joined.corners", CORNERS)] = ""
    root_gap: Annotated[str, told("rectangle", "root_gap")] = ""
    cope: Annotated[str, told("rectangle", "cope")] = ""
    notch: Annotated[str, _word("rectangle", "notch", ("leg",))] = ""
    cap: Annotated[str, told("rectangle", "cap")] = ""
    bevel: Annotated[str, told("rectangle", "bevel")] = ""
    length_to: Annotated[str, _word("rectangle", "length_to", LENGTH_TO)] = ""


@options
class Filled:
    """What stands inside."""

    inside: Annotated[list[str] | None, told("rectangle", "inside", "option.filled.inside", "BARS")] = None


@options
class InOpening:
    """The opening that a leaf, or two, are made for."""

    opening_width: Annotated[str, told("rectangle", "opening_width")] = ""
    opening_height: Annotated[str, told("rectangle", "opening_height")] = ""
    hinge_gap: Annotated[str, told("rectangle", "hinge_gap")] = ""
    latch_gap: Annotated[str, told("rectangle", "latch_gap")] = ""
    meeting_gap: Annotated[str, told("rectangle", "meeting_gap")] = ""
    floor_gap: Annotated[str, told("rectangle", "floor_gap")] = ""
    head_gap: Annotated[str, told("rectangle", "head_gap")] = ""
    leaves: Annotated[str, told("rectangle", "leaves", metavar="COUNT")] = ""
    leaf_width: Annotated[str, told("rectangle", "leaf_width")] = ""
    other_leaf: Annotated[str, told("rectangle", "other_leaf")] = ""
    hinged: Annotated[str, _word("rectangle", "hinged", HINGED)] = ""


@options
class RectangleOptions(InOpening, Filled, Joined, Lying, Framed):
    """A rectangle."""

    width: Annotated[str, told("rectangle", "width")] = ""
    height: Annotated[str, told("rectangle", "height")] = ""
    measured: Measured
    through: Annotated[str, _word("rectangle", "through", THROUGH)] = ""


@command(
    RectangleOptions,
    "frame rectangle --section 'SHS 50x50x3' --width 1200 --height 800 --measured outside",
    "frame rectangle --section 'L 50x50x5' --heel out --leg up --width 900 --height 600 --measured 'over heels'",
    "frame rectangle --section 'RHS 80x40x3' --width 900 --height 600 --measured inside --through width --corners butt",
    "frame rectangle --section 'SHS 50x50x3' --opening-width 1200 --opening-height 1900 --hinge-gap 20 --latch-gap 15 "
    "--floor-gap 60 --measured outside --inside \"bars='brace'\" --inside \"bars='uprights', section='ROUND 12', "
    'clear_most=110"',
)
def rectangle(o: RectangleOptions) -> None:
    """What `mitertool frame rectangle` does."""
    o.may_sketch()
    solve_frame("rectangle", o, o.keys())


@options
class PolygonOptions(Filled, Joined, Lying, Framed):
    """A polygon."""

    measured: Measured
    sides: Annotated[str, told("polygon", "sides", metavar="COUNT")] = ""
    side: Annotated[str, told("polygon", "side")] = ""
    across_flats: Annotated[str, told("polygon", "across_flats")] = ""
    across_corners: Annotated[str, told("polygon", "across_corners")] = ""
    points: Annotated[str, told("polygon", "points", "option.polygon.points", "POINTS")] = ""
    lengths: Annotated[str, told("polygon", "lengths", "option.polygon.lengths", "LENGTHS")] = ""
    angles: Annotated[str, told("polygon", "angles", "option.polygon.angles", "ANGLES")] = ""
    is_open: Annotated[bool, typer.Option("--open", help="option.polygon.is-open")] = False
    deduct: Annotated[str, told("polygon", "deduct")] = ""


@command(
    PolygonOptions,
    "frame polygon --section 'SHS 40x40x3' --sides 6 --across-flats 900 --measured outside",
    "frame polygon --section 'RHS 60x40x3' --points '0,0 0,900 1200,0' --measured centerline",
    "frame polygon --section 'SHS 40x40x3' --lengths '900 600' --angles '120' --open --measured outside",
)
def polygon(o: PolygonOptions) -> None:
    """What `mitertool frame polygon` does."""
    o.may_sketch()
    keys = o.keys()
    keys.pop("is_open")
    lists = {"points": [point.split(",") for point in o.points.split()], "lengths": o.lengths.split()}
    given = {key: found for key, found in {**lists, "angles": o.angles.split()}.items() if found}
    solve_frame("polygon", o, {**keys, **given, **({"closed": False} if o.is_open else {})})


@options
class DrawingOptions(Filled, Joined, Lying, Framed):
    """A drawing."""

    file: Annotated[str, typer.Option(help="option.drawing.file")]
    line: Annotated[str, _word("drawing", "line", shapes.tape_words())]
    layer: Annotated[str, typer.Option(help="option.drawing.layer")] = ""
    drawing_units: Annotated[str, choice("option.drawing.drawing-units", ("mm", "in"))] = ""
    node: Annotated[str, told("drawing", "node")] = ""


@command(
    DrawingOptions,
    "frame drawing --section 'SHS 40x40x3' --file frame.dxf --line outside",
    "frame drawing --section 'SHS 40x40x3' --file frame.dxf --line centerline --layer FRAME --drawing-units mm",
)
def drawing(o: DrawingOptions) -> None:
    """What `mitertool frame drawing` does."""
    o.may_sketch(Path(o.file))
    keys = o.keys()
    of_drawing = keys.pop("drawing_units", None)
    solve_frame("drawing", o, {**keys, **({"units": of_drawing} if of_drawing else {})})


@options
class BraceOptions(Framed):
    """A brace."""

    inside_width: Annotated[str, told("brace", "inside_width")] = ""
    inside_height: Annotated[str, told("brace", "inside_height")] = ""
    rise: Annotated[str, told("brace", "rise")] = ""
    run: Annotated[str, told("brace", "run")] = ""
    legs: Annotated[str, told("brace", "legs", "option.brace.legs", "LEGS")] = ""
    ends: Annotated[str, told("brace", "ends", "option.brace.ends", "WORDS")] = ""


@command(
    BraceOptions,
    "frame brace --section 'SHS 50x50x3' --inside-width 1100 --inside-height 700 --ends point",
    "frame brace --section 'SHS 50x50x3' --rise 900 --run 1200 --ends 'level plumb'",
    "frame brace --section 'SHS 50x50x3' --legs '400 300'",
)
def brace(o: BraceOptions) -> None:
    """What `mitertool frame brace` does."""
    o.may_sketch()
    given = {key: found for key, found in {"legs": o.legs.split(), "ends": _one_or_more(o.ends)}.items() if found}
    solve_frame("brace", o, {**o.keys(), **given})


@options
class InfillOptions(Framed):
    """Uprights."""

    opening: Annotated[str, told("infill", "opening")]
    height: Annotated[str, told("infill", "height")]
    clear_most: Annotated[str, told("infill", "clear_most")]
    rake: Annotated[str, told("infill", "rake", metavar="ANGLE")] = ""


@command(
    InfillOptions,
    "frame infill --section 'ROUND 12' --opening 1800 --height 900 --clear-most 100",
    "frame infill --section 'ROUND 12' --opening 1800 --height 900 --clear-most 100 --rake 28",
)
def infill(o: InfillOptions) -> None:
    """What `mitertool frame infill` does."""
    o.may_sketch()
    solve_frame("infill", o, o.keys())


@options
class HopperOptions(Framed):
    """A hopper."""

    section: Annotated[list[str] | None, typer.Option("--section", help="option.hopper.section")] = None
    thickness: Annotated[str, told("hopper", "thickness")] = ""
    sides: Annotated[str, told("hopper", "sides", metavar="COUNT")]
    bottom: Annotated[str, told("hopper", "bottom", "option.hopper.bottom", "LENGTHS")]
    top: Annotated[str, told("hopper", "top", "option.hopper.top", "LENGTHS")]
    measured: Annotated[str, _word("hopper", "measured", HOPPER_LINES)]
    height: Annotated[str, told("hopper", "height")] = ""
    members: Annotated[str, _word("hopper", "members", MEMBERS)] = ""
    against: Annotated[str, _word("hopper", "against", AGAINST)] = ""


@command(
    HopperOptions,
    "frame hopper --thickness 5 --sides 4 --bottom '300 200' --top '800 500' --height 400 --measured inside",
    "frame hopper --section 'FLAT 120x6' --sides 6 --bottom 300 --top 450 --measured outside",
    "frame hopper --members 'corner bars' --section 'L 50x50x5' --sides 4 --bottom 300 --top 800 --height 400 "
    "--measured outside",
)
def hopper(o: HopperOptions) -> None:
    """What `mitertool frame hopper` does."""
    o.may_sketch()
    solve_frame("hopper", o, {**o.keys(), **{key: _one_or_more(getattr(o, key)) for key in ("bottom", "top")}})


@options
class RailOptions(Lying, Framed):
    """A rail."""

    nodes: Annotated[str, told("rail", "nodes", "option.rail.nodes", "POINTS")] = ""
    flights: Annotated[str, told("rail", "flights", "option.rail.flights", "FLIGHTS")] = ""
    closed: Annotated[bool, typer.Option("--closed", help=_codes("rail", "closed"))] = False
    roll: Annotated[str, told("rail", "roll", metavar="ANGLE")] = ""
    tops: Annotated[str, _word("rail", "tops", TOPS)] = ""
    ends: Annotated[str, told("rail", "ends", "option.rail.ends", "WORDS")] = ""


@command(
    RailOptions,
    "frame rail --section 'CHS 42.4x3.2' --nodes '0,0,0 1200,0,0 2800,0,1000 3100,900,1000'",
    "frame rail --section 'RHS 60x40x3' --flights '1600,1000 900,0 1600,1000,90' --ends 'plumb square'",
)
def rail(o: RailOptions) -> None:
    """What `mitertool frame rail` does."""
    o.may_sketch()
    keys = o.keys()
    closed = keys.pop("closed")
    words = _one_or_more(o.ends)
    lists = {key: [one.split(",") for one in getattr(o, key).split()] for key in ("nodes", "flights")}
    points = {key: found for key, found in lists.items() if found}
    given = {**points, **({"ends": words} if words else {}), **({"closed": True} if closed else {})}
    solve_frame("rail", o, {**keys, **given})


@options
class BendOptions(Framed):
    """A bend."""

    radius: Annotated[str, told("bend", "radius")]
    angle: Annotated[str, told("bend", "angle", metavar="ANGLE")]
    cuts: Annotated[str, told("bend", "cuts", metavar="COUNT")]
    tangents: Annotated[str, told("bend", "tangents", "option.bend.tangents", "LENGTHS")] = ""
    ends: Annotated[str, told("bend", "ends", "option.bend.tangents", "LENGTHS")] = ""
    offset: Annotated[str, told("bend", "offset")] = ""


@command(
    BendOptions,
    "frame bend --section 'CHS 168.3x6.3' --radius 300 --angle 90 --cuts 4",
    "frame bend --section 'CHS 60.3x4' --radius 150 --angle 60 --cuts 2 --tangents '100 50'",
    "frame bend --section 'CHS 60.3x4' --radius 150 --angle 90 --cuts 3 --ends '60 120'",
)
def bend(o: BendOptions) -> None:
    """What `mitertool frame bend` does."""
    o.may_sketch()
    lists = {key: _one_or_more(getattr(o, key)) for key in ("tangents", "ends")}
    solve_frame("bend", o, {**o.keys(), **{key: found for key, found in lists.items() if found}})


@options
class WyeOptions(Framed):
    """A wye."""

    between: Annotated[str, told("wye", "between", metavar="ANGLE")]
    trunk: Annotated[str, told("wye", "trunk")]
    arms: Annotated[str, told("wye", "arms", "option.wye.arms", "LENGTHS")]


@command(
    WyeOptions,
    "frame wye --section 'CHS 114.3x5' --between 90 --trunk 500 --arms 400",
    "frame wye --section 'CHS 60.3x4' --between 60 --trunk 300 --arms '250 400'",
)
def wye(o: WyeOptions) -> None:
    """What `mitertool frame wye` does."""
    o.may_sketch()
    solve_frame("wye", o, {**o.keys(), "arms": _one_or_more(o.arms)})


@options
class BranchOptions(Framed):
    """A branch."""

    on: Annotated[str, told("branch", "on", metavar="NAME")]
    length: Annotated[str, told("branch", "length")]
    between: Annotated[str, told("branch", "between", metavar="ANGLE")] = ""
    passes: Annotated[str, told("branch", "passes")] = ""


@command(
    BranchOptions,
    "frame branch --section 'CHS 60.3x4' --on 'CHS 114.3x5' --length 400 --between 60",
    "frame branch --section 'CHS 60.3x4' --on 'CHS 114.3x5' --length 400 --passes 20",
)
def branch(o: BranchOptions) -> None:
    """What `mitertool frame branch` does."""
    o.may_sketch()
    solve_frame("branch", o, o.keys())


def solve_frame(shape: str, o: Framed, keys: dict[str, Any]) -> None:
    """Solve and print the frame of this shape; `keys` are those of a [[frame]] table."""
    unit = o.unit
    try:
        solution = one_frame({"mark": "F", "shape": shape, **keys}, unit, o.machine())
    except BadInput as error:
        raise _of_option(error, o) from error.__cause__
    assembly = solution.frames[0].assembly
    steps = working.for_assembly(assembly, unit) if o.working else None
    caution = for_job(solution)
    if o.sketch:
        o.draw(
            packet.frame_sketch(assembly, unit, caution or short()), phrase("screen.title-frame", shape=assembly.shape)
        )
    answer(lambda: records.of_solution(solution), with_working(_lines(solution, unit), steps), o, caution)
    if solution.problems:
        raise typer.Exit(1)


def _of_option(error: BadInput, o: Framed) -> BadInput:
    """The refusal of a key, of the option that gave it."""
    key, comma, part = error.what.partition(",")
    return error.of(f"--{key.replace('_', '-')}{comma}{part}") if not error.where and hasattr(o, key) else error


def _lines(solution: Solution, unit: Units) -> list[str]:
    past = [*(instead(one, unit) for one in solution.past), *(one.in_units(unit) for one in solution.steep.values())]
    template = [phrase("screen.template")] if solution.frames[0].assembly.saddles else []
    return [
        *solved_lines(solution, unit),
        *frame_notes(solution.frames[0], unit),
        *template,
        *past,
        *problem_lines(solution),
    ]


def _one_or_more(text: str) -> str | list[str]:
    """A lone word as it is, several as a list."""
    parts = text.split()
    return parts if len(parts) > 1 else "".join(parts)
